//! Values of indicators, as firm as they are.

use crate::indicator::{Firmness, Indicator, noise};
use crate::output::plot::tick::number;
use crate::output::unit::{fitting_units, shown, unitless};
use crate::portable::Portable;
use crate::units::ColumnUnit;

/// The value of an indicator in both systems of units, as firm as it is.
pub(super) fn told(i: &Indicator) -> (String, String) {
    let floor = noise(i.name);
    let (v, about) = match i.value {
        None => return ("–".to_owned(), fitting_units(i.dimension, 0.0).us.map_or(String::new(), |_| "–".to_owned())),
        Some(v) if v.abs() < floor => (floor, "below "),
        Some(v) if i.firmness == Firmness::About => (v, "about "),
        Some(v) => (v, ""),
    };
    let both = fitting_units(i.dimension, v);
    let value = |unit: &ColumnUnit| {
        let shown = shown(v, unit);
        let figures = number(if about.is_empty() { shown } else { two_figures(shown) });
        if unitless(unit) { format!("{about}{figures}") } else { format!("{about}{figures} {}", unit.name) }
    };
    (value(&both.si), both.us.as_ref().map_or(String::new(), value))
}

pub(super) fn two_figures(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let unit = 10_f64.power(value.abs().decimal_logarithm().floor() - 1.0);
    (value / unit).round() * unit
}
