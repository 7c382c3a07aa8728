//! Keys of the fluid, of both ends and of both lines.

use super::Kind::{Count, Quantity, Text, Word};
use super::{Key, Range, Table, key};
use crate::units::Dimension as D;

pub(super) static TABLES: &[Table] = &[
    Table { path: "", of: "", keys: HEAD },
    Table { path: "fluid", of: "", keys: FLUID },
    Table { path: "fluid.named", of: "", keys: NAMED },
    Table { path: "fluid.liquid", of: "", keys: LIQUID },
    Table { path: "fluid.gas", of: "", keys: GAS },
    Table { path: "supply", of: "", keys: SUPPLY },
    Table { path: "upstream", of: "upstream line", keys: LINE },
    Table { path: "downstream", of: "downstream line", keys: LINE },
    Table { path: "sink", of: "", keys: SINK },
    Table { path: "flow", of: "", keys: FLOW },
];

static HEAD: &[Key] = &[
    key("question", "question", Text, Range::Any, "question that the scenario answers"),
    key("data", "origin of the data", Text, Range::Any, "origin of the data: measured, from a data sheet, invented"),
    key(
        "like",
        "scenario that it is like",
        Text,
        Range::Any,
        "another scenario file of which this one states only the differences",
    ),
    key(
        "atmosphere",
        "atmospheric pressure",
        Quantity(D::AbsolutePressure),
        Range::Positive,
        "atmospheric pressure, from which gauges count",
    ),
];

static FLUID: &[Key] = &[key(
    "state",
    "fluid and state in words",
    Text,
    Range::Any,
    "name and state of the fluid in words, such as \"R410A liquid, 5 K subcooled\"",
)];

static NAMED: &[Key] = &[
    key("name", "name of the fluid", Text, Range::Any, "name of a known fluid (`quietseat fluids` lists them)"),
    key(
        "temperature",
        "fluid temperature",
        Quantity(D::Temperature),
        Range::Positive,
        "temperature of the fluid at the valve",
    ),
    key(
        "pressure",
        "pressure of the fluid's state",
        Quantity(D::AbsolutePressure),
        Range::Positive,
        "pressure of its state, which is the supply's",
    ),
    key(
        "subcooling",
        "subcooling at the supply",
        Quantity(D::TemperatureDifference),
        Range::NotNegative,
        "subcooling below the bubble point",
    ),
    key(
        "superheat",
        "superheat at the supply",
        Quantity(D::TemperatureDifference),
        Range::NotNegative,
        "superheat above the dew point",
    ),
    key(
        "mass_fraction",
        "glycol concentration by mass",
        Quantity(D::Fraction),
        Range::Inside,
        "share by mass of the glycol in a solution",
    ),
    key(
        "volume_fraction",
        "glycol concentration by volume",
        Quantity(D::Fraction),
        Range::Inside,
        "share by volume of the glycol in a solution",
    ),
];

static LIQUID: &[Key] = &[
    key("name", "name of the liquid", Text, Range::Any, "name of the liquid for the outputs"),
    key("density", "liquid density", Quantity(D::Density), Range::Positive, "density"),
    key(
        "sound_speed",
        "sound speed of the liquid",
        Quantity(D::Velocity),
        Range::Positive,
        "sound speed in the unconfined liquid",
    ),
    key("viscosity", "dynamic viscosity of the liquid", Quantity(D::Viscosity), Range::Positive, "dynamic viscosity"),
    key(
        "vapour_pressure",
        "vapour pressure of the liquid",
        Quantity(D::AbsolutePressure),
        Range::NotNegative,
        "vapour (bubble-point) pressure",
    ),
    key(
        "critical_pressure",
        "critical pressure of the liquid",
        Quantity(D::AbsolutePressure),
        Range::Positive,
        "critical pressure",
    ),
];

static GAS: &[Key] = &[
    key("name", "name of the gas", Text, Range::Any, "name of the gas for the outputs"),
    key("gas_constant", "specific gas constant", Quantity(D::GasConstant), Range::Positive, "specific gas constant"),
    key("molar_mass", "molar mass of the gas", Quantity(D::MolarMass), Range::Positive, "molar mass"),
    key(
        "isentropic_exponent",
        "isentropic exponent of the gas",
        Quantity(D::Number),
        Range::AboveHalf,
        "isentropic exponent, density times sound speed squared over pressure",
    ),
    key(
        "heat_capacity_ratio",
        "heat capacity ratio cp/cv of the gas",
        Quantity(D::Number),
        Range::AboveOne,
        "ratio of heat capacities cp/cv of a real gas",
    ),
    key(
        "isobaric_heat_capacity",
        "isobaric heat capacity of the gas",
        Quantity(D::HeatCapacity),
        Range::Positive,
        "isobaric heat capacity of a real gas",
    ),
    key(
        "critical_pressure_ratio",
        "critical pressure ratio of the gas",
        Quantity(D::Number),
        Range::Inside,
        "pressure ratio at which an isentropic nozzle chokes with the gas",
    ),
    key(
        "critical_flow_factor",
        "choked-flow factor of the gas",
        Quantity(D::Number),
        Range::Inside,
        "choked mass flow per area of an isentropic nozzle over the root of pressure times density upstream",
    ),
    key("temperature", "gas temperature", Quantity(D::Temperature), Range::Positive, "temperature in both lines"),
    key("viscosity", "dynamic viscosity of the gas", Quantity(D::Viscosity), Range::Positive, "dynamic viscosity"),
];

