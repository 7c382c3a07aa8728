//! The one door for units: text with a unit becomes SI here, and SI becomes text here; everywhere else a number is SI.
//!
//! Pressure has two kinds with two doors. An absolute pressure must say what it is counted from: `bar(a)` or `bara` from
//! vacuum, `bar(g)` or `barg` from the atmosphere. A pressure difference must not. A bare `bar` is therefore a difference
//! and nothing else.

mod dimension;
mod error;
mod parse;
mod show;
mod spelling;
mod table;

pub use dimension::Dimension;
pub(crate) use dimension::si;
pub use error::{UnitCause, UnitError};
pub use parse::{is_number, parse};
pub use show::{ColumnUnit, UnitSystem, column_unit, show, text};

/// The SI base unit of a kind, for numbers that are handed on to programs; empty where it has none.
pub fn base_unit(dimension: Dimension) -> &'static str {
    match dimension {
        // Stored under the name of the trade, counted in m².
        Dimension::FlowCoefficient => "m²",
        _ => table::units(dimension).iter().find(|unit| unit.is_base()).map_or("", |unit| unit.name),
    }
}

/// The recommended spellings of the units of a kind.
pub fn accepted_units(dimension: Dimension) -> Vec<String> {
    let names = table::units(dimension).iter().map(|unit| unit.name).filter(|name| !name.is_empty());
    match dimension {
        Dimension::AbsolutePressure => names
            .take_while(|&name| name != "inHg")
            .flat_map(|name| match name {
                "psi" => ["psia".to_owned(), "psig".to_owned()],
                _ => [format!("{name}(a)"), format!("{name}(g)")],
            })
            .collect(),
        _ => names.map(str::to_owned).collect(),
    }
}

/// The nearest of some words to one that is not among them; none when nothing is near. Names of keys and units are short,
/// so that a Jaro-Winkler similarity above 0.7 separates slips of the finger from other words (judgement).
pub fn nearest<'w>(word: &str, among: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    if crate::quote::is_no_name(word) {
        return None;
    }
    let lower = word.to_lowercase();
    among
        .map(|candidate| (strsim::jaro_winkler(&lower, &candidate.to_lowercase()), candidate))
        .filter(|(likeness, _)| *likeness > 0.7)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}
