//! The figure of a run, from what was asked and what was found.

use super::page::cycle;
use super::subject::{Limit, RunFigure};
use crate::output::caution::CAUTION;
use crate::output::figure::{Figure, Origin};
use crate::study::asked::Asked;
use crate::study::coil_voltage::far_from_rated;
use crate::study::examined::Examined;
use crate::units::Dimension;
use crate::verdict::Verdict;

/// Draws a run with its limits, its verdict in words and the caution.
pub fn examined(asked: &Asked, examined: &Examined) -> Figure {
    let odd = far_from_rated(&examined.scenario).map(|remark| format!("Remark: {remark}."));
    let told: Vec<String> = told(&examined.verdict).into_iter().chain(odd).collect();
    cycle(&RunFigure {
        trace: &examined.record.trace,
        origin: Origin {
            question: &asked.question,
            scenario: &asked.scenario,
            data: &asked.data,
            overrides: &asked.overrides,
        },
        limits: &limits(asked),
        vapour_pressure: asked.vapour_pressure,
        told: &told,
        caution: CAUTION,
    })
}

/// The verdict in words, with what is not judged.
fn told(verdict: &Verdict) -> Vec<String> {
    let words: Vec<&str> = verdict.findings.iter().map(|finding| finding.behaviour.words()).collect();
    let found = (!words.is_empty()).then(|| format!("Verdict: {}.", words.join(", ")));
    found.into_iter().chain(verdict.reservation()).collect()
}

fn limits(asked: &Asked) -> Vec<Limit> {
    let pressure = |label: &str, value| Limit { label: label.into(), dimension: Dimension::AbsolutePressure, value };
    let mut limits = Vec::new();
    limits.extend(asked.limits.peak_pressure.map(|p| pressure("allowed pressure", p)));
    limits.extend(asked.limits.surge.map(|s| pressure("allowed surge", asked.supply_pressure + s)));
    limits
}
