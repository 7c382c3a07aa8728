//! A value as it is quoted: with few figures, rounded to the safe side, and as a drill cuts it.

use super::window::Side;
use crate::portable::Portable;
use crate::units::{Dimension, UnitSystem, show};

/// Figures to which an answer is rounded.
const FIGURES: i32 = 3;
/// Bores are drilled in steps of this, m (common practice, no source).
pub(super) const BORE_STEP: f64 = 0.05e-3;

/// A value with three figures.
pub(super) fn said(value: f64, dimension: Dimension) -> String {
    let power = 10_f64.to_the(2 - value.abs().max(f64::MIN_POSITIVE).decimal_logarithm().floor() as i32);
    let short = if value == 0.0 || !value.is_finite() { value } else { (value * power).round() / power };
    let (number, unit) = show(short, dimension, UnitSystem::Si);
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

/// A value with [`FIGURES`] figures, rounded to one side.
pub(super) fn rounded(value: f64, side: Side) -> f64 {
    let unit = 10_f64.to_the(value.abs().decimal_logarithm().floor() as i32 + 1 - FIGURES);
    let steps = value / unit;
    // A value that already has so few figures stays as it is.
    if (steps - steps.round()).abs() < 1e-6 {
        return value;
    }
    unit * if side == Side::Lower { steps.floor() } else { steps.ceil() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_goes_away_from_today() {
        let near = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-9;
        assert!(near(rounded(0.61378e-3, Side::Lower), 0.613e-3));
        assert!(near(rounded(12.34e-6, Side::Higher), 12.4e-6));
        assert!(near(rounded(0.4e-3, Side::Lower), 0.4e-3));
    }
}
