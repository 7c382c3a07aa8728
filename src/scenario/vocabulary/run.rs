//! Keys of the duty, the limits, the run and the map.

use super::Kind::{AxisEnd, Count, Path, Quantity, Word};
use super::{Key, Range, Table, key};
use crate::units::Dimension as D;

pub(super) static TABLES: &[Table] = &[
    Table { path: "duty", of: "", keys: DUTY },
    Table { path: "limits", of: "", keys: LIMITS },
    Table { path: "run", of: "", keys: RUN },
    Table { path: "map", of: "", keys: &[] },
    Table { path: "map.x", of: "map axis across", keys: AXIS },
    Table { path: "map.y", of: "map axis up", keys: AXIS },
];

static DUTY: &[Key] = &[
    key("cycle_rate", "cycle rate", Quantity(D::CycleRate), Range::Positive, "switching cycles per time"),
    key(
        "on_fraction",
        "energised share of the cycle",
        Quantity(D::Fraction),
        Range::Inside,
        "share of a cycle for which the coil is energised",
    ),
];

static LIMITS: &[Key] = &[
    key(
        "peak_pressure",
        "highest allowed pressure at the valve",
        Quantity(D::AbsolutePressure),
        Range::Positive,
        "highest allowed pressure at the valve",
    ),
    key(
        "surge",
        "highest allowed pressure rise",
        Quantity(D::PressureDifference),
        Range::Positive,
        "highest allowed rise above the pressure at rest",
    ),
    key(
        "seat_speed",
        "main seat impact speed that counts as hard",
        Quantity(D::Velocity),
        Range::Positive,
        "main seat impact speed above which closing counts as hard",
    ),
    key(
        "coil_temperature",
        "highest allowed winding temperature",
        Quantity(D::Temperature),
        Range::Positive,
        "highest allowed winding temperature",
    ),
];

static RUN: &[Key] = &[
    key(
        "tolerance",
        "integration tolerance",
        Quantity(D::Number),
        Range::Inside,
        "relative tolerance of the integration",
    ),
    key(
        "longest_on",
        "longest simulated energised time",
        Quantity(D::Time),
        Range::Positive,
        "longest energised time that is simulated",
    ),
    key(
        "longest_off",
        "longest simulated de-energised time",
        Quantity(D::Time),
        Range::Positive,
        "longest de-energised time that is simulated",
    ),
];

static AXIS: &[Key] = &[
    key("path", "parameter of the {}", Path, Range::Any, "parameter along the axis"),
    key("from", "lower end of the {}", AxisEnd, Range::Any, "lower end of the axis"),
    key("to", "upper end of the {}", AxisEnd, Range::Any, "upper end of the axis"),
    key("points", "grid points of the {}", Count, Range::Points, "number of grid points"),
    key("spacing", "spacing of the {}", Word(&["log", "linear"]), Range::Any, "spacing of the grid points"),
];
