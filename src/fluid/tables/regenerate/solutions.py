"""Tables of glycol solutions: density, viscosity, freezing temperature, and an estimate of the sound speed.

Run `python solutions.py` in this folder with the versions of validation/requirements.txt; it writes
../ethylene_glycol.txt and ../propylene_glycol.txt and prints how far the stored form is off. With `--check` it writes
nothing and fails where a committed file differs.

Density, viscosity and freezing temperature are those of A. Melinder, "Properties of Secondary Working Fluids (Secondary
Refrigerants or Coolants, Heat Transfer Fluids) for Indirect Systems", International Institute of Refrigeration, 2010, as
held by the library CoolProp (incompressible solutions MEG and MPG). There they are polynomials, the viscosity that of an
exponent, so that products of Chebyshev polynomials hold them without loss.

The library has no sound speed, and no measured table could be seen. What is stored is an estimate: see `SoundSpeed`.
"""

import sys
from pathlib import Path

import CoolProp
import numpy as np
from CoolProp.CoolProp import PropsSI
from numpy.polynomial import chebyshev

HIGHEST_FRACTION, HOTTEST, PRESSURE = 0.6, 373.15, 101325.0
FOLDER = Path(__file__).resolve().parent.parent
WATER_DENSITY = PropsSI("D", "T", 293.15, "P", PRESSURE, "Water")


class Library:
    """A solution of the library by mass fraction and temperature."""

    def __init__(self, name):
        self.state = CoolProp.AbstractState("INCOMP", name)

    def at(self, fraction, temperature):
        self.state.set_mass_fractions([fraction])
        self.state.update(CoolProp.PT_INPUTS, PRESSURE, temperature)
        return self.state

    def freezing(self, fraction):
        return self.at(fraction, HOTTEST).keyed_output(CoolProp.iT_freeze)

    def density(self, fraction, temperature):
        return self.at(fraction, temperature).rhomass()

    def viscosity(self, fraction, temperature):
        return self.at(fraction, temperature).viscosity()


def water_sound_speed(temperature):
    """IAPWS-95, also of the supercooled liquid; below 245 K a straight line, since glycol solutions reach there only where
    the water's own peculiarity has a weight below 0.3."""
    if temperature >= 245.0:
        return PropsSI("A", "T|liquid", temperature, "P", PRESSURE, "Water")
    edge, above = (PropsSI("A", "T|liquid", t, "P", PRESSURE, "Water") for t in (245.0, 247.0))
    return edge + (above - edge) / 2.0 * (temperature - 245.0)


class SoundSpeed:
    """Estimate, not measured: sound speed of the solution.

    At 25 °C the isentropic compressibility is that of the parts by volume plus an excess,
        kappa = (1 - phi) kappa_w + phi kappa_g + phi (1 - phi) A (1 + s (1 - 2 phi)),
    with phi the volume fraction of the unmixed parts. A takes the curve through one point. At other temperatures
        a(w, T) = a(w, 25 °C) + slope (T - 25 °C) + (1 - w)^2 (a_w(T) - a_w(25 °C) - slope (T - 25 °C)),
    that is: the glycol's own slope, and water's departure from it, which fades as (1 - w)^2. An exponent near 2
    follows from the measured fact that 30 % ethylene glycol has no temperature slope between 15.6 and 38.4 °C.
    """

    SKEW = 0.43  # s: from memory of the shape of such curves, the same for both; by judgement

    def __init__(self, library, glycol_density, glycol_speed, slope, through):
        self.library, self.slope = library, slope
        self.glycol_density, self.through = glycol_density, through
        # With the library's own density at nothing dissolved, which is up to 1e-3 off, so that the pure end is exact.
        self.water_kappa = self.kappa(library.density(0.0, 298.15), water_sound_speed(298.15))
        self.glycol_kappa = self.kappa(glycol_density, glycol_speed)
        self.excess = 0.0
        fraction, speed = through
        phi = self.volume_fraction(fraction)
        missing = self.kappa(library.density(fraction, 298.15), speed) - self.mixed(phi)
        self.excess = missing / self.shape(phi)

    @staticmethod
    def kappa(density, speed):
        return 1.0 / (density * speed**2)

    def shape(self, phi):
        return phi * (1.0 - phi) * (1.0 + self.SKEW * (1.0 - 2.0 * phi))

    def mixed(self, phi):
        return (1.0 - phi) * self.water_kappa + phi * self.glycol_kappa + self.excess * self.shape(phi)

    def volume_fraction(self, fraction):
        glycol, water = fraction / self.glycol_density, (1.0 - fraction) / WATER_DENSITY
        return glycol / (glycol + water)

    def at(self, fraction, temperature):
        at_25 = (self.library.density(fraction, 298.15) * self.mixed(self.volume_fraction(fraction))) ** -0.5
        departure = water_sound_speed(temperature) - water_sound_speed(298.15) - self.slope * (temperature - 298.15)
        return at_25 + self.slope * (temperature - 298.15) + (1.0 - fraction) ** 2 * departure


def propylene_glycol_pure(temperature):
    """T. Eisenbach et al., J. Phys. Chem. Ref. Data 50, 2021, through the library."""
    return PropsSI("A", "T", temperature, "P", PRESSURE, "PropyleneGlycol")


