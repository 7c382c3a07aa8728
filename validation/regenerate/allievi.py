"""Linear closing of a valve's area on a frictionless line, by the interlocking equations.

h_i + 2 rho q_i = 2 - h_(i-1) + 2 rho q_(i-1), q = eta sqrt(h), eta = 1 - t/Tc: L. Allievi, "Theory of Water Hammer", 1902
(English 1925); chain form as in J. Parmakian, "Waterhammer Analysis", Prentice-Hall, New York, 1955 (from memory).
"""

import math

from scipy.optimize import minimize_scalar

from table import Column, Table

RHOS = ("0.1", "0.25", "0.5", "1", "4", "8")
THETAS = ("0.5", "1", "1.5", "2", "3", "4", "5", "8", "10", "20")


def head(rho, theta, time):
    """Head at the valve over the reservoir's, `time` in phases 2L/a since the closing began."""
    steps = math.floor(time + 1e-12)
    h, q = 1.0, 1.0
    for instant in (time - step for step in range(steps, -1, -1)):
        known = 2.0 - h + 2.0 * rho * q
        opening = max(1.0 - instant / theta, 0.0)
        if opening == 0.0:
            h, q = known, 0.0
            continue
        # z^2 + 2 rho eta z = known, by the form of the root that does not cancel.
        b = rho * opening
        z = known / (b + math.sqrt(b * b + known))
        h, q = z * z, opening * z
    return h


def highest(rho, theta):
    """The highest head until the valve is shut, and when: piecewise smooth, so piece by piece."""
    whole = [float(phase) for phase in range(math.ceil(theta))] + [theta]
    best = max((head(rho, theta, t), -t) for t in whole)
    for start, end in zip(whole, whole[1:]):
        inside = minimize_scalar(lambda t: -head(rho, theta, t), bounds=(start, end), method="bounded",
                                 options={"xatol": 1e-9})
        # Of equal heads the earlier one, whatever the last digit says.
        best = max(best, (-inside.fun, -inside.x), key=lambda pair: pair[0] + 1e-12 * pair[1])
    return best[0], -best[1]


def closure():
    rows = []
    for rho in RHOS:
        for theta in THETAS:
            r, t = float(rho), float(theta)
            top, when = highest(r, t)
            rows.append([rho, theta, top, when, head(r, t, 1.0), head(r, t, t)])
    # The committed tops were sought on a grid of 1/2000 phase.
    return Table(
        "linear closing", "linear_area_closure.csv",
        ["Recomputed from the interlocking equations. rho = a V0/(2 g H0), theta = closing time over 2L/a, "
         "heads over H0, times over 2L/a."],
        [Column("rho"), Column("theta"), Column("highest_head", 10, relative=1e-8),
         Column("phase_of_highest", 7, relative=0.0, absolute=5e-4), Column("head_after_one_phase", 10),
         Column("head_when_shut", 10)],
        rows)


def phases():
    rows = []
    for rho, theta, last in (("0.5", "4", 10), ("1", "1", 2), ("1", "2", 8), ("1", "5", 11), ("2", "4", 10),
                             ("4", "10", 16)):
        rows += [[rho, theta, f"{phase}.0", head(float(rho), float(theta), float(phase))]
                 for phase in range(1, last + 1)]
    return Table(
        "linear closing", "linear_area_phases.csv",
        ["Recomputed from the interlocking equations; head at the valve over H0 at whole phases."],
        [Column("rho"), Column("theta"), Column("phase"), Column("head", 12)],
        rows)


def example():
    """A line in metres and seconds: 300 m, 1200 m/s, 1 m/s under 60 m of head, shut in three phases."""
    standing = 60.0
    rho = 1200.0 * 1.0 / (2.0 * 9.80665 * standing)
    rows = [[str(phase), standing * head(rho, 3.0, float(phase))] for phase in range(1, 6)]
    return Table(
        "linear closing", "example.csv",
        ["Recomputed from the interlocking equations: 300 m, 1200 m/s, 1 m/s, 60 m of head (g = 9.80665 m/s2), "
         "shut in 1.5 s = 3 phases."],
        [Column("phase"), Column("head_m", 10)], rows)


def stoppage():
    """Cases on either side of Michaud's estimate."""
    rows = [[rho, theta, highest(float(rho), float(theta))[0]]
            for rho, theta in (("8", "5"), ("8", "3"), ("4", "2"), ("4", "1.5"), ("1", "5"), ("0.5", "4"))]
    return Table(
        "stoppage", "estimate.csv",
        ["Recomputed from the interlocking equations: highest head over H0 while the opening closes linearly. "
         "rho = a V0/(2 g H0), theta =",
         "closing time over 2L/a. Michaud's estimate of the same head is 1 + 2 rho/theta."],
        [Column("rho"), Column("theta"), Column("highest_head", 10)], rows)


def tables():
    yield closure()
    yield phases()
    yield example()
    yield stoppage()
