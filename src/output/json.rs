//! The answer as one JSON document, the same for a run, a map, a closing study and a check.
//!
//! ```text
//! program, version     who answered
//! command              "run", "map", "closing", "stability" or "check"
//! scenario, question, data, overrides
//! inputs[]             { path, si, us, typed }: every input echoed, as text with its unit
//! remarks[]            sentences on inputs that are odd
//! indicators[]         { name, value, unit, us_value, us_unit, definition, firm }; value null where the run did not show it
//! verdict              { adverse, findings[]: { behaviour, words, adverse, margin, reason }, not_judged[], no_hammer }; null
//!                      for a map and a check
//! map                  axes and cells; null for a run and a check
//! stability            equilibria, modes, boundaries, cures and curve in SI base units; null but for `stability`
//! closing              target, criteria, changes, points, sentences; null but for a closing study
//! ledger[]             { name, value, unit }: what came in, went out, was stored, and what is left over
//! counters[]           { name, value }: cost of the simulation
//! cautions[]           sentences to be read with the answer
//! ```
//!
//! A number that is infinite or none at all is null. Fields may be added in later versions; none changes its meaning.

mod answers;
mod closing;
mod fluid;
mod stability;
mod surge;

pub use answers::{check_answer, closing_answer, map_answer, run_answer, stability_answer};
pub use closing::{ChangePart, ClosingPart, CriterionPart, PointPart, TargetPart, ValuePart, closing_part};
pub use fluid::{FluidDocument, PropertyRow};
pub use stability::{StabilityPart, stability_part};
pub use surge::{BoilingRow, SideRow, SurgeDocument, SurgeFlow, SurgeLine, SurgeRow};

use serde::Serialize;

use super::unit::{shown, units};
use crate::indicator::{Firmness, Indicators};
use crate::study::disturbance::Disturbance;
use crate::study::map::{Axis, BoundaryPoint, Cell, StabilityMap};
use crate::units::{Dimension, UnitSystem, column_unit};
use crate::verdict::Verdict;

/// What was asked of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Command {
    /// One run.
    Run,
    /// A stability map.
    Map,
    /// A closing study.
    Closing,
    /// A check of the scenario without a run.
    Check,
    /// Small motions about the equilibria.
    Stability,
}

/// One input, echoed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct InputRow {
    /// Parameter path.
    pub path: String,
    /// Value with its SI unit.
    pub si: String,
    /// Value with its US customary unit.
    pub us: String,
    /// As it was typed.
    pub typed: String,
}

/// One indicator with its units.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct IndicatorRow {
    /// Name.
    pub name: &'static str,
    /// Value in `unit`.
    pub value: Option<f64>,
    /// SI display unit.
    pub unit: &'static str,
    /// Value in `us_unit`.
    pub us_value: Option<f64>,
    /// US customary unit.
    pub us_unit: &'static str,
    /// Definition in one sentence.
    pub definition: &'static str,
    /// Does it stand to three digits? Else it is "about": the last bits of an input move its second digit.
    pub firm: bool,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FindingRow {
    /// Behaviour, as a word for programs.
    pub behaviour: crate::verdict::Behaviour,
    /// Behaviour in plain words.
    pub words: &'static str,
    /// Is it a fault?
    pub adverse: bool,
    /// Distance of the deciding number from its threshold.
    pub margin: f64,
    /// The sentence that says why.
    pub reason: String,
}

/// What the numbers mean.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VerdictPart {
    /// Is any finding a fault?
    pub adverse: bool,
    /// Findings, the gravest first.
    pub findings: Vec<FindingRow>,
    /// Why a bang on opening is possible, which is not judged; empty where it is not possible.
    pub not_judged: Vec<String>,
    /// How far a closing stays from its limit, or that no limit is stated; null where it hammers or did not close.
    pub no_hammer: Option<String>,
}

/// One line of the ledger of mass and energy.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LedgerRow {
    /// What.
    pub name: String,
    /// How much.
    pub value: f64,
    /// In which unit.
    pub unit: String,
}

/// One counter of the simulation.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CounterRow {
    /// What was counted.
    pub name: String,
    /// How many.
    pub value: u64,
}

/// One axis of the map.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AxisPart {
    /// Parameter path.
    pub path: String,
    /// Title in words.
    pub title: String,
    /// SI display unit of `values`.
    pub unit: &'static str,
    /// US customary unit of `us_values`.
    pub us_unit: &'static str,
    /// Grid values.
    pub values: Vec<f64>,
    /// The same in the US customary unit.
    pub us_values: Vec<f64>,
}

/// State of one cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CellState {
    /// Simulated or reused.
    Done,
    /// No run: the liquid would boil before the valve, in it or behind it.
    WouldBoil,
    /// Failed.
    Failed,
}

/// One cell of the map.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CellPart {
    /// Column, from 0 at the left.
    pub column: usize,
    /// Row, from 0 below.
    pub row: usize,
    /// State.
    pub state: CellState,
    /// What the numbers mean.
    pub verdict: Option<VerdictPart>,
    /// Largest relative residue of the ledgers.
    pub ledger_residue: Option<f64>,
    /// Small motions by theory (SI), and what a knock does.
    pub disturbance: Option<Disturbance>,
    /// Row from which the transient was reused.
    pub reused_from_row: Option<usize>,
    /// Why there is no result.
    pub failure: Option<String>,
}

/// A refined point of a boundary.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BoundaryPart {
    /// Across, in the unit of that axis.
    pub x: f64,
    /// Up, in the unit of that axis.
    pub y: f64,
    /// Behaviour below x.
    pub left: crate::verdict::Behaviour,
    /// Behaviour above x.
    pub right: crate::verdict::Behaviour,
}

