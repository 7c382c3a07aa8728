//! Refined boundaries, joined to lines.

use super::grid::Grid;
use crate::output::plot::canvas::{Canvas, Stroke};
use crate::output::plot::colour::BLACK;
use crate::verdict::Behaviour;

struct Chain {
    kind: (Behaviour, Behaviour),
    points: Vec<(f64, f64)>,
}

/// Draws the boundaries.
pub(super) fn draw(canvas: &mut Canvas, grid: &Grid) {
    let stroke = Stroke::solid(BLACK, 1.3);
    let row = grid.frame.height() / grid.rows().max(1) as f64;
    for chain in chains(grid) {
        // Each point stands for its whole row, so the line runs half a row beyond the first and the last.
        let (Some(first), Some(last)) = (chain.points.first(), chain.points.last()) else { continue };
        let start = (first.0, first.1 + row / 2.0);
        let end = (last.0, last.1 - row / 2.0);
        let points: Vec<(f64, f64)> = std::iter::once(start).chain(chain.points.iter().copied()).chain([end]).collect();
        canvas.polyline_within(&grid.frame, &points, stroke);
    }
}

/// Style of an edge that is known only to the fineness of the grid.
pub(super) fn coarse() -> Stroke {
    Stroke::solid(BLACK, 0.6)
}

/// Draws the edges between regions where no refined boundary runs.
pub(super) fn draw_coarse(canvas: &mut Canvas, grid: &Grid) {
    for (from, to) in coarse_edges(grid) {
        canvas.line(from, to, coarse());
    }
}

/// Are there such edges?
pub(super) fn has_coarse(grid: &Grid) -> bool {
    !coarse_edges(grid).is_empty()
}

fn coarse_edges(grid: &Grid) -> Vec<((f64, f64), (f64, f64))> {
    let mut edges = Vec::new();
    for row in 0..grid.rows() {
        let (top, bottom) = grid.mosaic.rows[row];
        for column in 1..grid.columns() {
            if !grid.alike((row, column - 1), (row, column)) && !grid.refined[row][column] {
                let x = grid.mosaic.edges[row][column];
                edges.push(((x, bottom), (x, top)));
            }
        }
        if row + 1 == grid.rows() {
            continue;
        }
        // A change over one column is a step of a slanting boundary, which has its own line.
        let changes = |column: usize| !grid.alike((row, column), (row + 1, column));
        for (from, to) in grid.mosaic.runs(row, changes).into_iter().filter(|(from, to)| to - from > 1) {
            edges.push(((grid.mosaic.edges[row][from], top), (grid.mosaic.edges[row][to], top)));
        }
    }
    edges
}

/// Points of one kind of boundary in neighbouring rows that lie near to each other.
fn chains(grid: &Grid) -> Vec<Chain> {
    let mut points: Vec<((f64, f64), (Behaviour, Behaviour))> = grid
        .map
        .boundaries
        .iter()
        .filter(|b| grid.x.holds(b.x) && grid.y.holds(b.y))
        .filter_map(|b| grid.place((b.x, b.y)).map(|at| (at, (b.left, b.right))))
        .collect();
    points.sort_by(|a, b| b.0.1.total_cmp(&a.0.1).then(a.0.0.total_cmp(&b.0.0)).then(a.1.cmp(&b.1)));
    let reach_down = 1.6 * grid.frame.height() / grid.rows().max(1) as f64;
    let reach_across = 5.0 * grid.frame.width() / grid.columns().max(1) as f64;
    let mut chains: Vec<Chain> = Vec::new();
    for (at, kind) in points {
        let near = |chain: &Chain| {
            let end = chain.points[chain.points.len() - 1];
            let (across, down) = ((end.0 - at.0).abs(), end.1 - at.1);
            (chain.kind == kind && down > 0.5 && down <= reach_down && across <= reach_across).then_some(across)
        };
        let nearest = chains
            .iter()
            .enumerate()
            .filter_map(|(i, chain)| near(chain).map(|across| (i, across)))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        match nearest {
            Some((i, _)) => chains[i].points.push(at),
            None => chains.push(Chain { kind, points: vec![at] }),
        }
    }
    chains
}
