"""Pressure at the shut valve of a viscous line, from the exact solution in the Laplace domain.

p/(rho a V0) = sqrt(N)/s tanh(sT sqrt(N)), T = L/a, with N = 1 + 32 nu/(D^2 s) for steady friction and the N of
`wall_shear` with the memory of the profile. The tanh is opened into the waves that have passed the valve, each freed of its
delay before Talbot's inversion, so that no front is ever inverted numerically. Line: E. L. Holmboe, W. T. Rouleau, "The
effect of viscous shear on transients in liquid lines", Journal of Basic Engineering 89, 1967, 174-180 (from memory).
"""

import mpmath as mp

from table import Column, Table
from wall_shear import inertance

PHASES = ("0.1", "0.25", "0.5", "0.75", "0.9", "1.1", "1.25", "1.5", "1.75", "1.9", "2.1", "2.25", "2.5", "2.75", "2.9",
          "3.25", "3.5", "3.75", "4.25", "4.5", "4.75", "5.5", "6.5", "7.5")
BORE, VISCOSITY = mp.mpf("0.0254"), mp.mpf("39.67e-6")
PHASE_TIME = 2 * mp.mpf("36.09") / 1324


def steady(s):
    return 1 + 32 * VISCOSITY / (BORE**2 * s)


def memory(s):
    return inertance(s * (BORE / 2) ** 2 / VISCOSITY)


def pressure(factor, phase):
    """tanh x = 1 + 2 sum (-1)^n exp(-2 n x): wave n arrives after n phases and is smooth from there."""
    total = mp.mpf(0)
    for wave in range(int(phase) + 1):
        weight = 1 if wave == 0 else 2 * (-1) ** wave

        def transform(s, wave=wave):
            root = mp.sqrt(factor(s))
            return root / s * mp.exp(-wave * PHASE_TIME * s * (root - 1))

        since = (phase - wave) * PHASE_TIME
        total += weight * mp.invertlaplace(transform, since, method="talbot", degree=40)
    return total


def tables():
    with mp.workdps(40):
        rows = [[text, pressure(steady, mp.mpf(text)), pressure(memory, mp.mpf(text))] for text in PHASES]
    yield Table(
        "wall shear", "laminar_transient.csv",
        ["Recomputed by numerical inversion of the exact Laplace-domain solutions. "
         "Pressure change at the shut valve over rho a V0.",
         "Line 36.09 m x 25.4 mm, 1324 m/s, 39.67e-6 m2/s, 878.4 kg/m3, 0.128 m/s."],
        [Column("phase"), Column("quasi_steady", 9), Column("memory", 9)],
        rows)
