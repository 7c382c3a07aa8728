//! A run read against its scenario, and judged.

use super::coil_voltage::beyond_rating;
use super::{boiling, opening};
use crate::indicator::{Hand, Indicators, Reference, read};
use crate::physics::fluid::Phase;
use crate::physics::forced_hand::{drawing_pull, needed_stroke};
use crate::physics::installation::Installation;
use crate::physics::parts::{Link, Valve, Voltage};
use crate::physics::valve::armature::InstalledArmature;
use crate::physics::valve::magnet::{ring_flux_share, winding_resistance};
use crate::scenario::Scenario;
use crate::simulate::coil_heat::held;
use crate::simulate::{Record, transits};
use crate::trace::{EventKind, Trace};
use crate::verdict::{Circumstances, Linked, RingFlux, Verdict, WHOLE, judge};

/// A run read and judged at a scenario's own duty and winding temperature (K), which may differ a little from those of the
/// run.
pub fn judged(scenario: &Scenario, record: &Record, temperature: f64) -> (Indicators, Verdict) {
    let reference = reference(scenario, &record.installation, temperature, record.open_still_since);
    let mut indicators = read(&record.trace, &reference);
    boiling::complete(&mut indicators, scenario, &record.installation);
    let mut around = circumstances(scenario, &record.installation, record.open_still_since.is_some());
    // A run that ends before the off-time does leaves a cavity time to close.
    if indicators.off_time.is_some_and(|shown| shown >= WHOLE * around.off_time) {
        around.may_bang_on_opening.extend(opening::cavity_left(record));
    }
    around.linked = linked(scenario, record, temperature);
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
    // Where the magnet draws the stage no differential is needed, which is no limit to be told.
    let drawn = scenario.valve.armature_is_stage() || scenario.valve.link().is_some();
    let told = |limit: &f64| !drawn || *limit > 0.0;
    Hand {
        lift_off_differential: installation.lift_off_differential().filter(told),
        full_lift_differential: installation.full_lift_differential().filter(told),
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

/// Share of the energised time, counted from its end, over which the armature's place is read.
const LATE: f64 = 0.25;

/// A forced lift's armature as a run left it, beside what its link asks for by hand.
fn linked(scenario: &Scenario, record: &Record, temperature: f64) -> Option<Linked> {
    let (link, valve) = (scenario.valve.link()?, &scenario.valve);
    Some(Linked {
        travel: late_travel(&record.trace),
        stroke: valve.armature.stroke,
        free_play: link.free_play,
        full_lift: valve.main.lift,
        needed_stroke: needed_stroke(link, &valve.main),
        pull: drawn_by(valve, link, temperature),
        needed_pull: needed_to_draw(valve, link),
    })
}

/// Mean pull of a forced lift's magnet with the link just taut, N.
pub(super) fn drawn_by(valve: &Valve, link: &Link, temperature: f64) -> f64 {
    held(valve, link.free_play, temperature).mean_pull
}

/// Pull that would draw the main stage off its seat there, N.
pub(super) fn needed_to_draw(valve: &Valve, link: &Link) -> f64 {
    drawing_pull(link, &InstalledArmature::new(&valve.armature, valve.attitude), &valve.main)
}

/// Mean travel of the armature towards the end of the first energised time, m.
fn late_travel(trace: &Trace) -> f64 {
    let Some(travel) = trace.channel("armature_travel") else { return 0.0 };
    let at = |kind: EventKind| trace.events.iter().find(|event| event.kind == kind).map(|event| event.time);
    let (on, off) = (at(EventKind::CoilOn).unwrap_or(0.0), at(EventKind::CoilOff).unwrap_or(f64::INFINITY));
    let off = off.min(trace.time.last().copied().unwrap_or(0.0));
    let from = off - LATE * (off - on);
    let places = (1..trace.time.len()).filter(|&i| trace.time[i] > from && trace.time[i] <= off);
    let (mut area, mut time) = (0.0, 0.0);
    for i in places {
        let step = trace.time[i] - trace.time[i - 1];
        (area, time) = (area + step * travel.values[i], time + step);
    }
    area / time.max(f64::MIN_POSITIVE)
}

/// What its indicators are judged against.
pub fn circumstances(scenario: &Scenario, installation: &Installation, came_to_rest: bool) -> Circumstances {
    Circumstances {
        carried: scenario.valve.armature_is_stage(),
        linked: None,
        held_back: installation.held_back_differential(),
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
