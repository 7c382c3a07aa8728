//! A run with all that was read off it.

use super::disturbed::Disturbance;
use crate::indicator::Indicators;
use crate::simulate::throttle::Ready;
use crate::simulate::{Phases, Record};
use crate::verdict::Verdict;

/// A run with all that was read off it.
#[derive(Clone, Debug)]
pub struct Examined {
    /// The scenario as it was run: throttle solved, sink as the line sees it.
    pub scenario: Ready,
    /// Phases that were run.
    pub phases: Phases,
    /// The run.
    pub record: Record,
    /// Numbers.
    pub indicators: Indicators,
    /// Meaning.
    pub verdict: Verdict,
    /// Small motions by theory, and what a knock does; empty unless asked for, see [`crate::study::examine`].
    pub disturbance: Disturbance,
}
