//! Values in the tables and notes of a study of stability.

use crate::output::text::layout::wrap;
use crate::units::{Dimension, UnitSystem, show};

/// A value with the unit that suits it.
pub(super) fn value(value: f64, dimension: Dimension) -> String {
    let (number, unit) = show(value, dimension, UnitSystem::Si);
    format!("{number} {unit}").trim_end().replace('-', "−")
}

pub(super) fn pressure(pressure: f64) -> String {
    value(pressure, Dimension::PressureDifference)
}

/// A value with both unit systems.
pub(super) fn both(pressure: f64) -> String {
    let (number, unit) = show(pressure, Dimension::PressureDifference, UnitSystem::Us);
    format!("{} ({number} {unit})", value(pressure, Dimension::PressureDifference))
}

/// A note below a table.
pub(super) fn indented(text: &str, width: usize) -> String {
    wrap(text, width.saturating_sub(2)).iter().map(|line| format!("  {line}\n")).collect()
}
