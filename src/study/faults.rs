//! What each fault makes of a valve: the scenario's own duty with one fault after the other switched on.

use super::examine::examine;
use super::examined::Examined;
use super::fault_sample::{SAMPLES, Sample};
use super::setting::laid_over;
use crate::indicator::{Firmness, Indicator, noise};
use crate::parallel::*;
use crate::portable::Portable;
use crate::scenario::{Document, Problems, Scenario, title};
use crate::simulate::RunError;
use crate::units::text;
use crate::verdict::Verdict;

/// Numbers that tell faults apart, in the order in which they are told; each can be heard, seen on a gauge or measured.
const TELLING: [&str; 14] = [
    "coil_current",
    "holding_power",
    "coil_temperature",
    "pole_contact_rate",
    "armature_opening_time",
    "opening_time_90",
    "mean_lift",
    "flow_open",
    "seat_contact_rate",
    "closing_time",
    "effective_closing_time",
    "first_seat_speed",
    "inlet_peak_closing",
    "lift_at_end",
];

/// What is read of an armature that the magnet holds, and of no other: that there is none is no number that tells.
const OF_THE_HELD: [&str; 2] = ["pole_contact_rate", "least_magnet_force"];

/// A number counts as changed from this share on. Less than that no ear and few gauges tell.
const CHANGED: f64 = 0.1;
/// As much as a factor of 1.65: less than a current that doubles, more than a time that moves by half. Judgement.
const APPEARS: f64 = 0.5;
/// So many of them are told of each fault.
const MOST: usize = 4;

/// A number that a fault changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Of the sound valve.
    pub sound: Indicator,
    /// With the fault.
    pub faulty: Indicator,
}

/// What one fault does.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It was run.
    Seen {
        /// Verdict.
        verdict: Verdict,
        /// The numbers that change most, the greatest change first.
        differences: Vec<Difference>,
    },
    /// This valve cannot have it, or the run failed: why.
    NotSeen(String),
}

/// One fault switched on.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultRow {
    /// Its path.
    pub path: String,
    /// Its name in the words of the trade.
    pub title: &'static str,
    /// Its size, SI.
    pub size: f64,
    /// Its size as shown, and as --set takes it.
    pub shown: String,
    /// What it does, and how it is told from outside.
    pub effect: &'static str,
    /// What came of it.
    pub outcome: Outcome,
}

/// A scenario with its faults one after the other.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultStudy {
    /// Verdict without them.
    pub sound: Verdict,
    /// Each.
    pub rows: Vec<FaultRow>,
}

/// Why there is no study.
#[derive(Debug)]
pub enum FaultStudyError {
    /// The scenario cannot be read.
    Unread(Problems),
    /// The valve as stated cannot be run.
    Run(RunError),
}

impl std::fmt::Display for FaultStudyError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            FaultStudyError::Unread(problems) => problems.fmt(f),
            FaultStudyError::Run(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for FaultStudyError {}

/// Runs the scenario as stated, then with every fault of a size that suits this valve; `finished` is called after each run.
pub fn faults(document: &Document, finished: &(dyn Fn() + Sync)) -> Result<FaultStudy, FaultStudyError> {
    let (scenario, _) = document.scenario().map_err(FaultStudyError::Unread)?;
    let sound = examine(&scenario).map_err(FaultStudyError::Run)?;
    finished();
    let rows = SAMPLES.par_iter().map(|sample| {
        let row = row(document, &scenario, sample, &sound);
        finished();
        row
    });
    Ok(FaultStudy { sound: sound.verdict.clone(), rows: rows.collect() })
}

/// So many runs a study takes.
pub fn runs() -> usize {
    1 + SAMPLES.len()
}

fn row(document: &Document, scenario: &Scenario, sample: &Sample, sound: &Examined) -> FaultRow {
    let size = two_figures((sample.size)(scenario));
    FaultRow {
        path: sample.path.to_owned(),
        title: title(sample.path).unwrap_or(sample.path),
        size,
        shown: text(size, sample.dimension),
        effect: sample.effect,
        outcome: outcome(document, sample.path, size, sound),
    }
}

fn outcome(document: &Document, path: &str, size: f64, sound: &Examined) -> Outcome {
    let scenario = match laid_over(document, &[(path, size)]) {
        Ok(scenario) => scenario,
        Err(problems) => {
            let first = problems.0.first().map_or("", |problem| problem.message.as_str());
            return Outcome::NotSeen(first.trim_start_matches(path).trim_start_matches(": ").to_owned());
        }
    };
    match examine(&scenario) {
        Ok(faulty) => Outcome::Seen { differences: differences(sound, &faulty), verdict: faulty.verdict },
        Err(error) => Outcome::NotSeen(error.to_string()),
    }
}

fn differences(sound: &Examined, faulty: &Examined) -> Vec<Difference> {
    let of = |examined: &Examined, name: &str| -> Option<Indicator> {
        examined.indicators.list().into_iter().find(|indicator| indicator.name == name)
    };
    let mut found: Vec<(f64, Difference)> = TELLING
        .iter()
        .filter_map(|name| {
            let (before, after) = (of(sound, name)?, of(faulty, name)?);
            let change = change(&before, &after);
            let firm = after.firmness == Firmness::Firm && before.firmness == Firmness::Firm;
            let both = after.value.is_some() && before.value.is_some();
            let told = firm && (both || !OF_THE_HELD.contains(name));
            (told && change > CHANGED).then_some((change, Difference { sound: before, faulty: after }))
        })
        .collect();
    // A stable sort: of equal changes the one that is told first stays first.
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().take(MOST).map(|(_, difference)| difference).collect()
}

/// How far a number moves: the logarithm of the ratio, so that half counts as much as twice; one that appears or vanishes counts as
/// [`APPEARS`].
fn change(before: &Indicator, after: &Indicator) -> f64 {
    let floor = noise(before.name);
    match (before.value, after.value) {
        (Some(a), Some(b)) if a == b || a.abs().max(b.abs()) < floor => 0.0,
        (Some(a), Some(b)) if a > 0.0 && b > 0.0 => (b.max(floor) / a.max(floor)).logarithm().abs(),
        (None, None) => 0.0,
        (Some(_), Some(_)) | (None, Some(_)) | (Some(_), None) => APPEARS,
    }
}

fn two_figures(value: f64) -> f64 {
    let unit = 10_f64.power(value.abs().decimal_logarithm().floor() - 1.0);
    if unit.is_normal() { (value / unit).round() * unit } else { value }
}
