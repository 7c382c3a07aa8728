//! Why a valve chatters or floats quietly: equilibria and modes at the scenario's own point, the boundary along the
//! differential; what a run makes of the point, and which changes runs confirm as cures.

pub mod boundary;
pub mod cure;
mod cure_words;
pub mod curve;
pub mod explain;
pub mod growth;
pub mod lever;
pub mod point;
pub mod reading;
pub mod trial;
mod words;

pub use boundary::Crossing;

use crate::scenario::{Document, Problems};
use crate::simulate::RunError;
use crate::stability::equilibria::{Limits, limits};
use crate::stability::valve::Energised;
use crate::study::judgement::energised;
use crate::verdict::{Finding, Verdict};
use cure::{Attempt, Cure, Search};
use curve::{CurvePoint, curve};
use point::{PointStability, Question, at_point};
use reading::HandBounds;
use std::fmt;

/// What a stability study needs beside its document.
#[derive(Clone, Copy)]
pub struct StabilityJob<'a> {
    /// Lowest and highest circuit differential of the curve, Pa; none: chosen about lift-off and full lift.
    pub range: Option<(f64, f64)>,
    /// Points of the curve.
    pub points: usize,
    /// Simulate the point, and look for cures where it is not quiet?
    pub cures: bool,
    /// Parameters that are tried, for a shorter look; all unless stated.
    pub only: Option<&'a [&'a str]>,
    /// Called with the number of searches for cures before the first of them.
    pub planned: &'a (dyn Fn(usize) + Sync),
    /// Called after each search.
    pub finished: &'a (dyn Fn() + Sync),
}

impl Default for StabilityJob<'_> {
    fn default() -> Self {
        StabilityJob { range: None, points: 60, cures: true, only: None, planned: &|_| {}, finished: &|| {} }
    }
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
    /// What today's valve does, simulated and knocked; none where no run was made or it failed.
    pub today: Option<Verdict>,
    /// Changes tried, the confirmed cures first; empty where nothing is to be cured or no cure was asked for.
    pub attempts: Vec<Attempt>,
    /// The explanation, sentence by sentence.
    pub sentences: Vec<String>,
    /// What the reader must know of the method in this case (mean of an alternating pull, friction left out).
    pub remarks: Vec<String>,
}

impl StabilityStudy {
    /// What the simulated valve does before all else.
    pub fn found(&self) -> Option<&Finding> {
        self.today.as_ref().and_then(Verdict::leading)
    }

    /// The confirmed cures, what can be done on site first.
    pub fn cures(&self) -> impl Iterator<Item = (&Attempt, &Cure)> {
        self.attempts.iter().filter_map(|attempt| Some((attempt, attempt.cure.as_ref()?)))
    }

    /// Does the state that is reached first not stand, or swing, by theory or by the run?
    pub fn adverse(&self) -> bool {
        self.here.adverse() || self.found().is_some_and(|finding| trial::sick(finding, &self.here))
    }
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
    /// No differential carries the main stage: the magnet alone does.
    HeldByMagnet,
    /// The same of a normally open valve: its spring alone does.
    HeldBySpring,
}

impl fmt::Display for StabilityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            StabilityError::Scenario(problems) => problems.fmt(f),
            StabilityError::Run(error) => error.fmt(f),
            StabilityError::HeldByMagnet => f.write_str(
                "this study asks at which differential a main stage that the differential carries floats and swings; in a \
                 direct-operated valve the magnet carries it, to the pole or not at all, at any differential. `run` shows what it \
                 does, `map` up to which differential it opens",
            ),
            StabilityError::HeldBySpring => f.write_str(
                "this study asks at which differential a main stage that the differential carries floats and swings; in a \
                 normally open direct-operated valve the spring carries it, and the flow only presses it towards its seat. `run` shows \
                 what it does, `map` up to which differential it opens again",
            ),
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
pub fn stability(document: &Document, job: &StabilityJob<'_>) -> Result<StabilityStudy, StabilityError> {
    let (scenario, _) = document.scenario().map_err(StabilityError::Scenario)?;
    if scenario.valve.armature_is_stage() {
        return Err(energised(&scenario).choose(StabilityError::HeldByMagnet, StabilityError::HeldBySpring));
    }
    let question = Question::of(document, &scenario).map_err(StabilityError::Run)?;
    let differential = scenario.differential();
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
    let today = if job.cures { trial::simulated(&scenario) } else { Err(String::new()) };
    let attempts = today.as_ref().map_or_else(|_| Vec::new(), |today| attempts(document, &question, &here, today, job));
    let sentences = explain::sentences(&explain::Facts {
        differential,
        full_lift,
        energised: energised(&scenario),
        here: &here,
        linked: scenario.valve.link().is_some(),
        limits: &limits,
        crossings: &crossings,
        today: today.as_ref().ok().and_then(|verdict| verdict.leading()),
        attempts: &attempts,
    });
    let mut remarks = remarks(&valve);
    remarks.extend(today.as_ref().err().filter(|_| job.cures).map(|why| format!("It could not be simulated: {why}")));
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
        today: today.ok(),
        attempts,
        sentences,
        remarks,
    })
}

/// The changes tried where today's valve is not quiet.
fn attempts(
    document: &Document,
    question: &Question<'_>,
    here: &PointStability,
    today: &Verdict,
    job: &StabilityJob<'_>,
) -> Vec<Attempt> {
    if !today.leading().is_some_and(|finding| trial::sick(finding, here)) {
        return Vec::new();
    }
    Search { document, question, here, only: job.only, today, planned: job.planned, finished: job.finished }.attempts()
}

/// From well below lift-off to well above full lift, with the scenario's own differential inside.
fn usual_range(limits: &Limits, differential: f64) -> (f64, f64) {
    let low = limits.least_open.or(limits.lift_off).unwrap_or(differential);
    let high = limits.full_lift.unwrap_or(differential).max(low);
    ((0.7 * low).min(0.9 * differential), (1.4 * high).max(1.1 * differential))
}

fn remarks(valve: &Energised) -> Vec<String> {
    let mut remarks = Vec::new();
    if valve.coil.mean_of_alternating && !valve.installation.magnet.coil.supply.alternates() {
        remarks.push(
            "The coil is fed by a rectifier: stability is that of its mean pull. What its ripple does is another matter, which the \
             simulated run shows."
                .to_owned(),
        );
    } else if valve.coil.mean_of_alternating {
        remarks.push(
            "The coil is fed with alternating current: stability is that of its mean pull. Hum at twice the supply frequency \
             is another matter, which the simulated run shows."
                .to_owned(),
        );
    }
    if valve.left_out() {
        remarks.push(
            "The mean pull is that of the seated armature: states in which a link holds the armature off the pole are left out."
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
