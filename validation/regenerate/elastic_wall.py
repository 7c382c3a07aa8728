"""Wave speed in an elastic pipe, thin-walled and thick-walled, for three ways of anchoring.

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
