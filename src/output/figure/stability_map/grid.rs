//! Where the cells of the map lie on the page.

use crate::output::plot::Rect;
use crate::output::plot::axis::{self, Spacing};
use crate::output::plot::pattern::Mosaic;
use crate::output::unit::{self, Units};
use crate::portable::Portable;
use crate::study::axis::Axis;
use crate::study::map::{BoundaryPoint, Cell, StabilityMap};
use crate::units::ColumnUnit;
use crate::verdict::Behaviour;

/// One direction of the map on the page.
pub(super) struct Scale {
    /// Place of each value.
    pub(super) axis: axis::Axis,
    /// Edges between cells, in the axis' values, one more than cells.
    pub(super) edges: Vec<f64>,
    /// The grid values on the axis.
    pub(super) values: Vec<f64>,
    /// Units shown.
    pub(super) units: Units,
    /// The grid values cannot be placed (not finite or not rising): cells are shown by their number.
    pub(super) by_number: bool,
}

impl Scale {
    fn new(given: &Axis, extent: (f64, f64)) -> Scale {
        let by_number = !placeable(&given.values, given.logarithmic);
        let spacing = if given.logarithmic && !by_number { Spacing::Logarithmic } else { Spacing::Linear };
        let values: Vec<f64> =
            if by_number { (1..=given.values.len()).map(|n| n as f64).collect() } else { given.values.clone() };
        let edges = edges(&values, spacing);
        let range = (edges.first().copied().unwrap_or(0.0), edges.last().copied().unwrap_or(1.0));
        let number = ColumnUnit { scale: 1.0, offset: 0.0, name: "" };
        let units = if by_number { Units { si: number, us: None } } else { unit::axis_units(given) };
        Scale { axis: axis::Axis::new(spacing, range, extent), edges, values, units, by_number }
    }

    /// Is the value a number and does it lie on the axis?
    pub(super) fn holds(&self, value: f64) -> bool {
        !self.by_number && value.is_finite() && self.axis.holds(value)
    }
}

fn placeable(values: &[f64], logarithmic: bool) -> bool {
    values.iter().all(|v| v.is_finite() && (!logarithmic || *v > 0.0)) && values.windows(2).all(|w| w[0] < w[1])
}

/// Edges halfway between the values (in ratio on a logarithmic axis), and as far beyond the outer ones.
fn edges(values: &[f64], spacing: Spacing) -> Vec<f64> {
    let logarithmic = spacing == Spacing::Logarithmic;
    let at: Vec<f64> = values.iter().map(|v| if logarithmic { v.logarithm() } else { *v }).collect();
    let back = |v: f64| if logarithmic { v.exponential() } else { v };
    match at.as_slice() {
        [] => Vec::new(),
        [only] => {
            let half = if logarithmic { 0.2 } else { (0.1 * only.abs()).max(f64::MIN_POSITIVE) };
            let half = if *only == 0.0 && !logarithmic { 0.5 } else { half };
            vec![back(only - half), back(only + half)]
        }
        [first, second, ..] => {
            let (last, before) = (at[at.len() - 1], at[at.len() - 2]);
            let mut all = vec![first - (second - first) / 2.0];
            all.extend(at.windows(2).map(|w| (w[0] + w[1]) / 2.0));
            all.push(last + (last - before) / 2.0);
            all.into_iter().map(back).collect()
        }
    }
}

/// The map laid out in a frame.
pub(super) struct Grid<'a> {
    pub(super) map: &'a StabilityMap,
    pub(super) frame: Rect,
    pub(super) x: Scale,
    pub(super) y: Scale,
    pub(super) mosaic: Mosaic,
    /// Which edges of the mosaic lie on a refined boundary.
    pub(super) refined: Vec<Vec<bool>>,
}

