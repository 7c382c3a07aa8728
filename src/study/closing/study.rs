//! The answer to whether a slower valve avoids the bang.

use super::change::Change;
use super::influence::Influence;
use super::numbers::Closing;
use super::sweep::Sweep;
use super::target::{Criterion, Target};

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct ClosingStudy {
    /// Scenario name.
    pub scenario: String,
    /// Question of the scenario.
    pub question: String,
    /// Remark on the data.
    pub data: String,
    /// Name of the fluid.
    pub fluid: String,
    /// Overrides as typed.
    pub overrides: Vec<String>,
    /// Vapour pressure of a liquid, Pa absolute; none for a gas.
    pub vapour_pressure: Option<f64>,
    /// Narrowest bleed within reach, m.
    pub least_bleed: f64,
    /// Today's closing.
    pub today: Closing,
    /// The target.
    pub target: Target,
    /// Lines of acceptance.
    pub criteria: Vec<Criterion>,
    /// Points along each parameter; the bleed's come first.
    pub sweeps: Vec<Sweep>,
    /// Smallest changes; empty where today's closing meets the target.
    pub changes: Vec<Change>,
    /// How strongly each parameter sets the effective closing time and the peak.
    pub influences: Vec<Influence>,
    /// What was found, in sentences.
    pub findings: Vec<String>,
    /// What the answer rests on and where it is uncertain, in sentences.
    pub remarks: Vec<String>,
    /// One sentence to quote.
    pub quote: String,
}

impl ClosingStudy {
    /// Does today's closing break the target, at once or by a later peak?
    pub fn adverse(&self) -> bool {
        !self.target.kept(&self.today)
    }

    /// The points along the bleed bore.
    pub fn bleeds(&self) -> &Sweep {
        &self.sweeps[0]
    }

    /// The change of a parameter.
    pub fn change(&self, path: &str) -> Option<&Change> {
        self.changes.iter().find(|change| change.path == path)
    }
}
