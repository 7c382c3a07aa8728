"""Write the tables of pure fluids and blends, and how far they are from the library.

    python refrigerants.py            writes ../NAME.txt and the validation tables
    python refrigerants.py --check    compares with the files there, writes nothing
    python refrigerants.py R134a air  only these
"""

import sys
from pathlib import Path

import CoolProp.CoolProp as CP

from catalogue import CATALOGUE
from library import LIBRARY
from patch import build
from states import write_states

JOURNALS = {
    "JPCRD": "J. Phys. Chem. Ref. Data", "IJT": "Int. J. Thermophys.", "IECR": "Ind. Eng. Chem. Res.",
    "JCED": "J. Chem. Eng. Data", "IJR": "Int. J. Refrig.", "PURDUE": "Purdue conference",
}
HERE = Path(__file__).resolve().parent


def literature(names, kind):
    """The library's keys of the equations, such as Span-JPCRD-1996, as author, journal and year."""
    found = []
    for key in sorted({CP.get_BibTeXKey(name, kind) for name in names}):
        author, journal, year = key.split("-")[:3]
        author = {"TillnerRoth": "Tillner-Roth", "LemmonJacobsen": "Lemmon and Jacobsen"}.get(author, author)
        found.append(f"{author}, {JOURNALS[journal]} {year[:4]}")
    return "; ".join(dict.fromkeys(found))


def table(entry):
    """Text of a table file, with the table itself for the measurement of its error."""
    fluid = build(entry)
    library = fluid.library
    names = [entry.call] if not library.mixture else list(library.state.fluid_names())
    estimated = " (estimated: corresponding states of the components)" if library.mixture else ""
    head = [
        f"name {entry.name}",
        f"title {entry.title}",
        f"aliases {' | '.join(entry.aliases)}".rstrip(),
        f"remark {entry.remark}".rstrip(),
        f"library {LIBRARY}",
        f"equation {literature(names, 'EOS')}",
        f"viscosity {literature(names, 'VISCOSITY')}{estimated}",
        f"molar_mass {library.molar_mass:.9g}",
        f"gas_constant {library.gas_constant:.12g}",
        f"critical_temperature {library.critical_temperature:.9g}",
        f"critical_pressure {fluid.critical_pressure:.6g}",
        f"highest_pressure {entry.highest_pressure * 1e5:.6g}",
    ]
    if library.mixture:
        head.append("mixture multi-fluid model of the library")
    return "\n".join(head + fluid.lines()) + "\n", fluid


def main(arguments):
    check = "--check" in arguments
    wanted = [argument for argument in arguments if argument != "--check"]
    changed, built = [], []
    for entry in CATALOGUE:
        if wanted and entry.name not in wanted:
            continue
        text, fluid = table(entry)
        built.append((entry, fluid))
        path = HERE.parent / f"{entry.name}.txt"
        if not path.exists() or path.read_text() != text:
            changed.append(path.name)
        if not check:
            path.write_text(text)
        print(f"{entry.name:12} {len(text) / 1e3:6.1f} kB", file=sys.stderr, flush=True)
    if not wanted:
        changed += write_states(built, check)
    if check and changed:
        print("differs from what the library gives:", ", ".join(changed))
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
