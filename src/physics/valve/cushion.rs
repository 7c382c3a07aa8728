//! The cushion: a dashpot that the main stage enters near its seat. The liquid under its rim leaves through a passage, and through
//! the rim's own curtain as long as that is open.
//!
//! ```text
//! closing: F = A_k·Δp_k      Δp_k = ρ/2·(A_k·v/C)²      C = C_d·(π/4·d_k² + 2·√(π·A_k)·max(0, x − x_k))      loss = F·|v|
//! opening: F = 0, it refills freely past its rim
//! ```
//!
//! It lies in the inlet space around the stage, so that it sweeps no volume of its own. There is no state in it: its liquid gives way by
//! V_k·Δp_k/(ρ·a²), some 10⁻⁴ of its volume at 5 bar, against the whole of it that is pressed out. In a gas that does not hold, and a
//! cushion there is refused (`scenario/check_soft.rs`). Valid for a liquid that does not boil. Source: continuity and Bernoulli's
//! equation, own derivation.

use crate::dual::Real;
use crate::physics::parts::Cushion;
use std::f64::consts::{FRAC_PI_4, PI};

impl Cushion {
    /// C·A by which it empties at a lift (m), m².
    #[inline(always)]
    pub fn escape<T: Real>(&self, lift: T) -> T {
        let rim = (lift - self.depth).positive_part() * (2.0 * (PI * self.area).sqrt());
        (rim + FRAC_PI_4 * self.passage_diameter * self.passage_diameter) * self.discharge_coefficient
    }

    /// Force that holds the closing stage up, N, in a liquid of that density (kg/m³). Source: see the head of this file.
    #[inline(always)]
    pub fn force<T: Real>(&self, density: f64, lift: T, speed: T) -> T {
        if speed.value() >= 0.0 {
            return T::constant(0.0);
        }
        let jet = speed * self.escape(lift).recip();
        jet.square() * (0.5 * density * self.area * self.area * self.area)
    }
}
