//! A small set of built-in fluids: water, air and saturated liquid refrigerants, each with its source.

mod air;
mod refrigerants;
mod saturated;
mod water;

use std::fmt;

use super::fluid::Fluid;
use refrigerants::REFRIGERANTS;
use saturated::Substance;
use water::WATER;

/// Why a built-in fluid cannot be had.
#[derive(Clone, Debug, PartialEq)]
pub enum FluidError {
    /// No built-in fluid has that name.
    UnknownName {
        /// The name as asked for.
        name: String,
    },
    /// The temperature is outside the states that are known.
    OutOfRange {
        /// The fluid.
        name: &'static str,
        /// The temperature asked for, °C.
        celsius: f64,
        /// Lowest and highest known temperature, °C.
        range: (f64, f64),
    },
}

impl fmt::Display for FluidError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FluidError::UnknownName { name } => {
                write!(out, "\"{name}\" is not a built-in fluid; built in are {}", names().join(", "))?;
                match crate::units::nearest(name, names().iter().copied()) {
                    Some(near) => write!(out, "; did you mean \"{near}\"?"),
                    None => write!(out, "; state others under [fluid.liquid] or [fluid.gas]"),
                }
            }
            FluidError::OutOfRange { name, celsius, range: (low, high) } => {
                let shown = (celsius * 100.0).round() / 100.0;
                write!(out, "{name} is known from {low} °C to {high} °C only, not at {shown} °C")
            }
        }
    }
}

impl std::error::Error for FluidError {}

/// Names of the built-in fluids.
pub fn names() -> Vec<&'static str> {
    ["water", "air"].into_iter().chain(REFRIGERANTS.iter().map(|substance| substance.name)).collect()
}

/// The built-in fluid of that name at a temperature, K; liquids are at their bubble point, water at about 1 bar.
pub fn fluid(name: &str, temperature: f64) -> Result<Fluid, FluidError> {
    // Nine decimals take away what the sum of °C and 273.15 loses, so that "100 °C" stays inside the range.
    let celsius = ((temperature - 273.15) * 1e9).round() / 1e9;
    let outside = |name, range: (f64, f64)| {
        let inside = celsius >= range.0 && celsius <= range.1;
        if inside { Ok(()) } else { Err(FluidError::OutOfRange { name, celsius, range }) }
    };
    if name.eq_ignore_ascii_case("air") {
        outside("air", air::RANGE)?;
        return Ok(air::air(celsius));
    }
    let substance: &Substance = std::iter::once(&WATER)
        .chain(REFRIGERANTS)
        .find(|substance| substance.name.eq_ignore_ascii_case(name))
        .ok_or_else(|| FluidError::UnknownName { name: name.to_owned() })?;
    outside(substance.name, substance.range())?;
    Ok(substance.liquid(celsius))
}
