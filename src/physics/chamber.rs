//! The control chamber above the main stage.

use super::cell::Cell;
use super::confined_gas::ConfinedGas;
use crate::dual::Real;

/// The chamber's filling.
#[derive(Clone, Debug)]
pub enum Filling {
    /// Liquid with trapped gas; the state is its content, m³.
    Liquid {
        /// Content against pressure.
        cell: Cell,
        /// Density, kg/m³.
        density: f64,
    },
    /// Gas; the states are its mass (kg) and internal energy (J).
    Gas(ConfinedGas),
}

/// What flows into and out of the chamber, and its motion.
#[derive(Clone, Copy, Debug)]
pub struct ChamberRates<T> {
    /// Bleed flow in, kg/s.
    pub inflow: T,
    /// Pilot flow out, kg/s.
    pub outflow: T,
    /// Growth of its volume dV_c/dt, m³/s.
    pub growth: T,
}

/// Rates of the chamber's states and its energy flows.
#[derive(Clone, Copy, Debug)]
pub struct ChamberBalance<T> {
    /// d(content or mass)/dt.
    pub content_rate: T,
    /// dU/dt, W (gas).
    pub energy_rate: T,
    /// Enthalpy flow in, W (gas).
    pub enthalpy_in: T,
    /// Enthalpy flow out, W (gas).
    pub enthalpy_out: T,
    /// Heat from the wall, W (gas).
    pub heat: T,
}

/// Pressure and density in the chamber.
#[derive(Clone, Copy, Debug)]
pub struct ChamberState<T> {
    /// Pressure p_c, Pa absolute.
    pub pressure: T,
    /// Density, kg/m³.
    pub density: T,
}

impl Filling {
    /// Pressure and density from content, energy and volume (m³).
    ///
    /// ```text
    /// liquid: p_c from the content, see Cell       gas: p_c from ρ = M/V_c and U/V_c, see ConfinedGas
    /// ```
    ///
    /// Source: [`Cell`]; [`ConfinedGas`].
    #[inline(always)]
    pub fn state<T: Real>(&self, content: T, energy: T, volume: T) -> ChamberState<T> {
        match self {
            Filling::Liquid { cell, density } => {
                ChamberState { pressure: cell.pressure(content), density: T::constant(*density) }
            }
            Filling::Gas(gas) => {
                let inverse = volume.recip();
                let density = content * inverse;
                ChamberState { pressure: gas.pressure(density, energy * inverse), density }
            }
        }
    }

    /// Balances of mass (or content) and energy.
    ///
    /// ```text
    /// liquid: ds/dt = (ṁ_b − ṁ_p)/ρ − dV_c/dt
    /// gas:    dM/dt = ṁ_b − ṁ_p    dU/dt = ṁ_b·h_in − ṁ_p·h_out − p_c·dV_c/dt + hA·(T_w − T_c),  h that of the side
    ///         that the flow comes from (perfect gas: c_p·T)
    /// ```
    ///
    /// The two limits of hA, 0 and ∞, are the adiabatic and the isothermal chamber.
    /// Source: continuity; first law for an open system (textbooks).
    #[inline(always)]
    pub fn balance<T: Real>(&self, rates: ChamberRates<T>, now: ChamberState<T>) -> ChamberBalance<T> {
        let zero = T::constant(0.0);
        match self {
            Filling::Liquid { density, .. } => ChamberBalance {
                content_rate: (rates.inflow - rates.outflow) * (1.0 / density) - rates.growth,
                energy_rate: zero,
                enthalpy_in: zero,
                enthalpy_out: zero,
                heat: zero,
            },
            Filling::Gas(gas) => {
                let now_heat = gas.heat(now.pressure, now.density);
                let from = |flow: T, ahead: T, behind: T| if flow.value() >= 0.0 { ahead } else { behind };
                let enthalpy_in = rates.inflow * from(rates.inflow, now_heat.entering, now_heat.own);
                let enthalpy_out = rates.outflow * from(rates.outflow, now_heat.own, now_heat.entering);
                let heat = (T::constant(gas.temperature) - now_heat.temperature) * gas.wall_conductance;
                ChamberBalance {
                    content_rate: rates.inflow - rates.outflow,
                    energy_rate: enthalpy_in - enthalpy_out - now.pressure * rates.growth + heat,
                    enthalpy_in,
                    enthalpy_out,
                    heat,
                }
            }
        }
    }
}
