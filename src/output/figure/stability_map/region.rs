//! Connected regions of cells, and where in them their names find room.

use crate::portable::Portable;
use std::collections::BTreeMap;

use super::grid::Grid;
use crate::output::plot::canvas::Direction;
use crate::output::plot::font::text_width;
use crate::output::plot::text::{LINE_STEP, wrap};
use crate::output::plot::{Rect, SMALL};

/// Cells that touch along their sides: (row, column).
pub(super) type Region = Vec<(usize, usize)>;

/// A name with its place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Name {
    pub(super) lines: Vec<String>,
    pub(super) centre: (f64, f64),
    pub(super) size: f64,
    pub(super) direction: Direction,
}

impl Name {
    /// The area that it covers, with a little air.
    pub(super) fn area(&self) -> Rect {
        let (width, height) = extent(&self.lines, self.size, self.direction);
        Rect::about(self.centre, width, height)
    }
}

fn extent(lines: &[String], size: f64, direction: Direction) -> (f64, f64) {
    let long = lines.iter().map(|l| text_width(l, size)).fold(0.0, f64::max) + 6.0;
    match direction {
        Direction::Across => (long, lines.len() as f64 * size * LINE_STEP + 2.0),
        // Upright in a narrow region: the rim round the letters is the only air.
        Direction::Upwards => (lines.len() as f64 * size * LINE_STEP - 0.25 * size, long),
    }
}

/// The connected regions of the member cells, the largest first.
pub(super) fn connected(grid: &Grid, member: impl Fn(usize, usize) -> bool) -> Vec<Region> {
    let (rows, columns) = (grid.rows(), grid.columns());
    let mut seen = vec![false; rows * columns];
    let mut all: Vec<Region> = Vec::new();
    for start in 0..rows * columns {
        let cell = (start / columns, start % columns);
        if seen[start] || !member(cell.0, cell.1) {
            continue;
        }
        seen[start] = true;
        let mut region = vec![cell];
        let mut next = 0;
        while next < region.len() {
            let (row, column) = region[next];
            next += 1;
            let beside =
                [(row.wrapping_sub(1), column), (row + 1, column), (row, column.wrapping_sub(1)), (row, column + 1)];
            for (r, c) in beside {
                if r < rows && c < columns && !seen[r * columns + c] && member(r, c) {
                    seen[r * columns + c] = true;
                    region.push((r, c));
                }
            }
        }
        all.push(region);
    }
    all.sort_by_key(|region| std::cmp::Reverse(region.len()));
    all
}

/// A place for the words inside the region, clear of the areas taken: across, else upright; none where there is no room.
pub(super) fn name(grid: &Grid, region: &Region, words: &str, size: f64, taken: &[Rect]) -> Option<Name> {
    let rim = rim(grid, region);
    let find = |size, direction| placed(grid, region, &rim, words, (size, direction), taken);
    find(size, Direction::Across).or_else(|| find(size, Direction::Upwards)).or_else(|| find(SMALL, Direction::Upwards))
}

fn placed(
    grid: &Grid,
    region: &Region,
    rim: &[Rect],
    words: &str,
    style: (f64, Direction),
    taken: &[Rect],
) -> Option<Name> {
    let (size, direction) = style;
    let whole = text_width(words, size);
    let shares: &[f64] = if direction == Direction::Across { &[1.0, 0.62, 0.45] } else { &[1.0] };
    let mut layouts: Vec<Vec<String>> = Vec::new();
    for share in shares {
        let lines = wrap(words, size, whole * share + 0.5);
        // A word broken in two is worse than the letter that stands in for it.
        let unbroken = lines.join(" ") == words;
        if unbroken && !layouts.contains(&lines) {
            layouts.push(lines);
        }
    }
    let mut best: Option<(f64, Name)> = None;
    for lines in layouts {
        let Some((room, centre)) = roomiest(grid, region, rim, extent(&lines, size, direction), taken) else {
            continue;
        };
        // A further line must bring clearly more room.
        if room >= 1.0 && best.as_ref().is_none_or(|(other, _)| room > other + 0.4) {
            best = Some((room, Name { lines, centre, size, direction }));
        }
    }
    best.map(|(_, name)| name)
}

/// Cells beside the region that do not belong to it.
fn rim(grid: &Grid, region: &Region) -> Vec<Rect> {
    let mut inside = vec![false; grid.rows() * grid.columns()];
    for &(row, column) in region {
        inside[row * grid.columns() + column] = true;
    }
    let mut rim = Vec::new();
    for row in 0..grid.rows() {
        for (from, to) in grid.mosaic.runs(row, |column| !inside[row * grid.columns() + column]) {
            rim.push(grid.mosaic.rect(row, from, to));
        }
    }
    rim
}

/// The middle of the cell with most room for a box, and how many times the box would fit there (at most 1.8).
fn roomiest(grid: &Grid, region: &Region, rim: &[Rect], size: (f64, f64), taken: &[Rect]) -> Option<(f64, (f64, f64))> {
    let mut middles: Vec<(f64, f64)> = region.iter().map(|&(r, c)| grid.middle(r, c)).collect();
    middles.extend(spans(grid, region));
    let number = middles.len().max(1) as f64;
    let centre = middles.iter().fold((0.0, 0.0), |sum, m| (sum.0 + m.0 / number, sum.1 + m.1 / number));
    let mut best: Option<(f64, f64, (f64, f64))> = None;
    for &at in &middles {
        let area = Rect::about(at, size.0, size.1);
        if !grid.frame.holds(&area) || taken.iter().any(|t| t.overlaps(&area)) {
            continue;
        }
        let edges = [
            2.0 * (at.0 - grid.frame.left) / size.0,
            2.0 * (grid.frame.right - at.0) / size.0,
            2.0 * (at.1 - grid.frame.top) / size.1,
            2.0 * (grid.frame.bottom - at.1) / size.1,
        ];
        let room = rim.iter().map(|r| fits(r, at, size)).chain(edges).fold(1.8, f64::min);
        let off = (at.0 - centre.0).length_with(at.1 - centre.1) / grid.frame.width();
        let score = room - 0.8 * off;
        if best.is_none_or(|(other, _, _)| score > other) {
            best = Some((score, room, at));
        }
    }
    best.map(|(_, room, at)| (room, at))
}

/// The middle of each row of a region, which in a narrow one may lie between two cells.
fn spans(grid: &Grid, region: &Region) -> Vec<(f64, f64)> {
    let mut rows: BTreeMap<usize, (usize, usize)> = BTreeMap::new();
    for &(row, column) in region {
        let ends = rows.entry(row).or_insert((column, column));
        *ends = (ends.0.min(column), ends.1.max(column));
    }
    let middle = |(row, (from, to)): (usize, (usize, usize))| {
        let rect = grid.mosaic.rect(row, from, to + 1);
        ((rect.left + rect.right) / 2.0, (rect.top + rect.bottom) / 2.0)
    };
    rows.into_iter().map(middle).collect()
}

/// By which factor a box about a point could grow until it met a rectangle.
fn fits(rect: &Rect, at: (f64, f64), size: (f64, f64)) -> f64 {
    let across = (rect.left - at.0).max(at.0 - rect.right).max(0.0);
    let down = (rect.top - at.1).max(at.1 - rect.bottom).max(0.0);
    (2.0 * across / size.0).max(2.0 * down / size.1)
}
