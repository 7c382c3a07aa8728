//! Gas held in a vessel: its pressure and temperature from mass and internal energy.

use crate::dual::Real;
use crate::physics::expansion::Expansion;
use crate::physics::fluid::Gas;

/// A gas, real or perfect, in a vessel with a wall at one temperature.
///
/// ```text
/// p = ρ·(R_0 + c·ρ)·T − d·ρ²            e = c_v·T − d·ρ            h = e + p/ρ
/// ```
///
/// R_0 gas constant at no density; c, d what crowding and attraction of the molecules add; c_v isochoric heat capacity. Pressure
/// and energy belong together: ρ²·(∂e/∂ρ)_T = p − T·(∂p/∂T)_ρ, so that the first law closes and no cycle creates work.
/// The constants follow from the gas at one state (p, ρ, T) with its adiabatic stiffness κ·p, its heat capacities c_p and
/// c_v = c_p/γ and the isothermal stiffness κ·p/γ that these imply:
///
/// ```text
/// x = R_0/R' = 2 − κ/γ     y = c·ρ/R' = λ − x     d·ρ²/p = λ − 1      R' = p/(ρ·T)
/// λ = (T/p)·(∂p/∂T)_ρ = √((γ − 1)·κ·c_p/R')/γ
/// ```
///
/// A vessel then has both stiffnesses and the thermal time M·c_v/(h·A) of the real gas, whether κ is above, at or below 1;
/// nothing is singular there. A perfect gas has x = 1, y = 0, λ = 1 for every state.
///
/// A law of constant κ with heat entering by κ − 1, as for a perfect gas, would not do: below 1 the wall's heat would
/// drive motion instead of damping it (pressure would rise above κ·p in slow compression, which no passive vessel does).
///
/// Valid for a dry gas. Against isentropes of R134a (40 °C, 8 bar) and R290 (40 °C, 12 bar) from CoolProp 8.0.0, pressure at
/// equal density is within 0.9 % down to half of it and 2.6 % down to a quarter; along isotherms within 0.4 %.
/// Source: virial equation of state cut after its second term, with a second coefficient linear in 1/T (J. D. van der
/// Waals's form at low density; textbooks); λ from c_p − c_v = T·(∂p/∂T)_ρ²/(ρ²·(∂p/∂ρ)_T) (textbooks); the fit: own derivation.
#[derive(Clone, Debug, PartialEq)]
pub struct ConfinedGas {
    /// Temperature T_w of wall and supply, K.
    pub temperature: f64,
    /// Wall heat conductance h·A, W/K.
    pub wall_conductance: f64,
    /// Density per pressure of the gas outside at T_w, 1/(R'·T_w), kg/(m³·Pa).
    pub density_per_pressure: f64,
    /// Its expansion in a nozzle.
    pub expansion: Expansion,
    /// R_0, J/(kg·K).
    thin_gas_constant: f64,
    /// c, J·m³/(kg²·K).
    crowding: f64,
    /// d, J·m³/kg².
    attraction: f64,
    /// c_v, J/(kg·K).
    isochoric_heat_capacity: f64,
    /// c_p, J/(kg·K).
    isobaric_heat_capacity: f64,
    /// dU/dp of a vessel of unit volume at the stated state, 1/Γ with Grüneisen's Γ.
    energy_per_pressure: f64,
}

/// Temperature (K) and specific enthalpy (J/kg) of a gas.
#[derive(Clone, Copy, Debug)]
pub struct GasHeat<T> {
    /// Temperature.
    pub temperature: T,
    /// Enthalpy of what leaves the vessel.
    pub own: T,
    /// Enthalpy of what enters it at the wall's temperature.
    pub entering: T,
}

