"""Small closed forms: resonators, a rigid column, the ellipse of sonic conductance, a compliant contact."""

import mpmath as mp

from table import Column, Table


def resonance():
    volume, length, bore = mp.mpf("1e-5"), mp.mpf("0.005"), mp.mpf("0.002")
    neck = 343 / (2 * mp.pi) * mp.sqrt(mp.pi * bore**2 / 4 / (volume * length))
    return Table(
        "resonance", "frequencies.csv",
        ["Exact, closed forms: quarter wave a/(4L) of 1.5 m at 1350 m/s; c/(2 pi) sqrt(A/(V l)) of 1e-5 m3 with a neck of "
         "2 mm x 5 mm at 343 m/s."],
        [Column("resonator"), Column("frequency_hz", 8)],
        [["quarter wave", 1350 / (4 * mp.mpf("1.5"))], ["vessel and neck", neck]])


def rigid_column():
    """L dv/dt = dp/rho - K v^2/2 from rest."""
    final = mp.sqrt(2 * 100000 / (mp.mpf("998.2") * 5))
    constant = 2 * 20 / (5 * final)
    rows = [[time, mp.tanh(mp.mpf(time) / constant)] for time in ("0.694197797", "1.263772131", "3.344765560")]
    return Table(
        "rigid column", "start.csv",
        ["Exact: velocity over its final value, tanh(t/tau), at three instants. 20 m, 1e5 Pa, 998.2 kg/m3, total loss "
         "coefficient 5:",
         f"final velocity {float(final):.10g} m/s, tau = 2L/(K v) = {float(constant):.10g} s."],
        [Column("time_s"), Column("share", 9)], rows)


def sonic_conductance():
    """m = C p1 rho0 sqrt(T0/T1) sqrt(1 - ((r - b)/(1 - b))^2), choked below r = b (from memory)."""
    rows = []
    for given in (("0.3", "700000", "100000", "293.15"), ("0.3", "700000", "500000", "293.15"),
                  ("0.3", "700000", "690000", "293.15"), ("0.528", "600000", "400000", "313.15"),
                  ("0.2", "200000", "150000", "263.15")):
        critical, inlet, outlet, temperature = map(mp.mpf, given)
        beyond = max(outlet / inlet - critical, 0) / (1 - critical)
        choked = mp.mpf("1e-8") * inlet * mp.mpf("1.185") * mp.sqrt(mp.mpf("293.15") / temperature)
        rows.append([*given, choked * mp.sqrt(1 - beyond**2)])
    return Table(
        "sonic conductance", "flows.csv",
        ["Recomputed from the formula of ISO 6358-1 (from memory): mass flow at sonic conductance 1e-8 m3/(s Pa), "
         "R = 287.05 J/(kg K)."],
        [*(Column(name) for name in ("critical_ratio", "inlet_pa", "outlet_pa", "temperature_k")),
         Column("mass_flow_kg_s", 15)],
        rows)


def compliant_contact():
    """F = k x^1.5 (1 + d x'): v/d - ln(1 + d v)/d^2 = -w/d - ln(1 - d w)/d^2 of the speeds before and after."""
    rows = []
    for given in (("2.5", "0.1"), ("2.5", "0.3"), ("2.5", "0.8")):
        d, before = map(mp.mpf, given)
        stored = before / d - mp.log(1 + d * before) / d**2

        def excess(share):
            after = share * before
            return -after / d - mp.log(1 - d * after) / d**2 - stored

        highest = min(mp.mpf(1), (1 - mp.mpf(10) ** -9) / (d * before))
        rows.append([*given, mp.findroot(excess, (mp.mpf("0.01"), highest), solver="anderson", tol=1e-25)])
    return Table(
        "compliant contact", "restitution.csv",
        ["Exact: root of the relation between the speeds before and after, seven digits."],
        [Column("dissipation_s_m"), Column("speed_before_m_s"), Column("restitution", 7, fixed=True)], rows)


def tables():
    with mp.workdps(30):
        result = [resonance(), rigid_column(), sonic_conductance(), compliant_contact()]
    yield from result
