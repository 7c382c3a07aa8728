//! Air as a perfect gas.

use crate::physics::fluid::{Fluid, Gas, Phase};

/// Lowest and highest temperature, °C: beyond, a constant isentropic exponent is off by more than 1 %.
pub(super) const RANGE: (f64, f64) = (-50.0, 150.0);

/// Specific gas constant, J/(kg·K), and isentropic exponent: U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF; from memory):
/// 8.314 32 J/(mol·K) over 28.9644 g/mol, and 1.4.
const GAS_CONSTANT: f64 = 287.053;
const ISENTROPIC_EXPONENT: f64 = 1.4;

/// Air at a temperature, °C.
///
/// ```text
/// μ = β·T^1.5/(T + S)      β = 1.458·10⁻⁶ kg/(s·m·√K),  S = 110.4 K
/// ```
///
/// Source: W. Sutherland, Philosophical Magazine 36 (1893) 507, with the constants of the U.S. Standard Atmosphere, 1976,
/// equation 51 (both from memory).
pub(super) fn air(celsius: f64) -> Fluid {
    let temperature = celsius + 273.15;
    let viscosity = 1.458e-6 * temperature.powf(1.5) / (temperature + 110.4);
    Fluid {
        name: format!("air, {} °C", (celsius * 100.0).round() / 100.0),
        source: "perfect gas: U.S. Standard Atmosphere, 1976; viscosity: Sutherland 1893 with its constants".to_owned(),
        phase: Phase::Gas(Gas::perfect(GAS_CONSTANT, ISENTROPIC_EXPONENT, temperature, viscosity)),
    }
}
