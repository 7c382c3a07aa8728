//! How the main stage moves: opening, floating, oscillating, closing.

use super::cycle::{about_trend, crossings, events, extremes, integral, mean, travel};
use super::phase::Cycle;
use super::{Indicators, Reference, noise};
use crate::portable::Portable;
use crate::trace::{EventKind, Trace};

/// Swings of the lift below this share of full lift are no oscillation; a tenth of the mean lift takes the place of full lift where
/// that is less.
const SWING_FLOOR: f64 = 0.005;

pub(super) fn read(
    trace: &Trace,
    cycle: Cycle,
    [start, steady]: [f64; 2],
    reference: &Reference,
    found: &mut Indicators,
) {
    opening(trace, cycle, reference, found);
    judged(trace, cycle, start, reference, found);
    found.flow_open = mean(trace, "main_flow", trace.window(steady, cycle.shut));
    closing(trace, cycle, reference, found);
}

/// First instant from `from` on at which the channel is above (or below) a level, by linear interpolation.
pub(super) fn first_passage(trace: &Trace, channel: &str, from: f64, to: f64, level: f64, rising: bool) -> Option<f64> {
    let values = trace.values(channel);
    let window = trace.window(from, to);
    let beyond = |v: f64| if rising { v >= level } else { v <= level };
    let i = window.clone().find(|&i| values.get(i).is_some_and(|&v| beyond(v)))?;
    if i == window.start {
        return Some(trace.time[i]);
    }
    let (t, v) = ([trace.time[i - 1], trace.time[i]], [values[i - 1], values[i]]);
    let share = if v[1] == v[0] { 1.0 } else { (level - v[0]) / (v[1] - v[0]) };
    Some(t[0] + share.clamp(0.0, 1.0) * (t[1] - t[0]))
}

fn opening(trace: &Trace, cycle: Cycle, reference: &Reference, found: &mut Indicators) {
    let after = |channel: &str, level: f64| {
        first_passage(trace, channel, cycle.open, cycle.shut, level, true).map(|t| t - cycle.open)
    };
    found.armature_opening_time = after(travel(trace), 0.9 * reference.stroke);
    found.opening_time_10 = after("lift", 0.1 * reference.full_lift);
    found.opening_time_90 = after("lift", 0.9 * reference.full_lift);
}

fn judged(trace: &Trace, cycle: Cycle, start: f64, reference: &Reference, found: &mut Indicators) {
    let full = reference.full_lift;
    let window = trace.window(start, cycle.shut);
    let share = |range: Option<(f64, f64)>| range.map(|(low, high)| (high - low) / full);
    let middle = 0.5 * (start + cycle.shut);
    found.judged_window = Some(cycle.shut - start);
    found.mean_lift = mean(trace, "lift", window.clone()).map(|x| share_of_full(x / full));
    found.largest_lift =
        extremes(trace, "lift", trace.window(cycle.open, cycle.shut)).map(|(_, high)| share_of_full(high / full));
    found.oscillation = share(extremes(trace, "lift", window.clone()));
    found.oscillation_first_half = share(about_trend(trace, "lift", trace.window(start, middle)));
    found.oscillation_second_half = share(about_trend(trace, "lift", trace.window(middle, cycle.shut)));
    let crossed = crossings(
        trace,
        "lift",
        window.clone(),
        SWING_FLOOR * full * found.mean_lift.map_or(1.0, |m| (10.0 * m).min(1.0)),
    );
    found.oscillation_crossings = Some(crossed.count as f64);
    // Of a swing that is only noise there is no rate.
    found.oscillation_rate =
        crossed.rate.filter(|_| found.oscillation.is_some_and(|swing| swing >= noise("oscillation")));
    let contacts = events(trace, EventKind::SeatContact, start, cycle.shut).count() as f64;
    found.seat_contacts_open = Some(contacts);
    found.seat_contacts_late = Some(events(trace, EventKind::SeatContact, middle, cycle.shut).count() as f64);
    found.seat_contact_rate = Some(contacts / (cycle.shut - start).max(f64::MIN_POSITIVE));
    let last = trace.window(cycle.open, cycle.shut).last();
    found.lift_at_shutting = last.and_then(|i| trace.values("lift").get(i)).map(|x| share_of_full(x / full));
    found.supply_frequency_share = reference
        .pulsation_frequency
        .and_then(|f| tone(trace, start, cycle.shut, f))
        .zip(share(about_trend(trace, "lift", window)).zip(found.oscillation).map(|(about, whole)| about.min(whole)))
        .map(|(swing, oscillation)| (swing / full / oscillation.max(1e-12)).min(1.0));
}

/// A share of full lift; seat and stop give way a little, which is no lift below none or beyond the full one.
fn share_of_full(share: f64) -> f64 {
    share.clamp(0.0, 1.0)
}

/// Peak-to-peak lift at one frequency, over a whole number of its periods.
fn tone(trace: &Trace, start: f64, end: f64, frequency: f64) -> Option<f64> {
    let periods = ((end - start) * frequency).floor();
    if periods < 1.0 {
        return None;
    }
    let span = periods / frequency;
    let window = trace.window(end - span, end);
    let omega = std::f64::consts::TAU * frequency;
    let average = mean(trace, "lift", window.clone())?;
    let sine = integral(trace, "lift", window.clone(), |t, x| (x - average) * (omega * t).sine())?;
    let cosine = integral(trace, "lift", window, |t, x| (x - average) * (omega * t).cosine())?;
    Some(4.0 / span * sine.length_with(cosine))
}

