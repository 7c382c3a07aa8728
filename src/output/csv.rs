//! Tables of comma-separated values: a run over time, a map cell by cell, a study of stability along the differential, a
//! closing study run by run, surges fluid by fluid.
//!
//! Numbers are in the SI display unit named in their heading and written with the fewest digits that read back to the same
//! number; what is not known is an empty field.

mod closing;
mod heat;
mod stability;
mod surge;
mod table;

pub use closing::closing;
pub use heat::heat;
pub use stability::stability;
pub use surge::surge;
pub use table::short;

use self::table::{Table, field, heading, optional};
use crate::indicator::Indicators;
use crate::study::axis::Axis;
use crate::study::disturbed::Disturbance;
use crate::study::map::{Cell, CellResult, StabilityMap};
use crate::trace::Trace;
use crate::units::{ColumnUnit, Dimension, UnitSystem, column_unit};
use crate::verdict::Verdict;

/// The run as a table: time and every channel, one row for each instant.
pub fn trace(trace: &Trace) -> Vec<u8> {
    let time_unit = column_unit(Dimension::Time, UnitSystem::Si);
    let units: Vec<ColumnUnit> =
        trace.channels.iter().map(|c| column_unit(c.quantity.dimension, UnitSystem::Si)).collect();
    let mut table = Table::new();
    let names = trace.channels.iter().map(|c| c.quantity.name);
    let head = std::iter::once(heading("time", &time_unit)).chain(names.zip(&units).map(|(n, u)| heading(n, u)));
    table.row(head);
    for (i, &time) in trace.time.iter().enumerate() {
        let values =
            trace.channels.iter().zip(&units).map(|(c, u)| c.values.get(i).map_or(String::new(), |&v| field(v, u)));
        table.row(std::iter::once(field(time, &time_unit)).chain(values));
    }
    table.finish()
}

/// The map as a table: one row for each cell, rows of the map from below, columns from the left.
pub fn map(map: &StabilityMap) -> Vec<u8> {
    let mut table = Table::new();
    let list = Indicators::default().list();
    let units: Vec<ColumnUnit> = list.iter().map(|i| column_unit(i.dimension, UnitSystem::Si)).collect();
    let (x_unit, y_unit) = (axis_unit(&map.x), axis_unit(&map.y));
    let across = column_unit(Dimension::PressureDifference, UnitSystem::Si);
    let first = [
        heading(&map.x.path, &x_unit),
        heading(&map.y.path, &y_unit),
        heading("across_valve_at_its_flow", &across),
        "state".into(),
        "leading_behaviour".into(),
        "findings".into(),
        "adverse_findings".into(),
        "margins".into(),
        "not_judged".into(),
    ];
    let last = [
        "small_motions_about",
        "small_motions_lift [%]",
        "small_motions",
        "growth_rate [1/s]",
        "growing_frequency [Hz]",
        "after_a_knock",
        "ledger_residue",
        "steps",
        "evaluations",
        "reused_from_row",
        "failure",
    ]
    .map(String::from);
    table.row(first.into_iter().chain(list.iter().zip(&units).map(|(i, u)| heading(i.name, u))).chain(last));
    for (row, y) in map.y.values.iter().enumerate() {
        for (column, x) in map.x.values.iter().enumerate() {
            let cell = map.cell(row, column);
            let reading = map.across_valve.get(column).copied().flatten();
            let place = [field(*x, &x_unit), field(*y, &y_unit), optional(reading, &across)];
            table.row(place.into_iter().chain(cell_fields(cell, &units)));
        }
    }
    table.finish()
}

fn axis_unit(axis: &Axis) -> ColumnUnit {
    column_unit(axis.dimension, UnitSystem::Si)
}

fn cell_fields(cell: &Cell, units: &[ColumnUnit]) -> Vec<String> {
    match cell {
        Cell::Done(result) => done_fields(result, units),
        Cell::WouldBoil(reason) => without_result("would_boil", reason, units.len()),
        Cell::Failed(reason) => without_result("failed", reason, units.len()),
    }
}

fn without_result(state: &str, reason: &str, indicators: usize) -> Vec<String> {
    let mut fields = vec![String::new(); 6 + indicators + 11];
    fields[0] = state.to_owned();
    if let Some(last) = fields.last_mut() {
        *last = reason.to_owned();
    }
    fields
}

fn done_fields(result: &CellResult, units: &[ColumnUnit]) -> Vec<String> {
    let findings = &result.verdict.findings;
    let mut fields = vec![
        "done".to_owned(),
        result.verdict.leading().map_or(String::new(), |f| f.behaviour.words().to_owned()),
        joined(&result.verdict, false),
        joined(&result.verdict, true),
        findings.iter().map(|f| short(f.margin)).collect::<Vec<_>>().join("; "),
        [result.verdict.not_judged.as_slice(), &result.verdict.not_computed].concat().join("; "),
    ];
    fields.extend(result.indicators.list().iter().zip(units).map(|(i, u)| optional(i.value, u)));
    fields.extend(disturbance_fields(&result.disturbance));
    fields.push(short(result.ledger_residue));
    fields.push(result.steps.to_string());
    fields.push(result.evaluations.to_string());
    fields.push(result.reused_from_row.map_or(String::new(), |row| row.to_string()));
    fields.push(String::new());
    fields
}

fn disturbance_fields(found: &Disturbance) -> [String; 6] {
    let small = found.small;
    let number = |value: Option<f64>| value.map_or(String::new(), short);
    [
        small.map_or(String::new(), |s| s.rest.words().to_owned()),
        number(small.map(|s| 100.0 * s.lift)),
        small.map_or(String::new(), |s| s.answer.words().to_owned()),
        number(small.and_then(|s| s.growth)),
        number(small.and_then(|s| s.frequency)),
        found.knocked.map_or(String::new(), |b| b.words().to_owned()),
    ]
}

fn joined(verdict: &Verdict, only_adverse: bool) -> String {
    let chosen = verdict.findings.iter().filter(|f| f.adverse || !only_adverse);
    chosen.map(|f| f.behaviour.words()).collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trace::{Channel, Quantity};

    #[test]
    fn numbers_are_short_and_read_back() {
        for value in [0.0, 1.0, 0.1, 1.0 / 3.0, 1e-9, 6.02214076e23, -2.5e-7, f64::MAX, f64::INFINITY] {
            let written = short(value);
            assert_eq!(written.parse::<f64>().ok(), Some(value), "{written}");
        }
        assert_eq!(short(1e-9), "1e-9");
        assert_eq!(short(0.05), "0.05");
        assert_eq!(short(f64::NAN), "");
    }

    #[test]
    fn a_run_has_its_units_in_the_heading() {
        let quantity = Quantity { name: "inlet_pressure", dimension: Dimension::AbsolutePressure, meaning: "" };
        // One value less than instants: the missing one is an empty field, not an error.
        let run =
            Trace { time: vec![0.0, 0.5], channels: vec![Channel { quantity, values: vec![2e5] }], events: vec![] };
        let text = String::from_utf8(trace(&run)).expect("text");
        assert_eq!(text, "time [s],inlet_pressure [bar(a)]\n0,2\n0.5,\n");
    }

    #[test]
    fn an_empty_run_is_a_heading() {
        assert_eq!(trace(&Trace::default()), b"time [s]\n");
    }
}
