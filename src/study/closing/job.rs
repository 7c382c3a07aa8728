//! What the study of a closing needs beside its document, and why there may be none.

use super::target::Goal;
use crate::scenario::Problems;
use std::fmt;

/// Narrowest bleed that ordinary dirt does not block, m (judgement).
pub const LEAST_BLEED: f64 = 0.4e-3;

/// What the study needs beside its document.
pub struct ClosingJob<'a> {
    /// Target, if the user states one.
    pub goal: Option<Goal>,
    /// Narrowest bleed within reach, m.
    pub least_bleed: f64,
    /// Paths of the parameters that are varied beside the bleed; all of them unless stated.
    pub only: Option<&'a [&'a str]>,
    /// Told how many runs the sweeps take.
    pub planned: &'a (dyn Fn(usize) + Sync),
    /// Told after each of them.
    pub finished: &'a (dyn Fn() + Sync),
}

impl Default for ClosingJob<'_> {
    fn default() -> Self {
        ClosingJob { goal: None, least_bleed: LEAST_BLEED, only: None, planned: &|_| (), finished: &|| () }
    }
}

/// Why there is no study at all.
#[derive(Clone, Debug)]
pub enum ClosingError {
    /// The scenario has problems.
    Scenario(Problems),
    /// Today's own point gives no closing.
    Today(String),
    /// The target lies at or below the pressure at rest, which no closing can change, Pa absolute.
    TargetBelowRest(f64),
    /// The supply pulsates: peak and flow at closing would be the pulsation's.
    Pulsates,
}

impl fmt::Display for ClosingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ClosingError::Scenario(problems) => problems.fmt(f),
            ClosingError::Today(reason) => write!(f, "today's own point shows no closing: {reason}"),
            ClosingError::Pulsates => f.write_str(
                "the supply pulsates, and what would be measured at closing is its pulsation; take it away with \
                 --set supply.pulsation=none --set supply.pulsation_frequency=none",
            ),
            ClosingError::TargetBelowRest(rest) => write!(
                f,
                "the target is not above the pressure at rest, {:.4} bar(a), which no closing can change; state a higher one",
                rest / 1e5
            ),
        }
    }
}

impl std::error::Error for ClosingError {}
