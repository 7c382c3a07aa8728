//! The fluid.

use super::named_fluid::{self, Read};
use super::reader::Reader;
use crate::physics::fluid::{Fluid, Gas, Liquid, Phase};
use crate::units::Dimension;

/// Molar gas constant, J/(mol·K): exact since 2019 (BIPM, The International System of Units, 9th ed., 2019; from memory).
const MOLAR_GAS_CONSTANT: f64 = 8.314_462_618_153_24;

/// The fluid in whichever way it is stated; an unusable liquid where it is not.
pub(super) fn read(reader: &mut Reader<'_>, supply_pressure: f64) -> Read {
    match reader.needed_choice("the fluid") {
        Some(0) => named_fluid::in_words(reader, supply_pressure),
        Some(1) => named_fluid::in_keys(reader, supply_pressure),
        Some(2) => (liquid(reader), None),
        Some(_) => (gas(reader), None),
        None => (nothing(), None),
    }
}

/// Stands for a fluid that could not be read; the scenario is refused anyway.
pub(super) fn nothing() -> Fluid {
    let phase = Phase::Liquid(Liquid {
        density: f64::NAN,
        sound_speed: f64::NAN,
        viscosity: f64::NAN,
        vapour_pressure: f64::NAN,
        critical_pressure: f64::NAN,
    });
    Fluid { name: String::new(), source: String::new(), phase }
}

const AS_GIVEN: &str = "as stated in the scenario";

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
    let mut keys = reader.table("fluid.gas");
    let phase = Phase::Gas(Gas {
        gas_constant,
        isentropic_exponent: keys.number("isentropic_exponent"),
        temperature: keys.number("temperature"),
        viscosity: keys.number("viscosity"),
    });
    Fluid { name, source: AS_GIVEN.to_owned(), phase }
}
