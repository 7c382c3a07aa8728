//! A state as people ask for it: by temperature, pressure, subcooling, superheat, or saturation.

use super::error::{FluidError, bar, celsius};
use super::medium::Medium;
use super::state::{Aggregation, State};
use super::substance::LOWEST_PRESSURE;
use crate::units::{Dimension, text};
use std::fmt;

/// The one fluid that condenses and is met at atmospheric pressure all the same.
const WATER: &str = "water";

/// What is known of a state. Two of temperature, pressure, and subcooling or superheat are needed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Request {
    /// Temperature, K.
    pub temperature: Option<f64>,
    /// Temperature at which the fluid would be saturated at its pressure, K: the bubble point of a liquid, the dew point of a
    /// gas. Stands for the pressure.
    pub saturation: Option<f64>,
    /// Pressure, Pa absolute.
    pub pressure: Option<f64>,
    /// Below the bubble point at its pressure, K.
    pub subcooling: Option<f64>,
    /// Above the dew point at its pressure, K.
    pub superheat: Option<f64>,
    /// Liquid or gas, where it was said.
    pub aggregation: Option<Aggregation>,
}

/// Why a request has no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum RequestError {
    /// The fluid is not known there.
    Fluid(FluidError),
    /// Too little is said.
    Lacking {
        /// Name of the fluid.
        fluid: String,
        /// Is anything said at all?
        nothing: bool,
    },
    /// Too much is said.
    Excess(&'static str),
    /// It was said to be a liquid, and boils at that temperature and pressure.
    NotLiquid(String),
    /// Both subcooling and superheat, or against what was said to be liquid or gas.
    Contradiction(String),
}

impl From<FluidError> for RequestError {
    fn from(error: FluidError) -> Self {
        RequestError::Fluid(error)
    }
}

impl fmt::Display for RequestError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RequestError::Fluid(error) => error.fmt(out),
            RequestError::Lacking { fluid, nothing } => {
                let lacks = if *nothing { "lacks its state" } else { "lacks one more value" };
                write!(
                    out,
                    "{fluid} {lacks}: state two of temperature (\"35 °C\"), pressure (\"12 bar(a)\", \"10 bar(g)\"), and subcooling \
                     (\"5 K subcooled\") or superheat (\"8 K superheated\")"
                )
            }
            RequestError::Excess(what) => write!(out, "{what}; two of the three fix the state: leave one out"),
            RequestError::NotLiquid(what) | RequestError::Contradiction(what) => out.write_str(what),
        }
    }
}

impl std::error::Error for RequestError {}

impl RequestError {
    /// Is it no mistake, but a liquid that has boiled?
    pub fn boiled(&self) -> bool {
        matches!(
            self,
            RequestError::NotLiquid(_) | RequestError::Fluid(FluidError::TwoPhase { .. } | FluidError::Boils { .. })
        )
    }
}

impl Request {
    /// The state; `pressure` (Pa absolute) holds where none is said and one is needed.
    pub fn resolve(&self, medium: &Medium, pressure: Option<f64>) -> Result<State, RequestError> {
        let aggregation = self.phase_said()?;
        if self.pressure.is_some_and(|pressure| pressure < LOWEST_PRESSURE) {
            return Err(RequestError::Contradiction(
                "a pressure below 0.00001 bar(a) is a vacuum, and no state of a fluid: state a higher one".into(),
            ));
        }
        let mut known = *self;
        if let Some(saturation) = self.saturation {
            if self.pressure.is_some() {
                return Err(RequestError::Excess("both a pressure and a saturation temperature are stated"));
            }
            let gas = aggregation == Some(Aggregation::Gas);
            known.pressure =
                Some(if gas { medium.dew_pressure(saturation)? } else { medium.bubble_pressure(saturation)? });
            if known.temperature.is_none() && known.subcooling.is_none() && known.superheat.is_none() {
                return saturated(medium, saturation, gas);
            }
        }
        let offset = match (known.subcooling, known.superheat) {
            (Some(kelvin), _) => Some((Aggregation::Liquid, kelvin)),
            (None, Some(kelvin)) => Some((Aggregation::Gas, kelvin)),
            (None, None) => None,
        };
        let stated = [known.temperature.is_some(), known.pressure.is_some(), offset.is_some()];
        match stated.iter().filter(|is| **is).count() {
            3 => {
                return Err(RequestError::Excess("temperature, pressure and subcooling (or superheat) are all stated"));
            }
            2 => {}
            1 if known.pressure.is_none() && pressure.is_some() => known.pressure = pressure,
            count => return Err(RequestError::Lacking { fluid: medium.name(), nothing: count == 0 }),
        }
        let state = match (known.temperature, known.pressure, offset) {
            (Some(temperature), Some(pressure), _) => medium.state(temperature, pressure)?,
            (Some(temperature), None, Some((phase, kelvin))) => beside(medium, temperature, phase, kelvin)?,
            (None, Some(pressure), Some((phase, kelvin))) => offset_from(medium, pressure, phase, kelvin)?,
            _ => return Err(RequestError::Lacking { fluid: medium.name(), nothing: false }),
        };
        match aggregation {
            Some(said) if said != state.aggregation => {
                let message = against(medium, said, &state);
                Err(match said {
                    Aggregation::Liquid => RequestError::NotLiquid(message),
                    Aggregation::Gas => RequestError::Contradiction(message),
                })
            }
            _ => Ok(state),
        }
    }

