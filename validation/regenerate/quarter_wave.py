"""A spring-loaded valve on a lossless pipe fed at constant pressure: the pipe length at which it loses its stability.

Own derivation. m x'' + c x' + k (x + x_pre) = A p, Q = B x sqrt(p), pipe p' = -Zc tanh(sL/a) Q'. Characteristic function
(m s^2 + c s + k)(1 + alpha tanh sT) + beta tanh sT, alpha = Zc Q0/(2 p0), beta = A Zc Q0/x0, T = L/a. The phenomenon:
C. Hos, A. R. Champneys, K. Paul, M. McNeely, "Dynamic behaviour of direct spring loaded pressure relief valves: III valves
in liquid service", Journal of Loss Prevention in the Process Industries 43, 2016 (abstract known; journal from memory).
"""

import math

import numpy as np
from scipy.optimize import brentq

from table import Column, Table

DENSITY, WAVE_SPEED = 998.2, 1350.0
NAMES = ("valve", "mass_kg", "stiffness_n_m", "seat_m", "discharge_coefficient", "pressure_pa", "lift_m", "pipe_m")
VALVES = (("A", "0.02", "2000", "0.012", "0.7", "100000", "0.0005", "0.013"),
          ("B", "0.02", "2000", "0.012", "0.7", "100000", "0.002", "0.013"),
          ("C", "0.1", "10000", "0.02", "0.65", "300000", "0.001", "0.025"),
          ("D", "0.5", "20000", "0.025", "0.6", "500000", "0.002", "0.025"))


class Valve:
    def __init__(self, mass, stiffness, seat, coefficient, pressure, lift, pipe, damping_ratio):
        self.mass, self.stiffness = mass, stiffness
        self.damping = 2.0 * damping_ratio * math.sqrt(stiffness * mass)
        area = math.pi * seat**2 / 4.0
        self.flow = coefficient * math.pi * seat * lift * math.sqrt(2.0 * pressure / DENSITY)
        self.preload = area * pressure / stiffness - lift
        impedance = DENSITY * WAVE_SPEED / (math.pi * pipe**2 / 4.0)
        self.alpha = impedance * self.flow / (2.0 * pressure)
        self.beta = area * impedance * self.flow / lift

    def undamped_length(self):
        """A quarter of the wave of the valve stiffened by its flow."""
        return math.pi / 2 * WAVE_SPEED / math.sqrt((self.stiffness + self.beta / self.alpha) / self.mass)

    def critical(self):
        """Shortest length with a root on the imaginary axis, and its angular frequency.

        With D = k - m w^2 and t = tan wT the two parts give t = D/(c w alpha) and alpha D^2 + beta D + alpha c^2 w^2 = 0:
        a quadratic in w^2, so that even the damped boundary is in closed form.
        """
        m, k, c, alpha, beta = self.mass, self.stiffness, self.damping, self.alpha, self.beta
        if c == 0.0:
            length = self.undamped_length()
            return length, math.pi / 2 * WAVE_SPEED / length
        squares = np.roots([alpha * m * m, alpha * (c * c - 2 * k * m) - beta * m, alpha * k * k + beta * k])
        best = None
        for square in squares.real[(abs(squares.imag) < 1e-9 * abs(squares.real)) & (squares.real > 0)]:
            omega = math.sqrt(square)
            angle = math.atan((k - m * square) / (c * omega * alpha)) % math.pi
            best = min(best or (math.inf, 0), (WAVE_SPEED * angle / omega, omega))
        return best

    def characteristic(self, s, time):
        """Multiplied by cosh sT/e^(sT): no poles, no overflow to the right. Value and derivative."""
        e = np.exp(-2.0 * s * time)
        cosh, sinh = (1 + e) / 2, (1 - e) / 2
        own = self.mass * s * s + self.damping * s + self.stiffness
        value = own * (cosh + self.alpha * sinh) + self.beta * sinh
        slope = ((2 * self.mass * s + self.damping) * (cosh + self.alpha * sinh)
                 + time * e * (own * (self.alpha - 1) + self.beta))
        return value, slope

    def roots(self, guesses, time):
        """Newton from every guess; those that have settled."""
        s = np.atleast_1d(np.asarray(guesses, complex))
        for _ in range(60):
            value, slope = self.characteristic(s, time)
            step = value / slope
            # A guess near a turning point of the function must not be thrown out of the range of numbers.
            s = s - step * np.minimum(1.0, 500.0 / np.maximum(abs(step), 1e-300))
            if np.all(abs(step) < 1e-15 * abs(s)):
                break
        return s[abs(step) < 1e-11 * abs(s)]

    def real_roots(self, time):
        """Decays without oscillation: the pipe and the valve settle to another flow."""
        axis = np.linspace(-2000.0, 500.0, 20001)
        values = self.characteristic(axis, time)[0]
        return [brentq(lambda x: self.characteristic(x, time)[0], axis[i], axis[i + 1], xtol=1e-12)
                for i in np.nonzero(values[1:] * values[:-1] < 0)[0]]

    def rightmost(self, length, highest):
        """The oscillating root of the greatest real part up to the angular frequency `highest`, and the slowest real one.

        The roots right of a line just left of it are counted by the argument principle, so that none is missed.
        """
        time = length / WAVE_SPEED
        grid = np.linspace(-600.0, 300.0, 19)[:, None] + 1j * np.linspace(0.0, highest, 80)[None, :]
        found = self.roots(grid.ravel(), time)
        oscillating = found[(found.imag > 1.0) & (found.imag < highest)]
        best = oscillating[np.argmax(oscillating.real)]
        real = self.real_roots(time)
        left = best.real - 3.0
        right = {(round(s.real, 4), round(s.imag, 3)) for s in oscillating if s.real > left}
        expected = 2 * len(right) + sum(s > left for s in real)
        counted = self.count(left, highest, time)
        assert counted == expected, (length, counted, expected, right, real)
        return best, max(real, default=None)

    def count(self, left, highest, time):
        """Roots in the box right of `left`, by the turns of the characteristic function around it."""
        corners = [complex(left, -highest), complex(2000.0, -highest), complex(2000.0, highest), complex(left, highest)]
        turns = 0.0
        for a, b in zip(corners, corners[1:] + corners[:1]):
            values = self.characteristic(a + (b - a) * np.linspace(0.0, 1.0, 40001), time)[0]
            turns += float(np.sum(np.angle(values[1:] / values[:-1])))
        return round(turns / (2 * math.pi))

    def followed(self, share):
        """The root that crosses at the critical length, followed from there to `share` of that length."""
        length, omega = self.critical()
        s, before = complex(0.0, omega), complex(0.0, omega)
        for now in np.linspace(1.0, share, 101)[1:]:
            settled = self.roots([2 * s - before], now * length / WAVE_SPEED)
            before, s = s, settled[0]
        return s


