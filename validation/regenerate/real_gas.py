"""Critical flow of real gases through an isentropic nozzle.

Equations of state of the library CoolProp (I. H. Bell, J. Wronski, S. Quoilin, V. Lemort, "Pure and pseudo-pure fluid
thermophysical property evaluation and the open-source thermophysical property library CoolProp", Industrial & Engineering
Chemistry Research 53, 2014, 2498-2508). From rest, h0 - h = v^2/2 along the isentrope; the throat is where the flow rho v
is greatest. Where the throat is a single phase, the greatest flow is sonic: that is asked for as a second way.
"""

import CoolProp
from CoolProp.CoolProp import AbstractState
from scipy.optimize import minimize_scalar, root

from table import Column, Table

# Name, fluid of the library, molar mass (from memory), inlet.
CASES = (("air", "Air", "0.0289655", "293.15", "101325"), ("air", "Air", "0.0289655", "293.15", "1000000"),
         ("nitrogen", "Nitrogen", "0.0280134", "293.15", "1000000"), ("methane", "Methane", "0.0160428", "293.15", "1000000"),
         ("R134a", "R134a", "0.102032", "313.15", "800000"), ("R290", "Propane", "0.0440956", "313.15", "1200000"),
         ("R744", "CarbonDioxide", "0.0440098", "313.15", "4000000"))


class Isentrope:
    """Expansion from rest at the temperature and pressure given."""

    def __init__(self, fluid, temperature, pressure):
        self.state = AbstractState("HEOS", fluid)
        self.state.update(CoolProp.PT_INPUTS, pressure, temperature)
        self.pressure, self.enthalpy, self.entropy = pressure, self.state.hmass(), self.state.smass()
        self.heat_capacity = self.state.cpmass()
        self.heat_ratio = self.heat_capacity / self.state.cvmass()

    def expand(self, ratio):
        self.state.update(CoolProp.PSmass_INPUTS, ratio * self.pressure, self.entropy)
        return (2.0 * (self.enthalpy - self.state.hmass())) ** 0.5

    def flow(self, ratio):
        velocity = self.expand(ratio)
        return self.state.rhomass() * velocity

    def sonic(self, ratio):
        """Ratio and flow of the point with entropy and total enthalpy of rest and the speed of sound, from near `ratio`.

        Density and temperature are the unknowns: no flash calculation limits the digits.
        """
        self.expand(ratio)
        density, temperature = self.state.rhomass(), self.state.T()
        self.state.specify_phase(CoolProp.iphase_gas)

        def misses(scale):
            self.state.update(CoolProp.DmassT_INPUTS, scale[0] * density, scale[1] * temperature)
            kinetic = self.state.speed_sound() ** 2 / 2.0
            return [(self.state.smass() - self.entropy) / self.heat_capacity,
                    (self.state.hmass() + kinetic - self.enthalpy) / kinetic]

        found = root(misses, [1.0, 1.0], tol=1e-13)
        misses(found.x)
        result = self.state.p() / self.pressure, self.state.rhomass() * self.state.speed_sound()
        self.state.unspecify_phase()
        return result


def critical(isentrope):
    """Ratio and flow of the throat, which must be a single phase."""
    best = minimize_scalar(lambda r: -isentrope.flow(r), bounds=(0.4, 0.8), method="bounded", options={"xatol": 1e-10})
    ratio, flow = best.x, -best.fun
    isentrope.expand(ratio)
    quality = isentrope.state.Q()
    assert not 0.0 <= quality <= 1.0, quality
    sonic_ratio, sonic_flow = isentrope.sonic(ratio)
    assert abs(sonic_ratio / ratio - 1.0) < 1e-5 and abs(sonic_flow / flow - 1.0) < 1e-8, (sonic_ratio, ratio)
    return sonic_ratio, sonic_flow


def tables():
    rows = []
    for name, fluid, molar_mass, temperature, pressure in CASES:
        isentrope = Isentrope(fluid, float(temperature), float(pressure))
        rows.append([name, molar_mass, temperature, pressure, isentrope.heat_ratio, *critical(isentrope)])
    yield Table(
        "real gas", "critical_flow.csv",
        ["Computed with CoolProp 8.0.0: isentropic critical flow of real gases, by the largest flux along the isentrope. "
         "Rows whose throat lies",
         "in the two-phase dome are left out. Molar masses (kg/mol) from memory; exponent = cp/cv of the real gas at the "
         "inlet."],
        # Committed ratios come from a search for the top of a flat curve.
        [*(Column(name) for name in ("gas", "molar_mass", "temperature_k", "inlet_pa")), Column("exponent", 10),
         Column("critical_ratio", 10, relative=1e-6), Column("flux_kg_m2_s", 10)],
        rows)
