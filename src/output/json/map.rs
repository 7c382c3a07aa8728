//! A map in the document.

use super::indicator::both;
use super::verdict::{VerdictPart, verdict_part};
use crate::output::unit::{shown, units};
use crate::study::axis::Axis;
use crate::study::disturbed::Disturbance;
use crate::study::map::{BoundaryPoint, Cell, StabilityMap};
use serde::Serialize;

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
