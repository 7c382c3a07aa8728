//! The grid of a map.

use crate::portable::Portable;
use crate::scenario::{AxisRange, Document, title};
use crate::units::Dimension;

/// Path of the cycle rate.
pub const CYCLE_RATE: &str = "duty.cycle_rate";
/// Path of the circuit's differential pressure.
pub const DIFFERENTIAL: &str = "supply.differential";

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

impl Axis {
    /// The grid value nearest to a value of the axis, by its number; none beyond the cells of the outermost grid values, which
    /// reach half a step further, and where the values have no place on the axis.
    pub fn nearest(&self, value: f64) -> Option<usize> {
        let place = |v: f64| if self.logarithmic { v.logarithm() } else { v };
        let values: Vec<f64> = self.values.iter().map(|&v| place(v)).collect();
        let step = |pair: &[f64]| 0.5 * (pair[1] - pair[0]);
        let (below, above) = (values.windows(2).next().map_or(0.0, step), values.windows(2).last().map_or(0.0, step));
        let (first, last, at) = (*values.first()?, *values.last()?, place(value));
        let slack = 1e-9 * first.abs().max(last.abs());
        // Not so where any of them is no number.
        let on_axis = at >= first - below - slack && at <= last + above + slack;
        let off = |i: &usize| (values[*i] - at).abs();
        (0..values.len()).min_by(|a, b| off(a).total_cmp(&off(b))).filter(|_| on_axis)
    }
}

/// Both axes as computed.
#[derive(Clone, Debug)]
pub struct Grid {
    /// Across.
    pub x: Axis,
    /// Up.
    pub y: Axis,
    /// Is the y axis the cycle rate, so that transients can be shared along a column?
    pub rate_is_up: bool,
}

impl Grid {
    /// The grid that a document's map asks for; none if a path is no number.
    pub fn new(document: &Document, x: &AxisRange, y: &AxisRange) -> Option<Self> {
        Some(Grid {
            x: axis(document, x)?,
            y: axis(document, y)?,
            rate_is_up: y.path == CYCLE_RATE && x.path != CYCLE_RATE,
        })
    }
}

fn axis(document: &Document, range: &AxisRange) -> Option<Axis> {
    Some(Axis {
        path: range.path.clone(),
        title: title(&range.path)?.to_owned(),
        dimension: document.dimension(&range.path)?,
        logarithmic: range.logarithmic,
        values: values(range),
    })
}

/// Grid values from end to end.
pub fn values(range: &AxisRange) -> Vec<f64> {
    let last = range.points.max(2) - 1;
    let at = |share: f64| {
        if range.logarithmic {
            range.from * (range.to / range.from).power(share)
        } else {
            range.from + share * (range.to - range.from)
        }
    };
    (0..=last).map(|i| if i == last { range.to } else { at(i as f64 / last as f64) }).collect()
}

/// The middle of two values on an axis.
pub fn middle(axis: &Axis, a: f64, b: f64) -> f64 {
    if axis.logarithmic { (a * b).sqrt() } else { 0.5 * (a + b) }
}

/// Is this axis the circuit's differential?
pub fn is_differential(axis: &Axis) -> bool {
    axis.path == DIFFERENTIAL && axis.dimension == Dimension::PressureDifference
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_belongs_to_the_nearest_cell_by_ratio_or_by_distance() {
        let axis = |logarithmic, values: &[f64]| Axis {
            path: String::new(),
            title: String::new(),
            dimension: Dimension::Number,
            logarithmic,
            values: values.to_vec(),
        };
        let ratio = axis(true, &[1.0, 10.0, 100.0]);
        assert_eq!([3.0, 3.3, 0.4, 310.0].map(|v| ratio.nearest(v)), [Some(0), Some(1), Some(0), Some(2)]);
        assert_eq!([0.3, 320.0, 0.0, -1.0, f64::NAN].map(|v| ratio.nearest(v)), [None; 5]);
        let even = axis(false, &[-1.0, 0.0, 1.0]);
        assert_eq!([-1.4, -0.4, 0.6, 1.6].map(|v| even.nearest(v)), [Some(0), Some(1), Some(2), None]);
        assert_eq!(axis(false, &[]).nearest(1.0), None);
        assert_eq!(axis(false, &[2.0]).nearest(2.0), Some(0));
    }
}