def estimates(name, library):
    """End points and the point that the curve is taken through (mass fraction, m/s at 25 °C)."""
    if name == "MEG":
        # 1658 m/s and -2.1 m/s/K at 25 °C were read in a printed list of liquids; density at 25 °C from memory.
        # 1638 ± 3.5 m/s at "30 percent": abstract of "Ethylene glycol-water mixtures for use in ultrasound test objects",
        # J. Clin. Ultrasound 7, 1979, 465-470. By mass or by volume is not said there; by volume it would be 0.323 by
        # mass: 0.31, between the two, is taken.
        return SoundSpeed(library, 1110.0, 1658.0, -2.1, (0.31, 1638.0))
    slope = (propylene_glycol_pure(308.15) - propylene_glycol_pure(288.15)) / 20.0
    density = PropsSI("D", "T", 298.15, "P", PRESSURE, "PropyleneGlycol")
    # 1640 m/s at 40 % by mass: from memory, ± 40 m/s.
    return SoundSpeed(library, density, propylene_glycol_pure(298.15), slope, (0.4, 1640.0))


class Surface:
    """Least squares of products of Chebyshev polynomials over mass fraction and temperature, in liquid states only."""

    def __init__(self, orders, coldest, points, values):
        self.orders, self.coldest = orders, coldest
        basis = self.basis(points)
        found = np.linalg.lstsq(basis, np.asarray(values), rcond=1e-13)[0]
        # Digits below the noise of the solution are left out, so that the file is the same on every machine.
        self.coefficients = np.round(found.reshape(orders), 9 - int(np.log10(np.abs(found).max()))) + 0.0

    def basis(self, points):
        fractions, temperatures = np.asarray(points).T
        x = 2.0 * fractions / HIGHEST_FRACTION - 1.0
        y = (2.0 * temperatures - self.coldest - HOTTEST) / (HOTTEST - self.coldest)
        return chebyshev.chebvander2d(x, y, [n - 1 for n in self.orders])

    def __call__(self, points):
        return self.basis(points) @ self.coefficients.ravel()

    def lines(self, name):
        yield f"{name} {self.orders[0]} {self.orders[1]}"
        for row in self.coefficients:
            yield " ".join(f"{value:.10g}" for value in row)


def states(library, count, seed):
    """Random liquid states; a part of them at the freezing curve, hot, and at the ends of the concentration."""
    random = np.random.default_rng(seed)
    fractions = np.clip(random.uniform(-0.03, HIGHEST_FRACTION + 0.03, count), 0.0, HIGHEST_FRACTION)
    shares = np.clip(random.uniform(-0.05, 1.05, count), 0.0, 1.0)
    cold = np.array([library.freezing(w) + 1e-6 for w in fractions])
    return np.column_stack([fractions, cold + shares * (HOTTEST - cold)])


def table(name, title, key, glycol_density, uncertain):
    library = Library(key)
    estimate = estimates(key, library)
    coldest = library.freezing(HIGHEST_FRACTION)
    fit, check = states(library, 4000, 1), states(library, 20000, 2)
    quantities = {
        "density": ((6, 4), library.density, False),
        "log_viscosity": ((6, 4), library.viscosity, True),
        "sound_speed": ((9, 9), estimate.at, False),
        "freezing_temperature": ((6, 1), lambda w, _: library.freezing(w), False),
    }
    body, errors = [], []
    for label, (orders, function, logarithm) in quantities.items():
        sampled = np.array([function(w, t) for w, t in fit])
        surface = Surface(orders, coldest, fit, np.log(sampled) if logarithm else sampled)
        wanted = np.array([function(w, t) for w, t in check])
        found = np.exp(surface(check)) if logarithm else surface(check)
        worst = np.abs(found / wanted - 1.0).max()
        errors.append(f"{label.removeprefix('log_')} {worst:.1e}")
        body += surface.lines(label)
    heading = [
        f"{title}: made by regenerate/solutions.py, not by hand.",
        f"Library CoolProp {CoolProp.__version__}, incompressible solution {key}; literature key Melinder2010: A. Melinder,",
        "Properties of Secondary Working Fluids for Indirect Systems, International Institute of Refrigeration, 2010.",
        "sound_speed: estimated, not measured; " + uncertain,
        "Products of Chebyshev polynomials of mass fraction (rows) and temperature, K (columns), scaled from the ranges to",
        "-1..1. SI units; log_viscosity is the natural logarithm of Pa s. Pressure 101325 Pa. Liquid states only.",
        "Largest relative error of the stored form on 20000 random liquid states: " + ", ".join(errors[:2]) + ",",
        ", ".join(errors[2:]) + ".",
    ]
    lines = [f"# {line}" for line in heading]
    lines += [f"mass_fraction 0 {HIGHEST_FRACTION}", f"temperature {coldest:.6f} {HOTTEST}"]
    lines += [f"unmixed_density {glycol_density:.2f} {WATER_DENSITY:.2f}"]
    keep(FOLDER / name, "\n".join(lines + body) + "\n")
    print(name, *errors, sep="; ")


def keep(path, text):
    if "--check" not in sys.argv[1:]:
        path.write_text(text, encoding="utf-8")
    elif path.read_text(encoding="utf-8") != text:
        sys.exit(f"{path.name} differs from what the script makes")


def main():
    # Unmixed densities at 20 °C, for volume fractions. Ethylene glycol: from memory; propylene glycol: Eisenbach 2021.
    table("ethylene_glycol.txt", "Ethylene glycol in water", "MEG", 1113.5,
          "taken through water's, one measured point (30 %, 25 °C) and the pure glycol's.")
    table("propylene_glycol.txt", "Propylene glycol in water", "MPG",
          PropsSI("D", "T", 293.15, "P", PRESSURE, "PropyleneGlycol"),
          "taken through water's, one remembered point (40 %, 25 °C) and the pure glycol's.")


if __name__ == "__main__":
    main()
