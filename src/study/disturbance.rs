//! Small and large disturbances of the energised valve: what theory says of small ones, what a run says of a large one.
//!
//! Beside a hard boundary a valve can be quiet when it opens undisturbed and yet chatter for ever once it has been knocked: by
//! another valve on the line, a pump that starts, a slug of flash gas. So a quiet energised phase is tried a second time, from
//! its equilibrium with the stage knocked to [`KNOCKED_TO`] of its lift.

use super::examine::{Examined, judged};
use super::stability::point::{Answer, EquilibriumModes, PointStability, at_point};
use crate::indicator::Indicators;
use crate::simulate::coil_heat::held;
use crate::simulate::start::Start;
use crate::simulate::{Integrator, Phases, simulate_from};
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
/// Where small motions grow, the run that is watched longer starts from this share of the lift of rest, …
const NUDGED_TO: f64 = 0.95;
/// … and is watched at least until the motion could have grown e-fold this many times (a hundred times and more).
const GROWTHS_WATCHED: f64 = 5.0;
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

/// What theory and further runs say of an energised valve.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Disturbance {
    /// Small motions; none where there is no equilibrium of forward flow.
    pub small: Option<SmallMotions>,
    /// Where the valve came to rest although by theory small motions grow there: what a run does that starts near that rest and is
    /// watched until the swing has stopped growing.
    pub grown: Option<Swinging>,
    /// What the stage does after a knock; none where it was not tried (it oscillates anyway, or is far from any float).
    pub knocked: Option<Behaviour>,
    /// Swing after the knock, peak to peak over full lift, and its frequency, Hz.
    pub swing: Option<(f64, f64)>,
}

/// What a stage does after it was moved away from rest.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Swinging {
    /// What.
    pub behaviour: Behaviour,
    /// Swing, peak to peak over full lift.
    pub swing: f64,
    /// Frequency, Hz; none where it does not swing.
    pub frequency: Option<f64>,
    /// Growth rate of small motions by theory, 1/s.
    pub growth: f64,
    /// How long it was watched, s.
    pub watched: f64,
}

/// Try the energised valve of a finished examination with small and large disturbances. What is `known` of the same valve at
/// another duty holds here as well, since neither depends on the duty.
pub fn disturbance(examined: &Examined, known: Option<Disturbance>) -> Disturbance {
    let scenario = &examined.scenario;
    if scenario.supply.pressure <= scenario.sink.pressure {
        return Disturbance::default();
    }
    let quiet = examined.verdict.leading().and_then(|f| resting_place(f.behaviour));
    let nudged = quiet.filter(|_| may_be_knocked(examined));
    let known = known.unwrap_or_default();
    if known.small.is_some() && (nudged.is_none() || known.knocked.is_some() || known.grown.is_some()) {
        let kept = Disturbance { small: known.small, ..Disturbance::default() };
        return if nudged.is_some() { known } else { kept };
    }
    let coil = SteadyCoil::at(scenario, examined.record.coil_temperature);
    let valve = Energised::new(scenario, coil);
    let point = at_point(&valve, false);
    let small = known.small.or_else(|| small_motions(&point, scenario.valve.main.lift));
    let found = Disturbance { small, ..Disturbance::default() };
    let Some(rest) = nudged.and_then(|rest| point.equilibria.iter().find(|e| e.equilibrium.rest == rest)) else {
        return found;
    };
    if rest.answer == Answer::Oscillates {
        return Disturbance { grown: growing(examined, rest), ..found };
    }
    let knocked = knock(examined, &rest.equilibrium);
    // A knock that gave no result is no quiet one.
    let behaviour = knocked.as_ref().and_then(|(_, v)| v.leading()).map_or(Behaviour::StillSettling, |f| f.behaviour);
    Disturbance {
        knocked: Some(behaviour),
        swing: knocked.and_then(|(i, _)| i.oscillation.zip(i.oscillation_rate)),
        ..found
    }
}

/// A swing whose second half is less than this share of the first may be dying.
const FADING: f64 = 0.98;
/// Share of a phase that counts as all of it.
const WHOLE: f64 = 0.98;

/// Must the run be watched to its end? Where it ended early and yet the swing had not settled by the verdict's own measure, or
/// where the stage swings a little less and less and by theory small motions die.
pub fn unsettled(examined: &Examined) -> bool {
    let found = &examined.indicators;
    if examined.phases.cycles > 1 || found.energised_time.is_none_or(|shown| shown > WHOLE * examined.phases.on) {
        return false;
    }
    let leads = |behaviour| examined.verdict.leading().is_some_and(|f| f.behaviour == behaviour);
    if leads(Behaviour::StillSettling) {
        return true;
    }
    let halves = found.oscillation_second_half.zip(found.oscillation_first_half).map_or(1.0, |(b, a)| b / a.max(1e-9));
    if !leads(Behaviour::Flutters) || halves >= FADING {
        return false;
    }
    let coil = SteadyCoil::at(&examined.scenario, examined.record.coil_temperature);
    let point = at_point(&Energised::new(&examined.scenario, coil), false);
    point.floating().all(|e| e.answer == Answer::Stable)
}

