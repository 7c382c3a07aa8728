//! Why a fluid cannot be had at a state.

use super::catalogue::{names, other_names};
use super::liquid_error::LiquidError;
use crate::quote;
use crate::units::{Dimension, text};
use std::fmt;

/// What lies outside its range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// The temperature of the state.
    Temperature,
    /// The pressure of the state.
    Pressure,
    /// The temperature of a saturated state.
    SaturationTemperature,
    /// The pressure of a saturated state.
    SaturationPressure,
}

/// Why a fluid cannot be had at a state. Temperatures in K, pressures in Pa absolute.
#[derive(Clone, Debug, PartialEq)]
pub enum FluidError {
    /// No known fluid has that name.
    UnknownName {
        /// The name as asked for.
        name: String,
    },
    /// A solution or an oil outside what is known of it.
    Liquid(LiquidError),
    /// A solution without its concentration.
    NeedsConcentration {
        /// The solution.
        fluid: &'static str,
    },
    /// Both a share by mass and one by volume.
    TwoConcentrations {
        /// The solution.
        fluid: &'static str,
    },
    /// Asked for relative to a saturation that is not tabulated.
    NoSaturation {
        /// The fluid.
        fluid: &'static str,
    },
    /// A concentration of something that is no solution.
    NoSolution {
        /// The fluid.
        fluid: &'static str,
    },
    /// A value is outside what is tabulated.
    Outside {
        /// The fluid.
        fluid: &'static str,
        /// What is outside.
        what: Quantity,
        /// Its value.
        value: f64,
        /// Lowest and highest known value.
        range: (f64, f64),
    },
    /// Beyond the last tabulated temperature, beside the critical point.
    NearCritical {
        /// The fluid.
        fluid: &'static str,
        /// The temperature asked for.
        temperature: f64,
        /// Highest tabulated temperature of the saturated fluid.
        highest: f64,
        /// Critical temperature.
        critical: f64,
    },
    /// A gas so far above its critical temperature that it never condenses.
    NeverSaturated {
        /// The fluid.
        fluid: &'static str,
        /// Critical temperature.
        critical_temperature: f64,
        /// Lowest tabulated temperature.
        coldest: f64,
    },
    /// Asked for as a liquid below its bubble point.
    Boils {
        /// The fluid.
        fluid: &'static str,
        /// Temperature.
        temperature: f64,
        /// Pressure.
        pressure: f64,
        /// Bubble-point pressure at this temperature.
        bubble: f64,
    },
    /// Asked for as a gas above its dew point.
    Condenses {
        /// The fluid.
        fluid: &'static str,
        /// Temperature.
        temperature: f64,
        /// Pressure.
        pressure: f64,
        /// Dew-point pressure at this temperature.
        dew: f64,
    },
    /// Between bubble and dew point.
    TwoPhase {
        /// The fluid.
        fluid: &'static str,
        /// Temperature.
        temperature: f64,
        /// Pressure.
        pressure: f64,
        /// Bubble-point pressure at this temperature.
        bubble: f64,
        /// Dew-point pressure at this temperature.
        dew: f64,
    },
    /// Above the critical temperature and too dense for a gas.
    TooDense {
        /// The fluid.
        fluid: &'static str,
        /// Temperature.
        temperature: f64,
        /// Pressure.
        pressure: f64,
        /// Highest tabulated pressure at this temperature.
        highest: f64,
        /// Critical temperature.
        critical_temperature: f64,
        /// Critical pressure.
        critical_pressure: f64,
    },
}

/// What was meant, perhaps: fluids that have that word in their names, or the nearest name.
fn perhaps(name: &str) -> String {
    let word = name.to_lowercase();
    let all = names();
    let with_word: Vec<&str> =
        all.iter().copied().filter(|known| known.split(' ').any(|part| part.to_lowercase() == word)).collect();
    if !with_word.is_empty() {
        return format!(": say which, {}", with_word.join(", "));
    }
    match crate::units::nearest(name, all.into_iter().chain(other_names())) {
        // One word more is another substance.
        Some(near) if near.split(' ').count() < name.split_whitespace().count() => String::new(),
        Some(near) if !same_number(name, near) => {
            format!(" ({near} is another refrigerant, nothing that stands for it)")
        }
        Some(near) => format!(": did you mean \"{near}\"?"),
        None => String::new(),
    }
}

/// Are these no refrigerant numbers, or the same one? "R401A" is no slip for "R410A" and "R454C" none for "R454B", but
/// another blend. A blend's letter may have been left out: there is no R507 without one.
fn same_number(name: &str, near: &str) -> bool {
    let plain = |text: &str| text.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_lowercase();
    let (name, near) = (plain(name), plain(near));
    let numbered = name.starts_with('r') && name.chars().any(|c| c.is_ascii_digit());
    let letter_left_out = near.starts_with(&name) && name.len() == 4 && name[1..].starts_with(['4', '5']);
    !numbered || name == near || letter_left_out
}

