//! Speed of pressure waves in a line.

use super::fluid::{Gas, Liquid};

/// The wall of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// Bore D, m.
    pub bore: f64,
    /// Thickness e, m.
    pub thickness: f64,
    /// Elastic modulus E, Pa.
    pub modulus: f64,
    /// Poisson's ratio ν where the line is held along its length; none where it can slide.
    pub poisson_ratio: Option<f64>,
}

/// Wave speed of a liquid in an elastic thin-walled line, m/s.
///
/// ```text
/// a = a_0 / √(1 + (K/E)·(D/e)·c)      K = ρ·a_0²,  c = 1 − ν² (held along its length), c = 1 (free to slide)
/// ```
///
/// Valid for D/e above about 10; thicker walls are slightly stiffer than this.
/// Source: D. J. Korteweg, Annalen der Physik 241 (1878) 525-542; c after E. B. Wylie and V. L. Streeter, Fluid Transients
/// in Systems, 1993, chapter 1 (both from memory).
pub fn in_elastic_line(liquid: &Liquid, wall: &Wall) -> f64 {
    let k = liquid.density * liquid.sound_speed * liquid.sound_speed;
    let c = 1.0 - wall.poisson_ratio.map_or(0.0, |nu| nu * nu);
    liquid.sound_speed / (1.0 + k / wall.modulus * wall.bore / wall.thickness * c).sqrt()
}

/// Sound speed of a perfect gas, m/s: a = √(γ·R·T). The wall of a line is rigid against a gas.
/// Source: from the definition of an isentropic change, any text on gas dynamics.
pub fn of_gas(gas: &Gas) -> f64 {
    (gas.isentropic_exponent * gas.gas_constant * gas.temperature).sqrt()
}
