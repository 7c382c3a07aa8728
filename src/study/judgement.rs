//! A run read against its scenario, and judged.

use super::coil_voltage::beyond_rating;
use super::wrong_supply::wrong_supply;
use super::{boiling, coil_duty, coil_supply, hot_pull_in, opening};
use crate::indicator::{Energised, Hand, Indicators, Rectified, Reference, read};
use crate::physics::fluid::Phase;
use crate::physics::forced_hand::{drawing_pull, needed_stroke};
use crate::physics::installation::Installation;
use crate::physics::parts::{Link, Valve};
use crate::physics::valve::armature::InstalledArmature;
use crate::physics::valve::copper::winding_resistance;
use crate::physics::valve::feed::{open_circuit_factor, source_resistance};
use crate::physics::valve::magnet::ring_flux_share;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::{held, holding};
use crate::simulate::contact::lasting;
use crate::simulate::{Record, transits};
use crate::trace::{EventKind, Trace};
use crate::verdict::{Circumstances, Linked, PastPiston, PullToShut, RingFlux, Verdict, WHOLE, judge};

/// A run read and judged at a scenario's own duty and winding temperature (K), which may differ a little from those of the
/// run.
pub fn judged(scenario: &Scenario, record: &Record, temperature: f64) -> (Indicators, Verdict) {
    let reference = reference(scenario, &record.installation, temperature, record.open_still_since);
    let mut indicators = read(&record.trace, &reference);
    boiling::complete(&mut indicators, scenario, &record.installation);
    indicators.hot_low_opening_differential =
        hot_pull_in::hot_low_differential(scenario, &record.installation, temperature);
    let mut around = circumstances(scenario, &record.installation, temperature, record.open_still_since.is_some());
    around.coil_rise = coil_duty::complete(&mut indicators, scenario, around.energised);
    if indicators.drawn_in(around.energised).is_none() && around.coil_limit.is_some() {
        around.inrush_heat = coil_duty::inrush_heat(scenario, temperature);
    }
    // A run that ends before the time to be shut does leaves a cavity time to close.
    if indicators.shut_time.is_some_and(|shown| shown >= WHOLE * around.shut_time) {
        around.may_bang_on_opening.extend(opening::cavity_left(record, around.energised));
    }
    around.linked = linked(scenario, record, temperature);
    around.held_travel = late_travel(&record.trace).map(|travel| travel / scenario.valve.armature.stroke);
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
        rectified: rectified(scenario),
        bounce_time: scenario.valve.coil.feed.bounce.as_ref().map_or(0.0, |bounce| bounce.duration),
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
    let open = held(&scenario.valve, 0.0, temperature);
    let alternates = mains_frequency(scenario).is_some();
    // Where the magnet draws the stage no differential is needed, which is no limit to be told.
    let valve = &scenario.valve;
    let drawn = valve.armature_is_stage() || valve.link().is_some() || valve.vents_elsewhere();
    let told = |limit: &f64| !drawn || *limit > 0.0;
    let to_shut = pull_to_shut(scenario, installation, temperature);
    // What lifts the armature of a normally open valve is its spring, against what pull its iron keeps without current.
    let lifting = energised(scenario).choose(open.mean_pull, installation.remanent_pull());
    Hand {
        lift_off_differential: installation.lift_off_differential().filter(told),
        full_lift_differential: installation.full_lift_differential().filter(told),
        highest_opening_differential: Some(installation.opening_differential(lifting)).filter(|p| p.is_finite()),
        inrush_current: Some(open.current).filter(|current| alternates && current.is_finite()),
        inrush_apparent_power: Some(open.current * open.voltage).filter(|power| alternates && power.is_finite()),
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
    Some(PullToShut {
        pull_in: held(&scenario.valve, 0.0, temperature).mean_pull,
        pull_in_needed: needed.pull_in,
        holding: holding(&scenario.valve, temperature).mean_pull,
        holding_needed: needed.holding,
    })
}

fn mains_frequency(scenario: &Scenario) -> Option<f64> {
    scenario.valve.coil.supply.mains_frequency()
}

fn rectified(scenario: &Scenario) -> Option<Rectified> {
    let coil = &scenario.valve.coil;
    let mains_voltage = coil.supply.stated() * open_circuit_factor(coil);
    let share = lasting(coil, true).share;
    let source = share * source_resistance(coil);
    let of = |forward| Rectified { mains_voltage, forward, source, chopped: share < 1.0 };
    coil.supply.rectifier().map(|rectifier| of(rectifier.forward))
}

/// What of the flux gets into the shading ring's face; none without a ring or on direct voltage.
fn ring_flux(scenario: &Scenario) -> Option<RingFlux> {
    let coil = &scenario.valve.coil;
    let frequency = mains_frequency(scenario).filter(|_| coil.shading_ring.is_some())?;
    let gap = scenario.valve.held_gap();
    Some(RingFlux { gap, share: ring_flux_share(coil, gap, frequency) })
}

/// Share of the energised time, counted from its end, over which the armature's place is read.
const LATE: f64 = 0.25;

/// A forced lift's armature as a run left it, beside what its link asks for by hand.
fn linked(scenario: &Scenario, record: &Record, temperature: f64) -> Option<Linked> {
    let (link, valve) = (scenario.valve.link()?, &scenario.valve);
    Some(Linked {
        travel: late_travel(&record.trace).unwrap_or(0.0),
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
    drawing_pull(link, &InstalledArmature::new(&valve.armature, &valve.function, valve.attitude), &valve.main)
}

/// Mean travel of the armature towards the end of the first energised time, m.
fn late_travel(trace: &Trace) -> Option<f64> {
    let travel = trace.channel("armature_travel")?;
    let first = |kind: EventKind, after: f64| {
        trace.events.iter().find(|event| event.kind == kind && event.time >= after).map(|event| event.time)
    };
    let on = first(EventKind::CoilOn, 0.0).unwrap_or(0.0);
    let end = trace.time.last().copied().unwrap_or(0.0);
    let off = first(EventKind::CoilOff, on).unwrap_or(end).min(end);
    let from = off - LATE * (off - on);
    let places = (1..trace.time.len()).filter(|&i| trace.time[i] > from && trace.time[i] <= off);
    let (mut area, mut time) = (0.0, 0.0);
    for i in places {
        let step = trace.time[i] - trace.time[i - 1];
        (area, time) = (area + step * travel.values[i], time + step);
    }
    (time > 0.0).then_some(area / time)
}

fn past_piston(installation: &Installation) -> Option<PastPiston> {
    let leaks = installation.control.servo()?.leak.is_some();
    leaks.then(|| PastPiston { holds_down_above: installation.greatest_lift_off_differential() })
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
        linked: None,
        held_back: installation.held_back_differential(pull_to_shut.map_or(0.0, |pull| pull.holding)),
        held_travel: None,
        friction: scenario.valve.armature.friction,
        past_piston: past_piston(installation),
        circuit_differential: scenario.differential(),
        mass_behind: installation.downstream.state.mass(),
        standstill_differential: scenario.supply.pressure - scenario.sink.drained,
        drains_to_saturation: boiling::drains_to_saturation(scenario),
        mains_frequency: mains_frequency(scenario),
        energised: energised(scenario),
        pull_to_shut,
        remanent_pull: Some(installation.remanent_pull()).filter(|pull| scenario.valve.normally_open() && *pull > 0.0),
        came_to_rest,
        peak_pressure: scenario.limits.peak_pressure,
        surge: scenario.limits.surge,
        seat_speed: scenario.limits.seat_speed,
        coil_limit: coil_duty::coil_limit(scenario),
        coil_rise: None,
        inrush_heat: None,
        beyond_rating: beyond_rating(scenario),
        wrong_supply: wrong_supply(scenario).map(|wrong| wrong.words),
        rectified_pulses: scenario.valve.coil.supply.rectifier().map(|r| if r.both_half_waves { 2.0 } else { 1.0 }),
        unloaded_voltage: coil_supply::unloaded_voltage(scenario),
        ring_flux: ring_flux(scenario),
        open_time: asked.open,
        shut_time: asked.shut,
        may_bang_on_opening: opening::may_bang(scenario),
        not_computed: opening::of_check_valves(scenario),
    }
}