pub(super) fn celsius(kelvin: f64) -> String {
    text(kelvin, Dimension::Temperature)
}

pub(super) fn bar(pascal: f64) -> String {
    text(pascal, Dimension::AbsolutePressure)
}

impl fmt::Display for FluidError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FluidError::UnknownName { name } => {
                let perhaps = perhaps(name);
                let more = if perhaps.ends_with('?') { " Known are " } else { "; known are " };
                write!(out, "\"{}\" is not a known fluid{perhaps}{more}", quote::word(name))?;
                write!(out, "{}; state others by numbers under [fluid.liquid] or [fluid.gas]", names().join(", "))
            }
            FluidError::Liquid(error) => error.fmt(out),
            FluidError::NeedsConcentration { fluid } => write!(
                out,
                "{fluid} lacks its concentration in water: state it by mass or by volume, such as \"30 % by mass {fluid}\" or \
                 mass_fraction = \"30 %\""
            ),
            FluidError::TwoConcentrations { fluid } => {
                write!(out, "{fluid} has two concentrations: keep the one by mass or the one by volume")
            }
            FluidError::NoSaturation { fluid } => write!(
                out,
                "the boiling temperature of {fluid} is not tabulated: state temperature and pressure instead of a distance from \
                 saturation"
            ),
            FluidError::NoSolution { fluid } => {
                write!(out, "{fluid} is no solution: leave its concentration out")
            }
            FluidError::Outside { fluid, what, value, range } => outside(out, fluid, *what, *value, *range),
            FluidError::NearCritical { fluid, temperature, highest, critical } => write!(
                out,
                "{fluid} at {} is too near to its critical temperature of {}: as a liquid or saturated vapour it is known up to \
                 {}; above that only as a gas well below the critical density",
                celsius(*temperature),
                celsius(*critical),
                celsius(*highest)
            ),
            FluidError::NeverSaturated { fluid, critical_temperature, coldest } => write!(
                out,
                "{fluid} is a gas at every temperature known here (from {}, its critical temperature is {}): it has no liquid, \
                 no subcooling and no superheat; state temperature and pressure",
                celsius(*coldest),
                celsius(*critical_temperature)
            ),
            FluidError::Boils { fluid, temperature, pressure, bubble } => write!(
                out,
                "{fluid} at {} is no liquid at {}: it boils below {}; raise the pressure or lower the temperature",
                celsius(*temperature),
                bar(*pressure),
                bar(*bubble)
            ),
            FluidError::Condenses { fluid, temperature, pressure, dew } => write!(
                out,
                "{fluid} at {} is no gas at {}: it condenses above {}; lower the pressure or raise the temperature",
                celsius(*temperature),
                bar(*pressure),
                bar(*dew)
            ),
            FluidError::TwoPhase { fluid, temperature, pressure, bubble, dew } => write!(
                out,
                "{fluid} at {} and {} is partly liquid and partly vapour: it is a liquid from {} (bubble point) on and a gas up \
                 to {} (dew point); state subcooling or superheat, counted from these two",
                celsius(*temperature),
                bar(*pressure),
                bar(*bubble),
                bar(*dew)
            ),
            FluidError::TooDense { fluid, temperature, pressure, highest, critical_temperature, critical_pressure } => {
                write!(
                    out,
                    "{fluid} at {} and {} is neither gas nor liquid (its critical point is {} at {}): at this temperature it is \
                 known as a gas up to {}; such a dense fluid is not simulated",
                    celsius(*temperature),
                    bar(*pressure),
                    celsius(*critical_temperature),
                    bar(*critical_pressure),
                    bar(*highest)
                )
            }
        }
    }
}

fn outside(
    out: &mut fmt::Formatter<'_>,
    fluid: &str,
    what: Quantity,
    value: f64,
    (low, high): (f64, f64),
) -> fmt::Result {
    let show: fn(f64) -> String = match what {
        Quantity::Temperature | Quantity::SaturationTemperature => celsius,
        Quantity::Pressure | Quantity::SaturationPressure => bar,
    };
    let how = match what {
        Quantity::Temperature | Quantity::Pressure => "is known",
        Quantity::SaturationTemperature | Quantity::SaturationPressure => "is known as saturated",
    };
    write!(out, "{fluid} {how} from {} to {} only, not at {}", show(low), show(high), show(value))
}

impl std::error::Error for FluidError {}

impl From<LiquidError> for FluidError {
    fn from(error: LiquidError) -> Self {
        FluidError::Liquid(error)
    }
}
