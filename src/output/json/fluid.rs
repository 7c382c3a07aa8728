//! A fluid at a state as JSON, in SI base units.

use crate::fluid::SheetRow;
use crate::units::base_unit;
use serde::Serialize;

/// One property.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PropertyRow {
    /// Name.
    pub name: &'static str,
    /// Value in `unit`.
    pub value: f64,
    /// SI base unit.
    pub unit: &'static str,
    /// A word on it.
    pub remark: &'static str,
}

/// A fluid at a state.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FluidDocument {
    /// Fluid and state in words.
    pub fluid: String,
    /// Where the properties come from.
    pub source: String,
    /// Why properties on saturation are missing, where one would look for them.
    pub note: Option<String>,
    /// The properties.
    pub properties: Vec<PropertyRow>,
}

impl FluidDocument {
    /// From the rows of a state.
    pub fn new(fluid: String, source: String, note: Option<String>, rows: &[SheetRow]) -> FluidDocument {
        let property = |row: &SheetRow| PropertyRow {
            name: row.name,
            value: row.value,
            unit: base_unit(row.dimension),
            remark: row.remark,
        };
        FluidDocument { fluid, source, note, properties: rows.iter().map(property).collect() }
    }

    /// A list of documents, also of one.
    pub fn list_text(documents: &[FluidDocument]) -> String {
        format!("{}\n", serde_json::to_string_pretty(documents).unwrap_or_default())
    }
}
