//! Opening a scenario with its settings, and the common parts of every JSON document.

use super::arguments::Common;
use super::cautions::CAUTIONS;
use super::{Failure, terminal};
use quietseat::output::json;
use quietseat::physics::ledger::Balance;
use quietseat::scenario::{Document, Problems, Scenario, echo};
use quietseat::solver::Counters;
use quietseat::study::coil_voltage::far_from_rated;

/// The scenario document with all settings laid over it. All bad settings are named at once.
pub(super) fn open(common: &Common) -> Result<Document, Failure> {
    let mut document = Document::open(&common.scenario)?;
    let mut problems = Vec::new();
    for setting in &common.settings {
        match document.with_setting(setting) {
            Ok(changed) => document = changed,
            Err(problem) => problems.push(problem),
        }
    }
    if problems.is_empty() { Ok(document) } else { Err(Problems(problems).into()) }
}

/// The scenario; remarks go to stderr.
pub(super) fn scenario(document: &Document, quiet: bool) -> Result<Scenario, Failure> {
    let (scenario, _) = document.scenario()?;
    if !quiet {
        for remark in remarks(document, &scenario)? {
            terminal::say(format!("remark: {remark}"));
        }
    }
    Ok(scenario)
}

/// What is odd about the inputs, value by value and taken together.
pub(super) fn remarks(document: &Document, scenario: &Scenario) -> Result<Vec<String>, Failure> {
    let (_, warnings) = document.scenario()?;
    Ok(warnings.iter().map(ToString::to_string).chain(far_from_rated(scenario)).collect())
}

/// A JSON document with inputs, versions and cautions; the rest is the caller's.
pub(super) fn json(
    command: json::Command,
    document: &Document,
    scenario: &Scenario,
) -> Result<json::Document, Failure> {
    let inputs = echo(document)?
        .into_iter()
        .map(|row| json::InputRow { path: row.path, si: row.si, us: row.us, typed: row.typed })
        .collect();
    Ok(json::Document {
        program: env!("CARGO_PKG_NAME").into(),
        version: env!("CARGO_PKG_VERSION").into(),
        command,
        scenario: scenario.name.clone(),
        question: scenario.question.clone(),
        data: scenario.data.clone(),
        overrides: document.settings().iter().map(ToString::to_string).collect(),
        inputs,
        remarks: remarks(document, scenario)?,
        indicators: Vec::new(),
        verdict: None,
        map: None,
        stability: None,
        closing: None,
        ledger: Vec::new(),
        counters: Vec::new(),
        cautions: CAUTIONS.iter().map(ToString::to_string).collect(),
    })
}

/// The ledger as rows: each entry, what is stored, and the relative residue.
pub(super) fn ledger_rows(balances: &[Balance]) -> Vec<json::LedgerRow> {
    let row = |name: String, value: f64, unit: &str| json::LedgerRow { name, value, unit: unit.into() };
    let mut rows = Vec::new();
    for balance in balances {
        for (entry, amount) in &balance.entries {
            rows.push(row(format!("{}: {entry}", balance.name), *amount, balance.unit));
        }
        rows.push(row(format!("{}: growth of what is stored", balance.name), balance.stored, balance.unit));
        rows.push(row(format!("{}: residue", balance.name), balance.residue(), balance.unit));
        rows.push(row(format!("{}: residue relative to the larger side", balance.name), balance.relative(), ""));
    }
    rows
}

/// Counters as rows.
pub(super) fn counter_rows(counters: &Counters) -> Vec<json::CounterRow> {
    let row = |name: &str, value: usize| json::CounterRow { name: name.into(), value: value as u64 };
    vec![
        row("accepted steps", counters.accepted),
        row("rejected steps", counters.rejected),
        row("evaluations of the right-hand side", counters.evaluations),
        row("Jacobians", counters.jacobians),
        row("factorisations", counters.factorisations),
    ]
}
