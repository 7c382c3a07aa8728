"""First peak of the current of a coil switched on to alternating voltage, and a pole with a shading ring."""

import math

import numpy as np
from scipy.optimize import brentq, minimize_scalar

from table import Column, Table

VACUUM = 4e-7 * math.pi


def first_peak(ratio, switching):
    """Highest |current| over the steady amplitude. L di/dx + r i = sin(x + switching), X = 1, x = w t.

    Peaks lie where the slope vanishes; they are searched for on a grid and then refined by root-finding.
    """
    lag = math.atan2(1.0, ratio)

    def current(x):
        return np.sin(x + switching - lag) - math.sin(switching - lag) * np.exp(-ratio * x)

    def slope(x):
        return np.cos(x + switching - lag) + ratio * math.sin(switching - lag) * np.exp(-ratio * x)

    grid = np.linspace(0.0, 2.5 * math.pi, 500)
    values = slope(grid)
    turns = [brentq(slope, a, b, xtol=1e-14) for a, b, u, v in zip(grid, grid[1:], values, values[1:]) if u * v < 0]
    return max(abs(float(current(x))) for x in turns)


def highest_first_peak(ratio):
    """Over all instants of switching: half a period of them is enough, the other half mirrors the sign."""
    coarse = max(np.linspace(0.0, math.pi, 181), key=lambda angle: first_peak(ratio, angle))
    fine = minimize_scalar(lambda angle: -first_peak(ratio, angle), bounds=(coarse - 0.02, coarse + 0.02),
                           method="bounded", options={"xatol": 1e-10})
    return -fine.fun


def first_peaks():
    rows = []
    for text in ("0", "0.05", "0.1", "0.2", "0.3", "0.5", "0.7", "1.0", "1.5"):
        ratio = float(text)
        standard = 1.02 + 0.98 * math.exp(-3.0 * ratio)
        rows.append([text, highest_first_peak(ratio), standard])
    return Table(
        "coil", "first_peak.csv",
        ["Recomputed: highest first peak of current over the steady one, over all switching instants; "
         "last column: standard formula, from memory."],
        [Column("r_over_x"), Column("highest_factor", 6, fixed=True), Column("standard_factor", 6, fixed=True)],
        rows)


def ring_circuit(frequency, mmf, gap, open_area, shaded_area, ring):
    """Two poles under one magnetomotive force; the ring is a shorted turn around the shaded one (complex phasors)."""
    reluctance = [gap / (VACUUM * area) for area in (open_area, shaded_area)]
    omega = 2.0 * math.pi * frequency
    # Ring: r i = -j w phi; shaded pole: R phi = mmf + i.
    fluxes = [mmf / reluctance[0], mmf / (reluctance[1] + 1j * omega / ring)]
    lag = math.atan2(-fluxes[1].imag, fluxes[1].real)
    sizes = [abs(flux) for flux in fluxes]
    pulls = [size**2 / (2.0 * VACUUM * area) for size, area in zip(sizes, (open_area, shaded_area))]

    def pull(angle):
        return pulls[0] * math.sin(angle) ** 2 + pulls[1] * math.sin(angle - lag) ** 2

    # The pull repeats every half period; its Fourier sum of two samples a quarter apart is exact for its mean.
    mean = (pull(0.3) + pull(0.3 + math.pi / 2)) / 2
    double = complex(pulls[0] + pulls[1] * math.cos(2 * lag), -pulls[1] * math.sin(2 * lag)) / 2
    least = mean - abs(double)
    return [math.degrees(lag), *sizes, *pulls, mean, least, least / mean]


def shading_ring():
    rings = {"2e-05": ("2e-05", "5e-05", "0.0001", "0.0005"), "5e-05": ("2e-05", "0.0001", "0.0002", "0.0005"),
             "0.0001": ("2e-05", "5e-05", "0.0001", "0.0002")}
    rows = []
    for frequency in ("50", "60"):
        for ring in ("2e-05", "5e-05", "0.0001", "0.0002", "0.0005"):
            for gap in (gap for gap in rings if ring in rings[gap]):
                given = (frequency, "60", gap, "4e-05", "4e-05", ring)
                rows.append([*given, *ring_circuit(*map(float, given))])
    names = ("frequency_hz", "mmf_peak_a", "gap_m", "open_area_m2", "shaded_area_m2", "ring_ohm")
    results = ("lag_deg", "open_flux_wb", "shaded_flux_wb", "open_pull_peak_n", "shaded_pull_peak_n", "mean_pull_n",
               "least_pull_n", "least_over_mean")
    return Table(
        "shading ring", "circuits.csv", ["Recomputed from two phasors."],
        [*(Column(name) for name in names), *(Column(name, 10) for name in results)], rows)


def tables():
    yield first_peaks()
    yield shading_ring()
