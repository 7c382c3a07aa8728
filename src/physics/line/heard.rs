//! What depends on a complex frequency, with its slope, so that roots are found by Newton's method.

use nalgebra::Complex;

/// A number that depends on the complex frequency s, with its slope by s.
#[derive(Clone, Copy, Debug)]
pub struct Heard {
    /// Value.
    pub value: Complex<f64>,
    /// Derivative by s.
    pub slope: Complex<f64>,
}

impl Heard {
    /// A number that does not depend on s.
    pub fn constant(value: f64) -> Self {
        Heard { value: value.into(), slope: 0.0.into() }
    }

    pub(super) fn times(self, other: Self) -> Self {
        Heard { value: self.value * other.value, slope: self.slope * other.value + self.value * other.slope }
    }

    pub(super) fn plus(self, other: Self) -> Self {
        Heard { value: self.value + other.value, slope: self.slope + other.slope }
    }

    pub(super) fn scaled(self, factor: f64) -> Self {
        Heard { value: self.value * factor, slope: self.slope * factor }
    }

    pub(super) fn inverse(self) -> Self {
        let value = self.value.inv();
        Heard { value, slope: -self.slope * value * value }
    }
}
