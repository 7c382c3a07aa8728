"""Where the equilibrium of the relief valve loses its stability, and whether softly or hard.

First Lyapunov coefficient: Y. A. Kuznetsov, "Elements of Applied Bifurcation Theory", Springer (formula of the chapter on
Hopf bifurcations in n dimensions, from memory), with the eigenvectors scaled to conj(q).q = 1 and conj(p).q = 1.
"""

import itertools

import mpmath as mp

from relief_valve import eigenvalues, jacobian
from table import WORD, Column, Table

KAPPAS = ("0.5", "0.75", "1.0", "1.25", "1.5", "2.0")
BETAS = ("1", "2", "5", "10", "20", "40")
DELTAS = ("1", "3", "5", "10")
FLOWS = ("9.5", "9.0", "8.5", "8.2", "8.0", "7.8", "7.6", "7.55", "7.5", "7.4", "7.2", "7.0", "6.5", "6.0", "5.5", "5.0")


def hurwitz(kappa, beta, lift, delta):
    """Vanishes where a pair of eigenvalues is imaginary: a1 a2 - a0 of the characteristic cubic."""
    root = mp.sqrt(lift + delta)
    a = beta * lift / (2 * root)
    return (kappa + a) * (1 + kappa * a) - (a + beta * root)


def hopf_lifts(kappa, beta, delta):
    """Every lift from 1e-6 to 1e6 at which the equilibrium changes its stability."""
    lifts = [mp.mpf(10) ** (mp.mpf(i) / 20) for i in range(-120, 121)]
    values = [hurwitz(kappa, beta, lift, delta) for lift in lifts]
    return [mp.findroot(lambda y: hurwitz(kappa, beta, y, delta), (a, b), solver="anderson", tol=1e-50)
            for a, b, u, v in zip(lifts, lifts[1:], values, values[1:]) if u * v < 0]


def second(beta, lift, pressure, u, v):
    """B(u, v): only the flow's equation is not linear."""
    d13, d33 = -beta / (2 * mp.sqrt(pressure)), beta * lift / (4 * pressure ** mp.mpf(1.5))
    return mp.matrix([0, 0, d13 * (u[0] * v[2] + u[2] * v[0]) + d33 * u[2] * v[2]])


def third(beta, lift, pressure, u, v, w):
    """C(u, v, w)."""
    d133, d333 = beta / (4 * pressure ** mp.mpf(1.5)), -3 * beta * lift / (8 * pressure ** mp.mpf(2.5))
    mixed = u[0] * v[2] * w[2] + u[2] * v[0] * w[2] + u[2] * v[2] * w[0]
    return mp.matrix([0, 0, d133 * mixed + d333 * u[2] * v[2] * w[2]])


def null_vector(matrix):
    """Of a singular 3 x 3 matrix: the longest cross product of two of its rows."""
    rows = [[matrix[i, j] for j in range(3)] for i in range(3)]
    crosses = [[a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
               for a, b in itertools.combinations(rows, 2)]
    return mp.matrix(max(crosses, key=lambda c: sum(abs(x) for x in c)))


def inner(a, b):
    """conj(a).b"""
    return sum(mp.conj(x) * y for x, y in zip(a, b))


def lyapunov(kappa, beta, lift, pressure, omega):
    a = jacobian(kappa, beta, lift, pressure)
    q = null_vector(a - 1j * omega * mp.eye(3))
    q = q / mp.sqrt(mp.re(inner(q, q)))
    p = null_vector(a.T + 1j * omega * mp.eye(3))
    p = p / mp.conj(inner(p, q))
    bar = mp.matrix([mp.conj(x) for x in q])
    static = mp.lu_solve(a, second(beta, lift, pressure, q, bar))
    double = mp.lu_solve(2j * omega * mp.eye(3) - a, second(beta, lift, pressure, q, q))
    cubic = (inner(p, third(beta, lift, pressure, q, q, bar)) - 2 * inner(p, second(beta, lift, pressure, q, static))
             + inner(p, second(beta, lift, pressure, bar, double)))
    return mp.re(cubic) / (2 * omega)


def hopf_points():
    rows = []
    for texts in itertools.product(KAPPAS, BETAS, DELTAS):
        kappa, beta, delta = map(mp.mpf, texts)
        lifts = hopf_lifts(kappa, beta, delta)
        for lift in lifts:
            pressure = lift + delta
            omega = mp.sqrt(1 + kappa * beta * lift / (2 * mp.sqrt(pressure)))
            flow = lift * mp.sqrt(pressure)
            below = hurwitz(kappa, beta, lift * mp.mpf("0.999"), delta)
            # The eigenvalues by linear algebra must be imaginary there: a check of the determinant.
            found = eigenvalues(kappa, beta, delta, flow)[2]
            assert abs(mp.re(found)) < 1e-20 and abs(mp.im(found) - omega) < 1e-20
            coefficient = lyapunov(kappa, beta, lift, pressure, omega)
            rows.append([*texts, flow, lift, pressure, omega, coefficient,
                         "supercritical" if coefficient < 0 else "subcritical",
                         "below" if below < 0 else "above"])
    return Table(
        "relief valve", "hopf_points.csv",
        ["Recomputed with 30 digits, dimensionless. lyapunov: first coefficient, eigenvectors scaled to conj(q).q = 1 and",
         "conj(p).q = 1. unstable_side: of flow. Sets of parameters without a row are stable at every flow."],
        [Column("kappa"), Column("beta"), Column("delta"), Column("hopf_flow", 15), Column("lift", 15),
         Column("pressure", 15), Column("angular_frequency", 15), Column("lyapunov", 10), Column("kind", WORD),
         Column("unstable_side", WORD)],
        rows)


def growth():
    rows = []
    for flow in FLOWS:
        lift, pressure, pair, real = eigenvalues("1.25", "20", "10", mp.mpf(flow))
        rows.append(["1.25", "20", "10", flow, lift, pressure, mp.re(pair), mp.im(pair), real])
    return Table(
        "relief valve", "growth_rate.csv",
        ["Recomputed eigenvalues of the equilibrium, dimensionless."],
        [Column("kappa"), Column("beta"), Column("delta"), Column("flow"), Column("lift", 13), Column("pressure", 13),
         Column("growth", 11), Column("angular_frequency", 11), Column("real_eigenvalue", 11)],
        rows)


def growth_of_one_set():
    """The set of the literature alone."""
    rows = []
    for flow in ("9.5", "9.0", "8.5", "8.2", "8.0", "7.6", "7.0", "6.0", "5.0"):
        pair = eigenvalues("1.25", "20", "10", mp.mpf(flow))[2]
        rows.append([flow, mp.re(pair), mp.im(pair)])
    return Table(
        "relief valve", "growth.csv",
        ["Recomputed: rightmost pair of eigenvalues at the open equilibrium; kappa 1.25, beta 20, delta 10."],
        [Column("q"), Column("growth_rate", 10), Column("angular_frequency", 10)], rows)


def tables():
    with mp.workdps(30):
        result = [hopf_points(), growth(), growth_of_one_set()]
    yield from result
