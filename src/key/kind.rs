//! Kinds of stated values.

use std::f64::consts::{FRAC_PI_2, PI};

use crate::units::Dimension;

/// How a valve can be mounted: the angle of its coil's axis from upright, rad.
pub const ATTITUDES: &[(&str, f64)] = &[("upright", 0.0), ("lying", FRAC_PI_2), ("hanging", PI)];

/// What kind of value a key takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// A number with its unit, as text (a bare number where the quantity has no unit).
    Quantity(Dimension),
    /// An angle, or a word that stands for one, rad.
    Attitude(&'static [(&'static str, f64)]),
    /// A whole number.
    Count,
    /// One of some words.
    Word(&'static [&'static str]),
    /// Free text.
    Text,
    /// The path of a parameter.
    Path,
    /// A quantity of the kind of the axis' parameter.
    AxisEnd,
}

impl Kind {
    /// The dimension of a number of this kind, where it does not depend on another key.
    pub fn dimension(self) -> Option<Dimension> {
        match self {
            Kind::Quantity(dimension) => Some(dimension),
            Kind::Attitude(_) => Some(Dimension::Angle),
            Kind::Count => Some(Dimension::Number),
            Kind::Word(_) | Kind::Text | Kind::Path | Kind::AxisEnd => None,
        }
    }

    /// What is wanted, in words with an example.
    pub fn wanted(self) -> String {
        match self {
            Kind::Quantity(Dimension::Number) => "a plain number such as 0.65".to_owned(),
            Kind::Quantity(Dimension::Fraction) => "a share such as \"30 %\" or 0.3".to_owned(),
            Kind::Quantity(dimension) => {
                format!("{} as text with its unit, such as \"{}\"", dimension.words(), dimension.example())
            }
            Kind::Attitude(words) => {
                format!("{} or an angle such as \"30 °\"", quoted(words.iter().map(|(word, _)| *word)))
            }
            Kind::Count => "a whole number such as 4".to_owned(),
            Kind::Word(words) => format!("one of {}", quoted(words.iter().copied())),
            Kind::Text => "text in quotation marks".to_owned(),
            Kind::Path => "the path of a parameter, such as \"supply.differential\"".to_owned(),
            Kind::AxisEnd => "a value as text in a unit of the axis' parameter".to_owned(),
        }
    }
}

/// Words in quotation marks, separated by commas.
pub fn quoted<'w>(words: impl Iterator<Item = &'w str>) -> String {
    words.map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ")
}
