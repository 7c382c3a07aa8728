//! Values in the units in which they are shown.

use super::plot::tick::number;
use crate::study::axis::Axis;
use crate::units::{ColumnUnit, Dimension, UnitSystem, column_unit, parse, show};

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

/// The units of a kind of quantity that suit values up to a size (SI): those of [`units`], unless the numbers would become
/// very large or small in them.
pub fn fitting_units(dimension: Dimension, size: f64) -> Units {
    let si = fitting(dimension, UnitSystem::Si, size);
    let us = fitting(dimension, UnitSystem::Us, size);
    Units { si, us: (us.name != si.name).then_some(us) }
}

fn fitting(dimension: Dimension, system: UnitSystem, size: f64) -> ColumnUnit {
    // Between these a number is read without counting its digits.
    const READABLE: std::ops::Range<f64> = 0.1..1000.0;
    let usual = column_unit(dimension, system);
    // Rates of cycles have their own second scale; temperatures and fractions have one unit only.
    let settled = matches!(dimension, Dimension::CycleRate | Dimension::Temperature | Dimension::Fraction);
    let refrigeration = dimension == Dimension::Power && system == UnitSystem::Us;
    if settled || !size.is_finite() || size == 0.0 || (READABLE.contains(&shown(size.abs(), &usual)) && !refrigeration)
    {
        return usual;
    }
    let (_, name) = show(size, dimension, system);
    match parse(&format!("1 {name}"), dimension, f64::NAN) {
        Ok(one) if one > 0.0 => {
            let name = if name == "ton" { "tons of refrigeration" } else { name };
            ColumnUnit { scale: 1.0 / one, offset: 0.0, name }
        }
        _ => usual,
    }
}

/// The units of an axis of a map.
pub fn axis_units(axis: &Axis) -> Units {
    fitting_units(axis.dimension, largest_size(axis.values.iter().copied()))
}

/// The largest size among some values; nought for none.
pub fn largest_size(values: impl Iterator<Item = f64>) -> f64 {
    values.filter(|v| v.is_finite()).fold(0.0, |size, v| size.max(v.abs()))
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
    use crate::portable::Portable;

    #[test]
    fn a_reading_names_both_systems_where_they_differ() {
        assert_eq!(reading(2e5, &units(Dimension::PressureDifference)), "2 bar (29 psi)");
        assert_eq!(reading(0.25, &units(Dimension::Current)), "0.25 A");
        assert_eq!(reading(0.5, &units(Dimension::Fraction)), "50 %");
    }

    #[test]
    fn units_suit_the_size() {
        let both = |dimension, size| {
            let units = fitting_units(dimension, size);
            (units.si.name, units.us.map(|u| u.name))
        };
        assert_eq!(both(Dimension::Power, 40e3), ("kW", Some("tons of refrigeration")));
        assert_eq!(both(Dimension::Power, 10.0), ("W", None));
        assert_eq!(both(Dimension::Length, 30.0), ("m", Some("ft")));
        assert_eq!(both(Dimension::Length, 4e-3), ("mm", Some("in")));
        assert_eq!(both(Dimension::PressureDifference, 500.0), ("mbar", Some("psi")));
        assert_eq!(both(Dimension::AbsolutePressure, 2e5), ("bar(a)", Some("psia")));
        // One ton of refrigeration is 12 000 Btu(IT)/h, 3516.85 W (from memory).
        assert_eq!(reading(35168.5, &fitting_units(Dimension::Power, 35168.5)), "35.2 kW (10 tons of refrigeration)");
    }

    #[test]
    fn every_shown_unit_can_be_read_back() {
        for &dimension in Dimension::ALL {
            for system in [UnitSystem::Si, UnitSystem::Us] {
                for size in (-12..12).map(|power| 10_f64.to_the(power)) {
                    let unit = fitting(dimension, system, size);
                    let back = hidden(shown(size, &unit), &unit);
                    assert!((back / size - 1.0).abs() < 1e-9 || unit.offset != 0.0, "{dimension:?} {size} {unit:?}");
                    let (text, name) = show(size, dimension, system);
                    let written: f64 = text.parse().expect("a number");
                    if unit.name == name && dimension != Dimension::Temperature {
                        // Four digits are shown.
                        assert!((shown(size, &unit) / written - 1.0).abs() < 1e-3, "{dimension:?} {size} {unit:?}");
                    }
                }
            }
        }
    }
}