impl ConfinedGas {
    /// The gas as stated at `pressure` (Pa absolute) and its own temperature, with a wall of that conductance (W/K).
    pub fn new(gas: &Gas, pressure: f64, wall_conductance: f64) -> Self {
        let (kappa, gamma, c_p) = (gas.isentropic_exponent, gas.heat_capacity_ratio, gas.isobaric_heat_capacity);
        let (constant, temperature) = (gas.gas_constant, gas.temperature);
        let density = pressure / (constant * temperature);
        let x = 2.0 - kappa / gamma;
        let lambda = ((gamma - 1.0) * kappa * c_p / constant).sqrt() / gamma;
        ConfinedGas {
            temperature,
            wall_conductance,
            density_per_pressure: 1.0 / (constant * temperature),
            expansion: gas.expansion(),
            thin_gas_constant: x * constant,
            crowding: (lambda - x) * constant / density,
            attraction: (lambda - 1.0) * pressure / (density * density),
            isochoric_heat_capacity: c_p / gamma,
            isobaric_heat_capacity: c_p,
            energy_per_pressure: c_p / (gamma * lambda * constant),
        }
    }

    /// Change of a vessel's energy per change of pressure, per volume: 1/Γ, without unit. Source: definition.
    pub fn energy_per_pressure(&self) -> f64 {
        self.energy_per_pressure
    }

    /// Pressure (Pa absolute) from density ρ (kg/m³) and energy per volume u (J/m³).
    ///
    /// ```text
    /// p = (R_0 + c·ρ)·(u + d·ρ²)/c_v − d·ρ²
    /// ```
    ///
    /// Source: [`ConfinedGas`], solved for T = (u/ρ + d·ρ)/c_v.
    #[inline(always)]
    pub fn pressure<T: Real>(&self, density: T, energy_density: T) -> T {
        let attracted = density.square() * self.attraction;
        let per_heat = density * (self.crowding / self.isochoric_heat_capacity)
            + self.thin_gas_constant / self.isochoric_heat_capacity;
        per_heat * (energy_density + attracted) - attracted
    }

    /// Temperature and enthalpies at that pressure and density.
    ///
    /// ```text
    /// T = (p + d·ρ²)/(ρ·(R_0 + c·ρ))     h = c_v·T − d·ρ + p/ρ     entering: h + c_p·(T_w − T)
    /// ```
    ///
    /// A stream is taken to enter at the wall's temperature and the vessel's pressure. That is exact for a perfect gas; a real
    /// one would have been cooled by its throttling (R134a some 2 K per bar), which is left out here as it is in the lines.
    /// Source: [`ConfinedGas`]; definition of c_p.
    #[inline(always)]
    pub fn heat<T: Real>(&self, pressure: T, density: T) -> GasHeat<T> {
        let constant = density * self.crowding + self.thin_gas_constant;
        let inverse = (density * constant).recip();
        let temperature = (pressure + density.square() * self.attraction) * inverse;
        let own =
            temperature * self.isochoric_heat_capacity - density * self.attraction + pressure * constant * inverse;
        let entering = own - (temperature - self.temperature) * self.isobaric_heat_capacity;
        GasHeat { temperature, own, entering }
    }

    /// Density (kg/m³) at that pressure (Pa absolute) and the wall's temperature: the lesser root of p = R_0·T·ρ − (d − c·T)·ρ².
    ///
    /// Where a vapour so compressed has no such state (it would condense), the density of its highest pressure.
    pub fn density(&self, pressure: f64) -> f64 {
        let a = self.thin_gas_constant * self.temperature;
        let b = self.attraction - self.crowding * self.temperature;
        2.0 * pressure / (a + (a * a - 4.0 * b * pressure).max(0.0).sqrt())
    }

    /// Internal energy per volume (J/m³) at that pressure and density. Source: [`ConfinedGas`].
    pub fn energy_density(&self, pressure: f64, density: f64) -> f64 {
        let attracted = self.attraction * density * density;
        let constant = self.thin_gas_constant + self.crowding * density;
        self.isochoric_heat_capacity * (pressure + attracted) / constant - attracted
    }

    /// Mass (kg) and internal energy (J) in a volume (m³) at that pressure (Pa absolute) and the wall's temperature.
    pub fn fill(&self, pressure: f64, volume: f64) -> [f64; 2] {
        let density = self.density(pressure);
        [density * volume, self.energy_density(pressure, density) * volume]
    }
}
