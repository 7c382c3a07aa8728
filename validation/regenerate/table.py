"""A table of reference numbers: columns, rows, how it is written and how it is compared with what is committed."""

import csv
from dataclasses import dataclass, field
from pathlib import Path

from folders import FOLDERS

# For `digits` of a column whose result is a word.
WORD = 0

ROOT = Path(__file__).resolve().parent.parent


@dataclass
class Quoted:
    """A number of a source, written as it stands there; the number computed here is compared with it."""

    text: str
    computed: object

    def __float__(self):
        return float(self.computed)


@dataclass
class Column:
    """One column. Without `digits` it is an input: it is written as given and names the row."""

    name: str
    digits: int | None = None
    # Allowed deviation where the digits written are no measure: relative, or absolute near zero.
    relative: float | None = None
    absolute: float = 0.0
    # `digits` are those behind the point.
    fixed: bool = False

    def write(self, value):
        if value is None:
            return ""
        if isinstance(value, Quoted):
            return value.text
        if self.digits is None or isinstance(value, str):
            return str(value)
        return f"{float(value):.{self.digits}{'f' if self.fixed else 'g'}}"

    def allowed(self, value):
        if self.fixed and self.relative is None:
            return max(self.absolute, 10.0 ** -self.digits)
        relative = self.relative if self.relative is not None else 10.0 ** (1 - self.digits)
        return max(self.absolute, relative * abs(value))


@dataclass
class Comparison:
    """The worst of one column: how far, where, and what was allowed there."""

    column: str
    deviation: float = 0.0
    share: float = 0.0
    place: str = ""


@dataclass
class Table:
    topic: str
    file: str
    comments: list
    columns: list
    rows: list = field(default_factory=list)

    @property
    def path(self):
        return ROOT / FOLDERS[self.topic] / self.file

    def text(self):
        lines = [f"# {line}" for line in self.comments]
        lines.append(",".join(column.name for column in self.columns))
        for row in self.rows:
            lines.append(",".join(c.write(v) for c, v in zip(self.columns, row, strict=True)))
        return "\n".join(lines) + "\n"

    def write(self):
        self.path.parent.mkdir(parents=True, exist_ok=True)
        self.path.write_text(self.text(), encoding="utf-8")

    def key(self, fields):
        """The inputs of a row, as numbers where they are numbers: 1e-05 and 0.00001 are one row."""
        names = [c.name for c in self.columns if c.digits is None]
        return tuple(as_number(fields[name]) for name in names)

    def compare(self):
        """Compare with the committed file: the worst of each column, rows only here, rows only there."""
        committed = {self.key(row): row for row in read(self.path)}
        worst = {c.name: Comparison(c.name) for c in self.columns if c.digits is not None}
        only_here = 0
        for row in self.rows:
            fresh = dict(zip([c.name for c in self.columns], [c.write(v) for c, v in zip(self.columns, row)]))
            old = committed.pop(self.key(fresh), None)
            if old is None:
                only_here += 1
                continue
            for column, value in zip(self.columns, row):
                if column.digits is not None:
                    note(worst[column.name], column, value, old[column.name], self.key(fresh))
        return list(worst.values()), only_here, len(committed)


def note(worst, column, value, old, place):
    """Remember the deviation if it is the largest share of what is allowed so far."""
    if value is None or old == "" or isinstance(value, str):
        deviation, share = (0.0, 0.0) if column.write(value) == old else (float("inf"), float("inf"))
    else:
        deviation = abs(float(value) - float(old))
        share = 0.0 if deviation == 0.0 else deviation / max(column.allowed(float(old)), 1e-300)
        deviation /= max(abs(float(old)), column.absolute, 1e-300)
    if share > worst.share:
        worst.deviation, worst.share, worst.place = deviation, share, str(place)


def as_number(text):
    try:
        return float(text)
    except (TypeError, ValueError):
        return text


def read(path):
    with path.open(encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#") and line.strip()))
