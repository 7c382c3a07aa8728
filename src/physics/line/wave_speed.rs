//! Speed of pressure waves in a line: liquid and wall give way together, and a little free gas more than both.
//!
//! ```text
//! 1/(ρ_m·a²) = (1 − α)/K + α/(n·p) + D/(E·e)·c        ρ_m = (1 − α)·ρ
//!              liquid      gas       wall
//! ```
//!
//! K = ρ·a_0² bulk modulus, ρ density and a_0 sound speed of the liquid; α volume share of free gas at the pressure p
//! of the line, n its polytropic exponent; D bore, e thickness, E elastic modulus of the wall, c its factor of support.

use crate::physics::fluid::{Gas, Liquid};

/// How a line is held along its length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Support {
    /// Held at its upstream end only; the rest may stretch.
    Upstream,
    /// Held throughout: it cannot change its length.
    Throughout,
    /// Free to slide, as between expansion joints: no stress along it.
    Joints,
}

/// The wall of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// Bore D, m.
    pub bore: f64,
    /// Thickness e, m.
    pub thickness: f64,
    /// Elastic modulus E, Pa; infinite for a rigid wall.
    pub modulus: f64,
    /// Poisson's ratio ν.
    pub poisson_ratio: f64,
    /// How it is held.
    pub support: Support,
}

impl Wall {
    /// Growth of the cross-section per pressure of a thin wall, 1/Pa.
    ///
    /// ```text
    /// (dA/dp)/A = D/(E·e)·c_1     c_1 = 1 − ν/2 held upstream,  1 − ν² held throughout,  1 free to slide
    /// ```
    ///
    /// Valid for D/e above some 25; kept as the limit that [`Wall::compliance`] must meet, not used for a line.
    /// Source: D. J. Korteweg, Annalen der Physik 241 (1878) 525-542, for c_1 = 1; the others after E. B. Wylie and
    /// V. L. Streeter, Fluid Transients in Systems, 1993, chapter 2 (from memory).
    pub fn thin_compliance(&self) -> f64 {
        self.bore / (self.modulus * self.thickness) * self.restraint()
    }

    /// Growth of the cross-section per pressure of a wall of any thickness, 1/Pa.
    ///
    /// ```text
    /// (dA/dp)/A = 2·(1 + ν)/E + D/(E·e)·D/(D + e)·c_1
    /// ```
    ///
    /// The first part is the squeezing of the wall itself. For e ≪ D this is [`Wall::thin_compliance`]. It is no
    /// approximation: for each support it equals Lamé's tube (plane strain, closed end, no axial stress), which
    /// `validation` recomputes.
    /// Source: E. B. Wylie and V. L. Streeter, Fluid Transients in Systems, 1993, chapter 2 (from memory), where
    /// c = 2·e/D·(1 + ν) + D/(D + e)·c_1.
    pub fn compliance(&self) -> f64 {
        let stretch = self.bore / (self.modulus * self.thickness) * self.bore / (self.bore + self.thickness);
        2.0 * (1.0 + self.poisson_ratio) / self.modulus + stretch * self.restraint()
    }

    fn restraint(&self) -> f64 {
        match self.support {
            Support::Upstream => 1.0 - self.poisson_ratio / 2.0,
            Support::Throughout => 1.0 - self.poisson_ratio * self.poisson_ratio,
            Support::Joints => 1.0,
        }
    }
}

/// Free gas in small bubbles, spread evenly through a liquid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeGas {
    /// Share of the volume α at the pressure of the line.
    pub share: f64,
    /// Pressure of the line p, Pa absolute.
    pub pressure: f64,
}

/// Polytropic exponent n of bubbles in the waves of a line: they hold so little heat that the liquid keeps them at its
/// temperature, so they change isothermally. Source: A. B. Wood, A Textbook of Sound, 1930, for the mixture; isothermal
/// after Wylie and Streeter, 1993 (both from memory). Bubbles of millimetres heard at kilohertz tend to 1.4, and a_m to
/// 1.18 times.
pub const BUBBLE_EXPONENT: f64 = 1.0;

/// Wave speed of a liquid in an elastic line of any thickness, m/s.
///
/// ```text
/// a = a_0/√(1 + K·C)      K = ρ·a_0²,  C = (dA/dp)/A of the wall
/// ```
///
/// Source: D. J. Korteweg, Annalen der Physik 241 (1878) 525-542, with the wall of [`Wall::compliance`].
pub fn in_elastic_line(liquid: &Liquid, wall: &Wall) -> f64 {
    with_compliance(liquid, wall.compliance())
}

/// The same with the thin wall of [`Wall::thin_compliance`], for comparison.
pub fn in_thin_walled_line(liquid: &Liquid, wall: &Wall) -> f64 {
    with_compliance(liquid, wall.thin_compliance())
}

fn with_compliance(liquid: &Liquid, compliance: f64) -> f64 {
    let k = liquid.density * liquid.sound_speed * liquid.sound_speed;
    liquid.sound_speed / (1.0 + k * compliance).sqrt()
}

/// Wave speed of a liquid with free gas in a line whose wave speed without gas is known, m/s.
///
/// ```text
/// 1/(ρ_m·a_m²) = 1/(ρ·a²) + α/(n·p) − α/K      ρ_m = (1 − α)·ρ,  K = ρ·a_0²
/// ```
///
/// In a rigid line (a = a_0) this is Wood's relation. The mass of the gas is neglected: a thousandth of the liquid's at
/// equal volume near 1 bar. Valid for waves long against the bubbles and far below their own resonance (kilohertz for
/// millimetres); slip and the gas that dissolves or comes out of solution are left out. The share is that at the
/// pressure p: as a strong wave squeezes the bubbles it runs faster, which a constant speed cannot show. Source: A. B.
/// Wood, A Textbook of Sound, 1930; with the wall E. B. Wylie and V. L. Streeter, Fluid Transients in Systems, 1993,
/// chapter 1 (both from memory).
pub fn with_free_gas(liquid: &Liquid, without_gas: f64, gas: &FreeGas) -> f64 {
    let k = liquid.density * liquid.sound_speed * liquid.sound_speed;
    let line = 1.0 / (liquid.density * without_gas * without_gas);
    let compliance = line + gas.share * (1.0 / (BUBBLE_EXPONENT * gas.pressure) - 1.0 / k);
    (1.0 / ((1.0 - gas.share) * liquid.density * compliance)).sqrt()
}

/// Sound speed of a perfect gas, m/s: a = √(γ·R·T). The wall of a line is rigid against a gas.
/// Source: from the definition of an isentropic change, any text on gas dynamics.
pub fn of_gas(gas: &Gas) -> f64 {
    (gas.isentropic_exponent * gas.gas_constant * gas.temperature).sqrt()
}
