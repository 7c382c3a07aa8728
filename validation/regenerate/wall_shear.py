"""Wall shear of oscillating laminar flow in a round pipe, exactly.

The momentum of the mean velocity v obeys rho s N v = -dp/dx, N = 1/(1 - 2 I1(z)/(z I0(z))), z = sqrt(s r^2/nu); N - 1 is
the wall shear over the inertia. W. Zielke, "Frequency-dependent friction in transient pipe flow", Journal of Basic
Engineering 90, 1968, 109-115 (from memory); the function follows from the Navier-Stokes equations of parallel flow.
"""

import mpmath as mp

from table import Column, Table


def inertance(sigma):
    """N of the dimensionless Laplace variable s r^2/nu."""
    z = mp.sqrt(sigma)
    return 1 / (1 - 2 * mp.besseli(1, z) / (z * mp.besseli(0, z)))


def kernel(sigma):
    """What the wall adds to inertia and Poiseuille's law, over four: F = (z/2) I3(z)/I2(z), z = sqrt(sigma)."""
    z = mp.sqrt(sigma)
    return z / 2 * mp.besseli(3, z) / mp.besseli(2, z)


def tables():
    rows = []
    with mp.workdps(30):
        for text in ("1.0", "10.0", "31.6227766", "100.0", "316.227766", "1000.0", "3162.27766", "10000.0", "100000.0",
                     "1000000.0"):
            sigma = mp.mpc(0, mp.mpf(text))
            value = kernel(sigma)
            # A second way: the definition by N, where near numbers are subtracted.
            assert abs((sigma * inertance(sigma) - sigma - 8) / 4 - value) < mp.mpf(10) ** -20 * abs(value)
            rows.append([text, value.real, value.imag])
    yield Table(
        "wall shear", "kernel.csv",
        ["Recomputed with mpmath at 30 digits: F = (σ·N − σ − 8)/4, N = 1/(1 − 2·I1(z)/(z·I0(z))), z = √σ, σ = j·omega,",
         "omega = angular frequency times r²/ν. What the exact laminar wall shear adds to inertia σ and Poiseuille's 8, "
         "over four."],
        [Column("omega"), Column("real", 10), Column("imaginary", 10)], rows)
