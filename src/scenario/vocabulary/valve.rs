//! Tables of the valve, and the keys of all but its actuator.

use std::f64::consts::{FRAC_PI_2, PI};

use super::Kind::{Attitude, Quantity};
use super::actuator::{ALTERNATING, ARMATURE, COIL, CONTACT, DIRECT};
use super::{Key, Range, Table, key};
use crate::units::Dimension as D;

pub(super) static TABLES: &[Table] = &[
    Table { path: "valve", keys: VALVE },
    Table { path: "valve.coil", keys: COIL },
    Table { path: "valve.coil.direct", keys: DIRECT },
    Table { path: "valve.coil.alternating", keys: ALTERNATING },
    Table { path: "valve.armature", keys: ARMATURE },
    Table { path: "valve.armature.seat", keys: CONTACT },
    Table { path: "valve.armature.pole", keys: CONTACT },
    Table { path: "valve.pilot", keys: PILOT },
    Table { path: "valve.bleed", keys: BLEED },
    Table { path: "valve.chamber", keys: CHAMBER },
    Table { path: "valve.main", keys: MAIN },
    Table { path: "valve.main.diaphragm", keys: DIAPHRAGM },
    Table { path: "valve.main.piston", keys: PISTON },
    Table { path: "valve.main.seat", keys: CONTACT },
    Table { path: "valve.main.stop", keys: CONTACT },
    Table { path: "valve.inlet", keys: PORT },
    Table { path: "valve.outlet", keys: PORT },
];

static VALVE: &[Key] = &[key(
    "attitude",
    Attitude(&[("upright", 0.0), ("lying", FRAC_PI_2), ("hanging", PI)]),
    Range::HalfTurn,
    "how the valve is mounted: coil on top, to the side, or below",
)];

static PILOT: &[Key] = &[
    key("diameter", Quantity(D::Length), Range::Positive, "bore of the pilot orifice"),
    key("seat_diameter", Quantity(D::Length), Range::Positive, "sealing diameter of the pilot seat"),
    key("length", Quantity(D::Length), Range::Positive, "length of the pilot bore"),
    key("discharge_coefficient", Quantity(D::Number), Range::UpToOne, "discharge coefficient of pilot seat and bore"),
];

static BLEED: &[Key] = &[
    key("diameter", Quantity(D::Length), Range::Positive, "bore of the bleed orifice"),
    key("length", Quantity(D::Length), Range::Positive, "length of the bleed orifice"),
    key("discharge_coefficient", Quantity(D::Number), Range::UpToOne, "discharge coefficient of the bleed orifice"),
];

static CHAMBER: &[Key] = &[
    key(
        "volume",
        Quantity(D::Volume),
        Range::Positive,
        "volume of the control chamber with the main stage on its seat",
    ),
    key("trapped_gas", Quantity(D::Volume), Range::Positive, "gas held in a chamber filled with liquid"),
    key(
        "trapped_gas_pressure",
        Quantity(D::AbsolutePressure),
        Range::Positive,
        "pressure at which `trapped_gas` is counted",
    ),
    key("polytropic_exponent", Quantity(D::Number), Range::Polytropic, "polytropic exponent of the trapped gas"),
    key(
        "wall_conductance",
        Quantity(D::ThermalConductance),
        Range::NotNegative,
        "heat conductance from the chamber's gas to its wall",
    ),
];

static MAIN: &[Key] = &[
    key("effective_diameter", Quantity(D::Length), Range::Positive, "effective diameter of the main stage"),
    key("seat_diameter", Quantity(D::Length), Range::Positive, "main seat diameter"),
    key("lift", Quantity(D::Length), Range::Positive, "full lift"),
    key("mass", Quantity(D::Mass), Range::Positive, "moving mass of the main stage"),
    key(
        "preload",
        Quantity(D::Force),
        Range::NotNegative,
        "closing force on the main seat: spring preload and own weight as mounted",
    ),
    key("spring_rate", Quantity(D::SpringRate), Range::NotNegative, "rate of the main spring"),
    key("damping", Quantity(D::Damping), Range::NotNegative, "damping of the main stage"),
    key(
        "curtain_coefficient",
        Quantity(D::Number),
        Range::UpToOne,
        "discharge coefficient of the curtain between seat and stage",
    ),
    key(
        "bore_coefficient",
        Quantity(D::Number),
        Range::UpToOne,
        "discharge coefficient of seat bore and body, referred to the seat area",
    ),
    key("flow_force_factor", Quantity(D::Number), Range::NotNegative, "flow-force factor"),
    key("pressure_recovery_factor", Quantity(D::Number), Range::UpToOne, "liquid pressure recovery factor"),
    key(
        "critical_pressure_ratio",
        Quantity(D::Number),
        Range::BelowOne,
        "critical pressure ratio of the seat in gas service, the b of ISO 6358's ellipse (not the gas's own)",
    ),
];

static DIAPHRAGM: &[Key] = &[
    key(
        "bulge_compliance",
        Quantity(D::BulgeCompliance),
        Range::NotNegative,
        "bulge volume of the diaphragm per differential",
    ),
    key("bulge_resistance", Quantity(D::BulgeResistance), Range::NotNegative, "resistance of the bulge's motion"),
];

static PISTON: &[Key] = &[
    key("friction", Quantity(D::Force), Range::NotNegative, "friction of the piston"),
    key(
        "presliding_stiffness",
        Quantity(D::SpringRate),
        Range::NotNegative,
        "elastic stiffness before the piston slides",
    ),
];

static PORT: &[Key] = &[
    key("volume", Quantity(D::Volume), Range::Positive, "volume of the body cavity"),
    key("gas", Quantity(D::Volume), Range::Positive, "gas held at the port"),
    key("gas_pressure", Quantity(D::AbsolutePressure), Range::Positive, "pressure at which `gas` is counted"),
    key("polytropic_exponent", Quantity(D::Number), Range::Polytropic, "polytropic exponent of that gas"),
];
