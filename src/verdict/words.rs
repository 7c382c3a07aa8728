//! Numbers in the sentences of findings.

use crate::portable::Portable;
use crate::units::{Dimension, text};

pub(super) fn pressure(value: f64) -> String {
    text(value, Dimension::PressureDifference)
}

/// A number to so many figures: no more than it is firm to.
pub(super) fn to_figures(value: f64, figures: i32) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let unit = 10_f64.power(value.abs().decimal_logarithm().floor() + 1.0 - f64::from(figures));
    (value / unit).round() * unit
}

pub(super) fn percent(share: f64) -> String {
    let digits = if share.abs() < 0.0095 { 1 } else { 0 };
    format!("{:.digits$} %", 100.0 * share)
}
