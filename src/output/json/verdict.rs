//! A verdict in the document.

use crate::verdict::{Finding, Verdict};
use serde::Serialize;

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FindingRow {
    /// Behaviour, as a word for programs.
    pub behaviour: crate::verdict::Behaviour,
    /// Behaviour in plain words.
    pub words: &'static str,
    /// Is it a fault?
    pub adverse: bool,
    /// Distance of the deciding number from its threshold.
    pub margin: f64,
    /// The sentence that says why.
    pub reason: String,
}

/// What the numbers mean.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VerdictPart {
    /// Is any finding a fault?
    pub adverse: bool,
    /// Findings, the gravest first.
    pub findings: Vec<FindingRow>,
    /// Why a bang on opening is possible, which is not judged; empty where it is not possible.
    pub not_judged: Vec<String>,
    /// How far a closing stays from its limit, or that no limit is stated; null where it hammers or did not close.
    pub no_hammer: Option<String>,
}

/// A verdict as part of the document.
pub fn verdict_part(verdict: &Verdict) -> VerdictPart {
    let row = |f: &Finding| FindingRow {
        behaviour: f.behaviour,
        words: f.behaviour.words(),
        adverse: f.adverse,
        margin: f.margin,
        reason: f.reason.clone(),
    };
    VerdictPart {
        adverse: verdict.adverse(),
        findings: verdict.findings.iter().map(row).collect(),
        not_judged: verdict.not_judged.iter().chain(&verdict.not_computed).cloned().collect(),
        no_hammer: verdict.no_hammer.clone(),
    }
}
