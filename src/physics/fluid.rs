//! The fluid at the state in which the valve meets it.

use super::expansion::Expansion;
use crate::key::{declared, part};

part! {
    /// A liquid, taken as slightly compressible about one density.
    pub struct Liquid {
        /// density
        density: Density "ρ", Positive, "liquid density";
        /// sound speed in the unconfined liquid
        sound_speed: Velocity "a_0", Positive, "sound speed of the liquid", usually 100.0 to 4e3;
        /// dynamic viscosity
        viscosity: Viscosity "μ", Positive, "dynamic viscosity of the liquid", usually 1e-5 to 10.0;
        /// vapour (bubble-point) pressure
        /// At the liquid's temperature.
        vapour_pressure: AbsolutePressure "p_v", NotNegative, "vapour pressure of the liquid";
        /// critical pressure
        /// For the liquid critical pressure ratio factor F_F.
        critical_pressure: AbsolutePressure "p_crit", Positive, "critical pressure of the liquid";
    }
}

declared! {
    /// A gas, perfect or real, by its properties at the state in which the valve meets it.
    pub struct Gas {
        /// specific gas constant
        /// With the compressibility factor folded in, R' = p/(ρ·T).
        gas_constant: GasConstant, Positive, "specific gas constant";
        /// isentropic exponent, density times sound speed squared over pressure
        /// That of small changes, and so of sound, κ = ρ·a²/p. A dense vapour's may be at or below 1.
        isentropic_exponent: Number "κ", AboveHalf, "isentropic exponent of the gas";
        /// ratio of heat capacities cp/cv of a real gas
        heat_capacity_ratio: Number "γ", AboveOne, "heat capacity ratio cp/cv of the gas";
        /// isobaric heat capacity of a real gas
        isobaric_heat_capacity: HeatCapacity "c_p", Positive, "isobaric heat capacity of the gas";
        /// pressure ratio at which an isentropic nozzle chokes with the gas
        critical_pressure_ratio: Number "r*", Inside, "critical pressure ratio of the gas";
        /// choked mass flow per area of an isentropic nozzle over the root of pressure times density upstream
        /// Ψ = G*/√(p·ρ).
        critical_flow_factor: Number "Ψ", Inside, "choked-flow factor of the gas";
        /// temperature in both lines
        temperature: Temperature, Positive, "gas temperature", usually 60.0 to 1500.0;
        /// dynamic viscosity
        viscosity: Viscosity "μ", Positive, "dynamic viscosity of the gas", usually 1e-6 to 1e-3;
    }
}

impl Fluid {
    /// Temperature of a gas, K; none for a liquid, whose numbers do not hold it.
    pub fn gas_temperature(&self) -> Option<f64> {
        match &self.phase {
            Phase::Liquid(_) => None,
            Phase::Gas(gas) => Some(gas.temperature),
        }
    }
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

/// Density (kg/m³), sound speed (m/s) and viscosity (Pa·s) of the fluid at a pressure (Pa absolute).
///
/// ```text
/// liquid: as stated          gas: ρ = p/(R'·T), a = √(κ·R'·T)
/// ```
///
/// Source: definitions of R' and κ, see [`Gas`].
pub fn fluid_at(fluid: &Fluid, pressure: f64) -> (f64, f64, f64) {
    match &fluid.phase {
        Phase::Liquid(l) => (l.density, l.sound_speed, l.viscosity),
        Phase::Gas(g) => {
            let r_t = g.gas_constant * g.temperature;
            (pressure / r_t, (g.isentropic_exponent * r_t).sqrt(), g.viscosity)
        }
    }
}