impl<'a> Grid<'a> {
    pub(super) fn new(map: &'a StabilityMap, frame: Rect) -> Grid<'a> {
        let x = Scale::new(&map.x, (frame.left, frame.right));
        let y = Scale::new(&map.y, (frame.bottom, frame.top));
        let across: Vec<f64> = x.edges.iter().map(|&e| x.axis.place(e)).collect();
        let rows = y.edges.windows(2).map(|w| (y.axis.place(w[1]), y.axis.place(w[0]))).collect();
        let refined = vec![vec![false; across.len()]; y.values.len()];
        let mosaic = Mosaic { rows, edges: vec![across; y.values.len()] };
        let mut grid = Grid { map, frame, x, y, mosaic, refined };
        for point in &map.boundaries {
            grid.refine(point);
        }
        grid
    }

    pub(super) fn columns(&self) -> usize {
        self.x.values.len()
    }

    pub(super) fn rows(&self) -> usize {
        self.y.values.len()
    }

    pub(super) fn cell(&self, row: usize, column: usize) -> &'a Cell {
        self.map.cell(row, column)
    }

    /// The behaviour by which a cell is coloured.
    pub(super) fn leading(&self, row: usize, column: usize) -> Option<Behaviour> {
        match self.cell(row, column) {
            Cell::Done(result) => result.verdict.leading().map(|f| f.behaviour),
            Cell::WouldBoil(_) | Cell::Failed(_) => None,
        }
    }

    /// Do two cells belong to one region: the same behaviour, or none for the same cause?
    pub(super) fn alike(&self, one: (usize, usize), other: (usize, usize)) -> bool {
        let cause = |at: (usize, usize)| std::mem::discriminant(self.cell(at.0, at.1));
        cause(one) == cause(other) && self.leading(one.0, one.1) == self.leading(other.0, other.1)
    }

    /// Does the cell show this fault beside its leading behaviour?
    pub(super) fn also(&self, row: usize, column: usize, behaviour: Behaviour) -> bool {
        match self.cell(row, column) {
            Cell::Done(result) => {
                let findings = &result.verdict.findings;
                findings.first().is_some_and(|f| f.behaviour != behaviour)
                    && findings.iter().skip(1).any(|f| f.adverse && f.behaviour == behaviour)
            }
            Cell::WouldBoil(_) | Cell::Failed(_) => false,
        }
    }

    /// Moves the edge between two cells of a row to the refined boundary between them.
    fn refine(&mut self, point: &BoundaryPoint) {
        if !(self.x.holds(point.x) && self.y.holds(point.y)) {
            return;
        }
        let row = self.y.edges.partition_point(|&e| e <= point.y).saturating_sub(1).min(self.rows() - 1);
        let after = self.x.values.partition_point(|&v| v < point.x);
        if after == 0 || after >= self.columns() {
            return;
        }
        if self.leading(row, after - 1) == Some(point.left) && self.leading(row, after) == Some(point.right) {
            self.mosaic.edges[row][after] = self.x.axis.place(point.x);
            self.refined[row][after] = true;
        }
    }

    /// Middle of a cell on the page.
    pub(super) fn middle(&self, row: usize, column: usize) -> (f64, f64) {
        let rect = self.mosaic.rect(row, column, column + 1);
        ((rect.left + rect.right) / 2.0, (rect.top + rect.bottom) / 2.0)
    }

    /// Place of a point of the map's axes; none where it cannot be placed.
    pub(super) fn place(&self, point: (f64, f64)) -> Option<(f64, f64)> {
        let usable = point.0.is_finite() && point.1.is_finite() && !self.x.by_number && !self.y.by_number;
        usable.then(|| (self.x.axis.place(point.0), self.y.axis.place(point.1)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edges_enclose_their_values() {
        for (values, spacing) in [
            (vec![1.0, 10.0, 100.0], Spacing::Logarithmic),
            (vec![-3.0, 0.0, 5.0], Spacing::Linear),
            (vec![0.0], Spacing::Linear),
            (vec![7.0], Spacing::Logarithmic),
        ] {
            let edges = edges(&values, spacing);
            assert_eq!(edges.len(), values.len() + 1);
            assert!(values.iter().enumerate().all(|(i, v)| edges[i] < *v && *v < edges[i + 1]), "{edges:?}");
        }
        assert!(edges(&[], Spacing::Linear).is_empty());
    }
}
