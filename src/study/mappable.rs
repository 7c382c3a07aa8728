//! Can anything of a map be computed? Found out before the work.

use super::axis::Grid;
use super::setting::laid_over;
use super::stability_map::as_mapped;
use crate::scenario::{Document, Scenario};
use crate::simulate::RunError;
use crate::simulate::throttle::prepare;

/// Why none of a map's cells could be computed: the reason at the first of them, where all are refused before a run. None where
/// one cell can be, at least. Cells of which the liquid would boil are told by the map itself.
pub fn unmappable(document: &Document, scenario: &Scenario, grid: &Grid) -> Option<String> {
    let document = &as_mapped(document, scenario);
    let mut first = None;
    for &x in &grid.x.values {
        for &y in &grid.y.values {
            match refusal(document, &[(&grid.x.path, x), (&grid.y.path, y)]) {
                Some(reason) => first = first.or(Some(reason)),
                None => return None,
            }
        }
    }
    let cells = grid.x.values.len() * grid.y.values.len();
    first.map(|reason| {
        format!(
            "none of the {cells} cells of the map over {} and {} can be computed, so that it is not begun; the first: {reason}. \
             State axes that the scenario can follow, in [map.x] and [map.y]",
            grid.x.path, grid.y.path
        )
    })
}

/// Why a cell is refused before its run; none where it is not, or where its liquid would boil.
fn refusal(document: &Document, settings: &[(&str, f64)]) -> Option<String> {
    match laid_over(document, settings) {
        Ok(scenario) => prepare(&scenario)
            .err()
            .filter(|error| !matches!(error, RunError::WouldBoil(_)))
            .map(|error| error.to_string()),
        Err(problems) => problems.0.iter().find(|problem| !problem.would_boil).map(|problem| problem.message.clone()),
    }
}
