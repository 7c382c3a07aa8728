//! One scenario from question to verdict: prepare, run, read, judge.

use super::disturbance::{disturbance, unsettled};
use super::disturbed::{Disturbance, amend};
use super::examined::Examined;
use super::judgement::{energised, judged};
use crate::physics::parts::Voltage;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::{unseated_temperature, winding_temperature};
use crate::simulate::throttle::{Ready, prepare};
use crate::simulate::{Integrator, Phases, RunError, simulate};

/// Periods shorter than this overlap with what a run must show, s: opening, closing and the ringing after it. Their cycles
/// are repeated.
const OVERLAP: f64 = 1.5;
/// Cycles after which short operation is taken as periodic, at least …
const LEAST_CYCLES: usize = 3;
/// … and at most.
const MOST_CYCLES: usize = 400;

/// The phases that show what a duty does: one long cycle, or several short ones up to a periodic state.
pub fn phases(scenario: &Scenario) -> Phases {
    let period = 1.0 / scenario.duty.cycle_rate;
    let asked = scenario.asked_times();
    let cycles = if period >= OVERLAP { 1 } else { (OVERLAP / period).ceil() as usize };
    let cycles = if cycles == 1 { 1 } else { cycles.clamp(LEAST_CYCLES, MOST_CYCLES) };
    Phases {
        open: asked.open.min(asked.longest_open),
        shut: asked.shut.min(asked.longest_shut),
        cycles,
        early_open: cycles == 1,
        early_shut: cycles == 1,
        watch: 0.0,
    }
}

/// Examine a scenario at its own duty.
pub fn examine(scenario: &Scenario) -> Result<Examined, RunError> {
    let ready = prepare(scenario)?;
    let temperature = winding_temperature(&ready);
    let phases = phases(&ready);
    examine_disturbed(ready, phases, temperature, None)
}

/// Examine at a winding temperature (K), with small and large disturbances tried, unless they are `known` from another duty of
/// the same valve.
pub fn examine_disturbed(
    scenario: Ready,
    phases: Phases,
    temperature: f64,
    known: Option<Disturbance>,
) -> Result<Examined, RunError> {
    let mut examined = examine_heated(scenario, phases, temperature)?;
    if unsettled(&examined) {
        let watched = Phases { watch: examined.phases.open, ..examined.phases };
        examined = examine_heated(examined.scenario, watched, temperature)?;
    }
    examined.disturbance = disturbance(&examined, known);
    amend(&mut examined.verdict, &examined.disturbance);
    Ok(examined)
}

/// Examine at a winding temperature (K); where the armature is never pulled in on alternating current, the inrush current stays
/// and heats the winding further: then again at the temperature that follows.
pub fn examine_heated(scenario: Ready, phases: Phases, temperature: f64) -> Result<Examined, RunError> {
    let first = examine_at(scenario, phases, temperature, Integrator::Stiff)?;
    let alternating = matches!(first.scenario.valve.coil.supply, Voltage::Alternating { .. });
    if !alternating || first.indicators.drawn_in(energised(&first.scenario)).is_some() {
        return Ok(first);
    }
    let hotter = unseated_temperature(&first.scenario);
    if hotter <= temperature + 1.0 {
        return Ok(first);
    }
    examine_at(first.scenario, phases, hotter, Integrator::Stiff)
}

/// Examine a prepared scenario through stated phases at a stated winding temperature (K).
pub fn examine_at(
    scenario: Ready,
    phases: Phases,
    temperature: f64,
    integrator: Integrator,
) -> Result<Examined, RunError> {
    let record = simulate(&scenario, phases, temperature, integrator)?;
    let (indicators, verdict) = judged(&scenario, &record, temperature);
    Ok(Examined { scenario, phases, record, indicators, verdict, disturbance: Disturbance::default() })
}
