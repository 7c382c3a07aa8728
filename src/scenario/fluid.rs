//! The fluid.

use super::reader::Reader;
use crate::physics::expansion::{Expansion, exponent_of};
use crate::physics::fluid::{Fluid, Gas, Liquid, Phase};
use crate::physics::fluid_table;
use crate::units::Dimension;

/// Molar gas constant, J/(mol·K): exact since 2019 (BIPM, The International System of Units, 9th ed., 2019; from memory).
const MOLAR_GAS_CONSTANT: f64 = 8.314_462_618_153_24;

/// The fluid in whichever way it is stated; an unusable liquid where it is not.
pub(super) fn read(reader: &mut Reader<'_>) -> Fluid {
    match reader.needed_choice("the fluid") {
        Some(0) => named(reader),
        Some(1) => liquid(reader),
        Some(_) => gas(reader),
        None => nothing(),
    }
}

/// Stands for a fluid that could not be read; the scenario is refused anyway.
fn nothing() -> Fluid {
    let phase = Phase::Liquid(Liquid {
        density: f64::NAN,
        sound_speed: f64::NAN,
        viscosity: f64::NAN,
        vapour_pressure: f64::NAN,
        critical_pressure: f64::NAN,
    });
    Fluid { name: String::new(), source: String::new(), phase }
}

fn named(reader: &mut Reader<'_>) -> Fluid {
    let name = reader.text("fluid.named.name");
    let temperature = reader.number("fluid.named.temperature");
    if name.is_empty() {
        return nothing();
    }
    match fluid_table::fluid(&name, temperature) {
        Ok(fluid) => {
            note(reader, &fluid);
            fluid
        }
        // A missing temperature has been reported already.
        Err(fluid_table::FluidError::OutOfRange { .. }) if temperature.is_nan() => nothing(),
        Err(error @ fluid_table::FluidError::OutOfRange { .. }) => {
            reader.problem("fluid.named.temperature", error.to_string());
            nothing()
        }
        Err(error @ fluid_table::FluidError::UnknownName { .. }) => {
            reader.problem("fluid.named.name", error.to_string());
            nothing()
        }
    }
}

/// Records what the name and the temperature stand for.
fn note(reader: &mut Reader<'_>, fluid: &Fluid) {
    let from = "from the built-in table";
    match &fluid.phase {
        Phase::Liquid(liquid) => {
            reader.derived("fluid.liquid.density", liquid.density, Dimension::Density, from);
            reader.derived("fluid.liquid.sound_speed", liquid.sound_speed, Dimension::Velocity, from);
            reader.derived("fluid.liquid.viscosity", liquid.viscosity, Dimension::Viscosity, from);
            reader.derived("fluid.liquid.vapour_pressure", liquid.vapour_pressure, Dimension::AbsolutePressure, from);
            reader.derived(
                "fluid.liquid.critical_pressure",
                liquid.critical_pressure,
                Dimension::AbsolutePressure,
                from,
            );
        }
        Phase::Gas(gas) => {
            reader.derived("fluid.gas.gas_constant", gas.gas_constant, Dimension::GasConstant, from);
            reader.derived("fluid.gas.isentropic_exponent", gas.isentropic_exponent, Dimension::Number, from);
            reader.derived("fluid.gas.viscosity", gas.viscosity, Dimension::Viscosity, from);
            let heat = gas.isobaric_heat_capacity;
            reader.derived("fluid.gas.heat_capacity_ratio", gas.heat_capacity_ratio, Dimension::Number, from);
            reader.derived("fluid.gas.isobaric_heat_capacity", heat, Dimension::GasConstant, from);
            let (ratio, factor) = (gas.critical_pressure_ratio, gas.critical_flow_factor);
            reader.derived("fluid.gas.critical_pressure_ratio", ratio, Dimension::Number, from);
            reader.derived("fluid.gas.critical_flow_factor", factor, Dimension::Number, from);
        }
    }
}

const AS_GIVEN: &str = "as stated in the scenario";
const AS_PERFECT: &str = "as of a perfect gas with that exponent";

/// Below this a gas is not taken as perfect: the largest molecules that are gases have some 1.03. Judgement, no source.
const LEAST_PERFECT_EXPONENT: f64 = 1.02;

