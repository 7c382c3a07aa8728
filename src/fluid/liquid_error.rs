//! Why a liquid state cannot be had.

use crate::portable::Portable;
use std::fmt;

/// A state outside what is known of a liquid; nothing is extrapolated.
#[derive(Clone, Debug, PartialEq)]
pub enum LiquidError {
    /// The concentration is not in the table.
    Concentration {
        /// The liquid.
        name: &'static str,
        /// Mass fraction asked for.
        mass_fraction: f64,
        /// Highest known mass fraction.
        highest: f64,
    },
    /// Ice would form.
    Frozen {
        /// The solution.
        name: &'static str,
        /// Mass fraction of what is dissolved.
        mass_fraction: f64,
        /// Where the first ice forms, K.
        freezing_temperature: f64,
        /// Temperature asked for, K.
        temperature: f64,
    },
    /// The temperature is not in the table.
    Temperature {
        /// The liquid.
        name: &'static str,
        /// Lowest and highest known temperature, K.
        range: (f64, f64),
        /// Temperature asked for, K.
        temperature: f64,
    },
    /// The pressure is below the vapour pressure.
    Boiling {
        /// The liquid.
        name: &'static str,
        /// Vapour pressure, Pa absolute.
        vapour_pressure: f64,
        /// Pressure asked for, Pa absolute.
        pressure: f64,
        /// Temperature asked for, K.
        temperature: f64,
    },
    /// The pressure is beyond that for which its effect is known.
    Pressure {
        /// The liquid.
        name: &'static str,
        /// Highest known pressure, Pa absolute.
        highest: f64,
        /// Pressure asked for, Pa absolute.
        pressure: f64,
    },
}

/// A number with a few decimals and no trailing zeros; an absurd one with its power of ten.
fn short(value: f64, decimals: i32) -> String {
    if value.abs() > 1e9 {
        return format!("{value:.3e}");
    }
    let scale = 10f64.to_the(decimals);
    format!("{}", (value * scale).round() / scale + 0.0)
}

fn celsius(kelvin: f64) -> String {
    short(kelvin - 273.15, 1)
}

fn bar(pascal: f64) -> String {
    short(pascal / 1e5, 4)
}

fn percent(fraction: f64) -> String {
    short(fraction * 100.0, 1)
}

impl fmt::Display for LiquidError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            LiquidError::Concentration { name, mass_fraction, highest } => {
                let (high, asked) = (percent(highest), percent(mass_fraction));
                write!(out, "{name} is known from 0 to {high} % by mass only, not at {asked} % by mass")
            }
            LiquidError::Frozen { name, mass_fraction, freezing_temperature, temperature } => {
                let (share, freezing, asked) =
                    (percent(mass_fraction), celsius(freezing_temperature), celsius(temperature));
                write!(out, "{share} % by mass {name} freezes at {freezing} °C: {asked} °C is below it")
            }
            LiquidError::Temperature { name, range: (low, high), temperature } => {
                let (low, high, asked) = (celsius(low), celsius(high), celsius(temperature));
                write!(out, "{name} is known from {low} °C to {high} °C only, not at {asked} °C")
            }
            LiquidError::Boiling { name, vapour_pressure, pressure, temperature } => {
                let (vapour, asked, at) = (bar(vapour_pressure), bar(pressure), celsius(temperature));
                write!(out, "{name} boils at {at} °C and {vapour} bar(a): {asked} bar(a) is below that")
            }
            LiquidError::Pressure { name, highest, pressure } => {
                let (high, asked) = (bar(highest), bar(pressure));
                write!(out, "{name} is known up to {high} bar(a) only, not at {asked} bar(a)")
            }
        }
    }
}

impl std::error::Error for LiquidError {}
