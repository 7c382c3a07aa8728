//! What the figure of a run is drawn from.

use crate::output::figure::Origin;
use crate::output::plot::colour::Colour;
use crate::trace::Trace;
use crate::units::Dimension;

/// A limit to be drawn as a line in the panels of its kind of quantity.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// Its name, such as "highest allowed pressure".
    pub label: String,
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Value, SI.
    pub value: f64,
}

/// What the figure of a run is drawn from.
#[derive(Clone, Copy, Debug)]
pub struct RunFigure<'a> {
    /// The run.
    pub trace: &'a Trace,
    /// Question, scenario, data, overrides.
    pub origin: Origin<'a>,
    /// Limits.
    pub limits: &'a [Limit],
    /// Vapour pressure of the fluid, Pa absolute; none for a gas.
    pub vapour_pressure: Option<f64>,
    /// What the run does, in a sentence or two below the legend.
    pub told: &'a [String],
    /// Sentence at the foot.
    pub caution: &'a str,
}

/// Height of the names above a panel, points.
pub(super) const STRIP: f64 = 15.0;

pub(super) const ENERGISED: Colour = Colour(232, 232, 222);