fn liquid(reader: &mut Reader<'_>) -> Fluid {
    let name = reader.optional_text("fluid.liquid.name").unwrap_or_else(|| "liquid as stated".to_owned());
    let mut keys = reader.table("fluid.liquid");
    let phase = Phase::Liquid(Liquid {
        density: keys.number("density"),
        sound_speed: keys.number("sound_speed"),
        viscosity: keys.number("viscosity"),
        vapour_pressure: keys.number("vapour_pressure"),
        critical_pressure: keys.number("critical_pressure"),
    });
    Fluid { name, source: AS_GIVEN.to_owned(), phase }
}

fn gas(reader: &mut Reader<'_>) -> Fluid {
    let name = reader.optional_text("fluid.gas.name").unwrap_or_else(|| "gas as stated".to_owned());
    let gas_constant = match reader.needed_choice("the gas constant") {
        Some(0) => reader.number("fluid.gas.gas_constant"),
        Some(_) => {
            let constant = MOLAR_GAS_CONSTANT / reader.number("fluid.gas.molar_mass");
            reader.derived("fluid.gas.gas_constant", constant, Dimension::GasConstant, "from the molar mass");
            constant
        }
        None => f64::NAN,
    };
    let exponent = reader.number("fluid.gas.isentropic_exponent");
    let (heat_capacity_ratio, isobaric_heat_capacity) = heat_capacities(reader, gas_constant, exponent);
    let (critical_pressure_ratio, critical_flow_factor) = nozzle(reader, exponent);
    let mut keys = reader.table("fluid.gas");
    let phase = Phase::Gas(Gas {
        gas_constant,
        isentropic_exponent: exponent,
        temperature: keys.number("temperature"),
        viscosity: keys.number("viscosity"),
        critical_pressure_ratio,
        critical_flow_factor,
        heat_capacity_ratio,
        isobaric_heat_capacity,
    });
    Fluid { name, source: AS_GIVEN.to_owned(), phase }
}

/// γ and c_p: both stated, or both those of a perfect gas with that exponent.
fn heat_capacities(reader: &mut Reader<'_>, gas_constant: f64, exponent: f64) -> (f64, f64) {
    let [ratio, capacity] = ["fluid.gas.heat_capacity_ratio", "fluid.gas.isobaric_heat_capacity"];
    if reader.states(ratio) || reader.states(capacity) {
        return (reader.number(ratio), reader.number(capacity));
    }
    if exponent < LEAST_PERFECT_EXPONENT {
        let message = format!(
            "an exponent of {exponent} belongs to a real gas, whose heat capacities do not follow from it: state \
             `heat_capacity_ratio` and `isobaric_heat_capacity` in [fluid.gas] too"
        );
        reader.problem("fluid.gas.isentropic_exponent", message);
        return (f64::NAN, f64::NAN);
    }
    let perfect = Gas::perfect(gas_constant, exponent, f64::NAN, f64::NAN);
    reader.derived(ratio, perfect.heat_capacity_ratio, Dimension::Number, AS_PERFECT);
    reader.derived(capacity, perfect.isobaric_heat_capacity, Dimension::GasConstant, AS_PERFECT);
    (perfect.heat_capacity_ratio, perfect.isobaric_heat_capacity)
}

/// r* and Ψ: as stated, else those of a perfect gas, Ψ of the one that chokes at r*.
fn nozzle(reader: &mut Reader<'_>, exponent: f64) -> (f64, f64) {
    let [ratio, factor] = ["fluid.gas.critical_pressure_ratio", "fluid.gas.critical_flow_factor"];
    let perfect = Expansion::perfect(exponent);
    let (nearest, critical_ratio) = match reader.optional(ratio) {
        Some(stated) => (Expansion::perfect(exponent_of(stated)), stated),
        None => {
            reader.derived(ratio, perfect.critical_ratio(), Dimension::Number, AS_PERFECT);
            (perfect, perfect.critical_ratio())
        }
    };
    let flow_factor = reader.optional(factor).unwrap_or_else(|| {
        let own = nearest.critical_flow_factor();
        reader.derived(factor, own, Dimension::Number, "as of a perfect gas that chokes at that ratio");
        own
    });
    (critical_ratio, flow_factor)
}
