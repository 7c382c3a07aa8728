//! Values in the units in which they are shown.

use super::plot::tick::number;
use crate::units::{ColumnUnit, Dimension, UnitSystem, column_unit};

/// The unit of a quantity in both systems.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Units {
    /// SI and units accepted with it.
    pub si: ColumnUnit,
    /// US customary; none where it has the same name.
    pub us: Option<ColumnUnit>,
}

/// The units of a kind of quantity.
pub fn units(dimension: Dimension) -> Units {
    let si = column_unit(dimension, UnitSystem::Si);
    let us = column_unit(dimension, UnitSystem::Us);
    Units { si, us: (us.name != si.name).then_some(us) }
}

/// A value in a unit.
pub fn shown(value: f64, unit: &ColumnUnit) -> f64 {
    value * unit.scale + unit.offset
}

/// A value of a unit, back in SI.
pub fn hidden(value: f64, unit: &ColumnUnit) -> f64 {
    (value - unit.offset) / unit.scale
}

/// Is this the name of no unit?
pub fn unitless(unit: &ColumnUnit) -> bool {
    matches!(unit.name, "" | "1" | "-" | "–")
}

/// A title with its unit, such as "inlet pressure [bar(a)]".
pub fn titled(words: &str, unit: &ColumnUnit) -> String {
    if unitless(unit) { words.to_owned() } else { format!("{words} [{}]", unit.name) }
}

/// A value with its unit for the eye, in both systems where they differ: "1.2 bar (17.4 psi)".
pub fn reading(value: f64, units: &Units) -> String {
    let with = |unit: &ColumnUnit| {
        let value = number(shown(value, unit));
        if unitless(unit) { value } else { format!("{value} {}", unit.name) }
    };
    match &units.us {
        Some(us) => format!("{} ({})", with(&units.si), with(us)),
        None => with(&units.si),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_names_both_systems_where_they_differ() {
        assert_eq!(reading(2e5, &units(Dimension::PressureDifference)), "2 bar (29 psi)");
        assert_eq!(reading(0.25, &units(Dimension::Current)), "0.25 A");
        assert_eq!(reading(0.5, &units(Dimension::Fraction)), "0.5");
    }
}
