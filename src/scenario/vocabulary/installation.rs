//! Tables of the fluid, of both ends and of both lines, and their keys that fill no field.

use super::table::Table;
use crate::key::{Key, keys};
use crate::physics::fluid::{Gas, Liquid};
use crate::physics::parts::{CheckValve, Line, Sink, Source, Strainer};

pub(super) static TABLES: &[Table] = &[
    Table { path: "", of: "", keys: &[HEAD] },
    Table { path: "fluid", of: "", keys: &[FLUID] },
    Table { path: "fluid.named", of: "", keys: &[NAMED] },
    Table { path: "fluid.liquid", of: "", keys: &[LIQUID_NAME, Liquid::KEYS] },
    Table { path: "fluid.gas", of: "", keys: &[GAS_NAME, &[Gas::gas_constant], MOLAR_MASS, Gas::KEYS.split_at(1).1] },
    Table {
        path: "supply",
        of: "",
        keys: &[&[Source::pressure], DIFFERENTIAL_AND_FALL, &[Source::pulsation, Source::pulsation_frequency]],
    },
    Table { path: "upstream", of: "upstream line", keys: LINE },
    Table { path: "downstream", of: "downstream line", keys: LINE },
    Table { path: "sink", of: "", keys: &[Sink::KEYS, THROTTLE] },
    Table { path: "flow", of: "", keys: &[FLOW] },
];

static LINE: &[&[Key]] = &[
    &[Line::length],
    PIPE,
    &[Line::bore, Line::wave_speed, Line::density],
    WALL,
    &[Line::friction_factor, Line::loss_coefficient, Line::segments],
    Strainer::KEYS,
    CheckValve::KEYS,
    MODEL,
];

keys! {
    HEAD {
        /// question that the scenario answers
        question: Text, Any, "question";
        /// origin of the data: measured, from a data sheet, invented
        data: Text, Any, "origin of the data";
        /// another scenario file of which this one states only the differences
        like: Text, Any, "scenario that it is like";
        /// atmospheric pressure, from which gauges count
        atmosphere: AbsolutePressure, Positive, "atmospheric pressure", usually 4e4 to 1.3e5;
    }
    FLUID {
        /// name and state of the fluid in words, such as "R410A liquid, 5 K subcooled"
        state: Text, Any, "fluid and state in words";
    }
    NAMED {
        /// name of a known fluid (`quietseat fluids` lists them)
        name: Text, Any, "name of the fluid";
        /// temperature of the fluid at the valve
        temperature: Temperature, Positive, "fluid temperature", or none;
        /// pressure of its state, which is the supply's
        pressure: AbsolutePressure, Positive, "pressure of the fluid's state", or none;
        /// subcooling below the bubble point
        subcooling: TemperatureDifference, NotNegative, "subcooling at the supply", or none;
        /// superheat above the dew point
        superheat: TemperatureDifference, NotNegative, "superheat at the supply", or none;
        /// share by mass of the glycol in a solution
        mass_fraction: Fraction, Inside, "glycol concentration by mass", or none;
        /// share by volume of the glycol in a solution
        volume_fraction: Fraction, Inside, "glycol concentration by volume", or none;
    }
    LIQUID_NAME {
        /// name of the liquid for the outputs
        name: Text, Any, "name of the liquid";
    }
    GAS_NAME {
        /// name of the gas for the outputs
        name: Text, Any, "name of the gas";
    }
    MOLAR_MASS {
        /// molar mass
        molar_mass: MolarMass, Positive, "molar mass of the gas";
    }
    DIFFERENTIAL_AND_FALL {
        /// supply pressure at no flow, counted from the sink's
        differential: PressureDifference, Any, "circuit differential pressure", or none;
        /// fall of the supply pressure (pump curve) at the flow stated beside it
        pressure_fall: PressureDifference, NotNegative, "fall of the supply pressure with flow", or none;
        /// mass flow at which the supply has fallen by `pressure_fall`
        pressure_fall_mass_flow: MassFlow, Positive, "mass flow at the stated pressure fall", usually 1e-6 to 1e3, or none;
        /// volume flow, at the supply's state, at which the supply has fallen by `pressure_fall`
        pressure_fall_volume_flow: VolumeFlow, Positive, "volume flow at the stated pressure fall", usually 1e-9 to 10.0, or none;
    }
    PIPE {
        /// trade name of the pipe, such as 22 x 1 copper: gives bore, wall and wave speed
        pipe: Text, Any, "pipe of the {}";
    }
    WALL {
        /// wall thickness, from which the wave speed follows
        wall_thickness: Length, Positive, "wall thickness of the {}", usually 1e-4 to 0.1;
        /// material of the wall, such as copper: gives its modulus and Poisson's ratio
        material: Text, Any, "wall material of the {}";
        /// elastic modulus of the wall
        wall_modulus: ElasticModulus, Positive, "elastic modulus of the {} wall", usually 1e6 to 1e12;
        /// Poisson's ratio of the wall
        poisson_ratio: Number, Poisson, "Poisson's ratio of the {} wall", or none;
        /// where the line is held lengthwise: throughout, at its upstream end only, or nowhere (expansion joints)
        support: Word("throughout", "upstream", "joints"), Any, "support of the {}", or none;
        /// share of the liquid's volume that is free gas, at the supply's pressure upstream and the sink's downstream
        free_gas: Fraction, BelowOne, "free gas in the {}", or none;
    }
    MODEL {
        /// how the line is computed
        model: Word("auto", "lumped", "waves"), Any, "model of the {}";
    }
    THROTTLE {
        /// flow coefficient of the consumer at the far end
        throttle_kv: FlowCoefficient, Positive, "flow coefficient of the consumer", usually 1e-8 to 0.3, or none;
    }
    FLOW {
        /// mass flow at which the open valve works
        mass_flow: MassFlow, Positive, "mass flow", usually 1e-6 to 1e3;
        /// volume flow at the supply's state at which the open valve works
        volume_flow: VolumeFlow, Positive, "volume flow", usually 1e-9 to 10.0;
        /// refrigerating duty that the flow serves
        refrigerating_duty: Power, Positive, "refrigerating duty", usually 1.0 to 1e8;
        /// heat taken up per mass of refrigerant in the evaporator
        refrigerating_effect: SpecificEnergy, Positive, "refrigerating effect", usually 1e3 to 3e6;
    }
}
