"""Wave speed in an elastic pipe, thin-walled and thick-walled, for three ways of anchoring; of Lame's tube; with free gas.

D. J. Korteweg, Annalen der Physik 241, 1878, 525-542; factors of anchoring and the thick-walled form after E. B. Wylie,
V. L. Streeter, "Fluid Transients in Systems", Prentice-Hall, 1993 (from memory). Elastic moduli: handbook middle values,
from memory, of steel, copper, ductile iron, brass, aluminium, PVC, polyethylene, and a rigid wall.
"""

import mpmath as mp

from table import Column, Table

MATERIALS = (("2.07e+11", "0.3"), ("1.2e+11", "0.34"), ("1.72e+11", "0.3"), ("1.05e+11", "0.36"), ("7e+10", "0.33"),
             ("2800000000", "0.46"), ("800000000", "0.46"), ("1e+30", "0.3"))
SIZES = (("0.0221", "0.00163"), ("0.02", "0.001"), ("0.0525", "0.0039"), ("0.1", "0.003"), ("0.5", "0.01"))
BULK_MODULUS, DENSITY = mp.mpf("2.19e9"), mp.mpf("998.2")


# Sizes (by bore) that the table does without, by modulus.
LEFT_OUT = {"1.2e+11": "0.0221", "1.72e+11": "0.02", "1.05e+11": "0.0525", "7e+10": "0.1",
            "2800000000": "0.5", "1e+30": "0.0221"}


def speeds(modulus, poisson, bore, wall):
    """Area compliance (dA/dp)/A adds to the liquid's 1/K: a^2 = 1/(rho (1/K + compliance))."""
    anchoring = (1 - poisson / 2, 1 - poisson**2, mp.mpf(1))
    thin = [bore / (modulus * wall) * factor for factor in anchoring]
    thick = [2 * (1 + poisson) / modulus + bore**2 / (modulus * wall * (bore + wall)) * factor for factor in anchoring]
    return [1 / mp.sqrt(DENSITY * (1 / BULK_MODULUS + compliance)) for compliance in thin + thick]


# Walls of any thickness: modulus, Poisson's ratio, bore, wall; down to a tube as thick as its bore.
TUBES = (("1.2e+11", "0.34", "0.02", "0.001"), ("2.07e+11", "0.3", "0.0217", "0.0026"),
         ("1.4e+09", "0.46", "0.026", "0.003"), ("1.4e+09", "0.46", "0.01", "0.005"), ("9e+08", "0.46", "0.01", "0.01"))
SHARES = ("0", "1e-05", "0.0001", "0.001", "0.01", "0.1", "0.5")
PRESSURES = ("100000", "500000", "2500000")


def growth_of_lame_tube(modulus, poisson, bore, wall, way):
    """(dA/dp)/A of a tube under unit pressure inside, from the stresses at its bore.

    G. Lame's solution (1852; any text on elasticity): radial -1, hoop (b^2 + a^2)/(b^2 - a^2), and the axial stress of the
    anchoring: that of a closed end (held upstream: the pressure on the valve stretches the pipe), that which keeps the axial
    strain at nought, or none.
    """
    a, b = bore / 2, bore / 2 + wall
    radial, hoop = mp.mpf(-1), (b**2 + a**2) / (b**2 - a**2)
    axial = {"upstream": a**2 / (b**2 - a**2), "throughout": poisson * (radial + hoop), "joints": mp.mpf(0)}[way]
    return 2 * (hoop - poisson * (radial + axial)) / modulus


def lame_rows():
    for tube in TUBES:
        numbers = tuple(map(mp.mpf, tube))
        growth = [growth_of_lame_tube(*numbers, way) for way in ("upstream", "throughout", "joints")]
        yield [*tube, *(1 / mp.sqrt(DENSITY * (1 / BULK_MODULUS + part)) for part in growth)]


def speed_with_gas(share, pressure, growth):
    """a^2 = 1/(density * d(volume that a unit of pipe offers less that of its contents)/dp), differentiated as it stands."""
    liquid, gas = 1 - share, share

    def spare(p):
        pipe = 1 + growth * (p - pressure)
        return pipe - liquid * mp.exp(-(p - pressure) / BULK_MODULUS) - gas * pressure / p

    return 1 / mp.sqrt(DENSITY * liquid * mp.diff(spare, pressure))


def gas_rows():
    for tube in (("1e+30", "0.3", "0.02", "0.001"), TUBES[0], TUBES[2]):
        growth = growth_of_lame_tube(*map(mp.mpf, tube), "throughout")
        for share in SHARES:
            for pressure in PRESSURES:
                yield [*tube, share, pressure, speed_with_gas(mp.mpf(share), mp.mpf(pressure), growth)]


def tables():
    rows = [[*material, *size, *speeds(*map(mp.mpf, material + size))]
            for material in MATERIALS for size in SIZES if LEFT_OUT.get(material[0]) != size[0]]
    names = [f"{wall}_{way}" for wall in ("thin", "thick") for way in ("upstream", "throughout", "joints")]
    yield Table(
        "wave speed", "elastic_wall.csv",
        ["Recomputed from the formula; bulk modulus 2.19e9 Pa, 998.2 kg/m3; wave speeds in m/s. "
         "Moduli are handbook values from memory."],
        [*(Column(name) for name in ("modulus_pa", "poisson", "bore_m", "wall_m")), *(Column(name, 10) for name in names)],
        rows)
    wall = [Column(name) for name in ("modulus_pa", "poisson", "bore_m", "wall_m")]
    yield Table(
        "wave speed", "lame_tube.csv",
        ["Lame's tube, recomputed from its stresses; bulk modulus 2.19e9 Pa, 998.2 kg/m3; wave speeds in m/s."],
        [*wall, *(Column(name, 10) for name in ("upstream", "throughout", "joints"))], list(lame_rows()))
    yield Table(
        "wave speed", "free_gas.csv",
        ["Free gas, isothermal and without mass, in a pipe held throughout; the volumes differentiated by number; bulk modulus "
         "2.19e9 Pa, 998.2 kg/m3; wave speeds in m/s."],
        [*wall, Column("gas_share"), Column("pressure_pa"), Column("speed", 10)], list(gas_rows()))
