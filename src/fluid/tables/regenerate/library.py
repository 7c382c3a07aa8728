"""The property library, asked in (temperature, density), where its equations of state are smooth."""

import math

import CoolProp
import CoolProp.CoolProp as CP

LIBRARY = f"CoolProp {CoolProp.__version__}"


class Library:
    """One fluid of the library: a pure one, a pseudo-pure one, or a mixture by its components."""

    def __init__(self, call):
        self.call = call
        self.state = CP.AbstractState("HEOS", call)
        self.molar_mass = self.state.molar_mass()
        self.mixture = len(self.state.fluid_names()) > 1
        self.critical_temperature, self.critical_pressure = self._critical_point()
        self.gas_constant = CP.PropsSI("GAS_CONSTANT", "Water") / self.molar_mass
        self.components = _components(self.state) if self.mixture else []
        self.known = {0: {}, 1: {}}

    def _critical_point(self):
        """Of a mixture the library's own search, since its reducing point is not its critical one."""
        if not self.mixture:
            return self.state.T_critical(), self.state.p_critical()
        points = [point for point in self.state.all_critical_points() if point.stable]
        return max((point.T, point.p) for point in points)

    def saturation(self, temperature, vapour):
        """Pressure and density on the bubble (vapour = 0) or the dew line (1)."""
        self.state.unspecify_phase()
        if self.mixture:
            self._march(temperature, vapour)
        else:
            self.state.update(CP.QT_INPUTS, vapour, temperature)
        return self.state.p(), self.state.rhomass()

    def _march(self, temperature, vapour):
        """To a saturated state of a mixture from the nearest known one, in steps that the library's search survives."""
        known = self.known[vapour]
        if not known:
            self.state.update(CP.QT_INPUTS, vapour, 270.0)
            known[270.0] = self._guesses()
        at = min(known, key=lambda near: abs(near - temperature))
        steps = max(1, math.ceil(abs(temperature - at) / 1.0))
        for step in range(1, steps + 1):
            to = at + (temperature - at) * step / steps
            guesses = known[min(known, key=lambda near: abs(near - to))]
            self.state.update_with_guesses(CP.QT_INPUTS, vapour, to, guesses)
            known[to] = self._guesses()

    def _guesses(self):
        guesses = CP.PyGuessesStructure()
        guesses.T, guesses.p = self.state.T(), self.state.p()
        guesses.rhomolar_liq = self.state.saturated_liquid_keyed_output(CP.iDmolar)
        guesses.rhomolar_vap = self.state.saturated_vapor_keyed_output(CP.iDmolar)
        guesses.x, guesses.y = self.state.mole_fractions_liquid(), self.state.mole_fractions_vapor()
        return guesses

    def at(self, temperature, density, liquid):
        """State at temperature and density, stable or metastable."""
        self.state.specify_phase(CP.iphase_liquid if liquid else CP.iphase_gas)
        self.state.update(CP.DmassT_INPUTS, density, temperature)
        return self.state

    def viscosity(self, temperature, density, liquid):
        """Of a mixture: corresponding states of its components, see `estimated_viscosity`."""
        if self.mixture:
            return self.estimated_viscosity(temperature, density, liquid)
        return self.at(temperature, density, liquid).viscosity()

    def estimated_viscosity(self, temperature, density, liquid):
        """Logarithmic mean over the amounts of the components' viscosities, each at the mixture's reduced temperature and
        density and made dimensionless by sqrt(M) p_c^(2/3) T_c^(-1/6) (principle of corresponding states)."""
        reduced_temperature = temperature / self.state.T_reducing()
        reduced_density = density / (self.state.rhomolar_reducing() * self.molar_mass)
        logarithm = scale = 0.0
        for fraction, component, size, critical in self.components:
            component.specify_phase(CP.iphase_liquid if liquid else CP.iphase_gas)
            component.update(CP.DmassT_INPUTS, reduced_density * critical, reduced_temperature * component.T_critical())
            logarithm += fraction * math.log(component.viscosity() / size)
            scale += fraction * math.log(size)
        return math.exp(logarithm + scale)

    def pressure_root(self, temperature, pressure, low, high, liquid):
        """Density at a pressure, between two densities that enclose it."""
        for _ in range(200):
            middle = 0.5 * (low + high)
            if self.at(temperature, middle, liquid).p() < pressure:
                low = middle
            else:
                high = middle
            if high - low < 1e-13 * high:
                break
        return 0.5 * (low + high)


def _components(state):
    parts = []
    for name, fraction in zip(state.fluid_names(), state.get_mole_fractions()):
        component = CP.AbstractState("HEOS", name)
        size = component.molar_mass() ** 0.5 * component.p_critical() ** (2 / 3) * component.T_critical() ** (-1 / 6)
        parts.append((fraction, component, size, component.rhomass_critical()))
    return parts


def choked(library, temperature, density):
    """Critical pressure ratio and flow factor G/sqrt(p rho) of the isentrope from rest at that state. Vapour that
    crosses its dew line stays vapour (condensation takes longer than the way through a valve)."""
    state = library.at(temperature, density, False)
    entropy, rest, pressure = state.smass(), state.hmass(), state.p()
    exponent = density * state.speed_sound() ** 2 / pressure
    step = lambda rho, start: _isentropic(library, rho, start, entropy)

    def excess(rho, start):
        throat = step(rho, start)
        now = library.at(throat, rho, False)
        return 2 * (rest - now.hmass()) - now.speed_sound() ** 2, throat

    guess = density * (2 / (exponent + 1)) ** (1 / (exponent - 1 + 1e-9))
    x0, x1 = guess * 1.02, guess * 0.98
    t0 = temperature * 0.9
    f0, t0 = excess(x0, t0)
    f1, t1 = excess(x1, t0)
    for _ in range(60):
        if abs(f1 - f0) < 1e-300 or abs(x1 - x0) < 1e-12 * x1:
            break
        x2 = x1 - f1 * (x1 - x0) / (f1 - f0)
        x2 = min(max(x2, 0.5 * x1), 1.5 * x1)
        x0, f0 = x1, f1
        x1 = x2
        f1, t1 = excess(x1, t1)
    throat = library.at(t1, x1, False)
    flux = x1 * math.sqrt(2 * (rest - throat.hmass()))
    return throat.p() / pressure, flux / math.sqrt(pressure * density)


def _isentropic(library, density, temperature, entropy):
    for _ in range(50):
        state = library.at(temperature, density, False)
        change = (entropy - state.smass()) / state.cvmass() * temperature
        temperature += max(min(change, 0.1 * temperature), -0.1 * temperature)
        if abs(change) < 1e-11 * temperature:
            break
    return temperature
