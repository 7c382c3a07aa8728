//! Copper wire: of a winding, and of a cable.

/// Temperature coefficient of copper at 20 °C, 1/K. Source: IEC 60028 (1925) by way of handbooks, from memory.
pub const COPPER_COEFFICIENT: f64 = 0.003_93;
/// 20 °C in K.
pub const TWENTY_CELSIUS: f64 = 293.15;
/// Resistivity of annealed copper at 20 °C, Ω·m: 1/58 Ω·mm²/m. Source: IEC 60028 (1925) by way of handbooks, from memory.
pub const COPPER_RESISTIVITY: f64 = 1e-6 / 58.0;

/// Winding resistance at temperature T (K), Ω: R = R_20·(1 + 0.00393·(T − 20 °C)).
///
/// Valid from −50 to 200 °C. Source: see [`COPPER_COEFFICIENT`].
pub fn winding_resistance(resistance_20: f64, temperature: f64) -> f64 {
    resistance_20 * (1.0 + COPPER_COEFFICIENT * (temperature - TWENTY_CELSIUS))
}
