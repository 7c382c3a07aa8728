//! The stability map: what the study hands to the outputs.

use super::disturbance::Disturbance;
use crate::indicator::Indicators;
use crate::units::Dimension;
use crate::verdict::{Behaviour, Verdict};
use serde::{Deserialize, Serialize};

/// One axis as computed.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// Parameter path.
    pub path: String,
    /// Title in words.
    pub title: String,
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Logarithmic spacing?
    pub logarithmic: bool,
    /// Grid values, SI, rising.
    pub values: Vec<f64>,
}

/// What was found at one grid point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CellResult {
    /// Indicators.
    pub indicators: Indicators,
    /// Verdict.
    pub verdict: Verdict,
    /// Largest relative residue of the ledgers of mass and energy.
    pub ledger_residue: f64,
    /// Accepted steps of the integration.
    pub steps: u64,
    /// Evaluations of the right-hand side.
    pub evaluations: u64,
    /// Small motions by theory, and what a knock does.
    pub disturbance: Disturbance,
    /// Row from which the transient was reused (nothing overlaps), if it was.
    pub reused_from_row: Option<usize>,
}

/// A cell: a result, or the reason for having none.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Cell {
    /// Simulated (or reused, see the result).
    Done(Box<CellResult>),
    /// Failed, with the reason.
    Failed(String),
    /// Not computed (cancelled).
    Missing,
}

/// A refined point of the boundary between two behaviours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoundaryPoint {
    /// Across, SI.
    pub x: f64,
    /// Up, SI.
    pub y: f64,
    /// Behaviour on the lower side of x.
    pub left: Behaviour,
    /// Behaviour on the upper side of x.
    pub right: Behaviour,
}

/// Where a guide comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GuideKind {
    /// A formula by hand, or a limit of time.
    Hand,
    /// The boundary of small oscillations, by the theory of [`crate::stability`].
    Theory,
}

/// A line or curve to be drawn with its label: a hand value, a limit, or a boundary by theory.
#[derive(Clone, Debug, PartialEq)]
pub struct Guide {
    /// Label, such as "lift-off by hand".
    pub label: String,
    /// Where it comes from.
    pub kind: GuideKind,
    /// Points (x, y), SI, in the axes' quantities.
    pub points: Vec<(f64, f64)>,
}

/// The whole map; `cells[row * columns + column]`, row along y.
#[derive(Clone, Debug, PartialEq)]
pub struct StabilityMap {
    /// Scenario name.
    pub scenario: String,
    /// Question of the scenario.
    pub question: String,
    /// Remark on the data (invented, measured, …).
    pub data: String,
    /// Across.
    pub x: Axis,
    /// Up.
    pub y: Axis,
    /// Cells, row-major.
    pub cells: Vec<Cell>,
    /// The differential across the valve at its flow for each column (second reading of the x axis), Pa; empty when x is
    /// not a pressure.
    pub across_valve: Vec<Option<f64>>,
    /// Refined boundaries.
    pub boundaries: Vec<BoundaryPoint>,
    /// Hand values and limits.
    pub guides: Vec<Guide>,
    /// Scales to read the map by (2L/a, Λ), each a short sentence.
    pub scales: Vec<String>,
    /// Disagreements between hand formula and simulation beyond a factor of 1.5, in sentences.
    pub disagreements: Vec<String>,
    /// The user's own operating point (x, y).
    pub operating_point: (f64, f64),
    /// Overrides given on the command line, as typed.
    pub overrides: Vec<String>,
}