/// The map without its indicators, which are in its CSV table.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MapPart {
    /// Across.
    pub x: AxisPart,
    /// Up.
    pub y: AxisPart,
    /// Cells, row by row from below.
    pub cells: Vec<CellPart>,
    /// Refined boundaries.
    pub boundaries: Vec<BoundaryPart>,
    /// Disagreements between hand formula and simulation.
    pub disagreements: Vec<String>,
    /// The user's operating point, in the units of the axes; null where the scenario has no value of that parameter.
    pub operating_point: (Option<f64>, Option<f64>),
    /// Is the verdict there adverse, would the liquid boil there, or did the run fail? Null where there is no such point.
    pub adverse: Option<bool>,
}

/// The whole answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Document {
    /// Name of the program.
    pub program: String,
    /// Its version.
    pub version: String,
    /// What was asked.
    pub command: Command,
    /// Scenario name.
    pub scenario: String,
    /// Its question.
    pub question: String,
    /// Remark on its data.
    pub data: String,
    /// Overrides as typed.
    pub overrides: Vec<String>,
    /// Inputs, echoed.
    pub inputs: Vec<InputRow>,
    /// What is odd about the inputs.
    pub remarks: Vec<String>,
    /// Indicators.
    pub indicators: Vec<IndicatorRow>,
    /// Verdict of a run.
    pub verdict: Option<VerdictPart>,
    /// Map.
    pub map: Option<MapPart>,
    /// Equilibria, small motions about them, and what damps them.
    pub stability: Option<StabilityPart>,
    /// Closing study.
    pub closing: Option<ClosingPart>,
    /// Ledger.
    pub ledger: Vec<LedgerRow>,
    /// Counters.
    pub counters: Vec<CounterRow>,
    /// Cautions.
    pub cautions: Vec<String>,
}

impl Document {
    /// The document as text, ending with a line break.
    pub fn text(&self) -> String {
        let mut text = serde_json::to_string_pretty(self).expect("texts, numbers and lists always have a JSON form");
        text.push('\n');
        text
    }
}

/// Indicators as rows.
pub fn indicator_rows(indicators: &Indicators) -> Vec<IndicatorRow> {
    indicators.list().into_iter().map(indicator_row).collect()
}

fn indicator_row(i: crate::indicator::Indicator) -> IndicatorRow {
    let (si, us) = both(i.dimension);
    IndicatorRow {
        name: i.name,
        value: i.value.map(|v| shown(v, &si)),
        unit: si.name,
        us_value: i.value.map(|v| shown(v, &us)),
        us_unit: us.name,
        definition: i.definition,
        firm: i.firmness == Firmness::Firm,
    }
}

/// A verdict as part of the document.
pub fn verdict_part(verdict: &Verdict) -> VerdictPart {
    let row = |f: &crate::verdict::Finding| FindingRow {
        behaviour: f.behaviour,
        words: f.behaviour.words(),
        adverse: f.adverse,
        margin: f.margin,
        reason: f.reason.clone(),
    };
    VerdictPart {
        adverse: verdict.adverse(),
        findings: verdict.findings.iter().map(row).collect(),
        not_judged: verdict.not_judged.clone(),
        no_hammer: verdict.no_hammer.clone(),
    }
}

/// A map as part of the document.
pub fn map_part(map: &StabilityMap) -> MapPart {
    let (x, y) = (units(map.x.dimension).si, units(map.y.dimension).si);
    let columns = map.x.values.len().max(1);
    let boundary =
        |b: &BoundaryPoint| BoundaryPart { x: shown(b.x, &x), y: shown(b.y, &y), left: b.left, right: b.right };
    MapPart {
        x: axis_part(&map.x),
        y: axis_part(&map.y),
        cells: map.cells.iter().enumerate().map(|(i, c)| cell_part(c, i / columns, i % columns)).collect(),
        boundaries: map.boundaries.iter().map(boundary).collect(),
        disagreements: map.disagreements.clone(),
        operating_point: (map.operating_point.0.map(|v| shown(v, &x)), map.operating_point.1.map(|v| shown(v, &y))),
        adverse: map.adverse_at_own_point(),
    }
}

fn both(dimension: Dimension) -> (crate::units::ColumnUnit, crate::units::ColumnUnit) {
    (column_unit(dimension, UnitSystem::Si), column_unit(dimension, UnitSystem::Us))
}

fn axis_part(axis: &Axis) -> AxisPart {
    let (si, us) = both(axis.dimension);
    AxisPart {
        path: axis.path.clone(),
        title: axis.title.clone(),
        unit: si.name,
        us_unit: us.name,
        values: axis.values.iter().map(|&v| shown(v, &si)).collect(),
        us_values: axis.values.iter().map(|&v| shown(v, &us)).collect(),
    }
}

fn cell_part(cell: &Cell, row: usize, column: usize) -> CellPart {
    let failed = CellPart {
        column,
        row,
        state: CellState::Failed,
        verdict: None,
        ledger_residue: None,
        disturbance: None,
        reused_from_row: None,
        failure: None,
    };
    match cell {
        Cell::WouldBoil(reason) => CellPart { state: CellState::WouldBoil, failure: Some(reason.clone()), ..failed },
        Cell::Failed(reason) => CellPart { failure: Some(reason.clone()), ..failed },
        Cell::Done(result) => CellPart {
            state: CellState::Done,
            verdict: Some(verdict_part(&result.verdict)),
            ledger_residue: Some(result.ledger_residue),
            disturbance: Some(result.disturbance),
            reused_from_row: result.reused_from_row,
            ..failed
        },
    }
}
