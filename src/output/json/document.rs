//! The document as a whole.

use super::closing::ClosingPart;
use super::faults::FaultsPart;
use super::indicator::IndicatorRow;
use super::map::MapPart;
use super::stability::StabilityPart;
use super::verdict::VerdictPart;
use serde::Serialize;

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
    /// One fault after the other.
    Faults,
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
    /// What each fault does.
    pub faults: Option<FaultsPart>,
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
