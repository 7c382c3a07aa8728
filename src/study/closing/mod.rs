//! Does a slower-closing valve avoid the hammer here, and what is the smallest change that does? One opening and closing is
//! simulated at each of many values of each parameter alone; the smallest change of each is solved for on simulated peaks.

mod at_flow;
mod change;
mod cure_words;
mod influence;
mod job;
mod numbers;
mod parameter;
mod part_flow;
mod phrase;
mod quote;
mod sentence;
mod study;
mod sweep;
mod target;
mod trial;
mod words;

pub use crate::study::window::{Side, Window};
pub use at_flow::{AtFlow, PartFlows, StatedFlow};
pub use change::{Answer, Change, Cure};
pub use influence::Influence;
pub use job::{ClosingError, ClosingJob, LEAST_BLEED};
pub use numbers::Closing;
pub use parameter::{BLEED, FLOW, GAS_EXPONENTS, INLET_GAS, Parameter, Use, parameters};
pub use study::ClosingStudy;
pub use sweep::{Point, Sweep};
pub use target::{Criterion, Goal, Target};

use crate::parallel::*;
use crate::physics::fluid::Phase;
use crate::scenario::{Document, Scenario};

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
