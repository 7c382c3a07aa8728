//! The units of each kind of quantity.

use super::Dimension;
use super::table::units;

/// The SI base unit of a kind, for numbers that are handed on to programs; empty where it has none.
pub fn base_unit(dimension: Dimension) -> &'static str {
    match dimension {
        // Stored under the name of the trade, counted in m².
        Dimension::FlowCoefficient => "m²",
        _ => units(dimension).iter().find(|unit| unit.is_base()).map_or("", |unit| unit.name),
    }
}

/// The recommended spellings of the units of a kind.
pub fn accepted_units(dimension: Dimension) -> Vec<String> {
    let names = units(dimension).iter().map(|unit| unit.name).filter(|name| !name.is_empty());
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
