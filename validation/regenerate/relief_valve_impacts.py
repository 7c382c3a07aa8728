"""Motions of the relief valve with impacts, and stable equilibria beside which it chatters for ever."""

from statistics import median

import mpmath as mp

from relief_valve import equilibrium
from relief_valve_hopf import hopf_lifts
from relief_valve_motion import Valve, move
from table import WORD, Column, Table

RESTITUTION = "0.8"


def trajectories():
    """30 digits: the state at the end."""
    rows = []
    for flow, end in (("10.0", "10.0"), ("9.0", "10.0"), ("8.0", "10.0"), ("7.0", "3.0"), ("5.0", "3.0"), ("3.0", "1.5")):
        valve = Valve(mp.mpf("1.25"), mp.mpf(20), mp.mpf(10), mp.mpf(flow), mp.mpf(RESTITUTION), order=24, tolerance=1e-22)
        motion = move(valve, [mp.mpf("0.2"), mp.mpf(0), mp.mpf("10.2")], mp.mpf(end), start=mp.mpf(0))
        rows.append([flow, end, *motion.state, str(len(motion.impacts))])
    return Table(
        "relief valve", "trajectories.csv",
        ["Recomputed by Taylor series of 20 and more digits from lift 0.2, speed 0, pressure 10.2; restitution 0.8."],
        [Column("q"), Column("end_time"), *(Column(name, 13, relative=1e-11) for name in ("lift", "speed", "pressure")),
         Column("impacts", WORD)],
        rows)


def impact_windows():
    """The middle of five counts: at 7.4 and 7.0 the motion is so irregular that a hair beside gives up to four impacts more.

    The root of no pressure has no series, so that each begins with next to none.
    """
    rows = []
    for flow in ("7.4", "7.0", "6.5", "6.0", "5.5", "5.0"):
        valve = Valve(1.25, 20.0, 10.0, float(flow), float(RESTITUTION))
        motions = [move(valve, [0.2, 0.0, pressure], 260.0) for pressure in (1e-6, 1e-8, 1e-9, 2e-9, 1e-11)]
        rows.append([flow, median(sum(impact[0] > 200.0 for impact in motion.impacts) for motion in motions)])
    return Table(
        "relief valve", "impact_windows.csv",
        ["Recomputed: seat impacts between 200 and 260 units of time from lift 0.2, speed 0, pressure 0."],
        [Column("q"), Column("impacts", 3, relative=0.0, absolute=2.0)], rows)


def bistability():
    """Just above the Hopf flow: a small and a large disturbance of the stable equilibrium."""
    rows = []
    for kappa, beta, delta in (("1.25", "40", "10"), ("0.5", "20", "10"), ("1.25", "20", "10"), ("1.25", "10", "10")):
        k, b, d = map(mp.mpf, (kappa, beta, delta))
        critical = hopf_lifts(k, b, d)[0]
        hopf = critical * mp.sqrt(critical + d)
        for factor in ("1.003", "1.01"):
            flow = mp.mpf(factor) * hopf
            lift, pressure = map(float, equilibrium(flow, d))
            for share in ("1.005", "0.3"):
                valve = Valve(float(kappa), float(beta), float(delta), float(flow), float(RESTITUTION))
                motion = move(valve, [float(share) * lift, 0.0, pressure], 500.0)
                impacts = len(motion.impacts)
                highest = max(turn[1] for turn in motion.turns if turn[0] > 250.0) if impacts else None
                rows.append([kappa, beta, delta, hopf, factor, share, impacts, highest])
    return Table(
        "relief valve", "bistability.csv",
        ["Recomputed by time integration over 500 units: starts at a multiple of the equilibrium lift; impacts with "
         "restitution 0.8. Largest lift: once the start has died away."],
        # Chaotic: the number of impacts and the largest lift move with the last digit of the arithmetic.
        [*(Column(name) for name in ("kappa", "beta", "delta")), Column("hopf_q", 15, relative=1e-13),
         Column("q_over_hopf"), Column("start_over_equilibrium"), Column("impacts", 4, relative=0.2),
         Column("largest_lift", 2, relative=0.02, fixed=True)],
        rows)


def tables():
    with mp.workdps(30):
        result = [trajectories(), impact_windows(), bistability()]
    yield from result
