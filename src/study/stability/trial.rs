//! Is the valve quiet with a change? By theory first, then by a run from the undisturbed opening and one after a knock.

use super::growth::Theory;
use super::lever::Lever;
use super::point::{PointStability, Question};
use crate::scenario::{Document, Duty, Problems, Scenario};
use crate::simulate::coil_heat::winding_temperature;
use crate::simulate::throttle::prepare;
use crate::study::column::long_phases;
use crate::study::examine::examine_disturbed;
use crate::study::setting::scenario_at;
use crate::verdict::{Behaviour, Finding, Verdict};

/// Why a value is no cure where small motions grow at it.
const GROWS: &str = "small motions grow";

/// A scenario opened, left alone, knocked and shut, asked to be open for as long as it takes whatever its duty.
pub(super) fn simulated(scenario: &Scenario) -> Result<Verdict, String> {
    let ready = prepare(scenario).map_err(|e| e.to_string())?;
    let temperature = winding_temperature(&ready);
    let (on, off) = (ready.run.longest_on, ready.run.longest_off);
    let phases = long_phases(&ready);
    let patient = ready.at_duty(Duty { cycle_rate: 1.0 / (on + off), on_fraction: on / (on + off) });
    let examined = examine_disturbed(patient, phases, temperature, None).map_err(|e| e.to_string())?;
    Ok(examined.verdict)
}

/// Is a motion of the stage what is to be cured? What settles slowly is not, unless theory says that it will not.
pub(super) fn sick(finding: &Finding, here: &PointStability) -> bool {
    match finding.behaviour {
        Behaviour::Chatters | Behaviour::Flutters | Behaviour::ChattersIfDisturbed | Behaviour::RattlesWithSupply => {
            true
        }
        Behaviour::StillSettling => here.grows(),
        Behaviour::StaysShut
        | Behaviour::WillNotOpen
        | Behaviour::FailsShut
        | Behaviour::PassesBackwards
        | Behaviour::FloatsSteadily
        | Behaviour::HangsFromLink
        | Behaviour::OpensFully
        | Behaviour::DoesNotClose
        | Behaviour::OnTimeTooShort
        | Behaviour::ClosesHard
        | Behaviour::Hammers
        | Behaviour::Flashes
        | Behaviour::BoilsAtClosing
        | Behaviour::Hums
        | Behaviour::Overheats => false,
    }
}

/// Where a quiet valve rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quiet {
    /// It floats.
    Floats,
    /// It is fully open.
    Opens,
}

/// What a verdict makes of a change: where it rests quietly, or why it is no cure. A fault that today's valve does not have
/// is none either.
pub(super) fn judged(verdict: &Verdict, today: &Verdict) -> Result<Quiet, String> {
    let leading = verdict.leading().ok_or("nothing was found")?;
    let quiet = match leading.behaviour {
        Behaviour::FloatsSteadily => Quiet::Floats,
        Behaviour::OpensFully => Quiet::Opens,
        other => return Err(other.words().into()),
    };
    let new = |f: &&Finding| f.adverse && f.behaviour != leading.behaviour && !today.has(f.behaviour);
    match verdict.findings.iter().find(new) {
        Some(fault) => Err(format!("quiet, but it {}", fault.behaviour.words())),
        None => Ok(quiet),
    }
}

/// The trials of one lever.
pub(super) struct Trials<'a> {
    pub(super) document: &'a Document,
    pub(super) theory: Theory<'a>,
    pub(super) today: &'a Verdict,
    pub(super) lever: Lever,
    known: Vec<(f64, Result<Quiet, String>)>,
}

impl<'a> Trials<'a> {
    pub(super) fn new(document: &'a Document, question: &'a Question<'a>, today: &'a Verdict, lever: Lever) -> Self {
        Trials { document, theory: Theory::new(question, lever), today, lever, known: Vec::new() }
    }

    /// A value, tried once and remembered.
    pub(super) fn at(&mut self, value: f64) -> Result<Quiet, String> {
        if value <= 0.0 {
            return Err("there is nothing left of it".into());
        }
        if let Some((_, found)) = self.known.iter().find(|(v, _)| *v == value) {
            return found.clone();
        }
        let found = self.tried(value);
        self.known.push((value, found.clone()));
        found
    }

    fn tried(&mut self, value: f64) -> Result<Quiet, String> {
        let settings = [(self.lever.path, value)];
        let scenario = scenario_at(self.document, &settings)?;
        if self.theory.hopeless(value) {
            return Err(GROWS.into());
        }
        judged(&simulated(&scenario)?, self.today)
    }

    /// Settings as a user types them.
    pub(super) fn set(&self, settings: &[String]) -> Result<Quiet, String> {
        let mut changed = self.document.clone();
        for setting in settings {
            changed = changed.with_setting(setting).map_err(|problem| problem.message)?;
        }
        let first = |problems: Problems| problems.0.first().map_or_else(String::new, |p| p.message.clone());
        let (scenario, _) = changed.scenario().map_err(first)?;
        judged(&simulated(&scenario)?, self.today)
    }
}
