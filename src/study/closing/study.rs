//! The answer to whether a slower valve avoids the bang.

use super::change::Change;
use super::influence::Influence;
use super::numbers::Closing;
use super::parameter::BLEED;
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
    /// Points along each parameter; those of the [`ClosingStudy::leading`] one come first.
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

    /// The points along the parameter that is looked at first: the bleed bore; the flow through a valve that has no bleed.
    pub fn leading(&self) -> &Sweep {
        &self.sweeps[0]
    }

    /// The smallest change of that parameter.
    pub fn leading_change(&self) -> Option<&Change> {
        self.change(self.leading().parameter.path)
    }

    /// The points along the bleed bore, where there is a bleed.
    pub fn bleeds(&self) -> Option<&Sweep> {
        Some(self.leading()).filter(|sweep| sweep.parameter.path == BLEED)
    }

    /// Least value of the leading parameter that dirt lets through: a bleed's alone.
    pub fn least(&self) -> f64 {
        if self.bleeds().is_some() { self.least_bleed } else { 0.0 }
    }

    /// The change of a parameter.
    pub fn change(&self, path: &str) -> Option<&Change> {
        self.changes.iter().find(|change| change.path == path)
    }
}
