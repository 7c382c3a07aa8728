//! Small and large disturbances of the energised valve: what theory says of small ones, what a run says of a large one.
//!
//! Beside a hard boundary a valve can be quiet when it opens undisturbed and yet chatter for ever once it has been knocked: by
//! another valve on the line, a pump that starts, a slug of flash gas. So a quiet energised phase is tried a second time, from
//! its equilibrium with the stage knocked to [`KNOCKED_TO`] of its lift.

use super::disturbed::{Disturbance, KNOCKED_TO, SmallMotions, Swinging, resting_place};
use super::examined::Examined;
use super::judgement::judged;
use super::stability::point::{Answer, EquilibriumModes, PointStability, at_point};
use crate::indicator::Indicators;
use crate::scenario::Duty;
use crate::simulate::coil_heat::holding;
use crate::simulate::start::Start;
use crate::simulate::{Integrator, Phases, simulate_from};
use crate::stability::equilibria::{Equilibrium, Rest};
use crate::stability::valve::{Energised, SteadyCoil};
use crate::verdict::{Behaviour, Verdict, WHOLE};

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
/// Must the run be watched to its end? Where it ended early and yet the swing had not settled by the verdict's own measure, or
/// where the stage swings a little less and less and by theory small motions die.
pub fn unsettled(examined: &Examined) -> bool {
    let found = &examined.indicators;
    if examined.phases.cycles > 1 || found.open_time.is_none_or(|shown| shown > WHOLE * examined.phases.open) {
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
    let longest = examined.scenario.asked_times().longest_open;
    let watch = (GROWTHS_WATCHED / growth).min(longest);
    let run = moved_to(examined, &rest.equilibrium, NUDGED_TO * rest.equilibrium.lift, watch);
    // A look that gave no result is no quiet one.
    let nothing = Swinging { behaviour: Behaviour::StillSettling, swing: 0.0, frequency: None, growth, watched: 0.0 };
    Some(run.map_or(nothing, |(found, verdict)| Swinging {
        behaviour: verdict.leading().map_or(Behaviour::StillSettling, |f| f.behaviour),
        swing: found.oscillation.unwrap_or(0.0),
        frequency: found.oscillation_rate,
        growth,
        watched: found.open_time.unwrap_or(0.0),
    }))
}

fn knock(examined: &Examined, from: &Equilibrium) -> Option<(Indicators, Verdict)> {
    let full = examined.scenario.valve.main.lift;
    let of = match from.rest {
        Rest::Floating | Rest::Hanging => from.lift,
        Rest::PilotShut | Rest::Shut | Rest::Open => full,
    };
    moved_to(examined, from, KNOCKED_TO * of, 0.0)
}

/// What follows when the stage is moved from an equilibrium to another lift (m) and watched for at least `watch` seconds.
fn moved_to(examined: &Examined, from: &Equilibrium, lift: f64, watch: f64) -> Option<(Indicators, Verdict)> {
    let scenario = &examined.scenario;
    let temperature = examined.record.coil_temperature;
    let energised = !scenario.valve.normally_open();
    let fluxes = energised.then(|| holding(&scenario.valve, temperature).fluxes);
    let start = Start::Knocked { held: &from.held, lift, fluxes };
    let phases = Phases {
        open: scenario.asked_times().longest_open,
        shut: CLOSE,
        cycles: 1,
        early_open: true,
        early_shut: false,
        watch,
    };
    // At its own duty the on-time may be shorter: that is for the row to say, not for the knock.
    let patient = scenario.at_duty(Duty { cycle_rate: 0.5 / (phases.open + phases.shut), ..scenario.duty });
    let run = |phases| -> Option<(Indicators, Verdict)> {
        let record = simulate_from(scenario, start, phases, temperature, Integrator::Stiff).ok()?;
        Some(judged(&patient, &record, temperature))
    };
    let (found, verdict) = run(phases)?;
    let early = found.open_time.is_some_and(|shown| shown < WHOLE * phases.open);
    if early && verdict.leading().is_some_and(|f| f.behaviour == Behaviour::StillSettling) {
        return run(Phases { watch: phases.open, ..phases });
    }
    Some((found, verdict))
}
