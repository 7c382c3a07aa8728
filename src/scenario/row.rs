//! One value that a scenario uses, in both unit systems, beside what was typed.

use std::borrow::Cow;

use super::vocabulary;
use crate::units::{Dimension, UnitSystem, show};

/// Where a value comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// As typed in a file or a setting.
    Typed(String),
    /// A documented default.
    Default,
    /// Computed from other values, as said.
    Derived(Cow<'static, str>),
}

/// One value in both unit systems.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Path of the parameter.
    pub path: String,
    /// What it is.
    pub meaning: &'static str,
    /// SI value.
    pub value: f64,
    /// Metric units of the trade.
    pub si: String,
    /// United States units.
    pub us: String,
    /// As typed, "default", or from what it follows.
    pub typed: String,
    /// Where it comes from.
    pub origin: Origin,
}

impl Row {
    pub(super) fn new(path: &str, value: f64, dimension: Dimension, origin: Origin) -> Row {
        let text = |system| {
            let (number, unit) = show(value, dimension, system);
            if unit.is_empty() { number } else { format!("{number} {unit}") }
        };
        let typed = match &origin {
            Origin::Typed(typed) => typed.clone(),
            Origin::Default => "default".to_owned(),
            Origin::Derived(from) => from.clone().into_owned(),
        };
        let meaning = vocabulary::parameter(path).map_or("", |number| vocabulary::parameters()[number].key.meaning);
        Row { path: path.to_owned(), meaning, value, si: text(UnitSystem::Si), us: text(UnitSystem::Us), typed, origin }
    }
}
