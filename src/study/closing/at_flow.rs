//! What a cure does at smaller flows than the stated one.

use super::numbers::Closing;
use crate::units::Dimension;

/// A flow as the scenario states it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StatedFlow {
    /// Path.
    pub path: &'static str,
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Value, SI.
    pub value: f64,
}

/// A cure at a smaller flow.
#[derive(Clone, Debug, PartialEq)]
pub struct AtFlow {
    /// Flow, SI, of the kind in which it is stated.
    pub flow: f64,
    /// What was found there, or why nothing was.
    pub outcome: Result<Closing, String>,
    /// Why the target is missed there; none where it is kept or nothing was found.
    pub misses: Option<String>,
}

/// A cure at smaller flows than the stated one.
#[derive(Clone, Debug, PartialEq)]
pub struct PartFlows {
    /// The stated flow.
    pub stated: StatedFlow,
    /// The recommended value at each, falling.
    pub points: Vec<AtFlow>,
    /// Where a bleed misses the target at one: the next narrower drill size that keeps it at all of them, m.
    pub narrower: Option<f64>,
    /// The same as settings of a user.
    pub narrower_settings: Vec<String>,
}
