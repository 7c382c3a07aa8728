"""Bodies that bounce under a law of restitution: thrown against gravity, and held to a seat by a preloaded spring."""

import mpmath as mp

from table import Column, Table


def falling(height, gravity, restitution, count):
    """Impact by impact from the parabola of each flight; the end of all impacts from the geometric series."""
    speed = mp.sqrt(2 * gravity * height)
    time = speed / gravity
    rows = []
    for number in range(1, count + 1):
        rebound = restitution * speed
        rows.append([number, time, speed, rebound**2 / (2 * gravity)])
        time += 2 * rebound / gravity
        speed = rebound
    return rows, mp.sqrt(2 * height / gravity) * (1 + restitution) / (1 - restitution)


def bouncing_ball():
    rows = []
    for height, gravity, restitution in (("1", "9.81", "0.7"), ("1", "9.81", "0.8"), ("0.002", "9.80665", "0.5")):
        impacts, end = falling(*map(mp.mpf, (height, gravity, restitution)), 20)
        rows += [[height, gravity, restitution, *impact, end] for impact in impacts]
    for row in rows:
        row[3] = str(row[3])
    names = ("height_m", "gravity_m_s2", "restitution", "impact")
    results = ("time_s", "speed_before_m_s", "apex_after_m", "rest_time_s")
    return Table(
        "bouncing ball", "impacts.csv",
        ["Exact: a ball dropped from height_m onto a floor."],
        [*(Column(name) for name in names), *(Column(name, 15) for name in results)], rows)


def flight(mass, stiffness, preload, speed):
    """Duration, highest lift and speed at the return of m x'' + k (x + preload) = 0, x(0) = 0, x'(0) = speed.

    The return is found as the root of the motion, not from the closed form 2 atan(v/(w preload))/w.
    """
    omega = mp.sqrt(stiffness / mass)

    def lift(t):
        return preload * (mp.cos(omega * t) - 1) + speed / omega * mp.sin(omega * t)

    def velocity(t):
        return -preload * omega * mp.sin(omega * t) + speed * mp.cos(omega * t)

    apex = mp.findroot(velocity, (0, mp.pi / (2 * omega)), solver="anderson", tol=1e-50)
    end = mp.findroot(lift, (1.5 * apex, 2.5 * apex), solver="anderson", tol=1e-50)
    return end, lift(apex)


def seat_bounce():
    mass, stiffness, preload, speed, restitution = map(mp.mpf, ("0.02", "2000", "0.001", "0.5", "0.6"))
    rows, time = [], mp.mpf(0)
    for number in range(1, 13):
        duration, highest = flight(mass, stiffness, preload, speed)
        time += duration
        rows.append([str(number), time, speed, highest])
        speed *= restitution
    return Table(
        "seat bounce", "bounces.csv",
        ["Exact: flights of a sprung body off its seat."],
        [Column("bounce"), Column("impact_time_s", 15), Column("launch_speed_m_s", 15),
         # In double precision the lift is a small difference: it was committed with some twelve digits.
         Column("lift_m", 15, relative=1e-11)], rows)


def tables():
    with mp.workdps(30):
        result = [bouncing_ball(), seat_bounce()]
    yield from result
