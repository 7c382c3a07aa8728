//! The grid of a map.

use super::map::Axis;
use crate::scenario::{AxisRange, Document, title};
use crate::units::Dimension;

/// Path of the cycle rate.
pub const CYCLE_RATE: &str = "duty.cycle_rate";
/// Path of the circuit's differential pressure.
pub const DIFFERENTIAL: &str = "supply.differential";

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
            range.from * (range.to / range.from).powf(share)
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
