//! A fluid that has been found, whatever kind of table it has.

use super::error::FluidError;
use super::state::State;
use super::substance::Substance;

/// A fluid that has been found, with its concentration where it has one.
#[derive(Clone, Copy, Debug)]
pub enum Medium {
    /// A pure fluid or a blend.
    Substance(&'static Substance),
}

impl PartialEq for Medium {
    fn eq(&self, other: &Medium) -> bool {
        self.name() == other.name()
    }
}

impl Medium {
    /// The fluid of that name or alias; the concentration of a solution is a share by mass or by volume.
    pub fn find(name: &str, mass: Option<f64>, volume: Option<f64>) -> Result<Medium, FluidError> {
        let substance = super::find(name)?;
        match mass.or(volume) {
            None => Ok(Medium::Substance(substance)),
            Some(_) => Err(FluidError::NoSolution { fluid: substance.name() }),
        }
    }

    /// Name, with the concentration where there is one.
    pub fn name(&self) -> String {
        match self {
            Medium::Substance(substance) => substance.name().to_owned(),
        }
    }

    /// Where its properties come from.
    pub fn source(&self) -> String {
        match self {
            Medium::Substance(substance) => substance.source(),
        }
    }

    /// The state at a temperature (K) and pressure (Pa absolute).
    pub fn state(&self, temperature: f64, pressure: f64) -> Result<State, FluidError> {
        match self {
            Medium::Substance(substance) => substance.state(temperature, pressure),
        }
    }

    /// Bubble-point pressure at a temperature (K), Pa absolute.
    pub fn bubble_pressure(&self, temperature: f64) -> Result<f64, FluidError> {
        match self {
            Medium::Substance(substance) => substance.bubble_pressure(temperature),
        }
    }

    /// Dew-point pressure at a temperature (K), Pa absolute.
    pub fn dew_pressure(&self, temperature: f64) -> Result<f64, FluidError> {
        match self {
            Medium::Substance(substance) => substance.dew_pressure(temperature),
        }
    }

    /// Bubble-point temperature at a pressure (Pa absolute), K.
    pub fn bubble_temperature(&self, pressure: f64) -> Result<f64, FluidError> {
        match self {
            Medium::Substance(substance) => substance.bubble_temperature(pressure),
        }
    }

    /// Dew-point temperature at a pressure (Pa absolute), K.
    pub fn dew_temperature(&self, pressure: f64) -> Result<f64, FluidError> {
        match self {
            Medium::Substance(substance) => substance.dew_temperature(pressure),
        }
    }

    /// Share of vapour by mass once a fluid of that enthalpy (J/kg) is at a lower pressure (Pa absolute); none where no
    /// table holds the enthalpy.
    pub fn vapour_share(&self, enthalpy: f64, pressure: f64) -> Option<f64> {
        match self {
            Medium::Substance(substance) => substance.vapour_share(enthalpy, pressure).ok(),
        }
    }
}
