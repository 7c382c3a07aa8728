//! Tables of the valve, and the keys of all but its actuator.

use std::f64::consts::{FRAC_PI_2, PI};

use super::Kind::{Attitude, Quantity, Word};
use super::actuator::{ALTERNATING, ARMATURE, COIL, CONTACT, DIRECT};
use super::{Key, Range, Table, key};
use crate::units::Dimension as D;

/// The word for a valve whose main stage is lifted by the differential.
const SERVO_OPERATED: &str = "servo-operated";
/// The word for a valve whose armature carries the seal of the main seat.
pub(in crate::scenario) const DIRECT_OPERATED: &str = "direct-operated";

pub(super) static TABLES: &[Table] = &[
    Table { path: "valve", of: "", keys: VALVE },
    Table { path: "valve.coil", of: "", keys: COIL },
    Table { path: "valve.coil.direct", of: "", keys: DIRECT },
    Table { path: "valve.coil.alternating", of: "", keys: ALTERNATING },
    Table { path: "valve.armature", of: "", keys: ARMATURE },
    Table { path: "valve.armature.seat", of: "pilot seat", keys: CONTACT },
    Table { path: "valve.armature.pole", of: "pole face", keys: CONTACT },
    Table { path: "valve.pilot", of: "", keys: PILOT },
    Table { path: "valve.bleed", of: "", keys: BLEED },
    Table { path: "valve.chamber", of: "", keys: CHAMBER },
    Table { path: "valve.main", of: "", keys: MAIN },
    Table { path: "valve.main.diaphragm", of: "", keys: DIAPHRAGM },
    Table { path: "valve.main.piston", of: "", keys: PISTON },
    Table { path: "valve.main.seat", of: "main seat", keys: CONTACT },
    Table { path: "valve.main.stop", of: "main stage stop", keys: CONTACT },
    Table { path: "valve.inlet", of: "valve inlet", keys: PORT },
    Table { path: "valve.outlet", of: "valve outlet", keys: PORT },
];

static VALVE: &[Key] = &[
    key(
        "kind",
        "kind of the valve",
        Word(&[SERVO_OPERATED, DIRECT_OPERATED]),
        Range::Any,
        "what opens the main seat: the differential by way of a pilot, unless stated, or the armature itself",
    ),
    key(
        "attitude",
        "tilt of the valve from upright",
        Attitude(&[("upright", 0.0), ("lying", FRAC_PI_2), ("hanging", PI)]),
        Range::HalfTurn,
        "attitude in which the valve is mounted: coil on top, to the side, or below",
    ),
];

static PILOT: &[Key] = &[
    key("diameter", "pilot orifice diameter", Quantity(D::Length), Range::Positive, "bore of the pilot orifice"),
    key(
        "seat_diameter",
        "pilot seat diameter",
        Quantity(D::Length),
        Range::Positive,
        "sealing diameter of the pilot seat",
    ),
    key("length", "pilot orifice length", Quantity(D::Length), Range::Positive, "length of the pilot bore"),
    key(
        "discharge_coefficient",
        "discharge coefficient of the pilot orifice",
        Quantity(D::Number),
        Range::UpToOne,
        "discharge coefficient of pilot seat and bore",
    ),
];

static BLEED: &[Key] = &[
    key("diameter", "bleed orifice diameter", Quantity(D::Length), Range::Positive, "bore of the bleed orifice"),
    key("length", "bleed orifice length", Quantity(D::Length), Range::Positive, "length of the bleed orifice"),
    key(
        "discharge_coefficient",
        "discharge coefficient of the bleed orifice",
        Quantity(D::Number),
        Range::UpToOne,
        "discharge coefficient of the bleed orifice",
    ),
];

