"""States of the built-in fluids by libraries other than the one their tables were made with.

PYroMat (C. R. Martin) and iapws have programs of their own for equations of state, mostly the same equations: they check the
programs. thermo and chemicals (C. Bell) hold correlations of vapour pressure, density and viscosity that were fitted by others
(VDI Heat Atlas; fits to the reference program of NIST), and a cubic equation of state that takes a blend by its components:
these check the physics.
"""

import warnings

import pyromat
from chemicals import MW, Pc, Tc, omega
from iapws import IAPWS97
from iapws.humidAir import Air
from table import Column, Table
from thermo import (CEOSGas, CEOSLiquid, ChemicalConstantsPackage, FlashVL, HeatCapacityGas, PRMIX, PropertyCorrelationsPackage,
                    VaporPressure, ViscosityGas, ViscosityLiquid, VolumeLiquid)

COLUMNS = [Column("fluid"), Column("state"), Column("temperature_K"), Column("pressure_Pa"), Column("density_kg_m3"),
           Column("property"), Column("value", 9, relative=1e-7), Column("source")]

# Fluid, its name in PYroMat, saturated temperatures, liquid and gas states (K, Pa).
PROGRAMS = (
    ("R134a", "C2H2F4", (220, 250, 280, 310, 340, 360),
     [(t, p) for t in (220, 260, 300, 340) for p in (3e6, 8e6)], [(240, 5e4), (300, 5e5), (350, 1e6), (400, 2e6)]),
    ("R1234ze(E)", "C3H2F4_1", (225, 250, 280, 310, 340, 365),
     [(t, p) for t in (230, 260, 300, 340) for p in (3e6, 8e6)], [(250, 5e4), (300, 3e5), (350, 1e6), (400, 2e6)]),
    ("R744", "CO2", (225, 250, 270, 285, 294),
     [(t, p) for t in (225, 250, 280) for p in (6e6, 1.5e7)], [(230, 5e5), (280, 2e6), (350, 5e6)]),
    ("nitrogen", "N2", (), [], [(t, p) for t in (220, 300, 420) for p in (1e5, 5e6, 2e7)]),
)

CAS = {"R744": "124-38-9", "R717": "7664-41-7", "R290": "74-98-6", "R600a": "75-28-5", "R134a": "811-97-2", "R32": "75-10-5",
       "R22": "75-45-6", "R1234yf": "754-12-1", "R1234ze(E)": "29118-24-9", "R125": "354-33-6", "R143a": "420-46-2"}

BLENDS = {"R410A": {"R32": 0.5, "R125": 0.5}, "R407C": {"R32": 0.23, "R125": 0.25, "R134a": 0.52},
          "R404A": {"R125": 0.44, "R143a": 0.52, "R134a": 0.04}, "R507A": {"R125": 0.5, "R143a": 0.5},
          "R448A": {"R32": 0.26, "R125": 0.26, "R1234yf": 0.20, "R134a": 0.21, "R1234ze(E)": 0.07},
          "R449A": {"R32": 0.243, "R125": 0.247, "R1234yf": 0.253, "R134a": 0.257},
          "R454B": {"R32": 0.689, "R1234yf": 0.311}, "R513A": {"R1234yf": 0.56, "R134a": 0.44}}


def row(fluid, state, temperature, pressure, quantity, value, source):
    pressure = "" if pressure is None else f"{pressure:g}"
    return [fluid, state, f"{temperature:g}", pressure, "", quantity, float(value), source]


def programs():
    """Other programs for, mostly, the same equations."""
    pyromat.config["unit_pressure"], pyromat.config["unit_temperature"] = "Pa", "K"
    rows = []
    for fluid, name, saturated, liquid, gas in PROGRAMS:
        model = pyromat.get(f"mp.{name}")
        for t in saturated:
            densities = [d[0] for d in model.ds(T=t)]
            rows.append(row(fluid, "bubble", t, None, "pressure", model.ps(T=t), "PYroMat"))
            rows += [row(fluid, s, t, None, "density", d, "PYroMat") for s, d in zip(("bubble", "dew"), densities)]
        for state, points in (("liquid", liquid), ("gas", gas)):
            for t, p in points:
                rows.append(row(fluid, state, t, p, "density", model.d(T=t, p=p)[0], "PYroMat"))
                rows.append(row(fluid, state, t, p, "sound_speed", model.a(T=t, p=p)[0], "PYroMat"))
    for t in (220, 300, 420):
        for p in (1e5, 5e6, 2e7):
            state = Air(T=t, P=p / 1e6)
            rows.append(row("air", "gas", t, p, "density", state.rho, "iapws"))
            rows.append(row("air", "gas", t, p, "sound_speed", state.w, "iapws"))
    return Table("second library", "programs.csv",
                 ["Computed with PYroMat 2.2.6 and iapws 1.5.5 (air)."], COLUMNS, rows)


