//! A run read against its scenario, and judged.

use super::coil_voltage::beyond_rating;
use super::{boiling, opening};
use crate::indicator::{Energised, Hand, Indicators, Reference, read};
use crate::physics::fluid::Phase;
use crate::physics::installation::Installation;
use crate::physics::parts::Voltage;
use crate::physics::valve::magnet::{ring_flux_share, winding_resistance};
use crate::scenario::Scenario;
use crate::simulate::coil_heat::held;
use crate::simulate::{Record, transits};
use crate::verdict::{Circumstances, PullToShut, RingFlux, Verdict, WHOLE, judge};

/// A run read and judged at a scenario's own duty and winding temperature (K), which may differ a little from those of the
/// run.
pub fn judged(scenario: &Scenario, record: &Record, temperature: f64) -> (Indicators, Verdict) {
    let reference = reference(scenario, &record.installation, temperature, record.open_still_since);
    let mut indicators = read(&record.trace, &reference);
    boiling::complete(&mut indicators, scenario, &record.installation);
    let mut around = circumstances(scenario, &record.installation, temperature, record.open_still_since.is_some());
    // A run that ends before the time to be shut does leaves a cavity time to close.
    if indicators.shut_time.is_some_and(|shown| shown >= WHOLE * around.shut_time) {
        around.may_bang_on_opening.extend(opening::cavity_left(record, around.energised));
    }
    let verdict = judge(&indicators, &around);
    (indicators, verdict)
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
        energised: energised(scenario),
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
    let to_shut = pull_to_shut(scenario, installation, temperature);
    Hand {
        // An armature that is the stage itself needs no differential, which is no limit to be told.
        lift_off_differential: installation.lift_off_differential().filter(|_| !scenario.valve.armature_is_stage()),
        full_lift_differential: installation.full_lift_differential().filter(|_| !scenario.valve.armature_is_stage()),
        // What lifts the armature of a normally open valve is its spring, without any pull.
        highest_opening_differential: Some(installation.opening_differential(energised(scenario).choose(pull, 0.0)))
            .filter(|p| p.is_finite()),
        gearing_number: installation.gearing_number(),
        pull_in_margin: to_shut.and_then(|pull| margin(pull.pull_in, pull.pull_in_needed)),
        holding_margin: to_shut.and_then(|pull| margin(pull.holding, pull.holding_needed)),
    }
}

/// A force over the one that is needed; none where none is.
fn margin(force: f64, needed: f64) -> Option<f64> {
    Some(force / needed).filter(|margin| needed > 0.0 && margin.is_finite())
}

/// When the coil is energised.
pub fn energised(scenario: &Scenario) -> Energised {
    if scenario.valve.normally_open() { Energised::WhileShut } else { Energised::WhileOpen }
}

/// What the magnet of a normally open valve can do against what it takes to shut it, mean pulls by hand.
pub fn pull_to_shut(scenario: &Scenario, installation: &Installation, temperature: f64) -> Option<PullToShut> {
    let needed = installation.closing_pulls()?;
    let pull = |travel: f64| held(&scenario.valve, travel, temperature).mean_pull;
    Some(PullToShut {
        pull_in: pull(0.0),
        pull_in_needed: needed.pull_in,
        holding: pull(scenario.valve.armature.stroke),
        holding_needed: needed.holding,
    })
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
    let gap = scenario.valve.held_gap();
    Some(RingFlux { gap, share: ring_flux_share(coil, gap, frequency) })
}

/// What its indicators are judged against.
pub fn circumstances(
    scenario: &Scenario,
    installation: &Installation,
    temperature: f64,
    came_to_rest: bool,
) -> Circumstances {
    let asked = scenario.asked_times();
    let pull_to_shut = pull_to_shut(scenario, installation, temperature);
    Circumstances {
        carried: scenario.valve.armature_is_stage(),
        held_back: installation.held_back_differential(pull_to_shut.map_or(0.0, |pull| pull.holding)),
        circuit_differential: scenario.differential(),
        mass_behind: installation.downstream.state.mass(),
        standstill_differential: scenario.supply.pressure - scenario.sink.drained,
        drains_to_saturation: boiling::drains_to_saturation(scenario),
        mains_frequency: mains_frequency(scenario),
        energised: energised(scenario),
        pull_to_shut,
        came_to_rest,
        peak_pressure: scenario.limits.peak_pressure,
        surge: scenario.limits.surge,
        seat_speed: scenario.limits.seat_speed,
        coil_temperature: scenario.limits.coil_temperature,
        beyond_rating: beyond_rating(scenario),
        ring_flux: ring_flux(scenario),
        open_time: asked.open,
        shut_time: asked.shut,
        may_bang_on_opening: opening::may_bang(scenario),
    }
}
