//! The fluid.

use super::named_fluid::{self, Read};
use super::one_pressure;
use super::reader::Reader;
use crate::key::Stated;
use crate::physics::expansion::{Expansion, exponent_of};
use crate::physics::fluid::{Fluid, Gas, Liquid, Phase};
use crate::units::Dimension;

/// Molar gas constant, J/(mol·K): exact since 2019 (BIPM, The International System of Units, 9th ed., 2019; from memory).
const MOLAR_GAS_CONSTANT: f64 = 8.314_462_618_153_24;

/// The fluid in whichever way it is stated; an unusable liquid where it is not.
pub(super) fn read(reader: &mut Reader<'_>, supply_pressure: f64) -> Read {
    match reader.needed_choice("the fluid") {
        Some(0) => named_fluid::in_words(reader, supply_pressure),
        Some(1) => named_fluid::in_keys(reader, supply_pressure),
        Some(numbers) => {
            one_pressure::kept(reader, supply_pressure);
            (if numbers == 2 { liquid(reader) } else { gas(reader) }, None)
        }
        None => (named_fluid::nothing(), None),
    }
}

const AS_GIVEN: &str = "as stated in the scenario";
const AS_PERFECT: &str = "as of a perfect gas with that exponent";

/// Below this a gas is not taken as perfect: the largest molecules that are gases have some 1.03. Judgement, no source.
const LEAST_PERFECT_EXPONENT: f64 = 1.02;

fn liquid(reader: &mut Reader<'_>) -> Fluid {
    let name = reader.optional_text("fluid.liquid.name").unwrap_or_else(|| "liquid as stated".to_owned());
    let phase = Phase::Liquid(Liquid::read(&mut reader.table("fluid.liquid")));
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
        temperature: keys.number(&Gas::temperature),
        viscosity: keys.number(&Gas::viscosity),
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
    reader.derived(capacity, perfect.isobaric_heat_capacity, Dimension::HeatCapacity, AS_PERFECT);
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
