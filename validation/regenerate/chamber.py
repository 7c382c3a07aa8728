"""Time to empty a chamber, by integrating dt = -C(p) dp/flow(p) numerically: the closed forms are not used."""

import mpmath as mp

from nozzle import critical_ratio, velocity_form
from table import Column, Table


def blowdown_time(limit, exponent, volume, area, gas_constant, temperature, start, target):
    """Choked all the way; adiabatic: the gas left behind expands isentropically, dm = V dp/(k R T)."""
    choked = velocity_form(exponent, critical_ratio(exponent))
    adiabatic = limit == "adiabatic"

    def slope(pressure):
        here = temperature * (pressure / start) ** ((exponent - 1) / exponent) if adiabatic else temperature
        storage = volume / (gas_constant * here * (exponent if adiabatic else 1))
        return storage / (area * pressure / mp.sqrt(gas_constant * here) * choked)

    return mp.quad(slope, [target, start])


# Exponent and end of the adiabatic rows that the table does without.
LEFT_OUT = {("1.4", "500000.0"), ("1.4", "300000.0"), ("1.3", "600000.0"), ("1.3", "400000.0"), ("1.3", "200000.0")}


def blowdown():
    given = ("1e-05", "1e-06", "287.05", "293.15", "700000.0")
    rows = []
    for exponent in ("1.4", "1.3"):
        for target in ("600000.0", "500000.0", "400000.0", "300000.0", "200000.0"):
            for limit in ("isothermal", "adiabatic")[:1 if (exponent, target) in LEFT_OUT else 2]:
                time = blowdown_time(limit, mp.mpf(exponent), *map(mp.mpf, given), mp.mpf(target))
                rows.append([limit, exponent, *given, target, time])
    names = ("limit", "exponent", "volume_m3", "flow_area_m2", "gas_constant", "temperature_k", "start_pa", "target_pa")
    return Table(
        "chamber", "blowdown.csv", ["Exact, closed form: emptying of a gas chamber through a choked nozzle."],
        [*(Column(name) for name in names), Column("time_s", 12)], rows)


def relief_time(bulk_modulus, volume, area, density, start, target):
    """V/K dp/dt = -C A sqrt(2 p/rho); with p = x^2 the integrand stays finite where the flow ends."""
    def slope(root):
        return volume / bulk_modulus * 2 * root / (area * mp.sqrt(2 * root**2 / density)) if root else \
            volume / bulk_modulus * 2 / (area * mp.sqrt(2 / density))

    return mp.quad(slope, [mp.sqrt(target), mp.sqrt(start)])


def liquid_relief():
    given = ("2190000000.0", "5e-06", "2e-07", "998.2", "500000.0")
    rows = [[*given, target, relief_time(*map(mp.mpf, given), mp.mpf(target))]
            for target in ("400000.0", "300000.0", "200000.0", "100000.0", "10000.0", "0")]
    names = ("bulk_modulus_pa", "volume_m3", "flow_area_m2", "density", "start_pa", "target_pa")
    return Table(
        "chamber", "liquid_relief.csv",
        ["Exact, closed form: relief of a compressed liquid through an orifice; differentials to the outlet."],
        [*(Column(name) for name in names), Column("time_s", 12)], rows)


def tables():
    with mp.workdps(30):
        result = [blowdown(), liquid_relief()]
    yield from result