    /// The state where nothing else holds the pressure: what is met at about atmospheric pressure (water, brine, oil, air and
    /// nitrogen; `atmosphere`, Pa absolute) is so where only its temperature is said, unless it would be steam there.
    pub fn resolve_alone(&self, medium: &Medium, atmosphere: f64) -> Result<State, RequestError> {
        let found = self.resolve(medium, None);
        let lacking = matches!(found, Err(RequestError::Lacking { nothing: false, .. }));
        let refrigerant = medium.condenses() && medium.name() != WATER;
        if !lacking || self.temperature.is_none() || refrigerant {
            return found;
        }
        match self.resolve(medium, Some(atmosphere)) {
            Ok(state) if state.aggregation == Aggregation::Gas && medium.name() == WATER => found,
            other => other,
        }
    }

    /// Liquid or gas as said, also by subcooling or superheat.
    fn phase_said(&self) -> Result<Option<Aggregation>, RequestError> {
        let contradiction = |what: &str| Err(RequestError::Contradiction(what.to_owned()));
        match (self.subcooling, self.superheat, self.aggregation) {
            (Some(_), Some(_), _) => contradiction("both subcooling and superheat are stated: a fluid has one of them"),
            (Some(_), None, Some(Aggregation::Gas)) => contradiction("a gas has no subcooling: state its superheat"),
            (None, Some(_), Some(Aggregation::Liquid)) => {
                contradiction("a liquid has no superheat: state its subcooling")
            }
            (Some(kelvin), None, _) | (None, Some(kelvin), _) if kelvin < 0.0 => contradiction(
                "subcooling or superheat is below zero: a subcooled liquid is below its bubble point, a \
                     superheated gas above its dew point, both counted upwards from zero",
            ),
            (Some(_), ..) => Ok(Some(Aggregation::Liquid)),
            (_, Some(_), _) => Ok(Some(Aggregation::Gas)),
            (.., said) => Ok(said),
        }
    }
}

fn saturated(medium: &Medium, temperature: f64, gas: bool) -> Result<State, RequestError> {
    let phase = if gas { Aggregation::Gas } else { Aggregation::Liquid };
    beside(medium, temperature, phase, 0.0)
}

/// At a temperature, so many kelvin from saturation.
fn beside(medium: &Medium, temperature: f64, phase: Aggregation, kelvin: f64) -> Result<State, RequestError> {
    let pressure = match phase {
        Aggregation::Liquid => {
            let pressure = medium.bubble_pressure(temperature + kelvin)?;
            // Refuses what has a vapour pressure but no table of saturation.
            medium.bubble_temperature(pressure)?;
            pressure
        }
        Aggregation::Gas => medium.dew_pressure(temperature - kelvin)?,
    };
    Ok(medium.state_of(phase, temperature, pressure)?)
}

/// At a pressure, so many kelvin from saturation.
fn offset_from(medium: &Medium, pressure: f64, phase: Aggregation, kelvin: f64) -> Result<State, RequestError> {
    let temperature = match phase {
        Aggregation::Liquid => medium.bubble_temperature(pressure)? - kelvin,
        Aggregation::Gas => medium.dew_temperature(pressure)? + kelvin,
    };
    // Nine decimals: 0 °C shall not be 6e-14 °C, and a saturated state stays one to nine digits of its pressure.
    let temperature = if temperature.abs() < 1e5 { (temperature * 1e9).round() / 1e9 } else { temperature };
    Ok(medium.state_of(phase, temperature, pressure)?)
}

fn against(medium: &Medium, said: Aggregation, state: &State) -> String {
    let (word, point) = match said {
        Aggregation::Liquid => ("a liquid", state.bubble_pressure.map(|p| format!("it boils below {}", bar(p)))),
        Aggregation::Gas => ("a gas", state.dew_pressure.map(|p| format!("it condenses above {}", bar(p)))),
    };
    format!(
        "{} at {} and {} is not {word}: {}",
        medium.name(),
        celsius(state.temperature),
        bar(state.pressure),
        point.unwrap_or_else(|| "its saturation is not tabulated at this temperature".to_owned())
    )
}

/// A liquid further below its bubble point is not called subcooled, K: it is in no trade. Judgement.
const FAR: f64 = 60.0;

/// How far a state is from saturation in words, such as "3 K subcooled"; none where it is not tabulated, or for a liquid far
/// from it.
pub fn distance_from_saturation(medium: &Medium, state: &State) -> Option<String> {
    let kelvin = |value: f64| text(value.max(0.0), Dimension::TemperatureDifference);
    match state.aggregation {
        Aggregation::Liquid => {
            let subcooling = medium.bubble_temperature(state.pressure).ok()? - state.temperature;
            if subcooling > FAR {
                return None;
            }
            Some(if subcooling < 1e-6 {
                "at its bubble point".into()
            } else {
                format!("{} subcooled", kelvin(subcooling))
            })
        }
        Aggregation::Gas => {
            let superheat = state.temperature - medium.dew_temperature(state.pressure).ok()?;
            Some(if superheat < 1e-6 {
                "at its dew point".into()
            } else {
                format!("{} superheated", kelvin(superheat))
            })
        }
    }
}