def water():
    """The industrial formulation, which is another equation than the scientific one of the tables."""
    rows = []
    liquid = [(t, p) for t in (280, 320, 360, 400, 440, 470) for p in (2e6, 1e7, 2e7)]
    for state, points in (("liquid", liquid), ("gas", [(320, 5e3), (380, 1e5), (440, 5e5), (470, 1e6)])):
        for t, p in points:
            water = IAPWS97(T=t, P=p / 1e6)
            rows += [row("water", state, t, p, quantity, value, "iapws")
                     for quantity, value in (("density", water.rho), ("sound_speed", water.w), ("viscosity", water.mu))]
    for t in (280, 320, 360, 400, 440, 470):
        rows.append(row("water", "bubble", t, None, "pressure", IAPWS97(T=t, x=0).P * 1e6, "iapws"))
    return Table("second library", "water.csv",
                 ["Computed with iapws 1.5.5: IAPWS-IF97, regions 1, 2 and 4; viscosity of the release of 2008."], COLUMNS, rows)


def temperatures(fluid):
    return (233.15, 253.15, 273.15, 288.15) if fluid == "R744" else (233.15, 253.15, 273.15, 293.15, 313.15, 333.15)


def fitted(correlation, method, fluid):
    """Values of one correlation inside its own range."""
    model = correlation(CASRN=CAS[fluid])
    for t in temperatures(fluid):
        if method in model.all_methods and model.test_method_validity(t, method):
            yield t, model.calculate(t, method)


def correlations():
    """Vapour pressure and liquid density. Interpolated sparse tables only where there is no fitted curve."""
    rows = []
    for fluid, cas in CAS.items():
        if fluid in ("R125", "R143a", "R1234ze(E)"):
            continue
        method = {"R134a": "VDI_TABULAR", "R1234yf": "HEOS_FIT"}.get(fluid, "VDI_PPDS")
        for t, value in fitted(VaporPressure, method, fluid):
            rows.append(row(fluid, "bubble", t, None, "pressure", value, method))
        for t, value in fitted(VolumeLiquid, method, fluid):
            rows.append(row(fluid, "bubble", t, None, "density", MW(cas) / 1e3 / value, method))
    return Table("second library", "correlations.csv",
                 ["Computed with thermo 0.6.1 and chemicals 1.5.2: VDI Heat Atlas by its fits (VDI_PPDS) or its table (VDI_TABULAR);",
                  "HEOS_FIT: fit to an earlier equation of state of R1234yf."], COLUMNS, rows)


def viscosities():
    """Of the saturated liquid, and of the gas at a pressure so low that it does not matter."""
    rows = []
    for fluid in CAS:
        if fluid in ("R125", "R143a"):
            continue
        for method in ("REFPROP_FIT", "VDI_TABULAR"):
            for t, value in fitted(ViscosityLiquid, method, fluid):
                rows.append(row(fluid, "bubble", t, None, "viscosity", value, method))
        for t, value in fitted(ViscosityGas, "REFPROP_FIT", fluid):
            rows.append(row(fluid, "gas", t, 1e4, "viscosity", value, "REFPROP_FIT"))
    return Table("second library", "viscosity.csv",
                 ["Computed with thermo 0.6.1 and chemicals 1.5.2: fits to the reference program of NIST (REFPROP_FIT) and the",
                  "table of the VDI Heat Atlas (VDI_TABULAR). Gas: the fits are of low pressure."], COLUMNS, rows)


def flash(composition):
    """Peng-Robinson equation without interaction parameters, and mole fractions."""
    components = [CAS[name] for name in composition]
    moles = [share / MW(cas) for share, cas in zip(composition.values(), components)]
    known = {"Tcs": [Tc(c) for c in components], "Pcs": [Pc(c) for c in components], "omegas": [omega(c) for c in components]}
    heat = [HeatCapacityGas(CASRN=c, MW=MW(c)) for c in components]
    constants = ChemicalConstantsPackage(MWs=[MW(c) for c in components], CASs=components, names=list(composition), **known)
    phases = [kind(PRMIX, known, HeatCapacityGases=heat) for kind in (CEOSLiquid, CEOSGas)]
    properties = PropertyCorrelationsPackage(constants, HeatCapacityGases=heat, skip_missing=True)
    return FlashVL(constants, properties, liquid=phases[0], gas=phases[1]), [m / sum(moles) for m in moles]


def blends():
    """Bubble and dew pressures of blends from critical points and acentric factors of their components alone."""
    rows = []
    for name, composition in BLENDS.items():
        flasher, fractions = flash(composition)
        for t in (243.15, 273.15, 298.15, 313.15):
            for state, vapour in (("bubble", 0), ("dew", 1)):
                pressure = flasher.flash(T=t, VF=vapour, zs=fractions).P
                rows.append(row(name, state, t, None, "pressure", pressure, "Peng-Robinson"))
    return Table("second library", "blends.csv",
                 ["Computed with thermo 0.6.1 and chemicals 1.5.2: Peng-Robinson equation, no interaction parameters."], COLUMNS, rows)


def tables():
    warnings.simplefilter("ignore")
    yield from (programs(), water(), correlations(), viscosities(), blends())
