//! The fluid at the state in which the valve meets it.

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

/// A perfect-gas-like gas with constant specific heats.
#[derive(Clone, Debug, PartialEq)]
pub struct Gas {
    /// Specific gas constant R (with the compressibility factor folded in), J/(kg·K).
    pub gas_constant: f64,
    /// Isentropic exponent γ at the stated state.
    pub isentropic_exponent: f64,
    /// Temperature of the gas in both lines, K.
    pub temperature: f64,
    /// Dynamic viscosity μ, Pa·s.
    pub viscosity: f64,
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
