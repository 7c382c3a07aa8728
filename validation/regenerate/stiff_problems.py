"""Stiff problems at their end points, with the published values beside them.

F. Mazzia, C. Magherini, "Test Set for Initial Value Problem Solvers", University of Bari, 2008 (its values as quoted in
public copies of its programs); E. Hairer, G. Wanner, "Solving Ordinary Differential Equations II", Springer, 1996.
"""

from dataclasses import dataclass
from decimal import Decimal as D
from typing import Callable

from implicit_extrapolation import integrate
from table import WORD, Column, Quoted, Table


@dataclass
class Problem:
    name: str
    start: list
    slope: Callable
    jacobian: Callable
    # Below this a component's error is not relative to it.
    scales: list
    times: tuple
    # Published values by time.
    published: dict


def robertson():
    a, b, c = D("0.04"), D(10) ** 4, 3 * D(10) ** 7

    def slope(y):
        first, last = -a * y[0] + b * y[1] * y[2], c * y[1] * y[1]
        return [first, -first - last, last]

    def jacobian(y):
        rows = [[-a, b * y[2], b * y[1]], None, [D(0), 2 * c * y[1], D(0)]]
        rows[1] = [-u - v for u, v in zip(rows[0], rows[2])]
        return rows

    published = {"1e11": ("0.2083340149701255e-7", "0.8333360770334713e-13", "0.9999999791665050")}
    return Problem("robertson", [D(1), D(0), D(0)], slope, jacobian, [D("1e-20")] * 3,
                   ("40", "400", "4e4", "1e11"), published)


def van_der_pol(name, damping, pull, times, published):
    """y'' = damping (1 - y^2) y' - pull y"""
    def slope(y):
        return [y[1], damping * (1 - y[0] * y[0]) * y[1] - pull * y[0]]

    def jacobian(y):
        return [[D(0), D(1)], [-2 * damping * y[0] * y[1] - pull, damping * (1 - y[0] * y[0])]]

    return Problem(name, [D(2), D(0)], slope, jacobian, [D("1e-2"), D("1e-4")], times, published)


def hires():
    def slope(y):
        u = 280 * y[5] * y[7]
        last = u - D("1.81") * y[6]
        return [D("-1.71") * y[0] + D("0.43") * y[1] + D("8.32") * y[2] + D("0.0007"),
                D("1.71") * y[0] - D("8.75") * y[1],
                D("-10.03") * y[2] + D("0.43") * y[3] + D("0.035") * y[4],
                D("8.32") * y[1] + D("1.71") * y[2] - D("1.12") * y[3],
                D("-1.745") * y[4] + D("0.43") * (y[5] + y[6]),
                -u + D("0.69") * y[3] + D("1.71") * y[4] - D("0.43") * y[5] + D("0.69") * y[6],
                last, -last]

    def jacobian(y):
        """Linear but for the product of the sixth and the eighth."""
        unit = [[D(int(i == j)) for i in range(8)] for j in range(8)]
        rest = slope([D(0)] * 8)
        columns = [[f - r for f, r in zip(slope(e), rest)] for e in unit]
        rows = [[columns[j][i] for j in range(8)] for i in range(8)]
        for row, sign in ((5, -1), (6, 1), (7, -1)):
            rows[row][5] += sign * 280 * y[7]
            rows[row][7] += sign * 280 * y[5]
        return rows

    published = {"321.8122": (".7371312573325668e-3", ".1442485726316185e-3", ".5888729740967575e-4",
                              ".1175651343283149e-2", ".2386356198831331e-2", ".6238968252742796e-2",
                              ".2849998395185769e-2", ".2850001604814231e-2")}
    return Problem("hires", [D(1)] + [D(0)] * 6 + [D("0.0057")], slope, jacobian, [D("1e-10")] * 8, ("321.8122",), published)


def orego():
    s, q, w = D("77.27"), D("8.375e-6"), D("0.161")

    def slope(y):
        return [s * (y[1] + y[0] * (1 - q * y[0] - y[1])), (y[2] - (1 + y[0]) * y[1]) / s, w * (y[0] - y[2])]

    def jacobian(y):
        return [[s * (1 - 2 * q * y[0] - y[1]), s * (1 - y[0]), D(0)], [-y[1] / s, -(1 + y[0]) / s, 1 / s],
                [w, D(0), -w]]

    published = {"360": ("1.000814870318523", "1228.178521549917", "132.0554942846706")}
    return Problem("orego", [D(1), D(2), D(3)], slope, jacobian, [D("1e-10")] * 3, ("360",), published)


def problems():
    yield robertson()
    yield van_der_pol("van der Pol eps 1e-6", D(10) ** 6, D(10) ** 6, ("2",),
                      {"2": ("1.706167732170483", "-0.8928097010247975")})
    yield van_der_pol("van der Pol mu 1000", D(1000), D(1), ("2000", "3000"), {})
    yield hires()
    yield orego()


def tables():
    rows = []
    for problem in problems():
        states = integrate(problem, [D(t) for t in problem.times], "1e-14")
        for time, state in zip(problem.times, states):
            published = problem.published.get(time)
            for i, y in enumerate(state):
                value = Quoted(published[i], y) if published else y
                rows.append([problem.name, time, str(i + 1), value, "published" if published else "recomputed"])
    yield Table(
        "stiff problems", "end_states.csv",
        ["States at the end; recomputed: decimal arithmetic of 36 digits, error per step 1e-14."],
        # The committed values come from steps held to 1e-12; errors of many steps add up.
        [Column("problem"), Column("end_time"), Column("state"), Column("value", 13, relative=1e-11),
         Column("obtained", WORD)],
        rows)
