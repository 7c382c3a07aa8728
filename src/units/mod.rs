//! The one door for units: text with a unit becomes SI here, and SI becomes text here; everywhere else a number is SI.
//!
//! Pressure has two kinds with two doors. An absolute pressure must say what it is counted from: `bar(a)` or `bara` from
//! vacuum, `bar(g)` or `barg` from the atmosphere. A pressure difference must not. A bare `bar` is therefore a difference
//! and nothing else.

mod accepted;
mod dimension;
mod error;
mod nearest;
mod parse;
mod show;
mod spelling;
mod table;

pub use accepted::{accepted_units, base_unit};
pub use dimension::Dimension;
pub(crate) use dimension::si;
pub use error::{UnitCause, UnitError};
pub use nearest::nearest;
pub use parse::{is_number, parse};
pub use show::{ColumnUnit, UnitSystem, column_unit, show, text};
