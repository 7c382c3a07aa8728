//! Keys of the fluid, of both ends and of both lines.

use super::Kind::{Count, Quantity, Text, Word};
use super::{Key, Range, Table, key};
use crate::units::Dimension as D;

pub(super) static TABLES: &[Table] = &[
    Table { path: "", keys: HEAD },
    Table { path: "fluid", keys: FLUID },
    Table { path: "fluid.named", keys: NAMED },
    Table { path: "fluid.liquid", keys: LIQUID },
    Table { path: "fluid.gas", keys: GAS },
    Table { path: "supply", keys: SUPPLY },
    Table { path: "upstream", keys: LINE },
    Table { path: "downstream", keys: LINE },
    Table { path: "sink", keys: SINK },
    Table { path: "flow", keys: FLOW },
];

static HEAD: &[Key] = &[
    key("question", Text, Range::Any, "question that the scenario answers"),
    key("data", Text, Range::Any, "origin of the data: measured, from a data sheet, invented"),
    key("like", Text, Range::Any, "another scenario file of which this one states only the differences"),
    key("atmosphere", Quantity(D::AbsolutePressure), Range::Positive, "atmospheric pressure, from which gauges count"),
];

static FLUID: &[Key] =
    &[key("state", Text, Range::Any, "name and state of the fluid in words, such as \"R410A liquid, 5 K subcooled\"")];

static NAMED: &[Key] = &[
    key("name", Text, Range::Any, "name of a known fluid (`quietseat fluids` lists them)"),
    key("temperature", Quantity(D::Temperature), Range::Positive, "temperature of the fluid at the valve"),
    key(
        "pressure",
        Quantity(D::AbsolutePressure),
        Range::Positive,
        "pressure of its state; the supply's unless stated",
    ),
    key("subcooling", Quantity(D::TemperatureDifference), Range::NotNegative, "subcooling below the bubble point"),
    key("superheat", Quantity(D::TemperatureDifference), Range::NotNegative, "superheat above the dew point"),
    key("mass_fraction", Quantity(D::Fraction), Range::Inside, "share by mass of the glycol in a solution"),
    key("volume_fraction", Quantity(D::Fraction), Range::Inside, "share by volume of the glycol in a solution"),
];

static LIQUID: &[Key] = &[
    key("name", Text, Range::Any, "name of the liquid for the outputs"),
    key("density", Quantity(D::Density), Range::Positive, "density"),
    key("sound_speed", Quantity(D::Velocity), Range::Positive, "sound speed in the unconfined liquid"),
    key("viscosity", Quantity(D::Viscosity), Range::Positive, "dynamic viscosity"),
    key("vapour_pressure", Quantity(D::AbsolutePressure), Range::NotNegative, "vapour (bubble-point) pressure"),
    key("critical_pressure", Quantity(D::AbsolutePressure), Range::Positive, "critical pressure"),
];

static GAS: &[Key] = &[
    key("name", Text, Range::Any, "name of the gas for the outputs"),
    key("gas_constant", Quantity(D::GasConstant), Range::Positive, "specific gas constant"),
    key("molar_mass", Quantity(D::MolarMass), Range::Positive, "molar mass"),
    key(
        "isentropic_exponent",
        Quantity(D::Number),
        Range::AboveHalf,
        "isentropic exponent, density times sound speed squared over pressure",
    ),
    key("heat_capacity_ratio", Quantity(D::Number), Range::AboveOne, "ratio of heat capacities cp/cv of a real gas"),
    key("isobaric_heat_capacity", Quantity(D::HeatCapacity), Range::Positive, "isobaric heat capacity of a real gas"),
    key(
        "critical_pressure_ratio",
        Quantity(D::Number),
        Range::Inside,
        "pressure ratio at which an isentropic nozzle chokes with the gas",
    ),
    key(
        "critical_flow_factor",
        Quantity(D::Number),
        Range::Inside,
        "choked mass flow per area of an isentropic nozzle over the root of pressure times density upstream",
    ),
    key("temperature", Quantity(D::Temperature), Range::Positive, "temperature in both lines"),
    key("viscosity", Quantity(D::Viscosity), Range::Positive, "dynamic viscosity"),
];

