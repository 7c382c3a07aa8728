//! Why a text could not be read as a quantity.

use std::fmt;

use super::Dimension;
use crate::quote;

/// What is wrong with a text that should be a number with its unit.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitError {
    /// The text as found.
    pub found: String,
    /// The kind of quantity that is wanted.
    pub wanted: Dimension,
    /// What is wrong with it.
    pub cause: UnitCause,
}

/// The cause of a [`UnitError`].
#[derive(Clone, Debug, PartialEq)]
pub enum UnitCause {
    /// There is no text.
    Empty,
    /// The text does not start with a number.
    NotANumber,
    /// The number is infinite, not a number, or beyond what can be computed with.
    NotFinite,
    /// A comma is used as decimal sign or to group digits; the number with a point, where that is clear.
    Comma(String),
    /// Digits are grouped with blanks.
    GroupedDigits,
    /// There is no unit.
    MissingUnit,
    /// The unit is not known.
    UnknownUnit {
        /// The unit as found.
        unit: String,
        /// The nearest accepted unit.
        nearest: Option<String>,
    },
    /// The unit belongs to another kind of quantity.
    OtherKind {
        /// The unit as found.
        unit: String,
        /// The kind to which it belongs.
        kind: Dimension,
    },
    /// The pressure unit does not say what it is counted from.
    AbsoluteOrGauge {
        /// The number and the unit.
        number: String,
        /// The unit as found.
        unit: String,
    },
    /// A pressure difference is written with a reference.
    DifferenceWithReference {
        /// The unit without its reference.
        bare: String,
    },
    /// A gauge pressure where no atmospheric pressure is known.
    NoAtmosphere,
    /// Below vacuum or below absolute zero; the value in the usual unit.
    BelowZero(String),
}

impl fmt::Display for UnitError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let UnitError { found, wanted, cause } = self;
        let (found, words) = (quote::word(found), wanted.words());
        let example = wanted.example();
        match cause {
            UnitCause::Empty => write!(out, "found an empty text, wanted {words} such as \"{example}\""),
            UnitCause::NotANumber => {
                write!(out, "\"{found}\" does not start with a number; wanted {words} such as \"{example}\"")
            }
            UnitCause::NotFinite => {
                write!(out, "\"{found}\" is not a finite number; wanted {words} such as \"{example}\"")
            }
            UnitCause::Comma(point) => {
                write!(out, "\"{found}\" has a comma; the decimal sign is a point and digits are not grouped")?;
                if point.is_empty() { Ok(()) } else { write!(out, ", so perhaps \"{}\"", quote::word(point)) }
            }
            UnitCause::GroupedDigits => {
                write!(out, "\"{found}\" has blanks between its digits; write the number without them")
            }
            UnitCause::MissingUnit => {
                write!(out, "\"{found}\" has no unit; wanted {words}{}, such as \"{example}\"", choice(*wanted))
            }
            UnitCause::UnknownUnit { unit, nearest } => {
                write!(out, "\"{}\" is not a unit for {words}; write it{}", quote::word(unit), choice(*wanted))?;
                nearest.as_ref().map_or(Ok(()), |near| write!(out, "; did you mean \"{near}\"?"))
            }
            UnitCause::OtherKind { unit, kind } => {
                write!(
                    out,
                    "\"{}\" is a unit for {}; wanted {words}{}",
                    quote::word(unit),
                    kind.words(),
                    choice(*wanted)
                )
            }
            UnitCause::AbsoluteOrGauge { number, unit } => write!(
                out,
                "\"{found}\" does not say whether it is absolute or gauge; write \"{number} {unit}(a)\" if it is counted \
                 from vacuum, \"{number} {unit}(g)\" if it is what a gauge shows",
                number = quote::word(number),
            ),
            UnitCause::DifferenceWithReference { bare } => write!(
                out,
                "\"{found}\" is an absolute or gauge pressure, wanted a pressure difference; a difference is counted from \
                 neither vacuum nor the atmosphere: write it in {bare}"
            ),
            UnitCause::NoAtmosphere => {
                write!(
                    out,
                    "\"{found}\" is a gauge pressure, which cannot be used here; write it absolute, such as \"{example}\""
                )
            }
            UnitCause::BelowZero(value) => write!(out, "\"{found}\" is {value}, which is below {}", bottom(*wanted)),
        }
    }
}

impl std::error::Error for UnitError {}

/// What a quantity with an end cannot be below.
fn bottom(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Temperature => "absolute zero",
        _ => "vacuum",
    }
}

/// The accepted units of a kind, as the end of a sentence.
fn choice(dimension: Dimension) -> String {
    let units = super::accepted_units(dimension);
    if units.is_empty() { " without a unit".to_owned() } else { format!(" in one of {}", units.join(", ")) }
}
