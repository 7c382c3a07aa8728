"""Liquid examples of IEC 60534-2-1:2011 through the general-purpose library fluids, and the formulas beside it.

The library's own tests carry the results of the standard; the standard itself was not read. Annex examples 1 (globe
valve, not choked) and 2 (ball valve, choked). The library counts Kv with water of 999.10329 kg/m3 at 15 deg C.
"""

import math

from fluids.control_valve import control_valve_choke_P_l, size_control_valve_l

from table import Column, Table

WATER = 999.10329075702327
EXAMPLES = (("globe valve that is not choked", "0.15", "0.9", "0.46"),
            ("ball valve that is choked", "0.1", "0.6", "0.98"))
GIVEN = ("965.4", "70100", "22120000", "0.00031472", "680000", "220000", "0.1")


def by_hand(density, vapour, critical, inlet, outlet, flow, recovery):
    """The turbulent formula, for valves of the line's size: no fitting factors."""
    factor = 0.96 - 0.28 * math.sqrt(vapour / critical)
    choked = recovery**2 * (inlet - factor * vapour)
    differential = min(choked, inlet - outlet)
    return choked, 3600.0 * flow * math.sqrt(density / WATER / (differential / 1e5))


def tables():
    density, vapour, critical, viscosity, inlet, outlet, flow = map(float, GIVEN)
    rows = []
    for name, size, recovery, style in EXAMPLES:
        d = float(size)
        full = size_control_valve_l(rho=density, Psat=vapour, Pc=critical, mu=viscosity, P1=inlet, P2=outlet, Q=flow, D1=d,
                                    D2=d, d=d, FL=float(recovery), Fd=float(style), full_output=True)
        choked, coefficient = by_hand(density, vapour, critical, inlet, outlet, flow, float(recovery))
        assert abs(coefficient / full["Kv"] - 1.0) < 1e-7, (coefficient, full)
        choke_outlet = control_valve_choke_P_l(vapour, critical, float(recovery), P1=inlet)
        assert abs(choke_outlet - (inlet - choked)) < 1e-6
        assert full["choked"] == (name == "ball valve that is choked")
        rows.append([name, recovery, full["Kv"], f"{3600.0 * flow:g}"])
    yield Table(
        "valve sizing", "examples.csv",
        ["Worked liquid examples of IEC 60534-2-1, Kv by the test values of the library fluids 1.3.1 (its Kv counts water of",
         "999.1032907570233 kg/m3). Water of 965.4 kg/m3, 680 to 220 kPa, vapour pressure 70.1 kPa, critical pressure "
         "22.12 MPa."],
        [Column("example"), Column("recovery_factor"), Column("kv", 15, relative=1e-12), Column("flow_m3_h")],
        rows)
