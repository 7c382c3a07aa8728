//! Rows and fields of a table.

use crate::output::unit::shown;
use crate::units::ColumnUnit;
use csv::Writer;

pub(super) fn heading(name: &str, unit: &ColumnUnit) -> String {
    format!("{name} [{}]", unit.name)
}

pub(super) fn optional(value: Option<f64>, unit: &ColumnUnit) -> String {
    value.map_or(String::new(), |v| field(v, unit))
}

pub(super) fn field(value: f64, unit: &ColumnUnit) -> String {
    short(shown(value, unit))
}

/// The shortest decimal text that reads back to the same number; empty for what is not a number.
pub fn short(value: f64) -> String {
    if value.is_nan() {
        return String::new();
    }
    let (plain, scientific) = (format!("{value}"), format!("{value:e}"));
    if scientific.len() < plain.len() { scientific } else { plain }
}

/// Rows that are being written in memory.
pub(super) struct Table {
    writer: Writer<Vec<u8>>,
}

impl Table {
    pub(super) fn new() -> Table {
        Table { writer: Writer::from_writer(Vec::new()) }
    }

    pub(super) fn row(&mut self, fields: impl IntoIterator<Item = String>) {
        self.writer.write_record(fields).expect("rows of equal length written into memory");
    }

    pub(super) fn finish(self) -> Vec<u8> {
        self.writer.into_inner().expect("memory takes every row")
    }
}
