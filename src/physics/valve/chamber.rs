//! The control chamber above the main stage.

use super::cell::{Cell, Near};
use super::confined_gas::ConfinedGas;
use super::passage::{Nozzle, Upstream};
use crate::dual::Real;
use crate::physics::fluid::{Fluid, Phase};
use crate::physics::parts::Chamber;
use crate::portable::Portable;

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
    /// Leak flow past the piston in, kg/s.
    pub leak: T,
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
    /// Enthalpy flow in through the bleed, W (gas).
    pub enthalpy_in: T,
    /// Enthalpy flow in past the piston, W (gas).
    pub enthalpy_leaked: T,
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

/// The chamber with its filling.
#[derive(Clone, Debug)]
pub struct InstalledChamber {
    /// The part.
    pub part: Chamber,
    /// What fills it.
    pub filling: Filling,
}

impl InstalledChamber {
    /// The chamber in a fluid at the supply's pressure (Pa absolute); its compliance is that of the liquid in the shut chamber.
    pub fn new(part: &Chamber, fluid: &Fluid, pressure: f64) -> Self {
        let filling = match &fluid.phase {
            Phase::Liquid(l) => Filling::Liquid {
                cell: Cell::new(
                    part.volume / (l.density * l.sound_speed.to_the(2)),
                    pressure,
                    l.vapour_pressure,
                    part.trapped_gas,
                    part.trapped_gas_pressure,
                    part.polytropic_exponent,
                ),
                density: l.density,
            },
            Phase::Gas(g) => Filling::Gas(ConfinedGas::new(g, pressure, part.wall_conductance)),
        };
        InstalledChamber { part: part.clone(), filling }
    }

    /// Mass (kg) that it holds at a content and a volume (m³). Source: definition of the content.
    pub fn mass(&self, content: f64, volume: f64) -> f64 {
        match &self.filling {
            Filling::Liquid { density, .. } => density * (content + volume),
            Filling::Gas(_) => content,
        }
    }

    /// Usual sizes of its content and energy where pressure changes by `drop` about `pressure` (Pa), at that density (kg/m³).
    pub fn scales(&self, pressure: f64, drop: f64, density: f64) -> [f64; 2] {
        match &self.filling {
            Filling::Liquid { cell, .. } => [drop / cell.pressure_slope(cell.content(pressure)), f64::INFINITY],
            Filling::Gas(gas) => {
                [0.1 * self.part.volume * density, drop * self.part.volume * gas.energy_per_pressure()]
            }
        }
    }
}

impl Filling {
    /// A place to look from, for one who is going to ask again and again; a gas needs none.
    pub fn near(&self) -> Near {
        match self {
            Filling::Liquid { cell, .. } => cell.near(),
            Filling::Gas(_) => Near::anywhere(),
        }
    }

    /// Look for pressures from `pressure` (Pa absolute) on, where nothing nearer is known.
    pub fn look_from(&mut self, pressure: f64) {
        match self {
            Filling::Liquid { cell, .. } => cell.look_from(pressure),
            Filling::Gas(_) => {}
        }
    }

    /// Content and energy at that pressure (Pa absolute) in a volume (m³), a gas at its wall's temperature.
    pub fn fill(&self, pressure: f64, volume: f64) -> [f64; 2] {
        match self {
            Filling::Liquid { cell, .. } => [cell.content(pressure), 0.0],
            Filling::Gas(gas) => gas.fill(pressure, volume),
        }
    }

    /// Density at that pressure (Pa absolute), a gas at its wall's temperature, kg/m³.
    pub fn density(&self, pressure: f64) -> f64 {
        match self {
            Filling::Liquid { density, .. } => *density,
            Filling::Gas(gas) => gas.density(pressure),
        }
    }

    /// The fluid that flows through a passage between the chamber and a place at the pressure `outside` (Pa absolute), out of the
    /// chamber or into it.
    #[inline(always)]
    pub fn upstream<T: Real>(&self, out: bool, chamber: ChamberState<T>, outside: T) -> Upstream<T> {
        match self {
            Filling::Liquid { density, .. } => Upstream { density: T::constant(*density), nozzle: None },
            Filling::Gas(gas) => {
                let (density, pressure_ratio) = if out {
                    (chamber.density, outside * chamber.pressure.recip())
                } else {
                    (outside * gas.density_per_pressure, chamber.pressure * outside.recip())
                };
                Upstream { density, nozzle: Some(Nozzle { pressure_ratio, expansion: gas.expansion }) }
            }
        }
    }

    /// Pressure and density from content, energy and volume (m³).
    ///
    /// ```text
    /// liquid: p_c from the content, see Cell       gas: p_c from ρ = M/V_c and U/V_c, see ConfinedGas
    /// ```
    ///
    /// Source: [`Cell`]; [`ConfinedGas`].
    #[inline(always)]
    pub fn state<T: Real>(&self, content: T, energy: T, volume: T) -> ChamberState<T> {
        self.state_near(content, energy, volume, &self.near())
    }

    /// The same, looked for where the last answer was.
    #[inline(always)]
    pub fn state_near<T: Real>(&self, content: T, energy: T, volume: T, near: &Near) -> ChamberState<T> {
        match self {
            Filling::Liquid { cell, density } => {
                ChamberState { pressure: cell.pressure_near(content, near), density: T::constant(*density) }
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
    /// liquid: ds/dt = (ṁ_b + ṁ_l − ṁ_p)/ρ − dV_c/dt
    /// gas:    dM/dt = ṁ_b + ṁ_l − ṁ_p    dU/dt = (ṁ_b + ṁ_l)·h_in − ṁ_p·h_out − p_c·dV_c/dt + hA·(T_w − T_c),  h that of the side
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
                content_rate: (rates.inflow + rates.leak - rates.outflow) * (1.0 / density) - rates.growth,
                energy_rate: zero,
                enthalpy_in: zero,
                enthalpy_leaked: zero,
                enthalpy_out: zero,
                heat: zero,
            },
            Filling::Gas(gas) => {
                let now_heat = gas.heat(now.pressure, now.density);
                let from = |flow: T, ahead: T, behind: T| if flow.value() >= 0.0 { ahead } else { behind };
                let enthalpy_in = rates.inflow * from(rates.inflow, now_heat.entering, now_heat.own);
                let enthalpy_leaked = rates.leak * from(rates.leak, now_heat.entering, now_heat.own);
                let enthalpy_out = rates.outflow * from(rates.outflow, now_heat.own, now_heat.entering);
                let heat = (T::constant(gas.temperature) - now_heat.temperature) * gas.wall_conductance;
                ChamberBalance {
                    content_rate: rates.inflow + rates.leak - rates.outflow,
                    energy_rate: enthalpy_in + enthalpy_leaked - enthalpy_out - now.pressure * rates.growth + heat,
                    enthalpy_in,
                    enthalpy_leaked,
                    enthalpy_out,
                    heat,
                }
            }
        }
    }
}
