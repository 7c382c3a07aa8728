//! Why a valve chatters or floats quietly: equilibria and modes at the scenario's own point, the boundary along the
//! differential, and what would damp it.

pub mod boundary;
pub mod cure;
pub mod curve;
pub mod explain;
pub mod point;
pub mod reading;

use crate::scenario::{Document, Problems};
use crate::simulate::RunError;
use crate::stability::equilibria::{Limits, limits};
use crate::stability::valve::Energised;
use cure::{Cure, cures};
use curve::{CurvePoint, curve};
use point::{PointStability, Question, at_point};
use reading::HandBounds;
use std::fmt;

/// What a stability study needs beside its document.
#[derive(Clone, Copy, Debug)]
pub struct StabilityJob {
    /// Lowest and highest circuit differential of the curve, Pa; none: chosen about lift-off and full lift.
    pub range: Option<(f64, f64)>,
    /// Points of the curve.
    pub points: usize,
}

/// A Hopf boundary met along the differential.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Circuit differential, Pa.
    pub differential: f64,
    /// Lift over full lift.
    pub lift: f64,
    /// Differential across the valve, Pa.
    pub across: f64,
    /// Frequency of the neutral mode, Hz.
    pub frequency: f64,
    /// Does the oscillation begin with a jump, so that a large disturbance starts it beyond the boundary too? None where the
    /// coefficient could not be formed.
    pub hard: Option<bool>,
    /// First Lyapunov coefficient in scaled states.
    pub lyapunov: Option<f64>,
    /// Is the stage quiet above this differential (and oscillating below)?
    pub quiet_above: bool,
}

/// The whole study.
#[derive(Clone, Debug)]
pub struct StabilityStudy {
    /// Scenario name.
    pub scenario: String,
    /// Question of the scenario.
    pub question: String,
    /// Remark on the data.
    pub data: String,
    /// Overrides given on the command line.
    pub overrides: Vec<String>,
    /// Circuit differential of the scenario, Pa.
    pub differential: f64,
    /// Full lift, m.
    pub full_lift: f64,
    /// Equilibria and modes at the scenario's own point.
    pub here: PointStability,
    /// Differentials that bound the valve's states, Pa, solved from the balance of forces.
    pub limits: Limits,
    /// The same by hand, Pa, where there is a formula.
    pub by_hand: HandBounds,
    /// Growth and lift along the differential.
    pub curve: Vec<CurvePoint>,
    /// Hopf boundaries along the differential, from below.
    pub crossings: Vec<Crossing>,
    /// What would damp the leading mode, the smallest change first; empty where nothing grows.
    pub cures: Vec<Cure>,
    /// The explanation, sentence by sentence.
    pub sentences: Vec<String>,
    /// What the reader must know of the method in this case (mean of an alternating pull, friction left out).
    pub remarks: Vec<String>,
}

/// Why there is no study.
#[derive(Clone, Debug)]
pub enum StabilityError {
    /// The scenario has problems.
    Scenario(Problems),
    /// The scenario cannot be run.
    Run(RunError),
    /// Outlet at or above inlet.
    Backwards,
}

impl fmt::Display for StabilityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            StabilityError::Scenario(problems) => problems.fmt(f),
            StabilityError::Run(error) => error.fmt(f),
            StabilityError::Backwards => f.write_str(
                "the sink is not below the supply, so that no equilibrium of forward flow exists; raise supply.pressure or \
                 lower sink.pressure",
            ),
        }
    }
}

impl std::error::Error for StabilityError {}

/// Search for the bounds of the states goes up to this, Pa: beyond any pilot valve's range.
const HIGHEST: f64 = 300e5;

/// Study a document.
pub fn stability(document: &Document, job: StabilityJob) -> Result<StabilityStudy, StabilityError> {
    let (scenario, _) = document.scenario().map_err(StabilityError::Scenario)?;
    let question = Question::of(document, &scenario).map_err(StabilityError::Run)?;
    let differential = scenario.supply.pressure - scenario.sink.pressure;
    if differential <= 0.0 {
        return Err(StabilityError::Backwards);
    }
    let valve = question.at_differential(differential).map_err(StabilityError::Run)?;
    let here = at_point(&valve, true);
    let full_lift = scenario.valve.main.lift;
    let build = |dp: f64| -> Option<Energised> { question.at_differential(dp).ok() };
    let limits = limits(full_lift, HIGHEST, build);
    let range = job.range.unwrap_or_else(|| usual_range(&limits, differential));
    let curve = curve(&question, range, job.points);
    let crossings = boundary::crossings(&question, &curve);
    let cures = cures(document, &question, &here);
    let sentences = explain::sentences(&explain::Facts {
        differential,
        full_lift,
        here: &here,
        limits: &limits,
        crossings: &crossings,
        cures: &cures,
    });
    Ok(StabilityStudy {
        scenario: scenario.name.clone(),
        question: scenario.question.clone(),
        data: scenario.data.clone(),
        overrides: document.settings().iter().map(ToString::to_string).collect(),
        differential,
        full_lift,
        here,
        limits,
        by_hand: HandBounds::of(&scenario, &valve),
        curve,
        crossings,
        cures,
        sentences,
        remarks: remarks(&valve),
    })
}

/// From well below lift-off to well above full lift, with the scenario's own differential inside.
fn usual_range(limits: &Limits, differential: f64) -> (f64, f64) {
    let low = limits.least_open.or(limits.lift_off).unwrap_or(differential);
    let high = limits.full_lift.unwrap_or(differential).max(low);
    ((0.7 * low).min(0.9 * differential), (1.4 * high).max(1.1 * differential))
}

fn remarks(valve: &Energised) -> Vec<String> {
    let mut remarks = Vec::new();
    if valve.coil.mean_of_alternating {
        remarks.push(
            "The coil is fed with alternating current: stability is that of its mean pull. Hum at twice the supply frequency \
             is another matter, which the simulated run shows."
                .to_owned(),
        );
    }
    if valve.friction_left_out {
        remarks.push(
            "The piston's dry friction is left out: a stuck piston answers no small disturbance at all; what is said here holds \
             for motions that have broken it loose."
                .to_owned(),
        );
    }
    remarks
}
