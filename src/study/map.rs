//! The stability map: what the study hands to the outputs.

use super::axis::Axis;
use super::disturbed::Disturbance;
use crate::indicator::Indicators;
use crate::verdict::{Behaviour, Verdict};
use serde::{Deserialize, Serialize};

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
    /// No run: the liquid would boil before the valve, in it or behind it; with the reason.
    WouldBoil(String),
    /// Failed, with the reason.
    Failed(String),
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
    /// The user's own operating point (x, y), SI; none where the scenario has no value of that parameter.
    pub operating_point: (Option<f64>, Option<f64>),
    /// Overrides given on the command line, as typed.
    pub overrides: Vec<String>,
}

impl StabilityMap {
    /// The cell of a row and a column.
    pub fn cell(&self, row: usize, column: usize) -> &Cell {
        static NONE: Cell = Cell::Failed(String::new());
        self.cells.get(row * self.x.values.len() + column).unwrap_or(&NONE)
    }

    /// Row and column of the cell in which the user's own point lies; none where it has no place on the map or lies outside.
    pub fn own_cell(&self) -> Option<(usize, usize)> {
        let (x, y) = self.operating_point;
        Some((self.y.nearest(y?)?, self.x.nearest(x?)?))
    }

    /// What is not judged, in how many cells and why in the first of them.
    pub fn reservation(&self) -> Option<String> {
        let not_judged = |cell: &Cell| match cell {
            Cell::Done(result) => result.verdict.not_judged.first().cloned(),
            Cell::WouldBoil(_) | Cell::Failed(_) => None,
        };
        let number = self.cells.iter().filter_map(not_judged).count();
        let bang = self.cells.iter().find_map(not_judged).map(|first| {
            format!("A bang on opening is not judged, and possible in {number} of {} cells: {first}.", self.cells.len())
        });
        let not_computed = self.cells.iter().find_map(|cell| match cell {
            Cell::Done(result) if !result.verdict.not_computed.is_empty() => {
                Some(result.verdict.not_computed.join(" "))
            }
            Cell::Done(_) | Cell::WouldBoil(_) | Cell::Failed(_) => None,
        });
        let all: Vec<String> = bang.into_iter().chain(not_computed).collect();
        (!all.is_empty()).then(|| all.join(" "))
    }

    /// Why no cell has a result, if none has: a figure of it would show nothing.
    pub fn without_any_result(&self) -> Option<String> {
        let reason = |cell: &Cell| match cell {
            Cell::WouldBoil(reason) | Cell::Failed(reason) => Some(reason.clone()),
            Cell::Done(_) => None,
        };
        let reasons: Vec<String> = self.cells.iter().map(reason).collect::<Option<_>>()?;
        let (all, first) = (reasons.len(), reasons.first().map_or("", String::as_str));
        Some(match self.count(|cell| matches!(cell, Cell::WouldBoil(_))) {
            0 => format!("all {all} cells failed; the first: {first}"),
            boil if boil == all => format!("in all {all} cells the liquid would boil; the first: {first}"),
            boil => {
                format!(
                    "of {all} cells none has a result: {boil} would boil, {} failed; the first: {first}",
                    all - boil
                )
            }
        })
    }

    /// Cells of a kind.
    pub fn count(&self, member: fn(&Cell) -> bool) -> usize {
        self.cells.iter().filter(|cell| member(cell)).count()
    }

    /// Is the verdict of the cell in which the user's own point lies adverse, would the liquid boil there, or did the run fail?
    /// Beyond the grid the nearest cell decides; none where the scenario has no such point, or the cell was not computed.
    pub fn adverse_at_own_point(&self) -> Option<bool> {
        let held = |axis: &Axis, at: Option<f64>| {
            let (first, last) = (*axis.values.first()?, *axis.values.last()?);
            axis.nearest(at?.max(first).min(last))
        };
        let (column, row) = (held(&self.x, self.operating_point.0)?, held(&self.y, self.operating_point.1)?);
        match self.cells.get(row * self.x.values.len() + column)? {
            Cell::Done(result) => Some(result.verdict.adverse()),
            Cell::WouldBoil(_) | Cell::Failed(_) => Some(true),
        }
    }
}