static CHAMBER: &[Key] = &[
    key(
        "volume",
        "control chamber volume",
        Quantity(D::Volume),
        Range::Positive,
        "volume of the control chamber with the main stage on its seat",
    ),
    key(
        "trapped_gas",
        "gas trapped in the control chamber",
        Quantity(D::Volume),
        Range::Positive,
        "gas held in a chamber filled with liquid",
    ),
    key(
        "trapped_gas_pressure",
        "pressure at which the trapped gas is counted",
        Quantity(D::AbsolutePressure),
        Range::Positive,
        "pressure at which `trapped_gas` is counted",
    ),
    key(
        "polytropic_exponent",
        "polytropic exponent of the trapped gas",
        Quantity(D::Number),
        Range::Polytropic,
        "polytropic exponent of the trapped gas",
    ),
    key(
        "wall_conductance",
        "heat conductance to the control chamber wall",
        Quantity(D::ThermalConductance),
        Range::NotNegative,
        "heat conductance from the chamber's gas to its wall",
    ),
];

static MAIN: &[Key] = &[
    key(
        "effective_diameter",
        "effective diameter of the main stage",
        Quantity(D::Length),
        Range::Positive,
        "effective diameter of the main stage",
    ),
    key("seat_diameter", "main seat diameter", Quantity(D::Length), Range::Positive, "main seat diameter"),
    key("lift", "full lift of the main stage", Quantity(D::Length), Range::Positive, "full lift"),
    key("mass", "moving mass of the main stage", Quantity(D::Mass), Range::Positive, "moving mass of the main stage"),
    key(
        "preload",
        "preload on the main seat",
        Quantity(D::Force),
        Range::NotNegative,
        "closing force on the main seat: spring preload and own weight as mounted",
    ),
    key("spring_rate", "main spring rate", Quantity(D::SpringRate), Range::NotNegative, "rate of the main spring"),
    key("damping", "damping of the main stage", Quantity(D::Damping), Range::NotNegative, "damping of the main stage"),
    key(
        "curtain_coefficient",
        "discharge coefficient of the main seat curtain",
        Quantity(D::Number),
        Range::UpToOne,
        "discharge coefficient of the curtain between seat and stage",
    ),
    key(
        "bore_coefficient",
        "discharge coefficient of the main seat bore",
        Quantity(D::Number),
        Range::UpToOne,
        "discharge coefficient of seat bore and body, referred to the seat area",
    ),
    key(
        "flow_force_factor",
        "flow-force factor of the main stage",
        Quantity(D::Number),
        Range::NotNegative,
        "flow-force factor",
    ),
    key(
        "pressure_recovery_factor",
        "liquid pressure recovery factor",
        Quantity(D::Number),
        Range::UpToOne,
        "liquid pressure recovery factor",
    ),
    key(
        "critical_pressure_ratio",
        "critical pressure ratio of the valve",
        Quantity(D::Number),
        Range::BelowOne,
        "critical pressure ratio of the seat in gas service, the b of ISO 6358's ellipse (not the gas's own)",
    ),
];

static DIAPHRAGM: &[Key] = &[
    key(
        "bulge_compliance",
        "diaphragm bulge per differential",
        Quantity(D::BulgeCompliance),
        Range::NotNegative,
        "bulge volume of the diaphragm per differential",
    ),
    key(
        "bulge_resistance",
        "resistance to diaphragm bulging",
        Quantity(D::BulgeResistance),
        Range::NotNegative,
        "resistance of the bulge's motion",
    ),
];

static PISTON: &[Key] = &[
    key("friction", "piston friction", Quantity(D::Force), Range::NotNegative, "friction of the piston"),
    key(
        "presliding_stiffness",
        "piston stiffness before sliding",
        Quantity(D::SpringRate),
        Range::NotNegative,
        "elastic stiffness before the piston slides",
    ),
];

static PORT: &[Key] = &[
    key("volume", "body cavity volume at the {}", Quantity(D::Volume), Range::Positive, "volume of the body cavity"),
    key("gas", "gas volume at the {}", Quantity(D::Volume), Range::Positive, "gas held at the port"),
    key(
        "gas_pressure",
        "pressure at which the gas at the {} is counted",
        Quantity(D::AbsolutePressure),
        Range::Positive,
        "pressure at which `gas` is counted",
    ),
    key(
        "polytropic_exponent",
        "polytropic exponent of the gas at the {}",
        Quantity(D::Number),
        Range::Polytropic,
        "polytropic exponent of that gas",
    ),
];