/// Small motions about the equilibrium that an opening valve comes to first.
fn small_motions(point: &PointStability, full_lift: f64) -> Option<SmallMotions> {
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

/// Is the valve not too far from where it may float?
fn may_be_knocked(examined: &Examined) -> bool {
    let installation = &examined.record.installation;
    let differential = examined.scenario.differential();
    let lift_off = installation.lift_off_differential().unwrap_or(f64::INFINITY);
    let full = installation.full_lift_differential().map_or(f64::INFINITY, |across| installation.circuit_for(across));
    differential > FROM_LIFT_OFF * lift_off && differential < TO_FULL_LIFT * full
}

/// A run from near a rest that small motions grow away from, watched until it has had time to grow.
fn growing(examined: &Examined, rest: &EquilibriumModes) -> Option<Swinging> {
    let growth = rest.leading().map(|m| m.growth()).filter(|g| *g > 0.0)?;
    let longest = examined.scenario.run.longest_on;
    let watch = (GROWTHS_WATCHED / growth).min(longest);
    let run = moved_to(examined, &rest.equilibrium, NUDGED_TO * rest.equilibrium.lift, watch);
    // A look that gave no result is no quiet one.
    let nothing = Swinging { behaviour: Behaviour::StillSettling, swing: 0.0, frequency: None, growth, watched: 0.0 };
    Some(run.map_or(nothing, |(found, verdict)| Swinging {
        behaviour: verdict.leading().map_or(Behaviour::StillSettling, |f| f.behaviour),
        swing: found.oscillation.unwrap_or(0.0),
        frequency: found.oscillation_rate,
        growth,
        watched: found.energised_time.unwrap_or(0.0),
    }))
}

fn knock(examined: &Examined, from: &Equilibrium) -> Option<(Indicators, Verdict)> {
    let full = examined.scenario.valve.main.lift;
    moved_to(examined, from, KNOCKED_TO * if from.rest == Rest::Floating { from.lift } else { full }, 0.0)
}

/// What follows when the stage is moved from an equilibrium to another lift (m) and watched for at least `watch` seconds.
fn moved_to(examined: &Examined, from: &Equilibrium, lift: f64, watch: f64) -> Option<(Indicators, Verdict)> {
    let scenario = &examined.scenario;
    let temperature = examined.record.coil_temperature;
    let fluxes = held(&scenario.valve, scenario.valve.armature.stroke, temperature).fluxes;
    let start = Start::Knocked { held: &from.held, lift, fluxes: Some(fluxes) };
    let phases = Phases { on: scenario.run.longest_on, off: CLOSE, cycles: 1, early_on: true, early_off: false, watch };
    // At its own duty the on-time may be shorter: that is for the row to say, not for the knock.
    let mut patient = scenario.clone();
    patient.duty.cycle_rate = 0.5 / (phases.on + phases.off);
    let run = |phases| -> Option<(Indicators, Verdict)> {
        let record = simulate_from(scenario, start, phases, temperature, Integrator::Stiff).ok()?;
        Some(judged(&patient, &record, temperature))
    };
    let (found, verdict) = run(phases)?;
    let early = found.energised_time.is_some_and(|shown| shown < WHOLE * phases.on);
    if early && verdict.leading().is_some_and(|f| f.behaviour == Behaviour::StillSettling) {
        return run(Phases { watch: phases.on, ..phases });
    }
    Some((found, verdict))
}

/// Add what further runs did to a verdict that was quiet without them.
pub fn amend(verdict: &mut Verdict, found: &Disturbance) {
    if let (Some(first), Some(small)) = (verdict.findings.first_mut(), found.small) {
        let dies = small.rest == Rest::Floating && small.answer == Answer::Stable;
        if let (true, Behaviour::Flutters, Some(growth)) = (dies, first.behaviour, small.growth) {
            first.reason.push_str(&format!(
                ". By theory small motions about the float die ({growth:.2} 1/s), so either only a swing as large as this one keeps \
                 itself up, or it is still dying"
            ));
        }
    }
    let Some(quiet) = verdict.leading().map(|f| f.behaviour).filter(|b| resting_place(*b).is_some()) else { return };
    if let Some(grown) = &found.grown {
        verdict.findings.insert(0, of_growth(quiet, grown));
        return;
    }
    if found.knocked == Some(Behaviour::StillSettling) {
        let reason = format!(
            "left alone it {}, but what follows a knock to {:.0} % of its lift did not settle within the run: it is not known to be \
             quiet once it is disturbed",
            quiet.words(),
            100.0 * KNOCKED_TO
        );
        let finding = Finding { behaviour: Behaviour::StillSettling, adverse: true, margin: 1.0, reason };
        verdict.findings.insert(0, finding);
        return;
    }
    let Some(behaviour @ (Behaviour::Chatters | Behaviour::Flutters)) = found.knocked else { return };
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

/// Theory says that small motions grow where the run came to rest: what the longer look found, or that the two disagree.
fn of_growth(quiet: Behaviour, grown: &Swinging) -> Finding {
    let theory = format!("a small motion there grows by theory, at {:.2} 1/s", grown.growth);
    if let Behaviour::Chatters | Behaviour::Flutters | Behaviour::RattlesWithSupply = grown.behaviour {
        let at = grown.frequency.map_or(String::new(), |f| format!(" at {f:.0} Hz"));
        let reason = format!(
            "the opening valve comes to where it {}, but {theory}, and watched from there it swings by {:.0} % of full lift{at}",
            quiet.words(),
            100.0 * grown.swing
        );
        return Finding { behaviour: grown.behaviour, adverse: true, margin: grown.swing / 0.02, reason };
    }
    let look = match resting_place(grown.behaviour) {
        Some(_) => format!(
            "yet watched for {:.1} s from near there it {}: run and theory disagree",
            grown.watched,
            grown.behaviour.words()
        ),
        None if grown.watched > 0.0 => format!("watched for {:.1} s from near there it did not settle", grown.watched),
        None => "a second look from near there gave no result".to_owned(),
    };
    let reason = format!(
        "the opening valve comes to where it {}, and {theory}; {look}, so that it is not known to be quiet",
        quiet.words()
    );
    Finding { behaviour: Behaviour::StillSettling, adverse: true, margin: 1.0, reason }
}
