//! How hot does the winding get over cycle rate and on-share, with its armature in and with one that stays out, and what does
//! that leave of its magnet?

mod sentence;
mod study;

pub use study::{Allowed, HeatError, HeatJob, HeatStudy, OwnDuty, Panel};

use super::coil_duty::{coil_limit, inrush};
use super::coil_heat::{Armature, CoilHeat};
use super::examine::{examine_heated, phases};
use super::hot_pull_in::hot_low_differential;
use crate::portable::Portable;
use crate::scenario::{Document, Scenario};
use crate::simulate::coil_heat::winding_temperature;
use crate::simulate::install;
use crate::simulate::throttle::{Ready, prepare};

/// Cycle rates for which the allowed on-share is told, 1/s: 1, 10 and 60 an hour, 10 and 60 a minute.
const TOLD_RATES: [f64; 5] = [1.0 / 3600.0, 10.0 / 3600.0, 1.0 / 60.0, 10.0 / 60.0, 1.0];
/// Halvings of an on-share.
const HALVINGS: usize = 40;
/// Lowest on-share of the map: a coil without current has nothing to show.
const LEAST_SHARE: f64 = 0.02;

/// Carry out the study.
pub fn heat(document: &Document, job: &HeatJob) -> Result<HeatStudy, HeatError> {
    let (scenario, _) = document.scenario().map_err(HeatError::Scenario)?;
    let simulated = simulated(&scenario);
    let coil = CoilHeat::of(&scenario, simulated.pull_in).ok_or(HeatError::Stated)?;
    let limit = coil_limit(&scenario);
    let armatures: &[Armature] =
        if inrush(&scenario.valve) { &[Armature::ComesIn, Armature::StaysOut] } else { &[Armature::ComesIn] };
    let (from, to) = (job.from.min(scenario.duty.cycle_rate), job.to.max(scenario.duty.cycle_rate));
    let (rates, shares) = (rates(from, to, job.points), shares(job.points));
    let panel = |armature: Armature| Panel {
        armature,
        cells: shares
            .iter()
            .map(|&share| rates.iter().map(|&rate| coil.found(rate, share, armature)).collect())
            .collect(),
    };
    let own = own_duty(&scenario, &coil, simulated.stays_out);
    let allowed = limit.map_or_else(Vec::new, |limit| allowed(&coil, armatures, limit.temperature, (from, to)));
    let mut study = HeatStudy {
        scenario: scenario.name.clone(),
        question: scenario.question.clone(),
        data: scenario.data.clone(),
        overrides: document.settings().iter().map(ToString::to_string).collect(),
        panels: armatures.iter().map(|armature| panel(*armature)).collect(),
        rates,
        shares,
        limit,
        own,
        allowed,
        pull_in: coil.pull_in,
        pull_in_simulated: simulated.pull_in.is_some(),
        findings: Vec::new(),
        remarks: Vec::new(),
    };
    study.findings = sentence::findings(&study, &scenario, &coil);
    study.remarks = sentence::remarks(&study, &coil);
    Ok(study)
}

/// What a run of the own duty tells of the armature.
struct Simulated {
    /// Switching on until the armature has made its stroke, s.
    pull_in: Option<f64>,
    /// Did it never make it?
    stays_out: bool,
}

/// A run that fails tells nothing, and the map is drawn all the same.
fn simulated(scenario: &Scenario) -> Simulated {
    let run = prepare(scenario).and_then(|ready| {
        let (phases, temperature) = (phases(&ready), winding_temperature(&ready));
        examine_heated(ready, phases, temperature)
    });
    let pull_in = run.as_ref().ok().and_then(|examined| examined.indicators.armature_opening_time);
    Simulated { pull_in, stays_out: run.is_ok() && pull_in.is_none() }
}

fn own_duty(scenario: &Scenario, coil: &CoilHeat, stays_out: bool) -> OwnDuty {
    let (rate, share) = (scenario.duty.cycle_rate, scenario.duty.on_fraction);
    let inside = coil.found(rate, share, Armature::ComesIn);
    let outside = inrush(&scenario.valve).then(|| coil.found(rate, share, Armature::StaysOut));
    let hot_low = |ready: Ready| hot_low_differential(&ready, &install(&ready, inside.mean), inside.mean);
    OwnDuty {
        cycle_rate: rate,
        on_share: share,
        armature: if stays_out { Armature::StaysOut } else { Armature::ComesIn },
        inside,
        outside,
        hot_low_differential: prepare(scenario).ok().and_then(hot_low),
        differential: scenario.differential(),
    }
}

fn rates(from: f64, to: f64, points: usize) -> Vec<f64> {
    let last = points.max(2) - 1;
    (0..=last).map(|i| if i == last { to } else { from * (to / from).power(i as f64 / last as f64) }).collect()
}

fn shares(points: usize) -> Vec<f64> {
    let last = points.max(2) - 1;
    (0..=last).map(|i| LEAST_SHARE + (1.0 - LEAST_SHARE) * i as f64 / last as f64).collect()
}

/// Largest on-shares that keep the winding within its limit.
fn allowed(coil: &CoilHeat, armatures: &[Armature], limit: f64, (from, to): (f64, f64)) -> Vec<Allowed> {
    let share = |rate: f64, armature: Armature| {
        let within = |share: f64| coil.found(rate, share, armature).highest <= limit;
        if within(1.0) {
            return 1.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if within(middle) { low = middle } else { high = middle }
        }
        low
    };
    let told = TOLD_RATES.into_iter().filter(|rate| (from..=to).contains(rate));
    told.map(|rate| Allowed { rate, shares: armatures.iter().map(|armature| share(rate, *armature)).collect() })
        .collect()
}
