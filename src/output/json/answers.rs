//! The whole answer to each question, from what was asked and what was found.

use super::closing::closing_part;
use super::document::{Command, CounterRow, Document, InputRow, LedgerRow};
use super::faults::faults_part;
use super::indicator::indicator_rows;
use super::map::map_part;
use super::stability::stability_part;
use super::verdict::verdict_part;
use crate::indicator::Indicators;
use crate::output::caution::CAUTIONS;
use crate::study::asked::Asked;
use crate::study::closing::ClosingStudy;
use crate::study::examined::Examined;
use crate::study::faults::FaultStudy;
use crate::study::map::{Cell, StabilityMap};
use crate::study::stability::StabilityStudy;

/// The answer to a check, with what is known without a run.
pub fn check_answer(asked: &Asked, by_hand: &Indicators) -> Document {
    Document { indicators: indicator_rows(by_hand), ..frame(Command::Check, asked) }
}

/// The answer of a run.
pub fn run_answer(asked: &Asked, examined: &Examined) -> Document {
    Document {
        indicators: indicator_rows(&examined.indicators),
        verdict: Some(verdict_part(&examined.verdict)),
        ledger: ledger_rows(examined),
        counters: run_counters(examined),
        ..frame(Command::Run, asked)
    }
}

/// The answer of a map.
pub fn map_answer(asked: &Asked, map: &StabilityMap) -> Document {
    Document { map: Some(map_part(map)), counters: map_counters(map), ..frame(Command::Map, asked) }
}

/// The answer of a closing study.
pub fn closing_answer(asked: &Asked, study: &ClosingStudy) -> Document {
    Document { closing: Some(closing_part(study)), ..frame(Command::Closing, asked) }
}

/// The answer of a stability study.
pub fn stability_answer(asked: &Asked, study: &StabilityStudy) -> Document {
    Document { stability: Some(stability_part(study)), ..frame(Command::Stability, asked) }
}

/// The answer of a study of faults.
pub fn faults_answer(asked: &Asked, study: &FaultStudy) -> Document {
    Document { faults: Some(faults_part(study)), ..frame(Command::Faults, asked) }
}

/// Inputs, version and cautions; what was found is still to come.
fn frame(command: Command, asked: &Asked) -> Document {
    let inputs = asked.inputs.iter().map(|row| InputRow {
        path: row.path.clone(),
        si: row.si.clone(),
        us: row.us.clone(),
        typed: row.typed.clone(),
    });
    Document {
        program: env!("CARGO_PKG_NAME").into(),
        version: env!("CARGO_PKG_VERSION").into(),
        command,
        scenario: asked.scenario.clone(),
        question: asked.question.clone(),
        data: asked.data.clone(),
        overrides: asked.overrides.clone(),
        inputs: inputs.collect(),
        remarks: asked.remarks.clone(),
        indicators: Vec::new(),
        verdict: None,
        map: None,
        stability: None,
        closing: None,
        faults: None,
        ledger: Vec::new(),
        counters: Vec::new(),
        cautions: CAUTIONS.iter().map(ToString::to_string).collect(),
    }
}

/// The ledger as rows: each entry, what is stored, and the relative residue.
fn ledger_rows(examined: &Examined) -> Vec<LedgerRow> {
    let row = |name: String, value: f64, unit: &str| LedgerRow { name, value, unit: unit.into() };
    let mut rows = Vec::new();
    for balance in &examined.record.balances {
        for (entry, amount) in &balance.entries {
            rows.push(row(format!("{}: {entry}", balance.name), *amount, balance.unit));
        }
        rows.push(row(format!("{}: growth of what is stored", balance.name), balance.stored, balance.unit));
        rows.push(row(format!("{}: residue", balance.name), balance.residue(), balance.unit));
        rows.push(row(format!("{}: residue relative to the larger side", balance.name), balance.relative(), ""));
    }
    rows
}

/// Cost of a run, as rows.
fn run_counters(examined: &Examined) -> Vec<CounterRow> {
    let counters = &examined.record.counters;
    let row = |name: &str, value: usize| CounterRow { name: name.into(), value: value as u64 };
    vec![
        row("accepted steps", counters.accepted),
        row("rejected steps", counters.rejected),
        row("evaluations of the right-hand side", counters.evaluations),
        row("Jacobians", counters.jacobians),
        row("factorisations", counters.factorisations),
    ]
}

/// Sums over all cells that were simulated themselves.
fn map_counters(map: &StabilityMap) -> Vec<CounterRow> {
    let own = map.cells.iter().filter_map(|cell| match cell {
        Cell::Done(result) if result.reused_from_row.is_none() => Some(result),
        _ => None,
    });
    let (runs, steps, evaluations) =
        own.fold((0, 0, 0), |(n, s, e), result| (n + 1, s + result.steps, e + result.evaluations));
    let row = |name: &str, value: u64| CounterRow { name: name.into(), value };
    vec![
        row("cells", map.cells.len() as u64),
        row("cells with a run of their own", runs),
        row("cells that would boil", map.count(|cell| matches!(cell, Cell::WouldBoil(_))) as u64),
        row("failed cells", map.count(|cell| matches!(cell, Cell::Failed(_))) as u64),
        row("steps", steps),
        row("evaluations of the right-hand side", evaluations),
    ]
}
