//! Boundaries between behaviours, found by halving the gap between two neighbouring columns.

use super::axis::{Grid, middle};
use super::column::{long_phases, temperature_class};
use super::examine::{examine_disturbed, examine_heated, phases};
use super::map::{BoundaryPoint, Cell};
use super::map_job::{MapError, MapJob, Progress};
use super::setting::scenario_at;

use crate::parallel::*;
use crate::scenario::Document;
use crate::simulate::throttle::prepare;
use crate::verdict::Behaviour;

/// Halvings where one transient serves many rows: the gap shrinks to a sixteenth.
const SHARED_HALVINGS: usize = 4;
/// Halvings where every row needs its own run.
const OWN_HALVINGS: usize = 1;

/// A gap between two columns in which the behaviour changes, and the rows that share it.
struct Gap {
    column: usize,
    /// The row whose transient is used.
    row: usize,
    rows: Vec<usize>,
    shared: bool,
    left: Behaviour,
    right: Behaviour,
}

fn leading(cell: &Cell) -> Option<Behaviour> {
    match cell {
        Cell::Done(result) => result.verdict.leading().map(|f| f.behaviour),
        _ => None,
    }
}

/// The row from whose transient a cell was read.
fn origin(cell: &Cell, row: usize) -> Option<usize> {
    match cell {
        Cell::Done(result) => Some(result.reused_from_row.unwrap_or(row)),
        _ => None,
    }
}

/// Gaps of a map; rows that share both transients share the gap.
fn gaps(columns: &[Vec<Cell>]) -> Vec<Gap> {
    let mut found: Vec<Gap> = Vec::new();
    for column in 0..columns.len().saturating_sub(1) {
        let first = found.len();
        for (row, (a, b)) in columns[column].iter().zip(&columns[column + 1]).enumerate() {
            let (Some(left), Some(right)) = (leading(a), leading(b)) else { continue };
            if left == right {
                continue;
            }
            let origins = (origin(a, row), origin(b, row));
            let shares = |gap: &&mut Gap| {
                origins.0 == Some(gap.row) && origins.1 == Some(gap.row) && gap.left == left && gap.right == right
            };
            if let Some(gap) = found[first..].iter_mut().find(shares) {
                gap.rows.push(row);
                gap.shared = true;
            } else {
                found.push(Gap { column, row, rows: vec![row], shared: false, left, right });
            }
        }
    }
    found
}

/// Refined boundary points of a map, in the order of columns and rows.
pub fn boundaries(
    document: &Document,
    grid: &Grid,
    columns: &[Vec<Cell>],
    job: &MapJob<'_>,
) -> Result<Vec<BoundaryPoint>, MapError> {
    let gaps = gaps(columns);
    let edge = |gap: &Gap| {
        let place = (gap.column, gap.row);
        let x = match job.known.edges.get(&place) {
            Some(&x) => x,
            None => narrowed(document, grid, gap, job.stop)?,
        };
        (job.told)(Progress::Edge { place, x, of: gaps.len() });
        Some(x)
    };
    let edges: Option<Vec<f64>> = gaps.par_iter().map(edge).collect();
    let points = gaps.iter().zip(edges.ok_or(MapError::Stopped)?).flat_map(|(gap, x)| {
        gap.rows.iter().map(move |&row| BoundaryPoint { x, y: grid.y.values[row], left: gap.left, right: gap.right })
    });
    Ok(points.collect())
}

/// Where in the gap the behaviour changes. `stop` is asked before each run; none where it gave up.
fn narrowed(document: &Document, grid: &Grid, gap: &Gap, stop: &(dyn Fn() -> bool + Sync)) -> Option<f64> {
    let (mut low, mut high) = (grid.x.values[gap.column], grid.x.values[gap.column + 1]);
    for _ in 0..if gap.shared { SHARED_HALVINGS } else { OWN_HALVINGS } {
        if stop() {
            return None;
        }
        let x = middle(&grid.x, low, high);
        match behaviour(document, grid, gap, x) {
            Some(found) if found == gap.left => low = x,
            Some(found) if found == gap.right => high = x,
            // A third behaviour lies between: its place is as good a boundary as the grid allows.
            _ => return Some(x),
        }
    }
    Some(middle(&grid.x, low, high))
}

fn behaviour(document: &Document, grid: &Grid, gap: &Gap, x: f64) -> Option<Behaviour> {
    let settings = [(grid.x.path.as_str(), x), (grid.y.path.as_str(), grid.y.values[gap.row])];
    let scenario = prepare(&scenario_at(document, &settings).ok()?).ok()?;
    let temperature = temperature_class(&scenario);
    // A knock is tried only where it decides between the two sides; small motions are not asked for here.
    let knocked = [gap.left, gap.right].contains(&Behaviour::ChattersIfDisturbed);
    let phases = if gap.shared { long_phases(&scenario) } else { phases(&scenario) };
    let examined = if knocked {
        examine_disturbed(scenario, phases, temperature, None)
    } else {
        examine_heated(scenario, phases, temperature)
    };
    examined.ok()?.verdict.leading().map(|f| f.behaviour)
}
