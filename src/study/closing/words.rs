//! Numbers for the eye.

use crate::study::quoted::said;
use crate::units::{Dimension, UnitSystem, parse, show};

/// Four figures: limits are met by little.
pub(super) fn pressure(value: f64) -> String {
    let (number, unit) = show(value, Dimension::AbsolutePressure, UnitSystem::Si);
    format!("{number} {unit}")
}

/// Two values in the unit that suits the larger; "none" for nought.
pub(super) fn pair(a: f64, b: f64, dimension: Dimension) -> (String, String) {
    let (_, unit) = show(a.max(b), dimension, UnitSystem::Si);
    let one = parse(&format!("1 {unit}"), dimension, f64::NAN).unwrap_or(1.0);
    let written = |value: f64| match value {
        0.0 => "none".to_owned(),
        _ => format!("{} {unit}", said(value / one, Dimension::Number)),
    };
    (written(a), written(b))
}

pub(super) fn rise(value: f64) -> String {
    said(value, Dimension::PressureDifference)
}

pub(super) fn time(value: f64) -> String {
    said(value, Dimension::Time)
}

pub(super) fn length(value: f64) -> String {
    said(value, Dimension::Length)
}
