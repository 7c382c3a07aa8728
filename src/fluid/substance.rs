//! A tabulated substance: saturation, liquid and gas.

use super::error::{FluidError, Quantity};
use super::state::{Aggregation, Flash, GasState, State};
use super::table::{Curve, Patch, Property, Table};
use crate::portable::Portable;

/// Lowest pressure of a fluid, Pa: the molecules of air then fly some 7 mm between two collisions (mean free path of the kinetic
/// theory of gases, k·T/(√2·π·d²·p) with d = 0.37 nm, from memory), as far as a valve is wide.
pub(super) const LOWEST_PRESSURE: f64 = 1.0;

/// A pure fluid or a blend whose properties are tabulated.
#[derive(Clone, Debug)]
pub struct Substance {
    pub(super) name: &'static str,
    pub(super) aliases: Vec<&'static str>,
    pub(super) table: Table,
}

/// A share of the table's density range by which a state may miss it: what rounding of a saturation pressure costs.
const EDGE: f64 = 1e-4;

impl Substance {
    /// Name, such as "R410A".
    pub fn name(&self) -> &'static str {
        self.name
    }

    /// Other names by which it is found.
    pub fn aliases(&self) -> &[&'static str] {
        &self.aliases
    }

    /// What it is: a common name or a composition.
    pub fn title(&self) -> &str {
        &self.table.head.title
    }

    /// Where its properties come from: library, and the keys of the literature of its equations there.
    pub fn source(&self) -> String {
        let head = &self.table.head;
        let model = if head.mixture { ", mixture model" } else { "" };
        format!("{}{model}: {}; viscosity: {}", head.library, head.equation, head.viscosity)
    }

    /// What is known to be less certain than the rest; empty where nothing is.
    pub fn remark(&self) -> &str {
        &self.table.head.remark
    }

    /// Molar mass, kg/mol.
    pub fn molar_mass(&self) -> f64 {
        self.table.head.molar_mass
    }

    /// Critical temperature, K.
    pub fn critical_temperature(&self) -> f64 {
        self.table.head.critical_temperature
    }

    /// Critical pressure, Pa absolute.
    pub fn critical_pressure(&self) -> f64 {
        self.table.head.critical_pressure
    }

    /// Highest pressure of the liquid's (a permanent gas's) table, Pa absolute.
    pub fn highest_pressure(&self) -> f64 {
        self.table.head.highest_pressure
    }

    /// Lowest and highest temperature of the liquid, K.
    pub fn liquid_range(&self) -> Option<(f64, f64)> {
        self.table.liquid.as_ref().map(|patch| (patch.scale.low, patch.scale.high))
    }

    /// Lowest and highest temperature of the gas, K.
    pub fn gas_range(&self) -> (f64, f64) {
        let ends =
            |patch: Option<&Patch>| patch.map_or((f64::NAN, f64::NAN), |patch| (patch.scale.low, patch.scale.high));
        (ends(self.table.gas.first()).0, ends(self.table.gas.last()).1)
    }

    /// Bubble-point pressure at a temperature, Pa absolute.
    pub fn bubble_pressure(&self, temperature: f64) -> Result<f64, FluidError> {
        self.saturated(self.curve(true)?, temperature)
    }

    /// Dew-point pressure at a temperature, Pa absolute.
    pub fn dew_pressure(&self, temperature: f64) -> Result<f64, FluidError> {
        self.saturated(self.curve(false)?, temperature)
    }

    /// Bubble-point temperature at a pressure (Pa absolute), K.
    pub fn bubble_temperature(&self, pressure: f64) -> Result<f64, FluidError> {
        self.boiling(self.curve(true)?, pressure)
    }

    /// Dew-point temperature at a pressure (Pa absolute), K.
    pub fn dew_temperature(&self, pressure: f64) -> Result<f64, FluidError> {
        self.boiling(self.curve(false)?, pressure)
    }

    /// Temperature glide at a pressure (Pa absolute), K: from the bubble point to the dew point.
    pub fn glide(&self, pressure: f64) -> Result<f64, FluidError> {
        Ok(self.dew_temperature(pressure)? - self.bubble_temperature(pressure)?)
    }

    fn curve(&self, bubble: bool) -> Result<&Curve, FluidError> {
        match &self.table.saturation {
            Some((first, second)) => Ok(if bubble { first } else { second }),
            None => Err(FluidError::NeverSaturated {
                fluid: self.name,
                critical_temperature: self.critical_temperature(),
                coldest: self.gas_range().0,
            }),
        }
    }

    fn saturated(&self, curve: &Curve, temperature: f64) -> Result<f64, FluidError> {
        if !curve.scale.holds(temperature) {
            return Err(self.outside_saturation(curve, temperature));
        }
        Ok(curve.at(temperature))
    }

    fn outside_saturation(&self, curve: &Curve, temperature: f64) -> FluidError {
        let critical = self.critical_temperature();
        if temperature > curve.scale.high && curve.scale.high > 0.9 * critical {
            return FluidError::NearCritical { fluid: self.name, temperature, highest: curve.scale.high, critical };
        }
        let range = (curve.scale.low, curve.scale.high);
        FluidError::Outside { fluid: self.name, what: Quantity::SaturationTemperature, value: temperature, range }
    }

    /// The temperature at which a rising curve takes a value.
    fn boiling(&self, curve: &Curve, pressure: f64) -> Result<f64, FluidError> {
        let (low, high) = (curve.scale.low, curve.scale.high);
        let range = (curve.at(low), curve.at(high));
        let inside = pressure >= range.0 * (1.0 - 1e-9) && pressure <= range.1 * (1.0 + 1e-9);
        if !inside {
            return Err(FluidError::Outside {
                fluid: self.name,
                what: Quantity::SaturationPressure,
                value: pressure,
                range,
            });
        }
        Ok(root(low, high, |temperature| (curve.at(temperature) / pressure).logarithm()))
    }

    /// The state at a temperature (K) and pressure (Pa absolute), liquid or gas as saturation has it.
    pub fn state(&self, temperature: f64, pressure: f64) -> Result<State, FluidError> {
        let Some((bubble, dew)) = &self.table.saturation else {
            return self.gas(temperature, pressure);
        };
        if !bubble.scale.holds(temperature) && !dew.scale.holds(temperature) {
            let (gas, liquid) = (self.gas_range(), self.liquid_range().unwrap_or((f64::INFINITY, f64::NEG_INFINITY)));
            self.within(gas.0.min(liquid.0), gas.1.max(liquid.1), temperature)?;
            return self.gas(temperature, pressure);
        }
        // Saturated to nine digits is the liquid's or the vapour's own state.
        let at = |curve: &Curve| curve.scale.holds(temperature).then(|| curve.at(temperature));
        if at(bubble).is_some_and(|boiling| pressure >= boiling * (1.0 - 1e-9)) {
            return self.liquid(temperature, pressure);
        }
        if at(dew).is_some_and(|dew| pressure <= dew * (1.0 + 1e-9)) {
            return self.gas(temperature, pressure);
        }
        match (at(bubble), at(dew)) {
            (Some(bubble), Some(dew)) => {
                Err(FluidError::TwoPhase { fluid: self.name, temperature, pressure, bubble, dew })
            }
            _ => self.gas(temperature, pressure),
        }
    }

    /// The liquid at a temperature (K) and pressure (Pa absolute), at or above its bubble point.
    pub fn liquid(&self, temperature: f64, pressure: f64) -> Result<State, FluidError> {
        let Some(patch) = &self.table.liquid else {
            return Err(FluidError::NeverSaturated {
                fluid: self.name,
                critical_temperature: self.critical_temperature(),
                coldest: self.gas_range().0,
            });
        };
        self.within(patch.scale.low, patch.scale.high, temperature)?;
        let bubble = self.bubble_pressure(temperature)?;
        if pressure < bubble * (1.0 - 1e-9) {
            return Err(FluidError::Boils { fluid: self.name, temperature, pressure, bubble });
        }
        let highest = self.highest_pressure();
        if pressure > highest * (1.0 + 1e-9) {
            let (what, range) = (Quantity::Pressure, (bubble, highest));
            return Err(FluidError::Outside { fluid: self.name, what, value: pressure, range });
        }
        let value = |property, share| patch.value(property, temperature, share);
        let excess = |share: f64| value(Property::Pressure, share).unwrap_or(f64::NAN) - pressure;
        let share = root(-EDGE, 1.0 + EDGE, excess);
        let needed = |property| value(property, share).unwrap_or(f64::NAN);
        Ok(State {
            aggregation: Aggregation::Liquid,
            temperature,
            pressure,
            density: between(patch.densities(temperature), share),
            sound_speed: needed(Property::SoundSpeed),
            viscosity: needed(Property::Viscosity),
            critical_pressure: self.critical_pressure(),
            bubble_pressure: Some(bubble),
            dew_pressure: self.dew_pressure(temperature).ok(),
            enthalpy: value(Property::Enthalpy, share),
            heat_capacity: value(Property::HeatCapacity, share),
            gas: None,
        })
    }

    /// The gas at a temperature (K) and pressure (Pa absolute), at or below its dew point.
    pub fn gas(&self, temperature: f64, pressure: f64) -> Result<State, FluidError> {
        let (coldest, hottest) = self.gas_range();
        self.within(coldest, hottest, temperature)?;
        if pressure.is_nan() || pressure < LOWEST_PRESSURE {
            let (what, range) = (Quantity::Pressure, (LOWEST_PRESSURE, self.highest_pressure()));
            return Err(FluidError::Outside { fluid: self.name, what, value: pressure, range });
        }
        let patch = self.table.gas.iter().find(|patch| patch.scale.holds(temperature));
        let patch = patch.ok_or(FluidError::Outside {
            fluid: self.name,
            what: Quantity::Temperature,
            value: temperature,
            range: (coldest, hottest),
        })?;
        let (_, most) = patch.densities(temperature);
        let value = |property, share| patch.value(property, temperature, share);
        let law = self.table.head.gas_constant * temperature;
        let at = |share: f64| value(Property::Compressibility, share).unwrap_or(f64::NAN) * share * most * law;
        let dew = self.dew_pressure(temperature).ok();
        if let Some(dew) = dew.filter(|dew| pressure > dew * (1.0 + 1e-9)) {
            return Err(FluidError::Condenses { fluid: self.name, temperature, pressure, dew });
        }
        let highest = at(1.0 + EDGE);
        if pressure > highest {
            return Err(self.too_dense(temperature, pressure, highest));
        }
        let share = root(0.0, 1.0 + EDGE, |share| at(share) - pressure);
        let needed = |property| value(property, share).unwrap_or(f64::NAN);
        let compressibility = needed(Property::Compressibility);
        Ok(State {
            aggregation: Aggregation::Gas,
            temperature,
            pressure,
            density: share * most,
            sound_speed: needed(Property::SoundSpeed),
            viscosity: needed(Property::Viscosity),
            critical_pressure: self.critical_pressure(),
            bubble_pressure: self.bubble_pressure(temperature).ok(),
            dew_pressure: dew,
            enthalpy: value(Property::Enthalpy, share),
            heat_capacity: value(Property::HeatCapacity, share),
            gas: Some(GasState {
                compressibility,
                isochoric_heat_capacity: needed(Property::IsochoricHeatCapacity),
                critical_ratio: needed(Property::CriticalRatio),
                flow_factor: needed(Property::FlowFactor),
            }),
        })
    }

    fn within(&self, low: f64, high: f64, temperature: f64) -> Result<(), FluidError> {
        if temperature >= low - 1e-9 && temperature <= high + 1e-9 {
            return Ok(());
        }
        let critical = self.critical_temperature();
        if temperature > high && temperature < 1.15 * critical && high > 0.9 * critical && high < critical {
            return Err(FluidError::NearCritical { fluid: self.name, temperature, highest: high, critical });
        }
        Err(FluidError::Outside {
            fluid: self.name,
            what: Quantity::Temperature,
            value: temperature,
            range: (low, high),
        })
    }

    fn too_dense(&self, temperature: f64, pressure: f64, highest: f64) -> FluidError {
        if self.table.saturation.is_none() {
            let (what, range) = (Quantity::Pressure, (0.0, highest));
            return FluidError::Outside { fluid: self.name, what, value: pressure, range };
        }
        FluidError::TooDense {
            fluid: self.name,
            temperature,
            pressure,
            highest,
            critical_temperature: self.critical_temperature(),
            critical_pressure: self.critical_pressure(),
        }
    }

    /// The dry gas of that enthalpy (J/kg) at a pressure (Pa absolute): throttling keeps the enthalpy. Where some of it would
    /// condense, the vapour at its dew point; none beyond the tables.
    pub fn throttled(&self, enthalpy: f64, pressure: f64) -> Option<State> {
        let (coldest, hottest) = self.gas_range();
        let low = self.dew_temperature(pressure).map_or(coldest, |dew| dew.max(coldest));
        let excess = |temperature: f64| Some(self.gas(temperature, pressure).ok()?.enthalpy? - enthalpy);
        if excess(low)? >= 0.0 {
            return self.gas(low, pressure).ok();
        }
        if excess(hottest)? < 0.0 {
            return None;
        }
        self.gas(root(low, hottest, |temperature| excess(temperature).unwrap_or(f64::NAN)), pressure).ok()
    }

    /// Vapour once a liquid or gas of that enthalpy (J/kg) is at a lower pressure (Pa absolute).
    ///
    /// ```text
    /// x = (h − h'(p))/(h''(p) − h'(p))        α = (x/ρ'')/(x/ρ'' + (1 − x)/ρ')
    /// ```
    ///
    /// x by mass, α by volume where both phases move alike; liquid at its bubble point, vapour at its dew point. For a blend of
    /// several kelvin of glide this is a straight line through a slightly curved relation.
    /// Source: energy balance of a throttle (textbooks).
    pub fn flash(&self, enthalpy: f64, pressure: f64) -> Result<Flash, FluidError> {
        let liquid = self.liquid(self.bubble_temperature(pressure)?, pressure)?;
        let vapour = self.gas(self.dew_temperature(pressure)?, pressure)?;
        let of = |state: &State| state.enthalpy.unwrap_or(f64::NAN);
        let by_mass = ((enthalpy - of(&liquid)) / (of(&vapour) - of(&liquid))).clamp(0.0, 1.0);
        let (thin, thick) = (by_mass / vapour.density, (1.0 - by_mass) / liquid.density);
        Ok(Flash { by_mass, by_volume: thin / (thin + thick) })
    }
}

fn between((low, high): (f64, f64), share: f64) -> f64 {
    low + share * (high - low)
}

/// Root of a rising function between two ends, by regula falsi with the Illinois rule; an end where it lies beyond.
/// Source: M. Dowell and P. Jarratt, BIT 11 (1971) 168-174 (from memory).
fn root(mut low: f64, mut high: f64, function: impl Fn(f64) -> f64) -> f64 {
    let (mut below, mut above) = (function(low), function(high));
    if below >= 0.0 {
        return low;
    }
    if above <= 0.0 {
        return high;
    }
    let (mut kept, mut last) = (0, f64::NAN);
    for _ in 0..100 {
        let middle = (low * above - high * below) / (above - below);
        let value = function(middle);
        if value == 0.0 || (middle - last).abs() <= 2.0 * f64::EPSILON * middle.abs() {
            return middle;
        }
        last = middle;
        if value < 0.0 {
            (low, below) = (middle, value);
            above *= if kept == 1 { 0.5 } else { 1.0 };
            kept = 1;
        } else {
            (high, above) = (middle, value);
            below *= if kept == -1 { 0.5 } else { 1.0 };
            kept = -1;
        }
    }
    0.5 * (low + high)
}
