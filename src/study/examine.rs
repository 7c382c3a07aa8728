//! One scenario from question to verdict: prepare, run, read, judge.

use super::coil_voltage::beyond_rating;
use super::disturbance::{Disturbance, amend, disturbance, unsettled};
use super::{boiling, opening};
use crate::indicator::{Hand, Indicators, Reference, read};
use crate::physics::fluid::Phase;
use crate::physics::installation::Installation;
use crate::physics::parts::Voltage;
use crate::physics::valve::magnet::{ring_flux_share, winding_resistance};
use crate::scenario::Scenario;
use crate::simulate::coil_heat::{held, unseated_temperature, winding_temperature};
use crate::simulate::throttle::prepare;
use crate::simulate::{Integrator, Phases, Record, RunError, simulate, transits};
use crate::verdict::{Circumstances, RingFlux, Verdict, judge};

/// A run with all that was read off it.
#[derive(Clone, Debug)]
pub struct Examined {
    /// The scenario as it was run: throttle solved, sink as the line sees it.
    pub scenario: Scenario,
    /// Phases that were run.
    pub phases: Phases,
    /// The run.
    pub record: Record,
    /// Numbers.
    pub indicators: Indicators,
    /// Meaning.
    pub verdict: Verdict,
    /// Small motions by theory, and what a knock does; empty unless asked for, see [`examine`].
    pub disturbance: Disturbance,
}

/// Periods shorter than this overlap with what a run must show, s: opening, closing and the ringing after it. Their cycles
/// are repeated.
const OVERLAP: f64 = 1.5;
/// Share of the duty's off-time that counts as all of it.
const WHOLE: f64 = 0.98;
/// Cycles after which short operation is taken as periodic, at least …
const LEAST_CYCLES: usize = 3;
/// … and at most.
const MOST_CYCLES: usize = 400;

