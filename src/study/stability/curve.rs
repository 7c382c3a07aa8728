//! Lift, differential across the valve and growth of the leading mode along the circuit differential.

use super::point::{Answer, Question, at_point};
use crate::parallel::*;
use crate::portable::Portable;
use crate::stability::equilibria::Rest;

/// One equilibrium of one differential.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Branch {
    /// What it is.
    pub rest: Rest,
    /// Lift over full lift, held within 0 to 1.
    pub lift: f64,
    /// Differential across the valve, Pa.
    pub across: f64,
    /// Growth rate of the leading mode, 1/s; none if no mode was found in the band.
    pub growth: Option<f64>,
    /// Its frequency, Hz.
    pub frequency: Option<f64>,
    /// Its answer to a small disturbance.
    pub answer: Answer,
}

/// All equilibria of one differential.
#[derive(Clone, Debug, PartialEq)]
pub struct CurvePoint {
    /// Circuit differential, Pa.
    pub differential: f64,
    /// Equilibria by rising lift; empty where the point cannot be computed.
    pub branches: Vec<Branch>,
    /// Why it cannot.
    pub failure: Option<String>,
}

/// The curve over a range of differentials (Pa), spaced evenly by ratio.
pub fn curve(question: &Question<'_>, range: (f64, f64), points: usize) -> Vec<CurvePoint> {
    let last = points.max(2) - 1;
    (0..=last)
        .into_par_iter()
        .map(|i| {
            let differential = range.0 * (range.1 / range.0).power(i as f64 / last as f64);
            match branches(question, differential) {
                Ok(branches) => CurvePoint { differential, branches, failure: None },
                Err(reason) => CurvePoint { differential, branches: Vec::new(), failure: Some(reason) },
            }
        })
        .collect()
}

fn branches(question: &Question<'_>, differential: f64) -> Result<Vec<Branch>, String> {
    let valve = question.at_differential(differential).map_err(|error| error.to_string())?;
    let full = question.scenario().valve.main.lift;
    Ok(at_point(&valve, false)
        .equilibria
        .iter()
        .map(|e| Branch {
            rest: e.equilibrium.rest,
            lift: (e.equilibrium.lift / full).clamp(0.0, 1.0),
            across: e.across,
            growth: e.leading().map(|m| m.growth()),
            frequency: e.leading().map(|m| m.frequency()),
            answer: e.answer,
        })
        .collect())
}