def lengths():
    rows = []
    for given in VALVES:
        for damping in ("0", "0.02", "0.1"):
            valve = Valve(*map(float, given[1:]), float(damping))
            length, omega = valve.critical()
            residual, slope = valve.characteristic(complex(0.0, omega), length / WAVE_SPEED)
            assert abs(residual / slope) < 1e-8, (given, damping)
            rows.append([*given, damping, valve.flow, valve.preload, valve.alpha, valve.undamped_length(), length,
                         omega / (2 * math.pi)])
    results = ("flow_m3_s", "preload_m", "alpha", "undamped_critical_length_m", "critical_length_m", "critical_frequency_hz")
    return Table(
        "quarter wave", "critical_length.csv",
        ["Exact, own derivation: valve on a lossless pipe; 998.2 kg/m3, 1350 m/s. damping_ratio = c/(2 sqrt(k m)).",
         "Unstable for pipes longer than critical_length; pressure and lift are those of the equilibrium."],
        [*(Column(name) for name in (*NAMES, "damping_ratio")), *(Column(name, 12) for name in results)], rows)


def growth():
    rows = []
    for given in VALVES:
        for damping in ("0", "0.02", "0.1"):
            valve = Valve(*map(float, given[1:]), float(damping))
            length, omega = valve.critical()
            for share in ("0.25", "0.5", "0.75", "0.95", "1.05", "1.25"):
                mode = valve.followed(float(share))
                best, slow = valve.rightmost(float(share) * length, 6.3 * omega)
                rows.append([given[0], damping, share, mode.real, mode.imag / (2 * math.pi), best.real,
                             best.imag / (2 * math.pi), slow])
    results = ("followed_growth_per_s", "followed_frequency_hz", "fastest_growth_per_s", "fastest_frequency_hz",
               "slow_decay_per_s")
    return Table(
        "quarter wave", "growth_rate.csv",
        ["Exact roots; valves as in critical_length.csv. followed: the mode that crosses at the critical length, followed",
         "from there. fastest: the oscillating mode of greatest growth up to 6.3 times the critical frequency (the",
         "pipe's own modes go on without end). slow_decay: the slowest decay without oscillation."],
        [*(Column(name) for name in ("valve", "damping_ratio", "length_share")),
         *(Column(name, 10, absolute=1e-8) for name in results)], rows)


def tables():
    yield lengths()
    yield growth()