static SUPPLY: &[Key] = &[
    key("pressure", Quantity(D::AbsolutePressure), Range::Positive, "supply pressure at no flow"),
    key(
        "differential",
        Quantity(D::PressureDifference),
        Range::Any,
        "supply pressure at no flow, counted from the sink's",
    ),
    key(
        "pressure_fall",
        Quantity(D::PressureDifference),
        Range::NotNegative,
        "fall of the supply pressure (pump curve) at the flow stated beside it",
    ),
    key(
        "pressure_fall_mass_flow",
        Quantity(D::MassFlow),
        Range::Positive,
        "mass flow at which the supply has fallen by `pressure_fall`",
    ),
    key(
        "pressure_fall_volume_flow",
        Quantity(D::VolumeFlow),
        Range::Positive,
        "volume flow, at the supply's state, at which the supply has fallen by `pressure_fall`",
    ),
    key("pulsation", Quantity(D::PressureDifference), Range::NotNegative, "amplitude of a pulsation of the supply"),
    key("pulsation_frequency", Quantity(D::Frequency), Range::Positive, "frequency of that pulsation"),
];

static LINE: &[Key] = &[
    key("length", Quantity(D::Length), Range::Positive, "length of the line"),
    key("pipe", Text, Range::Any, "trade name of the pipe, such as 22 x 1 copper: gives bore, wall and wave speed"),
    key("bore", Quantity(D::Length), Range::Positive, "bore of the line"),
    key("wave_speed", Quantity(D::Velocity), Range::Positive, "speed of pressure waves in the line, without free gas"),
    key(
        "density",
        Quantity(D::Density),
        Range::Positive,
        "density of a gas at the line's far end, where it was throttled",
    ),
    key("wall_thickness", Quantity(D::Length), Range::Positive, "wall thickness, from which the wave speed follows"),
    key("material", Text, Range::Any, "material of the wall, such as copper: gives its modulus and Poisson's ratio"),
    key("wall_modulus", Quantity(D::ElasticModulus), Range::Positive, "elastic modulus of the wall"),
    key("poisson_ratio", Quantity(D::Number), Range::Poisson, "Poisson's ratio of the wall"),
    key(
        "support",
        Word(&["throughout", "upstream", "joints"]),
        Range::Any,
        "where the line is held lengthwise: throughout, at its upstream end only, or nowhere (expansion joints)",
    ),
    key(
        "free_gas",
        Quantity(D::Fraction),
        Range::BelowOne,
        "share of the liquid's volume that is free gas, at the supply's pressure upstream and the sink's downstream",
    ),
    key("friction_factor", Quantity(D::Number), Range::NotNegative, "Darcy friction factor"),
    key(
        "loss_coefficient",
        Quantity(D::Number),
        Range::NotNegative,
        "sum of the loss coefficients of fittings, entrance and exit",
    ),
    key("segments", Count, Range::Pieces, "segments over which the wall friction is spread"),
    key("model", Word(&["auto", "lumped", "waves"]), Range::Any, "how the line is computed"),
];

static SINK: &[Key] = &[
    key("pressure", Quantity(D::AbsolutePressure), Range::Positive, "pressure behind the consumer"),
    key(
        "throttle_kv",
        Quantity(D::FlowCoefficient),
        Range::Positive,
        "flow coefficient of the consumer at the far end",
    ),
];

static FLOW: &[Key] = &[
    key("mass_flow", Quantity(D::MassFlow), Range::Positive, "mass flow at which the open valve works"),
    key(
        "volume_flow",
        Quantity(D::VolumeFlow),
        Range::Positive,
        "volume flow at the supply's state at which the open valve works",
    ),
    key("refrigerating_duty", Quantity(D::Power), Range::Positive, "refrigerating duty that the flow serves"),
    key(
        "refrigerating_effect",
        Quantity(D::SpecificEnergy),
        Range::Positive,
        "heat taken up per mass of refrigerant in the evaporator",
    ),
];
