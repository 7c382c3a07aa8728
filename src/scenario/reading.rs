//! A document read: the parts, what is impossible, what is odd, and every value that was used. A scenario with a problem is
//! never handed out.

use super::document::Document;
use super::model::Scenario;
use super::problem::{Problems, Warning};
use super::reader::Reader;
use super::row::Row;
use super::{check, usual, whole};

/// A scenario with what was found on the way.
struct Reading {
    scenario: Scenario,
    warnings: Vec<Warning>,
    rows: Vec<Row>,
}

impl Document {
    /// What it means: the scenario and what is odd about it, or every problem at once.
    pub fn scenario(&self) -> Result<(Scenario, Vec<Warning>), Problems> {
        read(self, false).map(|reading| (reading.scenario, reading.warnings))
    }
}

/// Every number that the scenario uses: stated, by default, or derived, in the order in which they are read.
pub fn echo(document: &Document) -> Result<Vec<Row>, Problems> {
    read(document, true).map(|reading| reading.rows)
}

/// Reads the whole; `keep_rows` keeps every value that was used.
fn read(document: &Document, keep_rows: bool) -> Result<Reading, Problems> {
    let mut reader = Reader::new(document, keep_rows);
    let scenario = whole::read(&mut reader);
    check::check(&scenario, &mut reader);
    usual::check(&mut reader);
    let (mut problems, warnings, rows) = reader.found();
    if problems.is_empty() {
        return Ok(Reading { scenario, warnings, rows });
    }
    problems.sort_by(|a, b| (&a.origin, a.position).cmp(&(&b.origin, b.position)));
    problems.dedup();
    Err(Problems::first(problems, document.further()))
}
