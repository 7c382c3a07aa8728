//! One column of a map: all rows at one value of the x axis, with transients reused where nothing overlaps.

use super::axis::Grid;
use super::disturbed::amend;
use super::examine::{examine, examine_disturbed, phases};
use super::examined::Examined;
use super::judgement::judged;
use super::map::{Cell, CellResult};
use super::setting::laid_over;
use crate::scenario::{Document, Problems, Scenario};
use crate::simulate::coil_heat::winding_temperature;
use crate::simulate::throttle::prepare;
use crate::simulate::{Phases, RunError};

/// Winding temperatures are taken to steps of this, K, where transients are shared: resistance then differs by 1 %.
const TEMPERATURE_CLASS: f64 = 5.0;

/// One long transient, from which rows whose phases are longer than what it showed are read.
pub struct Transient {
    examined: Examined,
    row: usize,
    /// Winding temperature class, K.
    class: f64,
}

/// The cell of a scenario that cannot be read: a liquid that has boiled is a result, anything else is a failure.
fn unread(problems: &Problems) -> Cell {
    let fault = problems.0.iter().find(|problem| !problem.would_boil);
    match (fault, problems.0.first()) {
        (Some(fault), _) => Cell::Failed(fault.message.clone()),
        (None, Some(boils)) => Cell::WouldBoil(boils.message.clone()),
        (None, None) => Cell::Failed(String::new()),
    }
}

/// What an examination tells a cell.
pub fn cell_of(examined: &Examined, reused_from_row: Option<usize>) -> CellResult {
    CellResult {
        indicators: examined.indicators.clone(),
        verdict: examined.verdict.clone(),
        ledger_residue: examined.record.residue(),
        steps: (examined.record.counters.accepted + examined.record.counters.rejected) as u64,
        evaluations: examined.record.counters.evaluations as u64,
        disturbance: examined.disturbance,
        reused_from_row,
    }
}

/// All cells of a column. `stop` is asked before each; none where it gave up.
pub fn column(document: &Document, grid: &Grid, x: f64, stop: &(dyn Fn() -> bool + Sync)) -> Option<Vec<Cell>> {
    let mut transients = Vec::new();
    (0..grid.y.values.len()).map(|row| (!stop()).then(|| cell(document, grid, x, row, &mut transients))).collect()
}

fn cell(document: &Document, grid: &Grid, x: f64, row: usize, transients: &mut Vec<Transient>) -> Cell {
    let settings = [(grid.x.path.as_str(), x), (grid.y.path.as_str(), grid.y.values[row])];
    let scenario = match laid_over(document, &settings) {
        Ok(scenario) => scenario,
        Err(problems) => return unread(&problems),
    };
    let result = if grid.rate_is_up { shared(&scenario, row, transients) } else { alone(&scenario) };
    match result {
        Ok(result) => Cell::Done(Box::new(result)),
        Err(RunError::WouldBoil(reason)) => Cell::WouldBoil(reason),
        Err(error) => Cell::Failed(error.to_string()),
    }
}

fn alone(scenario: &Scenario) -> Result<CellResult, RunError> {
    Ok(cell_of(&examine(scenario)?, None))
}

/// The winding temperature class of a scenario, K.
pub fn temperature_class(scenario: &Scenario) -> f64 {
    (winding_temperature(scenario) / TEMPERATURE_CLASS).round() * TEMPERATURE_CLASS
}

/// The phases of the long transient: one cycle, as long as it has anything to show.
pub fn long_phases(scenario: &Scenario) -> Phases {
    let asked = scenario.asked_times();
    let (open, shut) = (asked.longest_open, asked.longest_shut);
    Phases { open, shut, cycles: 1, early_open: true, early_shut: true, watch: 0.0 }
}

/// A row from a transient that has shown all that this row's phases can show, else from a run of its own. Transients are
/// shared within a class of winding temperature; rows are judged at their own.
fn shared(scenario: &Scenario, row: usize, transients: &mut Vec<Transient>) -> Result<CellResult, RunError> {
    let ready = prepare(scenario)?;
    let temperature = temperature_class(&ready);
    let same = |t: &Transient| t.class == temperature;
    if !transients.iter().any(same) {
        transients.push(Transient {
            examined: examine_disturbed(ready.clone(), long_phases(&ready), temperature, None)?,
            row,
            class: temperature,
        });
    }
    if let Some(transient) = transients.iter().find(|t| same(t) && covers(&t.examined, &ready)) {
        let reused = (transient.row != row).then_some(transient.row);
        return Ok(own_duty(&transient.examined, &ready, temperature, reused));
    }
    let known = transients.iter().find(|t| same(t)).map(|t| t.examined.disturbance);
    let examined = examine_disturbed(ready.clone(), phases(&ready), temperature, known)?;
    Ok(own_duty(&examined, &ready, temperature, None))
}

/// A run judged at a scenario's own duty, and at its own temperature where the run was made at that of its class.
fn own_duty(examined: &Examined, scenario: &Scenario, class: f64, reused: Option<usize>) -> CellResult {
    let made_at = examined.record.coil_temperature;
    let temperature = if made_at == class { winding_temperature(scenario) } else { made_at };
    let (indicators, mut verdict) = judged(scenario, &examined.record, temperature);
    amend(&mut verdict, &examined.disturbance);
    CellResult { indicators, verdict, ..cell_of(examined, reused) }
}

/// Are the scenario's phases at least as long as what the transient needed, so that nothing overlaps?
pub fn covers(transient: &Examined, scenario: &Scenario) -> bool {
    let asked = scenario.asked_times();
    let shown = |needed: Option<f64>, limit: f64, has: f64| needed.is_some_and(|t| has >= t) || has >= limit;
    shown(transient.indicators.open_time, asked.longest_open, asked.open)
        && shown(transient.indicators.shut_time, asked.longest_shut, asked.shut)
}
