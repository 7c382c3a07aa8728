//! The stability map: a grid of verdicts by simulation, boundaries refined, hand values beside.

use super::axis::Grid;
use super::column::column;
use super::guide;
use super::map::{Cell, StabilityMap};
use super::map_job::{MapError, MapJob, Progress};
use super::overlay::overlay;
use super::own_point::own_value;
use super::refine::boundaries;
use crate::parallel::*;
use crate::physics::fluid::Phase;
use crate::scenario::{Document, Scenario};

/// The grid of a document's map and its scenario.
pub fn grid(document: &Document) -> Result<(Grid, Scenario), MapError> {
    let (scenario, _) = document.scenario().map_err(MapError::Scenario)?;
    let (x, y) = (&scenario.map.x, &scenario.map.y);
    let grid = Grid::new(document, x, y).ok_or_else(|| MapError::Axis(format!("{} or {}", x.path, y.path)))?;
    Ok((grid, scenario))
}

/// The document whose cells are asked for: where a liquid has boiled is a region of the map, not a gas for which the scenario
/// lacks numbers.
pub(super) fn as_mapped(document: &Document, scenario: &Scenario) -> Document {
    let liquid = matches!(scenario.fluid.phase, Phase::Liquid(_));
    if liquid { document.as_liquid() } else { document.clone() }
}

/// Compute the map, on all cores that the current thread pool has; equal for any number of them.
pub fn stability_map(document: &Document, job: &MapJob<'_>) -> Result<StabilityMap, MapError> {
    let (grid, scenario) = grid(document)?;
    let document = &as_mapped(document, &scenario);
    let found = |(i, &x): (usize, &f64)| {
        let cells = match job.known.columns.get(&i) {
            Some(cells) => cells.clone(),
            None => column(document, &grid, x, job.stop)?,
        };
        (job.told)(Progress::Column(i, &cells));
        Some(cells)
    };
    let columns: Option<Vec<Vec<Cell>>> = grid.x.values.par_iter().enumerate().map(found).collect();
    let columns = columns.ok_or(MapError::Stopped)?;
    let rows = grid.y.values.len();
    let cells: Vec<Cell> = (0..rows).flat_map(|row| columns.iter().map(move |column| column[row].clone())).collect();
    let boundaries = boundaries(document, &grid, &columns, job)?;
    let (mut guides, mut disagreements) = guide::guides(&scenario, &grid, &columns);
    (job.told)(Progress::Theory);
    let (theory, remarks) = overlay(document, &scenario, &grid, &columns, job.stop);
    if (job.stop)() {
        return Err(MapError::Stopped);
    }
    guides.extend(theory);
    disagreements.extend(remarks);
    let own = |path: &str| own_value(document, &scenario, path);
    Ok(StabilityMap {
        scenario: scenario.name.clone(),
        question: scenario.question.clone(),
        data: scenario.data.clone(),
        across_valve: across_valve(&grid, &columns),
        operating_point: (own(&grid.x.path), own(&grid.y.path)),
        x: grid.x,
        y: grid.y,
        cells,
        boundaries,
        guides,
        scales: if grid.rate_is_up { guide::scales(&scenario) } else { Vec::new() },
        disagreements,
        overrides: document.settings().iter().map(ToString::to_string).collect(),
    })
}

/// Differential across the valve in the lowest row that has one.
fn across_valve(grid: &Grid, columns: &[Vec<Cell>]) -> Vec<Option<f64>> {
    if !super::axis::is_differential(&grid.x) {
        return Vec::new();
    }
    let differential = |cell: &Cell| match cell {
        Cell::Done(result) => result.indicators.differential_open,
        _ => None,
    };
    columns.iter().map(|column| column.iter().find_map(differential)).collect()
}