fn closing(trace: &Trace, cycle: Cycle, reference: &Reference, found: &mut Indicators) {
    let lift = trace.values("lift");
    found.lift_at_end = lift.last().map(|x| share_of_full(x / reference.full_lift));
    let kinetic = |speed: f64| 0.5 * reference.stage_mass * speed * speed;
    let in_cycle = || events(trace, EventKind::SeatContact, cycle.open, cycle.end);
    found.hardest_seat_speed = in_cycle().map(|e| e.magnitude).reduce(f64::max);
    found.seat_energy_per_cycle = Some(in_cycle().map(|e| kinetic(e.magnitude)).sum());
    let Some(contact) = events(trace, EventKind::SeatContact, cycle.shut, cycle.end).next() else { return };
    let closing_time = contact.time - cycle.shut;
    found.closing_time = Some(closing_time);
    found.first_seat_speed = Some(contact.magnitude);
    let after = extremes(trace, "lift", trace.window(contact.time, cycle.end));
    found.reopened_lift = after.map(|(_, high)| share_of_full(high / reference.full_lift));
    found.first_seat_energy = Some(kinetic(contact.magnitude));
    let late = first_passage(trace, "lift", cycle.shut, contact.time, 0.2 * reference.full_lift, false);
    found.late_closing_share = late.map(|t| (contact.time - t) / closing_time.max(f64::MIN_POSITIVE));
    // A pulsating flow swings through all of these by itself.
    if reference.pulsation_frequency.is_some() {
        return;
    }
    found.effective_closing_time = effective(trace, cycle, contact.time, found.flow_open);
    let open = found.flow_open.filter(|flow| *flow > 0.0);
    found.steepest_stop = open.map(|open| steepest_stop(trace, cycle, open, reference.upstream_return));
    found.steady_wave_ratio =
        found.effective_closing_time.map(|t| t / reference.upstream_return.max(f64::MIN_POSITIVE));
}

/// Time of the main flow from 90 to 10 % of its value at switching off.
fn effective(trace: &Trace, cycle: Cycle, contact: f64, flow_open: Option<f64>) -> Option<f64> {
    let flow = flow_open.filter(|q| *q > 0.0)?;
    let at_off = *trace.values("main_flow").get(trace.window(cycle.open, cycle.shut).last()?)?;
    if at_off < 0.9 * flow {
        return None;
    }
    let end = first_passage(trace, "main_flow", cycle.shut, contact, 0.1 * flow, false)?;
    let window = trace.window(cycle.shut, end);
    let values = trace.values("main_flow");
    let last_above = window.rev().find(|&i| values[i] >= 0.9 * flow);
    Some(end - last_above.map_or(cycle.shut, |i| passage(trace, "main_flow", i, 0.9 * flow)))
}

/// Instant between sample `i` and the next at which the channel passes a level, by linear interpolation.
fn passage(trace: &Trace, channel: &str, i: usize, level: f64) -> f64 {
    let (times, values) = (&trace.time, trace.values(channel));
    match (times.get(i + 1), values.get(i + 1)) {
        (Some(&next), Some(&after)) if after != values[i] => {
            times[i] + ((level - values[i]) / (after - values[i])).clamp(0.0, 1.0) * (next - times[i])
        }
        _ => times[i],
    }
}

/// Largest fall of the main flow within a span of time (s) after switching off, over the open flow (kg/s). Above one where
/// the flow turns back.
pub(super) fn steepest_stop(trace: &Trace, cycle: Cycle, open: f64, span: f64) -> f64 {
    let (times, flows) = (&trace.time, trace.values("main_flow"));
    let (mut later, mut earlier) = (0, 0);
    let mut largest: f64 = 0.0;
    for i in trace.window(cycle.shut, cycle.end) {
        while later + 1 < times.len() && times[later] < times[i] + span {
            later += 1;
        }
        if let (Some(before), Some(after)) = (flows.get(i), at(times, flows, later, times[i] + span)) {
            largest = largest.max((before - after) / open);
        }
        // The span that ends at this sample as well: the steepest may begin between two.
        let from = times[i] - span;
        if from < cycle.shut {
            continue;
        }
        while earlier + 1 < times.len() && times[earlier] < from {
            earlier += 1;
        }
        if let (Some(before), Some(after)) = (at(times, flows, earlier, from), flows.get(i)) {
            largest = largest.max((before - after) / open);
        }
    }
    largest
}

/// Value at a time that lies between sample `later` and the one before, by linear interpolation; the last value beyond.
fn at(times: &[f64], values: &[f64], later: usize, time: f64) -> Option<f64> {
    let (value, earlier) = (*values.get(later)?, later.checked_sub(1));
    let Some(earlier) = earlier.filter(|_| times[later] > time) else { return Some(value) };
    let share = (time - times[earlier]) / (times[later] - times[earlier]);
    Some(values[earlier] + share.clamp(0.0, 1.0) * (value - values[earlier]))
}
