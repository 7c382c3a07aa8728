"""The three equations of a relief valve on a compressible volume, its equilibria and their linearisation.

y1' = y2, y2' = -kappa y2 - (y1 + delta) + y3, y3' = beta (q - y1 sqrt(y3)); at the seat y1 = 0 the speed is reversed and
multiplied by a restitution. G. Licsko, A. Champneys, C. Hos, "Nonlinear analysis of a single stage pressure relief valve",
IAENG International Journal of Applied Mathematics 39:4, 2009 (abstract known; equations and parameters from public listings
of the problem, not from the paper). All numbers here are recomputed.
"""

import mpmath as mp


def equilibrium(flow, delta):
    """y1^2 (y1 + delta) = q^2."""
    flow, delta = mp.mpf(flow), mp.mpf(delta)
    lift = mp.findroot(lambda y: y * mp.sqrt(y + delta) - flow, flow / mp.sqrt(delta + flow ** (mp.mpf(2) / 3)))
    return lift, lift + delta


def jacobian(kappa, beta, lift, pressure):
    root = mp.sqrt(pressure)
    return mp.matrix([[0, 1, 0], [-1, -kappa, 1], [-beta * root, 0, -beta * lift / (2 * root)]])


def eigenvalues(kappa, beta, delta, flow):
    """The complex one of positive imaginary part, and the real one, by numerical linear algebra."""
    lift, pressure = equilibrium(flow, delta)
    values = mp.eig(jacobian(mp.mpf(kappa), mp.mpf(beta), lift, pressure), left=False, right=False)
    complex_one = max(values, key=lambda v: mp.im(v))
    real_one = min(values, key=lambda v: abs(mp.im(v)))
    return lift, pressure, complex_one, mp.re(real_one)
