//! Keys of the duty, the limits, the run and the map.

use super::Kind::{AxisEnd, Count, Path, Quantity, Word};
use super::{Key, Range, Table, key};
use crate::units::Dimension as D;

pub(super) static TABLES: &[Table] = &[
    Table { path: "duty", keys: DUTY },
    Table { path: "limits", keys: LIMITS },
    Table { path: "run", keys: RUN },
    Table { path: "map", keys: &[] },
    Table { path: "map.x", keys: AXIS },
    Table { path: "map.y", keys: AXIS },
];

static DUTY: &[Key] = &[
    key("cycle_rate", Quantity(D::CycleRate), Range::Positive, "switching cycles per time"),
    key("on_fraction", Quantity(D::Fraction), Range::Inside, "share of a cycle for which the coil is energised"),
];

static LIMITS: &[Key] = &[
    key("peak_pressure", Quantity(D::AbsolutePressure), Range::Positive, "highest allowed pressure at the valve"),
    key("surge", Quantity(D::PressureDifference), Range::Positive, "highest allowed rise above the pressure at rest"),
    key(
        "seat_speed",
        Quantity(D::Velocity),
        Range::Positive,
        "main seat impact speed above which closing counts as hard",
    ),
    key("coil_temperature", Quantity(D::Temperature), Range::Positive, "highest allowed winding temperature"),
];

static RUN: &[Key] = &[
    key("tolerance", Quantity(D::Number), Range::Inside, "relative tolerance of the integration"),
    key("longest_on", Quantity(D::Time), Range::Positive, "longest energised time that is simulated"),
    key("longest_off", Quantity(D::Time), Range::Positive, "longest de-energised time that is simulated"),
];

static AXIS: &[Key] = &[
    key("path", Path, Range::Any, "parameter along the axis"),
    key("from", AxisEnd, Range::Any, "lower end of the axis"),
    key("to", AxisEnd, Range::Any, "upper end of the axis"),
    key("points", Count, Range::Points, "number of grid points"),
    key("spacing", Word(&["log", "linear"]), Range::Any, "spacing of the grid points"),
];
