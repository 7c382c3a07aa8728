"""Tables of one fluid: saturation curves and patches in (temperature, density)."""

import numpy as np

import chebyshev
from library import Library, choked

NODES = 28
ROUNDING = 1e-9
# Relative to the largest value of a property: what trimming may take away in all.
TRIM = {"pressure": 3e-9, "sound_speed": 2e-7, "viscosity": 1e-5, "enthalpy": 1e-7, "heat_capacity": 1e-5,
        "isochoric_heat_capacity": 1e-5, "compressibility": 1e-7, "critical_ratio": 1e-6, "flow_factor": 1e-6}


class Curve:
    """A function of one coordinate; of the logarithm where it spans decades."""

    def __init__(self, word, coordinate, function, logarithm):
        self.word, self.coordinate, self.logarithm = word, coordinate, logarithm
        values = [function(coordinate.temperature(x)) for x in chebyshev.nodes(NODES)]
        values = np.log(values) if logarithm else np.array(values)
        coefficients = chebyshev.fit(values)
        self.step = 1e-11 * 10.0 ** np.ceil(np.log10(np.abs(coefficients).max()))
        coefficients = chebyshev.trimmed(coefficients, (1e-8 if logarithm else 1e-8 * np.abs(values).max()))
        self.coefficients = chebyshev.stepped(coefficients, self.step)

    def at(self, temperature):
        value = chebyshev.evaluate(self.coefficients, self.coordinate.position(temperature))
        return np.exp(value) if self.logarithm else value

    def line(self):
        text = chebyshev.line(self.word, self.coefficients, self.step)
        return text + " log" if self.logarithm else text


class Coordinate:
    """Temperature, or the root of its distance from the critical one, mapped to [-1, 1]."""

    def __init__(self, low, high, reducing):
        self.low, self.high, self.reducing = low, high, reducing
        self.ends = self._raw(low), self._raw(high)

    def _raw(self, temperature):
        return temperature if self.reducing is None else np.sqrt(1 - temperature / self.reducing)

    def position(self, temperature):
        a, b = self.ends
        return (2 * self._raw(temperature) - a - b) / (b - a)

    def temperature(self, x):
        a, b = self.ends
        raw = 0.5 * (a + b) + 0.5 * x * (b - a)
        return raw if self.reducing is None else self.reducing * (1 - raw * raw)


class Patch:
    """Properties over temperature and density, the density between two curves."""

    def __init__(self, word, library, coordinate, low, high, liquid, properties):
        self.word, self.library, self.coordinate = word, library, coordinate
        self.low, self.high, self.liquid = low, high, liquid
        count = NODES if liquid or coordinate.reducing is not None else 20
        grid = chebyshev.nodes(count)
        values = {name: np.empty((count, count)) for name in properties}
        for i, x in enumerate(grid):
            temperature = coordinate.temperature(x)
            for j, y in enumerate(grid):
                found = sample(library, temperature, self.density(temperature, 0.5 * (y + 1)), liquid, properties)
                for name in properties:
                    values[name][i, j] = found[name]
        self.series = {}
        for name in properties:
            largest = np.abs(values[name]).max()
            step = ROUNDING * 10.0 ** np.ceil(np.log10(largest))
            coefficients = chebyshev.trimmed(chebyshev.fit(values[name]), TRIM[name] * largest)
            self.series[name] = chebyshev.stepped(coefficients, step), step

    def density(self, temperature, share):
        low = 0.0 if self.low is None else self.low.at(temperature)
        return low + share * (self.high.at(temperature) - low)

    def value(self, name, temperature, share):
        x, y = self.coordinate.position(temperature), 2 * share - 1
        return chebyshev.evaluate(self.series[name][0], x, y)

    def lines(self):
        root = "plain" if self.coordinate.reducing is None else "root"
        head = f"patch {self.word} {self.coordinate.low:.9g} {self.coordinate.high:.9g} {root}"
        curves = [curve.line() for curve in (self.low, self.high) if curve is not None]
        return [head] + curves + [chebyshev.line(name, *series) for name, series in self.series.items()]


def sample(library, temperature, density, liquid, properties):
    """Properties of the library at one temperature and density."""
    state = library.at(temperature, density, liquid)
    found = {
        "pressure": state.p(),
        "compressibility": state.p() / (density * library.gas_constant * temperature),
        "sound_speed": state.speed_sound(),
        "enthalpy": state.hmass(),
        "heat_capacity": state.cpmass(),
        "isochoric_heat_capacity": state.cvmass(),
    }
    if "critical_ratio" in properties:
        found["critical_ratio"], found["flow_factor"] = choked(library, temperature, density)
    found["viscosity"] = library.viscosity(temperature, density, liquid)
    return found


LIQUID = ("pressure", "sound_speed", "viscosity", "enthalpy", "heat_capacity")
GAS = ("compressibility", "sound_speed", "viscosity", "enthalpy", "heat_capacity", "isochoric_heat_capacity",
       "critical_ratio", "flow_factor")


class Fluid:
    """Everything that is tabulated of one fluid."""

    def __init__(self, library, curves, patches, critical_pressure):
        self.library, self.curves, self.patches = library, curves, patches
        self.critical_pressure = critical_pressure

    def lines(self):
        found = []
        for curve in self.curves:
            ends = f"{curve.coordinate.low:.9g} {curve.coordinate.high:.9g}"
            found += [f"curve {ends}", curve.line()]
        for patch in self.patches:
            found += patch.lines()
        return found


def build(entry):
    """The tables of one entry of the catalogue."""
    library = Library(entry.call)
    kelvin = lambda celsius: celsius + 273.15
    highest = entry.highest_pressure * 1e5
    if not entry.near_critical:
        coordinate = Coordinate(kelvin(entry.coldest_gas), kelvin(entry.hottest), None)
        dense = 3.0 * highest / (library.gas_constant * coordinate.low)
        top = Curve("high", coordinate, lambda t: library.pressure_root(t, highest, 1.0, dense, False), False)
        patch = Patch("gas", library, coordinate, None, top, False, GAS)
        return Fluid(library, [], [patch], library.critical_pressure)
    end = entry.near_critical * library.critical_temperature
    if library.call == "Water":
        end = kelvin(entry.hottest)
    liquid = Coordinate(kelvin(entry.lowest), end, library.critical_temperature)
    vapour = Coordinate(kelvin(entry.coldest_gas), end, library.critical_temperature)
    bubble = Curve("bubble", liquid, lambda t: library.saturation(t, 0)[0], True)
    dew = Curve("dew", vapour, lambda t: library.saturation(t, 1)[0], True)
    least = Curve("low", liquid, lambda t: library.saturation(t, 0)[1], False)
    most = Curve("high", liquid, lambda t: _dense(library, t, highest), False)
    full = Curve("high", vapour, lambda t: library.saturation(t, 1)[1], True)
    patches = [
        Patch("liquid", library, liquid, least, most, True, LIQUID),
        Patch("gas", library, vapour, None, full, False, GAS),
    ]
    if entry.call != "Water":
        above = Coordinate(end, kelvin(entry.hottest), None)
        limit = library.saturation(end, 1)[1]
        top = Curve("high", above, lambda t: limit, False)
        patches.append(Patch("gas", library, above, None, top, False, GAS))
    return Fluid(library, [bubble, dew], patches, library.critical_pressure)


def _dense(library, temperature, pressure):
    low = library.saturation(temperature, 0)[1]
    return library.pressure_root(temperature, pressure, low, 1.5 * low, True)

