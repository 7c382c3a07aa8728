"""Isentropic nozzle of a perfect gas, and two orifices in series.

As in A. H. Shapiro, "The Dynamics and Thermodynamics of Compressible Fluid Flow", Ronald Press, 1953 (from memory).
"""

import mpmath as mp

from table import Column, Table


def velocity_form(exponent, ratio):
    """Mass flow over A p1/sqrt(R T1), from the energy equation and the isentrope: density times velocity."""
    density = ratio ** (1 / exponent)
    velocity = mp.sqrt(2 * exponent / (exponent - 1) * (1 - ratio ** ((exponent - 1) / exponent)))
    return density * velocity


def critical_ratio(exponent):
    """Where the flow is greatest, by root-finding on its slope rather than by the closed form."""
    return mp.findroot(lambda r: mp.diff(lambda x: velocity_form(exponent, x), r), (mp.mpf("0.45"), mp.mpf("0.62")))


def flow(exponent, ratio, critical):
    return velocity_form(exponent, max(ratio, critical))


def critical_ratios():
    rows = []
    for text in ("1.04", "1.08", "1.1", "1.135", "1.15", "1.2", "1.25", "1.289", "1.3", "1.31", "1.32", "1.33", "1.4",
                 "1.666666667"):
        # The last is 5/3, which the column has no room for.
        exponent = mp.mpf(5) / 3 if text.startswith("1.6666") else mp.mpf(text)
        ratio = critical_ratio(exponent)
        rows.append([text, ratio, velocity_form(exponent, ratio)])
    return Table(
        "nozzle", "critical_ratio.csv", ["Recomputed: perfect gas."],
        [Column("exponent"), Column("critical_ratio", 10), Column("choked_flow_function", 10)], rows)


def nozzle_function():
    rows = []
    for text in ("1.1", "1.3", "1.4", "1.6666666666666667"):
        exponent = mp.mpf(text)
        critical = critical_ratio(exponent)
        rows += [[text, ratio, flow(exponent, mp.mpf(ratio), critical)]
                 for ratio in ("0.3", "0.5", "0.528", "0.55", "0.6", "0.7", "0.8", "0.9", "0.95", "0.99", "0.999")]
    return Table(
        "nozzle", "nozzle_function.csv",
        ["Recomputed: mass flow = A p1/sqrt(R T1) x flow_function of an isentropic nozzle."],
        [Column("exponent"), Column("ratio"), Column("flow_function", 12)], rows)


def between(exponent, inlet, outlet, area_ratio):
    """Pressure between bleed (up) and pilot (down): equal flows. The temperature is the same: an ideal gas throttled."""
    if exponent is None:
        return outlet + (inlet - outlet) / (1 + area_ratio**2)
    critical = critical_ratio(exponent)

    def excess(pressure):
        bleed = inlet * flow(exponent, pressure / inlet, critical)
        return bleed - area_ratio * pressure * flow(exponent, outlet / pressure, critical)

    # Both ends of the bracket are singular (a square root of the differential), not the root.
    ends = outlet * (1 + mp.mpf(10) ** -9), inlet * (1 - mp.mpf(10) ** -9)
    return mp.findroot(excess, ends, solver="anderson", tol=1e-24, maxsteps=300)


def series_orifices():
    rows = []
    for text, inlet in (("", 600000), ("1.4", 600000), ("1.4", 101000), ("1.1", 600000), ("1.1", 101000)):
        exponent = mp.mpf(text) if text else None
        rows += [[text, f"{inlet}.0", "100000.0", ratio, between(exponent, mp.mpf(inlet), mp.mpf(100000), mp.mpf(ratio))]
                 for ratio in ("0.5", "1", "1.2", "1.5", "2", "3", "5")]
    return Table(
        "series orifices", "series_orifices.csv",
        ["Exact (liquid, exponent 0) or recomputed by root-finding (perfect gas): "
         "pressure between two orifices of equal coefficient."],
        [*(Column(name) for name in ("exponent", "inlet_pa", "outlet_pa", "pilot_over_bleed")), Column("between_pa", 12)],
        rows)


def tables():
    with mp.workdps(30):
        result = [critical_ratios(), nozzle_function(), series_orifices()]
    yield from result
