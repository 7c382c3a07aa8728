"""The motion of the relief valve by Taylor series, with its impacts as roots of the series of the lift.

Works with floats and with numbers of any precision alike: nothing in it is shared with a Runge-Kutta method.
"""

import math
from dataclasses import dataclass, field

import mpmath as mp


@dataclass
class Valve:
    kappa: object
    beta: object
    delta: object
    flow: object
    restitution: object
    # Series up to this power, steps such that its last terms are below this size.
    order: int = 22
    tolerance: float = 1e-16
    # No seat: the equations go on below lift zero.
    free: bool = False

    def series(self, state):
        """Coefficients of lift, speed and pressure; s = sqrt(pressure) by s s = pressure."""
        x, v, p = [state[0]], [state[1]], [state[2]]
        s = [mp.sqrt(p[0]) if isinstance(p[0], mp.mpf) else math.sqrt(p[0])]
        for n in range(self.order):
            outflow = sum(x[k] * s[n - k] for k in range(n + 1))
            x.append(v[n] / (n + 1))
            bias = self.delta if n == 0 else 0
            v.append((-self.kappa * v[n] - x[n] - bias + p[n]) / (n + 1))
            p.append(self.beta * ((self.flow if n == 0 else 0) - outflow) / (n + 1))
            inner = sum(s[k] * s[n + 1 - k] for k in range(1, n + 1))
            s.append((p[n + 1] - inner) / (2 * s[0]))
        return x, v, p

    def step_length(self, series):
        longest = 0.5
        for coefficients in series:
            for power in (self.order - 1, self.order):
                size = abs(float(coefficients[power]))
                if size > 0.0:
                    longest = min(longest, (self.tolerance / size) ** (1.0 / power))
        return longest


def value(coefficients, time):
    total = coefficients[-1]
    for c in reversed(coefficients[:-1]):
        total = total * time + c
    return total


def slope_of(coefficients):
    return [n * c for n, c in enumerate(coefficients)][1:]


def first_root(coefficients, start, end, pieces=8):
    """First sign change of a series in (start, end], refined; None if there is none."""
    derivative = slope_of(coefficients)
    low, f_low = start, value(coefficients, start)
    for piece in range(1, pieces + 1):
        high = start + (end - start) * piece / pieces
        f_high = value(coefficients, high)
        if (f_low > 0) != (f_high > 0):
            return refine(coefficients, derivative, low, high)
        low, f_low = high, f_high
    return None


def refine(coefficients, derivative, low, high):
    """Newton's method kept within its bracket by bisection."""
    sign = value(coefficients, high) > 0
    t = (low + high) / 2
    for _ in range(200):
        f = value(coefficients, t)
        if (f > 0) == sign:
            high = t
        else:
            low = t
        slope = value(derivative, t)
        better = t - f / slope if slope else low
        if not low < better < high:
            better = (low + high) / 2
        if better == t or abs(better - t) <= abs(t) * (1e-30 if isinstance(t, mp.mpf) else 1e-16):
            return better
        t = better
    return t


@dataclass
class Motion:
    """What happened on the way: impacts (time, speed, pressure) and turning points of the lift (time, lift, pressure)."""

    time: object
    state: list
    impacts: list = field(default_factory=list)
    turns: list = field(default_factory=list)
    # Least and greatest pressure where it stands still.
    pressures: list = field(default_factory=list)


# Slower than this the valve is taken to rest on its seat, if the spring holds it there.
RESTING = 1e-9


def move(valve, state, until, start=0.0, stop_at_turns=None):
    """Follow the valve; `stop_at_turns` ends after that many upper turning points."""
    motion = Motion(start * 1, list(state))
    while motion.time < until:
        x, v, p = valve.series(motion.state)
        length = min(valve.step_length((x, v, p)), until - motion.time)
        tiny = length * 1e-12
        # Up to the first turning point the lift is monotonic: no short dip below the seat can be missed.
        turn = first_root(v, tiny, length)
        monotonic = turn if turn is not None else length
        impact = first_root(x, tiny, monotonic, 1) if value(x, monotonic) < 0 and not valve.free else None
        end = impact if impact is not None else monotonic
        if impact is not None:
            turn = None
        if turn is not None:
            upper = value(slope_of(v), turn) < 0
            motion.turns.append((motion.time + turn, value(x, turn), value(p, turn), upper))
            if stop_at_turns is not None and sum(t[3] for t in motion.turns) >= stop_at_turns:
                motion.state = [value(x, turn), 0 * turn, value(p, turn)]
                motion.time += turn
                return motion
        still = first_root(slope_of(p), tiny, end)
        if still is not None:
            motion.pressures.append((motion.time + still, value(p, still)))
        motion.time += end
        motion.state = [value(c, end) for c in (x, v, p)]
        if impact is not None:
            land(valve, motion)
    return motion


def land(valve, motion):
    """The law of restitution, and the rest on the seat while the pressure builds up."""
    _, speed, pressure = motion.state
    motion.impacts.append((motion.time, speed, pressure))
    rebound = -valve.restitution * speed
    if rebound < RESTING and pressure < valve.delta:
        motion.time += (valve.delta - pressure) / (valve.beta * valve.flow)
        motion.state = [0 * pressure, 0 * pressure, valve.delta * 1]
    else:
        motion.state = [0 * pressure, rebound, pressure]
