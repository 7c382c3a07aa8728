//! The fluid at the state in which the valve meets it.

use super::expansion::Expansion;

/// A liquid, taken as slightly compressible about one density.
#[derive(Clone, Debug, PartialEq)]
pub struct Liquid {
    /// Density ρ, kg/m³.
    pub density: f64,
    /// Sound speed in the unconfined liquid a_0, m/s.
    pub sound_speed: f64,
    /// Dynamic viscosity μ, Pa·s.
    pub viscosity: f64,
    /// Vapour (bubble-point) pressure p_v at the liquid's temperature, Pa absolute.
    pub vapour_pressure: f64,
    /// Critical pressure p_crit, Pa absolute (for the liquid critical pressure ratio factor F_F).
    pub critical_pressure: f64,
}

/// A gas, perfect or real, by its properties at the state in which the valve meets it.
#[derive(Clone, Debug, PartialEq)]
pub struct Gas {
    /// Specific gas constant with the compressibility factor folded in, R' = p/(ρ·T), J/(kg·K).
    pub gas_constant: f64,
    /// Exponent of small isentropic changes κ = ρ·a²/p: that of sound. A dense vapour's may be at or below 1.
    pub isentropic_exponent: f64,
    /// Temperature of the gas in both lines, K.
    pub temperature: f64,
    /// Dynamic viscosity μ, Pa·s.
    pub viscosity: f64,
    /// Critical pressure ratio r* of an isentropic nozzle.
    pub critical_pressure_ratio: f64,
    /// Critical flow factor Ψ = G*/√(p·ρ): choked mass flow per area of an isentropic nozzle over pressure and density at rest.
    pub critical_flow_factor: f64,
    /// Ratio of heat capacities γ = c_p/c_v.
    pub heat_capacity_ratio: f64,
    /// Isobaric heat capacity c_p, J/(kg·K).
    pub isobaric_heat_capacity: f64,
}

impl Gas {
    /// A perfect gas: κ = γ, c_p = γ·R/(γ − 1), r* and Ψ from γ. Source: textbooks.
    pub fn perfect(gas_constant: f64, exponent: f64, temperature: f64, viscosity: f64) -> Gas {
        let expansion = Expansion::perfect(exponent);
        Gas {
            gas_constant,
            isentropic_exponent: exponent,
            temperature,
            viscosity,
            critical_pressure_ratio: expansion.critical_ratio(),
            critical_flow_factor: expansion.critical_flow_factor(),
            heat_capacity_ratio: exponent,
            isobaric_heat_capacity: gas_constant * exponent / (exponent - 1.0),
        }
    }

    /// How it expands in a nozzle.
    pub fn expansion(&self) -> Expansion {
        let perfect = Expansion::perfect(self.isentropic_exponent);
        let is_perfect = self.critical_pressure_ratio == perfect.critical_ratio()
            && self.critical_flow_factor == perfect.critical_flow_factor();
        if is_perfect { perfect } else { Expansion::real(self.critical_pressure_ratio, self.critical_flow_factor) }
    }

    /// Critical pressure ratio b of the ellipse of ISO 6358 that passes the choked flow of this gas: b = 1 − Ψ².
    ///
    /// The ellipse's choked flow is C·A·√(1 − b)·√(p·ρ), see [`super::restriction::gas`]. With b = r* it would be 3.7 % too
    /// high for R134a at 40 °C and 8 bar, and 0.3 % for air. Source: own algebra.
    pub fn ellipse_critical_ratio(&self) -> f64 {
        1.0 - self.critical_flow_factor * self.critical_flow_factor
    }
}

/// The fluid and how it is named in the outputs.
#[derive(Clone, Debug, PartialEq)]
pub struct Fluid {
    /// Name for the outputs, such as "water, 20 °C".
    pub name: String,
    /// Where its properties come from.
    pub source: String,
    /// Its properties.
    pub phase: Phase,
}

/// Liquid or gas.
#[derive(Clone, Debug, PartialEq)]
pub enum Phase {
    /// A liquid.
    Liquid(Liquid),
    /// A gas.
    Gas(Gas),
}
