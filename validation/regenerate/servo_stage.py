"""Statics of a servo stage that is about to lift: own derivation.

Shut, the chamber pushes on the whole face, the inlet on the ring outside the seat, the outlet on the seat; bleed and open
pilot are orifices in series, and the preload holds against the rest.
"""

import math
from fractions import Fraction

from table import Column, Table


def least_differential(effective, seat, preload, ratio):
    """All pressures are shares of the differential, above the outlet."""
    chamber_share = 1 / (1 + ratio**2)
    lifting_area = (effective - seat) - effective * chamber_share
    return preload / lifting_area if lifting_area > 0 else None


def widest_useless_pilot():
    """Where the lifting area vanishes: effective - seat = effective/(1 + ratio^2)."""
    rows = [[effective, seat, math.sqrt(Fraction(effective) / (Fraction(effective) - Fraction(seat)) - 1)]
            for effective, seat in (("0.001", "0.0003"), ("0.001", "0.0005"), ("0.002", "0.0005"))]
    return Table(
        "servo stage", "widest_useless_pilot.csv",
        ["Exact, statics of bores alone: the widest pilot over bleed area with which the stage never opens, "
         "sqrt(As/(Ad - As))."],
        [Column("effective_area_m2"), Column("seat_area_m2"), Column("pilot_over_bleed", 12)], rows)


def tables():
    yield widest_useless_pilot()
    rows = [[*faces, preload, ratio, least_differential(*map(Fraction, (*faces, preload, ratio)))]
            for faces in (("0.001", "0.0003"), ("0.002", "0.0005"))
            for preload in ("0.5", "1", "2", "5")
            for ratio in ("1.2", "1.5", "2", "3", "5")]
    names = ("effective_area_m2", "seat_area_m2", "preload_n", "pilot_over_bleed")
    yield Table(
        "servo stage", "least_opening_differential.csv",
        ["Exact, statics; empty where the stage can never open."],
        [*(Column(name) for name in names), Column("differential_pa", 12)], rows)