static SUPPLY: &[Key] = &[
    key("pressure", "supply pressure", Quantity(D::AbsolutePressure), Range::Positive, "supply pressure at no flow"),
    key(
        "differential",
        "circuit differential pressure",
        Quantity(D::PressureDifference),
        Range::Any,
        "supply pressure at no flow, counted from the sink's",
    ),
    key(
        "pressure_fall",
        "fall of the supply pressure with flow",
        Quantity(D::PressureDifference),
        Range::NotNegative,
        "fall of the supply pressure (pump curve) at the flow stated beside it",
    ),
    key(
        "pressure_fall_mass_flow",
        "mass flow at the stated pressure fall",
        Quantity(D::MassFlow),
        Range::Positive,
        "mass flow at which the supply has fallen by `pressure_fall`",
    ),
    key(
        "pressure_fall_volume_flow",
        "volume flow at the stated pressure fall",
        Quantity(D::VolumeFlow),
        Range::Positive,
        "volume flow, at the supply's state, at which the supply has fallen by `pressure_fall`",
    ),
    key(
        "pulsation",
        "pulsation amplitude of the supply",
        Quantity(D::PressureDifference),
        Range::NotNegative,
        "amplitude of a pulsation of the supply",
    ),
    key(
        "pulsation_frequency",
        "pulsation frequency of the supply",
        Quantity(D::Frequency),
        Range::Positive,
        "frequency of that pulsation",
    ),
];

static LINE: &[Key] = &[
    key("length", "length of the {}", Quantity(D::Length), Range::Positive, "length of the line"),
    key(
        "pipe",
        "pipe of the {}",
        Text,
        Range::Any,
        "trade name of the pipe, such as 22 x 1 copper: gives bore, wall and wave speed",
    ),
    key("bore", "bore of the {}", Quantity(D::Length), Range::Positive, "bore of the line"),
    key(
        "wave_speed",
        "wave speed in the {}",
        Quantity(D::Velocity),
        Range::Positive,
        "speed of pressure waves in the line, without free gas",
    ),
    key(
        "density",
        "gas density in the {}",
        Quantity(D::Density),
        Range::Positive,
        "density of a gas at the line's far end, where it was throttled",
    ),
    key(
        "wall_thickness",
        "wall thickness of the {}",
        Quantity(D::Length),
        Range::Positive,
        "wall thickness, from which the wave speed follows",
    ),
    key(
        "material",
        "wall material of the {}",
        Text,
        Range::Any,
        "material of the wall, such as copper: gives its modulus and Poisson's ratio",
    ),
    key(
        "wall_modulus",
        "elastic modulus of the {} wall",
        Quantity(D::ElasticModulus),
        Range::Positive,
        "elastic modulus of the wall",
    ),
    key(
        "poisson_ratio",
        "Poisson's ratio of the {} wall",
        Quantity(D::Number),
        Range::Poisson,
        "Poisson's ratio of the wall",
    ),
    key(
        "support",
        "support of the {}",
        Word(&["throughout", "upstream", "joints"]),
        Range::Any,
        "where the line is held lengthwise: throughout, at its upstream end only, or nowhere (expansion joints)",
    ),
    key(
        "free_gas",
        "free gas in the {}",
        Quantity(D::Fraction),
        Range::BelowOne,
        "share of the liquid's volume that is free gas, at the supply's pressure upstream and the sink's downstream",
    ),
    key(
        "friction_factor",
        "Darcy friction factor of the {}",
        Quantity(D::Number),
        Range::NotNegative,
        "Darcy friction factor",
    ),
    key(
        "loss_coefficient",
        "loss coefficients of the {}",
        Quantity(D::Number),
        Range::NotNegative,
        "sum of the loss coefficients of fittings, entrance and exit",
    ),
    key(
        "segments",
        "friction segments of the {}",
        Count,
        Range::Pieces,
        "segments over which the wall friction is spread",
    ),
    key("model", "model of the {}", Word(&["auto", "lumped", "waves"]), Range::Any, "how the line is computed"),
];

static SINK: &[Key] = &[
    key(
        "pressure",
        "pressure behind the consumer",
        Quantity(D::AbsolutePressure),
        Range::Positive,
        "pressure behind the consumer",
    ),
    key(
        "throttle_kv",
        "flow coefficient of the consumer",
        Quantity(D::FlowCoefficient),
        Range::Positive,
        "flow coefficient of the consumer at the far end",
    ),
];

static FLOW: &[Key] = &[
    key("mass_flow", "mass flow", Quantity(D::MassFlow), Range::Positive, "mass flow at which the open valve works"),
    key(
        "volume_flow",
        "volume flow",
        Quantity(D::VolumeFlow),
        Range::Positive,
        "volume flow at the supply's state at which the open valve works",
    ),
    key(
        "refrigerating_duty",
        "refrigerating duty",
        Quantity(D::Power),
        Range::Positive,
        "refrigerating duty that the flow serves",
    ),
    key(
        "refrigerating_effect",
        "refrigerating effect",
        Quantity(D::SpecificEnergy),
        Range::Positive,
        "heat taken up per mass of refrigerant in the evaporator",
    ),
];