/// The phases that show what a duty does: one long cycle, or several short ones up to a periodic state.
pub fn phases(scenario: &Scenario) -> Phases {
    let period = 1.0 / scenario.duty.cycle_rate;
    let (on, off) = (period * scenario.duty.on_fraction, period * (1.0 - scenario.duty.on_fraction));
    let cycles = if period >= OVERLAP { 1 } else { (OVERLAP / period).ceil() as usize };
    let cycles = if cycles == 1 { 1 } else { cycles.clamp(LEAST_CYCLES, MOST_CYCLES) };
    Phases {
        on: on.min(scenario.run.longest_on),
        off: off.min(scenario.run.longest_off),
        cycles,
        early_on: cycles == 1,
        early_off: cycles == 1,
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
    scenario: Scenario,
    phases: Phases,
    temperature: f64,
    known: Option<Disturbance>,
) -> Result<Examined, RunError> {
    let mut examined = examine_heated(scenario, phases, temperature)?;
    if unsettled(&examined) {
        let watched = Phases { watch: examined.phases.on, ..examined.phases };
        examined = examine_heated(examined.scenario, watched, temperature)?;
    }
    examined.disturbance = disturbance(&examined, known);
    amend(&mut examined.verdict, &examined.disturbance);
    Ok(examined)
}

/// Examine at a winding temperature (K); where the armature never seats on alternating current, the inrush current stays
/// and heats the winding further: then again at the temperature that follows.
pub fn examine_heated(scenario: Scenario, phases: Phases, temperature: f64) -> Result<Examined, RunError> {
    let first = examine_at(scenario, phases, temperature, Integrator::Stiff)?;
    let alternating = matches!(first.scenario.valve.coil.supply, Voltage::Alternating { .. });
    if !alternating || first.indicators.armature_opening_time.is_some() {
        return Ok(first);
    }
    let hotter = unseated_temperature(&first.scenario);
    if hotter <= temperature + 1.0 {
        return Ok(first);
    }
    examine_at(first.scenario, phases, hotter, Integrator::Stiff)
}

/// A run read and judged at a scenario's own duty and winding temperature (K), which may differ a little from those of the
/// run.
pub fn judged(scenario: &Scenario, record: &Record, temperature: f64) -> (Indicators, Verdict) {
    let reference = reference(scenario, &record.installation, temperature, record.on_still_since);
    let mut indicators = read(&record.trace, &reference);
    boiling::complete(&mut indicators, scenario, &record.installation);
    let mut around = circumstances(scenario, &record.installation, record.on_still_since.is_some());
    // A run that ends before the off-time does leaves a cavity time to close.
    if indicators.off_time.is_some_and(|shown| shown >= WHOLE * around.off_time) {
        around.may_bang_on_opening.extend(opening::cavity_left(record));
    }
    let verdict = judge(&indicators, &around);
    (indicators, verdict)
}

/// Examine a prepared scenario through stated phases at a stated winding temperature (K).
pub fn examine_at(
    scenario: Scenario,
    phases: Phases,
    temperature: f64,
    integrator: Integrator,
) -> Result<Examined, RunError> {
    let record = simulate(&scenario, phases, temperature, integrator)?;
    let (indicators, verdict) = judged(&scenario, &record, temperature);
    Ok(Examined { scenario, phases, record, indicators, verdict, disturbance: Disturbance::default() })
}

/// What a trace of this scenario is read against.
pub fn reference(
    scenario: &Scenario,
    installation: &Installation,
    temperature: f64,
    still_since: Option<f64>,
) -> Reference {
    let (up, down) = transits(scenario);
    let gas = matches!(scenario.fluid.phase, Phase::Gas(_));
    let sonic = |s: &crate::physics::line::LineState| gas.then_some(s.density * s.area * s.wave_speed);
    let limit = match (scenario.limits.surge, scenario.limits.peak_pressure) {
        (Some(surge), Some(peak)) => Some(surge.min(peak - scenario.supply.pressure)),
        (Some(surge), None) => Some(surge),
        (None, Some(peak)) => Some(peak - scenario.supply.pressure),
        (None, None) => None,
    };
    let cavity_floor = [&installation.inlet, &installation.outlet].map(boiling::cavity_floor);
    Reference {
        full_lift: scenario.valve.main.lift,
        stage_mass: scenario.valve.main.mass,
        stroke: scenario.valve.armature.stroke,
        winding_resistance: winding_resistance(scenario.valve.coil.resistance, temperature),
        coil_temperature: temperature,
        upstream_return: 2.0 * up,
        downstream_return: 2.0 * down,
        upstream_impedance: installation.upstream.state.impedance(),
        upstream_sonic_flow: sonic(&installation.upstream.state),
        downstream_sonic_flow: sonic(&installation.downstream.state),
        mains_frequency: mains_frequency(scenario),
        pulsation_frequency: (scenario.supply.pulsation > 0.0).then_some(scenario.supply.pulsation_frequency),
        still_since,
        on_time: scenario.duty.on_fraction / scenario.duty.cycle_rate,
        cycle_rate: scenario.duty.cycle_rate,
        surge_limit: limit,
        cavity_floor,
        hand: hand(scenario, installation, temperature),
    }
}

/// Values by hand for a scenario.
pub fn hand(scenario: &Scenario, installation: &Installation, temperature: f64) -> Hand {
    let pull = held(&scenario.valve, 0.0, temperature).mean_pull;
    Hand {
        lift_off_differential: installation.lift_off_differential(),
        full_lift_differential: installation.full_lift_differential(),
        highest_opening_differential: Some(installation.opening_differential(pull)).filter(|p| p.is_finite()),
        gearing_number: installation.gearing_number(),
    }
}

fn mains_frequency(scenario: &Scenario) -> Option<f64> {
    match scenario.valve.coil.supply {
        Voltage::Alternating { frequency, .. } => Some(frequency),
        Voltage::Direct { .. } => None,
    }
}

/// What of the flux gets into the shading ring's face; none without a ring or on direct voltage.
fn ring_flux(scenario: &Scenario) -> Option<RingFlux> {
    let coil = &scenario.valve.coil;
    let frequency = mains_frequency(scenario).filter(|_| coil.shading_ring.is_some())?;
    Some(RingFlux { gap: coil.residual_gap, share: ring_flux_share(coil, coil.residual_gap, frequency) })
}

/// What its indicators are judged against.
pub fn circumstances(scenario: &Scenario, installation: &Installation, came_to_rest: bool) -> Circumstances {
    Circumstances {
        carried: scenario.valve.armature_is_stage(),
        circuit_differential: scenario.differential(),
        mass_behind: installation.downstream.state.mass(),
        standstill_differential: scenario.supply.pressure - scenario.sink.drained,
        drains_to_saturation: boiling::drains_to_saturation(scenario),
        mains_frequency: mains_frequency(scenario),
        came_to_rest,
        peak_pressure: scenario.limits.peak_pressure,
        surge: scenario.limits.surge,
        seat_speed: scenario.limits.seat_speed,
        coil_temperature: scenario.limits.coil_temperature,
        beyond_rating: beyond_rating(scenario),
        ring_flux: ring_flux(scenario),
        on_time: scenario.duty.on_fraction / scenario.duty.cycle_rate,
        off_time: (1.0 - scenario.duty.on_fraction) / scenario.duty.cycle_rate,
        may_bang_on_opening: opening::may_bang(scenario),
    }
}
