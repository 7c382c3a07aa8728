"""The rig of the measured closing valve on a grid of characteristics, written without a look at the program.

64 reaches, 0.44 ms a step; discrete gas cavities (isothermal, 1e-7 of each reach at 1 bar) at the valve and, where asked
for, at every node between, each at its own height; steady friction with one factor; where asked for, the wall's shear with
memory: the full convolution of A. E. Vardy, J. M. B. Brown, "Transient turbulent friction in smooth pipe flows", Journal of
Sound and Vibration 259, 2003 (weights from memory), frozen at the Reynolds number before the closure.
"""

import math

import numpy as np

from table import Column, Table

LENGTH, BORE, SPEED, VELOCITY, RISE, HEAD = 37.23, 0.0221, 1319.0, 1.40, 2.03, 22.0
FRICTION, CLOSURE, ATMOSPHERE = 0.0247, 0.009, 101325.0
DENSITY, VISCOSITY, VAPOUR, GRAVITY = 999.1, 1.139e-6, 1705.0, 9.80665
REACHES, GAS, END, LEVEL = 64, 1e-7, 0.8, 5e5


def weights(steps, step):
    """Mean of exp(-B t)/(2 sqrt(pi t)) over each step, t = nu*time/r^2."""
    reynolds = VELOCITY * BORE / VISCOSITY
    b = reynolds ** math.log10(15.29 / reynolds**0.0567) / 12.86
    t = VISCOSITY / (BORE / 2) ** 2 * step * np.arange(steps + 1)
    whole = np.array([math.erf(math.sqrt(b * x)) for x in t]) / (2.0 * math.sqrt(b))
    return np.diff(whole) / np.diff(t)


def cavity(base, k, floor, gas):
    """Head with (base + k*H)*(H - floor) = gas, the volume positive."""
    b = base + k * floor
    root = np.sqrt(b * b + 4.0 * k * gas)
    return floor + np.where(b < 0, (root - b) / (2.0 * k), 2.0 * gas / (root + b))


def trace(memory, along):
    """Times and absolute pressures at the valve."""
    area, reach = math.pi * BORE**2 / 4, LENGTH / REACHES
    step = reach / SPEED
    steps = int(END / step)
    z = np.linspace(0.0, RISE, REACHES + 1)
    h = HEAD - FRICTION * np.linspace(0.0, LENGTH, REACHES + 1) / BORE * VELOCITY**2 / (2 * GRAVITY)
    into = np.full(REACHES + 1, VELOCITY * area)
    out = into.copy()
    b = SPEED / (GRAVITY * area)
    r = FRICTION * reach / (2 * GRAVITY * BORE * area**2)
    floor = z + (VAPOUR - ATMOSPHERE) / (DENSITY * GRAVITY)
    volume = np.full(REACHES + 1, GAS * area * reach)
    gas = ATMOSPHERE / (DENSITY * GRAVITY) * GAS * area * reach
    full = out[-1] / math.sqrt(h[-1] - z[-1])
    w = weights(steps, step)
    changes = np.zeros((steps, REACHES + 1))
    shear, mean = np.zeros(REACHES + 1), into.copy()
    times, heads = [0.0], [h[-1]]
    for n in range(1, steps + 1):
        plus = (h + b * out - r * out * abs(out) - shear)[:-1]
        minus = (h - b * into + r * into * abs(into) + shear)[1:]
        h = h.copy()
        h[0] = HEAD
        into, out = into.copy(), out.copy()
        into[0] = out[0] = (HEAD - minus[0]) / b
        p, m = plus[:-1], minus[1:]
        if along:
            h[1:-1] = cavity(volume[1:-1] - step * (p + m) / b, 2 * step / b, floor[1:-1], gas)
            volume[1:-1] = gas / (h[1:-1] - floor[1:-1])
        else:
            h[1:-1] = (p + m) / 2
        into[1:-1], out[1:-1] = (p - h[1:-1]) / b, (h[1:-1] - m) / b
        opening = max(0.0, 1.0 - n * step / CLOSURE)
        if opening > 0.0:
            c = (opening * full) ** 2
            flow = (math.sqrt((c * b) ** 2 + 4 * c * (plus[-1] - z[-1])) - c * b) / 2
            h[-1], into[-1], out[-1] = plus[-1] - b * flow, flow, flow
        else:
            h[-1] = cavity(volume[-1] - step * plus[-1] / b, step / b, floor[-1], gas)
            volume[-1] = gas / (h[-1] - floor[-1])
            into[-1], out[-1] = (plus[-1] - h[-1]) / b, 0.0
        now = (into + out) / 2
        now[-1] = into[-1]
        changes[n - 1], mean = now - mean, now
        if memory:
            rate = (changes[:n] * w[:n][::-1, None]).sum(axis=0)
            shear = 16 * VISCOSITY / (GRAVITY * BORE**2) * reach / area * rate
        times.append(n * step)
        heads.append(h[-1])
    return np.array(times), ATMOSPHERE + DENSITY * GRAVITY * (np.array(heads) - RISE)


def features(times, pressures):
    """Plateau, first cavity, second pulse with its highest, second cavity, third pulse with its highest."""
    below = pressures < LEVEL
    cross = [i for i in range(len(times) - 1) if below[i] != below[i + 1]]
    at = [times[i] + (times[i + 1] - times[i]) * (LEVEL - pressures[i]) / (pressures[i + 1] - pressures[i]) for i in cross]
    falls = [below[i + 1] for i in cross]
    at.append(times[-1])
    cavities = [(at[k], at[k + 1]) for k in range(len(cross)) if falls[k] and at[k + 1] - at[k] >= 0.01]
    (a, b), (c, d), (e, _) = cavities[:3]
    inside = (times >= 0.012) & (times <= 0.052)
    highest = lambda start, end: pressures[(times >= start) & (times <= end)].max() / 1e3
    return (pressures[inside].mean() / 1e3, b - a, c - b, highest(b, c), d - c, e - d, highest(d, e))


def tables():
    names = ("plateau_kpa", "first_cavity_s", "second_pulse_s", "second_highest_kpa", "second_cavity_s", "third_pulse_s",
             "third_highest_kpa")
    table = Table("closing valve", "grid.csv",
                  ["The rig on a grid of 64 reaches, with and without the memory of the wall, and vapour along the line or at the valve only."],
                  [Column("memory_of_the_wall"), Column("vapour_along_the_line")] + [Column(name, 4, relative=0.01) for name in names])
    for memory in (0, 1):
        for along in (0, 1):
            table.rows.append((memory, along) + features(*trace(memory, along)))
    return [table]
