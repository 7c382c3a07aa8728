//! Does a slower-closing valve avoid the hammer here, and what is the smallest change that does? One opening and closing is
//! simulated at each of many values of each parameter alone; the smallest change of each is solved for on simulated peaks.

mod change;
mod cure_words;
mod influence;
mod numbers;
mod parameter;
mod part_flow;
mod quote;
mod sentence;
mod sweep;
mod target;
mod trial;
mod words;

pub use crate::study::window::{Side, Window};
pub use change::{Answer, Change, Cure};
pub use influence::Influence;
pub use numbers::Closing;
pub use parameter::{BLEED, FLOW, GAS_EXPONENTS, INLET_GAS, Parameter, Use, parameters};
pub use part_flow::{AtFlow, PartFlows, StatedFlow};
pub use sweep::{Point, Sweep};
pub use target::{Criterion, Goal, Target};

use crate::parallel::*;
use crate::physics::fluid::Phase;
use crate::scenario::{Document, Problems, Scenario};
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

/// Carry out the study, on all cores that the current thread pool has; equal for any number of them.
pub fn closing(document: &Document, job: &ClosingJob<'_>) -> Result<ClosingStudy, ClosingError> {
    let (scenario, _) = document.scenario().map_err(ClosingError::Scenario)?;
    if scenario.supply.pulsation > 0.0 {
        return Err(ClosingError::Pulsates);
    }
    let today = sweep::closing(&scenario).map_err(ClosingError::Today)?;
    let target = target::target(&scenario, &today, job.goal);
    let rest = today.peak - today.surge;
    if target.peak(&today) <= rest {
        return Err(ClosingError::TargetBelowRest(rest));
    }
    let mut varied = parameters(&scenario, &today, job.least_bleed);
    let first = varied.first().map(|p| p.path);
    varied.retain(|p| Some(p.path) == first || job.only.is_none_or(|only| only.contains(&p.path)));
    let mut sweeps = sweeps(document, varied, &today, job);
    let solved: Vec<Option<Change>> =
        sweeps.par_iter_mut().map(|sweep| change::change(document, sweep, &target, &today)).collect();
    let mut changes: Vec<Change> = solved.into_iter().flatten().collect();
    part_flow::try_part_flows(document, &target, job.least_bleed, &mut changes);
    let influences = sweeps.iter().filter_map(|sweep| influence::influence(sweep, &today)).collect();
    Ok(told(
        &scenario,
        ClosingStudy {
            scenario: scenario.name.clone(),
            question: scenario.question.clone(),
            data: scenario.data.clone(),
            fluid: scenario.fluid.name.clone(),
            overrides: document.settings().iter().map(ToString::to_string).collect(),
            vapour_pressure: match &scenario.fluid.phase {
                Phase::Liquid(liquid) => Some(liquid.vapour_pressure),
                Phase::Gas(_) => None,
            },
            least_bleed: job.least_bleed,
            criteria: target::criteria(&scenario, &today, &target),
            today,
            target,
            sweeps,
            changes,
            influences,
            findings: Vec::new(),
            remarks: Vec::new(),
            quote: String::new(),
        },
    ))
}

/// All sweeps, each value of each parameter a run of its own.
fn sweeps(document: &Document, parameters: Vec<Parameter>, today: &Closing, job: &ClosingJob<'_>) -> Vec<Sweep> {
    let jobs: Vec<(usize, f64)> =
        parameters.iter().enumerate().flat_map(|(i, p)| p.values.iter().map(move |&value| (i, value))).collect();
    (job.planned)(jobs.len());
    let points: Vec<(usize, Point)> = jobs
        .par_iter()
        .map(|&(i, value)| {
            let point = sweep::point(document, &parameters[i], value);
            (job.finished)();
            (i, point)
        })
        .collect();
    let of = |i: usize| points.iter().filter(move |(owner, _)| *owner == i).map(|(_, point)| point.clone());
    parameters
        .iter()
        .enumerate()
        .map(|(i, parameter)| {
            let own = Point { value: parameter.today, outcome: Ok(today.clone()) };
            let mut points: Vec<Point> = of(i).chain([own]).collect();
            points.sort_by(|a, b| a.value.total_cmp(&b.value));
            Sweep { parameter: parameter.clone(), points }
        })
        .collect()
}

/// The study with its sentences.
fn told(scenario: &Scenario, mut study: ClosingStudy) -> ClosingStudy {
    study.findings = sentence::findings(&study);
    study.remarks = sentence::remarks(scenario, &study);
    study.quote = quote::quote(&study);
    study
}
