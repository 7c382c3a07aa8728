//! Small and large disturbances of the energised valve: what theory says of small ones, what a run says of a large one.
//!
//! Beside a hard boundary a valve can be quiet when it opens undisturbed and yet chatter for ever once it has been knocked: by
//! another valve on the line, a pump that starts, a slug of flash gas. So a quiet energised phase is tried a second time, from
//! its equilibrium with the stage knocked to [`KNOCKED_TO`] of its lift.

use super::examine::{Examined, judged};
use super::stability::point::{Answer, at_point};
use crate::scenario::Scenario;
use crate::simulate::coil_heat::held;
use crate::simulate::start::Start;
use crate::simulate::{Integrator, Phases, Record, simulate_from};
use crate::stability::equilibria::{Equilibrium, Rest};
use crate::stability::valve::{Energised, SteadyCoil};
use crate::verdict::{Behaviour, Finding, Verdict};
use serde::{Deserialize, Serialize};

/// Share of its lift (of full lift, if it was shut) to which the stage is knocked: far, but not onto the seat, where the blow
/// itself would be the disturbance. The same share is used for the relief valve whose answer is known (`validation`).
pub const KNOCKED_TO: f64 = 0.3;
/// A shut stage is knocked only above this share of the lift-off differential by hand: below, it has nothing to live on …
const FROM_LIFT_OFF: f64 = 0.8;
/// … and an open one only below this multiple of the circuit differential of full lift by hand: above, it is pressed to its
/// stop so firmly that it goes back.
const TO_FULL_LIFT: f64 = 1.5;
/// The switching off that closes a run of a knocked valve, s: it is not looked at.
const CLOSE: f64 = 1e-3;

/// What theory says of small motions about the equilibrium that the energised valve comes to first.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SmallMotions {
    /// What the equilibrium is.
    pub rest: Rest,
    /// Lift over full lift, from 0 to 1.
    pub lift: f64,
    /// Growth rate of the leading mode, 1/s.
    pub growth: Option<f64>,
    /// Its frequency, Hz.
    pub frequency: Option<f64>,
    /// The answer to a small disturbance.
    pub answer: Answer,
}

/// What theory and a knock say of an energised valve.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Disturbance {
    /// Small motions; none where there is no equilibrium of forward flow.
    pub small: Option<SmallMotions>,
    /// What the stage does after a knock; none where it was not tried (it oscillates anyway, or is far from any float).
    pub knocked: Option<Behaviour>,
    /// Swing after the knock, peak to peak over full lift, and its frequency, Hz.
    pub swing: Option<(f64, f64)>,
}

/// Try the energised valve of a finished examination with small and large disturbances. What is `known` of the same valve at
/// another duty holds here as well, since neither depends on the duty.
pub fn disturbance(examined: &Examined, known: Option<Disturbance>) -> Disturbance {
    let scenario = &examined.scenario;
    if scenario.supply.pressure <= scenario.sink.pressure {
        return Disturbance::default();
    }
    let quiet = examined.verdict.leading().and_then(|f| resting_place(f.behaviour));
    let quiet = quiet.filter(|_| may_be_knocked(examined));
    let known = known.unwrap_or_default();
    if known.small.is_some() && (quiet.is_none() || known.knocked.is_some()) {
        let kept = Disturbance { small: known.small, ..Disturbance::default() };
        return if quiet.is_some() { known } else { kept };
    }
    let coil = SteadyCoil::at(scenario, examined.record.coil_temperature);
    let valve = Energised::new(scenario, coil);
    let knocked = quiet
        .and_then(|rest| valve.equilibria().into_iter().find(|e| e.rest == rest))
        .and_then(|e| knock(scenario, examined, &e));
    Disturbance {
        small: known.small.or_else(|| small_motions(&valve, scenario.valve.main.lift)),
        knocked: knocked.as_ref().and_then(|(_, v)| v.leading()).map(|f| f.behaviour),
        swing: knocked.and_then(|(i, _)| i.oscillation.zip(i.oscillation_rate)),
    }
}

/// Small motions about the equilibrium that an opening valve comes to first.
fn small_motions(valve: &Energised, full_lift: f64) -> Option<SmallMotions> {
    let point = at_point(valve, false);
    point.first_reached().map(|e| SmallMotions {
        rest: e.equilibrium.rest,
        lift: (e.equilibrium.lift / full_lift).clamp(0.0, 1.0),
        growth: e.leading().map(|m| m.growth()),
        frequency: e.leading().map(|m| m.frequency()),
        answer: e.answer,
    })
}

/// The equilibrium in which a quiet behaviour rests.
fn resting_place(behaviour: Behaviour) -> Option<Rest> {
    match behaviour {
        Behaviour::StaysShut => Some(Rest::Shut),
        Behaviour::FloatsSteadily => Some(Rest::Floating),
        Behaviour::OpensFully => Some(Rest::Open),
        _ => None,
    }
}

/// Did the valve come to rest, not too far from where it may float?
fn may_be_knocked(examined: &Examined) -> bool {
    let installation = &examined.record.installation;
    let differential = examined.scenario.supply.pressure - examined.scenario.sink.pressure;
    let lift_off = installation.lift_off_differential().unwrap_or(f64::INFINITY);
    let full = installation.full_lift_differential().map_or(f64::INFINITY, |across| installation.circuit_for(across));
    examined.record.on_still_since.is_some()
        && differential > FROM_LIFT_OFF * lift_off
        && differential < TO_FULL_LIFT * full
}

fn knock(
    scenario: &Scenario,
    examined: &Examined,
    from: &Equilibrium,
) -> Option<(crate::indicator::Indicators, Verdict)> {
    let full = scenario.valve.main.lift;
    let lift = KNOCKED_TO * if from.rest == Rest::Floating { from.lift } else { full };
    let temperature = examined.record.coil_temperature;
    let fluxes = held(&scenario.valve, scenario.valve.armature.stroke, temperature).fluxes;
    let start = Start::Knocked { held: &from.held, lift, fluxes: Some(fluxes) };
    let phases = Phases { on: scenario.run.longest_on, off: CLOSE, cycles: 1, early_on: true, early_off: false };
    let record: Record = simulate_from(scenario, start, phases, temperature, Integrator::Stiff).ok()?;
    // At its own duty the on-time may be shorter: that is for the row to say, not for the knock.
    let mut patient = scenario.clone();
    patient.duty.cycle_rate = 0.5 / (phases.on + phases.off);
    Some(judged(&patient, &record, temperature))
}

/// Add what a knock did to a verdict that was quiet without it.
pub fn amend(verdict: &mut Verdict, found: &Disturbance) {
    let Some(behaviour @ (Behaviour::Chatters | Behaviour::Flutters)) = found.knocked else { return };
    let Some(quiet) = verdict.leading().map(|f| f.behaviour).filter(|b| resting_place(*b).is_some()) else { return };
    let (swing, rate) = found.swing.unwrap_or((0.0, 0.0));
    let reason = format!(
        "left alone it {}, but knocked to {:.0} % of {} it {} and goes on so, swinging over {:.0} % of full lift at \
         {rate:.0} Hz: any strong disturbance may start it",
        quiet.words(),
        100.0 * KNOCKED_TO,
        if quiet == Behaviour::FloatsSteadily { "the lift at which it floats" } else { "full lift" },
        behaviour.words(),
        100.0 * swing,
    );
    let finding = Finding { behaviour: Behaviour::ChattersIfDisturbed, adverse: true, margin: swing / 0.02, reason };
    verdict.findings.insert(0, finding);
}
