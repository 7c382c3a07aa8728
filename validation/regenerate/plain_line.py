"""Waves in a frictionless line stopped at once, with and without a cavity, and the sudden stop of a gas.

The valve end is followed alone: what leaves it comes back one phase 2L/a later, reversed by the far end of constant
pressure. A. S. Tijsseling, A. Anderson, "The Joukowsky equation for fluids and solids", report RANA 06-08, Technische
Universiteit Eindhoven, 2006 (eqs. 1 and 2); the reflections are an own derivation.
"""

import math
from fractions import Fraction

from table import Column, Table

HALF = Fraction(1, 2)


def leaving(phase, speed):
    """p - v of the wave that left the shut valve, in units of rho a and of the far end's pressure 0."""
    if phase < 0:
        return -speed
    return -leaving(phase - 1, speed)


def square_wave():
    density, wave_speed, length, velocity, far_pressure = Fraction(9982, 10), 1200, 10, Fraction(1, 2), 300000
    phase_time = Fraction(2 * length, wave_speed)
    rows = []
    for sample in range(81):
        phase = (sample + HALF) / 20
        arriving = -leaving(phase - 1, velocity)
        rows.append([f"{float(phase * phase_time):.12g}", far_pressure + density * wave_speed * arriving])
    return Table(
        "sudden stop", "square_wave.csv",
        ["Exact, closed form. Line of 10 m, 1200 m/s, 998.2 kg/m3, 0.5 m/s stopped at once, far end at 3 bar, no friction."],
        [Column("time_s"), Column("valve_pressure_pa", 12)],
        rows)


class ShutValve:
    """The shut valve of a line whose liquid parts there, in exact fractions.

    Pressures above vapour pressure over p0 - pv, velocities over (p0 - pv)/(rho a), times in phases.
    """

    def __init__(self, ratio):
        self.ratio = ratio
        # Pieces of constant state since the closure: end, p - v.
        self.pieces = []

    def arriving(self, time):
        """p + v that arrives at the valve."""
        back = time - 1
        left = 1 - self.ratio
        if back >= 0:
            left = next(piece[1] for piece in self.pieces if back < piece[0])
        return 2 - left

    def next_change(self, time):
        """The next instant at which something else arrives."""
        return next((end + 1 for end, _ in self.pieces if end + 1 > time), time + 1) if time >= 1 else Fraction(1)

    def run(self, until):
        time, cavity, largest, collapse = Fraction(0), Fraction(0), Fraction(0), None
        history = []
        while time < until:
            arriving, end = self.arriving(time), self.next_change(time)
            parted = cavity > 0 or arriving < 0
            pressure, velocity = (Fraction(0), arriving) if parted else (arriving, Fraction(0))
            if parted and velocity > 0 and time + cavity / velocity <= end:
                end = time + cavity / velocity
                collapse = collapse or end
                cavity = Fraction(0)
            elif parted:
                cavity -= velocity * (end - time)
            if collapse is None:
                largest = max(largest, cavity)
            history.append((time, end, pressure))
            self.pieces.append((end, pressure - velocity))
            time = end
        return collapse, largest, history


def column_separation():
    rows = []
    for ratio in ("1.05", "1.1", "1.5", "1.75", "1.9", "2.5", "2.8", "3.4", "4.5", "6.25"):
        first = Fraction(ratio)
        collapse, largest, history = ShutValve(first).run(math.ceil(first) + 2)
        after = next(pressure for start, _, pressure in history if start == collapse)
        pulse = max(pressure for start, _, pressure in history if start >= collapse)
        rows.append([ratio, collapse, largest, history[0][2], after, pulse])
    return Table(
        "column separation", "column_separation.csv",
        ["Exact, closed form. ratio = V0 rho a/(p0 - pv); pressures above pv over (p0 - pv); "
         "cavity over A (p0 - pv)/(rho a) 2L/a."],
        [Column("ratio"), *(Column(name, 12) for name in
                            ("collapse_phase", "largest_cavity", "first_peak", "after_collapse", "pulse_peak"))],
        rows)


def shock_ratio(exponent, mach):
    """Pressure ratio of the shock that stops a gas of this Mach number, from the jump conditions.

    Upstream in the frame of the shock: M_s; the gas behind it is at rest in the frame of the wall. After
    H. W. Liepmann, A. Roshko, "Elements of Gasdynamics", Wiley, 1957 (from memory).
    """
    # Velocity jump over a1: 2 (M_s - 1/M_s)/(k + 1) = M; the quadratic's positive root is M_s.
    half = (exponent + 1) * mach / 4
    shock = half + math.sqrt(half * half + 1)
    return 1 + 2 * exponent / (exponent + 1) * (shock * shock - 1)


def gas_sudden_stop():
    rows = [[k, m, shock_ratio(float(k), float(m)), 1 + float(k) * float(m)]
            for k in ("1.1", "1.3", "1.4") for m in ("0.01", "0.05", "0.1", "0.2", "0.3", "0.5")]
    return Table(
        "gas stop", "gas_sudden_stop.csv",
        ["Exact, closed form: pressure ratio across the wave that stops a perfect gas of that Mach number."],
        [Column("exponent"), Column("mach"), Column("shock_ratio", 12), Column("acoustic_ratio", 12)],
        rows)


def tables():
    yield square_wave()
    yield column_separation()
    yield gas_sudden_stop()
