//! A fluid that has been found, whatever kind of table it has.

use super::error::FluidError;
use super::library::find;
use super::oil::{self, Oil};
use super::solution::{self, Concentration, Solution};
use super::state::{Aggregation, Flash, State};
use super::substance::Substance;
use std::fmt;

/// A fluid that has been found, with its concentration where it has one.
#[derive(Clone, Copy)]
pub enum Medium {
    /// A pure fluid or a blend.
    Substance(&'static Substance),
    /// A solution with its mass fraction.
    Solution(&'static Solution, f64),
    /// A mineral oil.
    Oil(&'static Oil),
}

impl fmt::Debug for Medium {
    /// The name: the tables behind it would fill pages.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "Medium({:?})", self.name())
    }
}

impl PartialEq for Medium {
    fn eq(&self, other: &Medium) -> bool {
        self.name() == other.name()
    }
}

impl Medium {
    /// The fluid of that name or alias; the concentration of a solution is a share by mass or by volume.
    pub fn find(name: &str, mass: Option<f64>, volume: Option<f64>) -> Result<Medium, FluidError> {
        if let Some(solution) = solution::find(name) {
            let fluid = solution.name;
            let concentration = match (mass, volume) {
                (Some(share), None) => Concentration::ByMass(share),
                (None, Some(share)) => Concentration::ByVolume(share),
                (None, None) => return Err(FluidError::NeedsConcentration { fluid }),
                (Some(_), Some(_)) => return Err(FluidError::TwoConcentrations { fluid }),
            };
            return Ok(Medium::Solution(solution, solution.mass_fraction(concentration)));
        }
        let medium = match oil::find(name) {
            Some(oil) => Medium::Oil(oil),
            None => Medium::Substance(find(name)?),
        };
        match mass.or(volume) {
            None => Ok(medium),
            Some(_) => Err(FluidError::NoSolution { fluid: medium.short_name() }),
        }
    }

    fn short_name(&self) -> &'static str {
        match self {
            Medium::Substance(substance) => substance.name(),
            Medium::Solution(solution, _) => solution.name,
            Medium::Oil(oil) => oil.name,
        }
    }

    /// Name, with the concentration where there is one.
    pub fn name(&self) -> String {
        match self {
            Medium::Solution(solution, share) => {
                format!("{} % by mass {}", (1e4 * share).round() / 100.0, solution.full_name)
            }
            other => other.short_name().to_owned(),
        }
    }

    /// Is it tabulated as liquid and as vapour, with saturation between them?
    pub fn condenses(&self) -> bool {
        self.saturable().is_ok_and(|substance| substance.liquid_range().is_some())
    }

    /// Where its properties come from.
    pub fn source(&self) -> String {
        match self {
            Medium::Substance(substance) => substance.source(),
            Medium::Solution(solution, _) => solution.source().to_owned(),
            Medium::Oil(oil) => oil.source().to_owned(),
        }
    }

    /// How far off the properties may be, where that is more than a few tenths of a per cent.
    pub fn uncertainty(&self) -> Option<&'static str> {
        match self {
            Medium::Substance(substance) => Some(substance.remark()).filter(|remark| !remark.is_empty()),
            Medium::Solution(solution, _) => Some(solution.uncertainty()),
            Medium::Oil(oil) => Some(oil.uncertainty()),
        }
    }

    /// What is to be kept in mind with it.
    pub fn caution(&self) -> Option<&'static str> {
        matches!(self, Medium::Oil(_)).then_some(oil::CAUTION)
    }

    /// The state at a temperature (K) and pressure (Pa absolute).
    pub fn state(&self, temperature: f64, pressure: f64) -> Result<State, FluidError> {
        match self {
            Medium::Substance(substance) => substance.state(temperature, pressure),
            Medium::Solution(solution, share) => {
                let found = solution.liquid(*share, temperature, pressure)?;
                let liquid = (found.density, found.sound_speed, found.viscosity);
                Ok(plain_liquid((temperature, pressure), liquid, found.vapour_pressure, found.critical_pressure))
            }
            Medium::Oil(oil) => {
                let found = oil.liquid(temperature, pressure)?;
                let liquid = (found.density, found.sound_speed, found.viscosity);
                Ok(plain_liquid((temperature, pressure), liquid, found.vapour_pressure, found.critical_pressure))
            }
        }
    }

    /// The same with its phase given, which decides at saturation.
    pub fn state_of(&self, phase: Aggregation, temperature: f64, pressure: f64) -> Result<State, FluidError> {
        match (self, phase) {
            (Medium::Substance(substance), Aggregation::Liquid) => substance.liquid(temperature, pressure),
            (Medium::Substance(substance), Aggregation::Gas) => substance.gas(temperature, pressure),
            _ => self.state(temperature, pressure),
        }
    }

    /// Bubble-point pressure at a temperature (K), Pa absolute.
    pub fn bubble_pressure(&self, temperature: f64) -> Result<f64, FluidError> {
        match self {
            Medium::Substance(substance) => substance.bubble_pressure(temperature),
            Medium::Solution(solution, share) => Ok(solution.vapour_pressure(*share, temperature)),
            Medium::Oil(_) => Ok(oil::VAPOUR_PRESSURE),
        }
    }

    /// Dew-point pressure at a temperature (K), Pa absolute.
    pub fn dew_pressure(&self, temperature: f64) -> Result<f64, FluidError> {
        self.saturable()?.dew_pressure(temperature)
    }

    /// Bubble-point temperature at a pressure (Pa absolute), K.
    pub fn bubble_temperature(&self, pressure: f64) -> Result<f64, FluidError> {
        self.saturable()?.bubble_temperature(pressure)
    }

    /// Dew-point temperature at a pressure (Pa absolute), K.
    pub fn dew_temperature(&self, pressure: f64) -> Result<f64, FluidError> {
        self.saturable()?.dew_temperature(pressure)
    }

    /// Vapour once a fluid of that enthalpy (J/kg) is at a lower pressure (Pa absolute); none where no table holds it.
    pub fn flash(&self, enthalpy: f64, pressure: f64) -> Option<Flash> {
        self.saturable().ok()?.flash(enthalpy, pressure).ok()
    }

    /// The dry gas of that enthalpy (J/kg) at a lower pressure (Pa absolute), at its dew point where some of it would condense;
    /// none where no table holds it.
    pub fn throttled(&self, enthalpy: f64, pressure: f64) -> Option<State> {
        self.saturable().ok()?.throttled(enthalpy, pressure)
    }

    fn saturable(&self) -> Result<&'static Substance, FluidError> {
        match self {
            Medium::Substance(substance) => Ok(substance),
            other => Err(FluidError::NoSaturation { fluid: other.short_name() }),
        }
    }
}

/// A liquid of which only this is known; `liquid` is its density, sound speed and viscosity.
fn plain_liquid(
    (temperature, pressure): (f64, f64),
    (density, sound_speed, viscosity): (f64, f64, f64),
    vapour_pressure: f64,
    critical_pressure: f64,
) -> State {
    State {
        aggregation: Aggregation::Liquid,
        temperature,
        pressure,
        density,
        sound_speed,
        viscosity,
        critical_pressure,
        bubble_pressure: Some(vapour_pressure),
        dew_pressure: None,
        enthalpy: None,
        heat_capacity: None,
        gas: None,
    }
}
