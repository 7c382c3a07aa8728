//! The cells: colours of the leading behaviour, patterns of further faults, cells that would boil and failed cells.

use super::grid::Grid;
use crate::output::appearance::{self, ALL};
use crate::output::plot::canvas::Canvas;
use crate::output::plot::colour::{BLACK, Colour};
use crate::output::plot::pattern::{self, Pattern};
use crate::study::map::Cell;
use crate::verdict::Behaviour;

/// Ground of a failed cell.
pub(super) const FAILED_GROUND: Colour = Colour(214, 214, 214);
/// Hatching of a failed cell.
pub(super) const FAILED_LINES: Colour = Colour(130, 130, 130);
/// Colour of the patterns of further faults.
pub(super) const PATTERN: Colour = Colour(60, 60, 60);

/// Draws the ground.
pub(super) fn draw(canvas: &mut Canvas, grid: &Grid) {
    fill(canvas, grid);
    let failed = |row: usize, column: usize| matches!(grid.cell(row, column), Cell::Failed(_));
    pattern::draw(canvas, &grid.mosaic, Pattern::Crossed, FAILED_LINES, failed);
    let boils = |row: usize, column: usize| matches!(grid.cell(row, column), Cell::WouldBoil(_));
    pattern::draw(canvas, &grid.mosaic, appearance::WOULD_BOIL_PATTERN, appearance::WOULD_BOIL_RIM, boils);
    for behaviour in further(grid) {
        let member = |row: usize, column: usize| grid.also(row, column, behaviour);
        pattern::draw(canvas, &grid.mosaic, appearance::pattern(behaviour), PATTERN, member);
    }
}

fn fill(canvas: &mut Canvas, grid: &Grid) {
    // Each run reaches a little beyond its upper and right edge and is then painted over by its neighbour: no seams.
    const BLEED: f64 = 0.75;
    for row in 0..grid.rows() {
        let mut from = 0;
        while from < grid.columns() {
            let colour = ground(grid, row, from);
            let mut to = from + 1;
            while to < grid.columns() && ground(grid, row, to) == colour {
                to += 1;
            }
            let mut rect = grid.mosaic.rect(row, from, to);
            rect.top = (rect.top - BLEED).max(grid.frame.top);
            rect.right = (rect.right + BLEED).min(grid.frame.right);
            canvas.fill_rect(&rect, colour);
            from = to;
        }
    }
}

fn ground(grid: &Grid, row: usize, column: usize) -> Colour {
    match grid.cell(row, column) {
        Cell::WouldBoil(_) => appearance::WOULD_BOIL,
        Cell::Failed(_) => FAILED_GROUND,
        Cell::Done(_) => grid.leading(row, column).map_or(BLACK.tint(0.06), appearance::colour),
    }
}

/// The faults that occur beside a leading behaviour.
pub(super) fn further(grid: &Grid) -> Vec<Behaviour> {
    ALL.into_iter().filter(|&b| any(grid, |row, column| grid.also(row, column, b))).collect()
}

/// The behaviours that lead somewhere.
pub(super) fn leading(grid: &Grid) -> Vec<Behaviour> {
    ALL.into_iter().filter(|&b| any(grid, |row, column| grid.leading(row, column) == Some(b))).collect()
}

/// Is there such a cell?
pub(super) fn any(grid: &Grid, member: impl Fn(usize, usize) -> bool) -> bool {
    (0..grid.rows()).any(|row| (0..grid.columns()).any(|column| member(row, column)))
}
