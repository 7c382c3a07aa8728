//! A fluid at one state.

use crate::physics::fluid::{Gas, Liquid};
use crate::portable::Portable;

/// Liquid or gas.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aggregation {
    /// Liquid.
    Liquid,
    /// Gas or vapour.
    Gas,
}

/// Properties of a fluid at one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// Liquid or gas.
    pub aggregation: Aggregation,
    /// Temperature, K.
    pub temperature: f64,
    /// Pressure, Pa absolute.
    pub pressure: f64,
    /// Density ρ, kg/m³.
    pub density: f64,
    /// Sound speed in the unconfined fluid a, m/s.
    pub sound_speed: f64,
    /// Dynamic viscosity μ, Pa·s.
    pub viscosity: f64,
    /// Critical pressure, Pa absolute.
    pub critical_pressure: f64,
    /// Vapour (bubble-point) pressure at this temperature, Pa absolute; none far above the critical temperature.
    pub bubble_pressure: Option<f64>,
    /// Dew-point pressure at this temperature, Pa absolute; equal to the bubble point's for a pure fluid.
    pub dew_pressure: Option<f64>,
    /// Specific enthalpy against the library's own zero, J/kg; none where no table holds it.
    pub enthalpy: Option<f64>,
    /// Specific heat capacity at constant pressure, J/(kg·K); none where no table holds it.
    pub heat_capacity: Option<f64>,
    /// What only a gas has.
    pub gas: Option<GasState>,
}

/// How much of a throttled fluid is vapour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flash {
    /// Share by mass.
    pub by_mass: f64,
    /// Share by volume.
    pub by_volume: f64,
}

/// What only a gas has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GasState {
    /// Compressibility factor Z = p/(ρRT) with the gas constant of the substance.
    pub compressibility: f64,
    /// Specific heat capacity at constant volume, J/(kg·K).
    pub isochoric_heat_capacity: f64,
    /// Critical pressure ratio r* of the isentropic expansion of the real gas, vapour staying vapour.
    pub critical_ratio: f64,
    /// Critical flow factor Ψ = G*/√(p·ρ) of the same expansion, G* the choked mass flow per area.
    pub flow_factor: f64,
}

impl State {
    /// Bulk modulus K = ρ·a², Pa.
    pub fn bulk_modulus(&self) -> f64 {
        self.density * self.sound_speed.to_the(2)
    }

    /// Exponent of small isentropic changes of the real fluid κ = ρ·a²/p: the perfect gas's c_p/c_v, but not the real one's.
    pub fn isentropic_exponent(&self) -> f64 {
        self.bulk_modulus() / self.pressure
    }

    /// The liquid as the physics takes it; one that cannot boil in the model's range has no vapour pressure.
    pub fn liquid(&self) -> Liquid {
        Liquid {
            density: self.density,
            sound_speed: self.sound_speed,
            viscosity: self.viscosity,
            vapour_pressure: self.bubble_pressure.unwrap_or(0.0),
            critical_pressure: self.critical_pressure,
        }
    }

    /// The gas as the physics takes it: density, sound speed, heat capacities and choking are those of the real gas at this
    /// state; none for a liquid.
    pub fn real_gas(&self) -> Option<Gas> {
        let (gas, heat_capacity) = (self.gas?, self.heat_capacity?);
        Some(Gas {
            gas_constant: self.pressure / (self.density * self.temperature),
            isentropic_exponent: self.isentropic_exponent(),
            temperature: self.temperature,
            viscosity: self.viscosity,
            critical_pressure_ratio: gas.critical_ratio,
            critical_flow_factor: gas.flow_factor,
            heat_capacity_ratio: heat_capacity / gas.isochoric_heat_capacity,
            isobaric_heat_capacity: heat_capacity,
        })
    }
}
