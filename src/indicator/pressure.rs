//! Pressures at both sides of the valve, cavities and waves.

use super::cycle::{events, extremes, mean};
use super::phase::Cycle;
use super::{Indicators, Reference};
use crate::trace::{EventKind, Trace};

/// A first-closure window reaches this far beyond the wave's return, s.
const AFTER_RETURN: f64 = 0.010;

pub(super) fn read(
    trace: &Trace,
    cycle: Cycle,
    [start, steady]: [f64; 2],
    reference: &Reference,
    found: &mut Indicators,
) {
    open(trace, cycle, [start, steady], found);
    closing(trace, cycle, reference, found);
    machs(trace, cycle, reference, found);
    let (flow, open_pressure) = before_off(trace, cycle, reference, found);
    found.joukowsky_rise = flow.map(|q| q * reference.upstream_impedance);
    let first_at_rest = trace.values("inlet_pressure").first().copied();
    found.inlet_pressure_at_rest = first_at_rest;
    // What a pulsating supply does by itself is no surge.
    let highest_open = extremes(trace, "inlet_pressure", trace.window(start, cycle.shut)).map(|(_, high)| high);
    let pulsating = highest_open.filter(|_| reference.pulsation_frequency.is_some());
    let base = first_at_rest.map(|rest| pulsating.map_or(rest, |open| rest.max(open)));
    found.surge = found.inlet_peak_closing.zip(base).map(|(peak, base)| peak - base);
    found.surge_ratio = found
        .inlet_peak_closing
        .zip(open_pressure)
        .zip(found.joukowsky_rise.filter(|rise| *rise > 0.0))
        .filter(|_| reference.pulsation_frequency.is_none())
        .map(|((peak, open), rise)| (peak - open) / rise);
    found.bangs_per_hour = found
        .surge
        .zip(reference.surge_limit)
        .map(|(surge, limit)| if surge > limit { reference.cycle_rate } else { 0.0 });
}

/// Flow and inlet pressure before switching off: their means while open, or in an on-time too short to come to rest the last ones. Of a
/// stage that swings the last ones are chance.
fn before_off(trace: &Trace, cycle: Cycle, reference: &Reference, found: &Indicators) -> (Option<f64>, Option<f64>) {
    let swings = found.oscillation_crossings.is_some_and(|crossings| crossings >= 2.0);
    if reference.still_since.is_some() || swings || reference.pulsation_frequency.is_some() {
        return (found.flow_open, found.inlet_pressure_open);
    }
    let last = trace.window(cycle.open, cycle.shut).last();
    let at_off = |channel: &str| last.and_then(|i| trace.values(channel).get(i)).copied();
    (at_off("main_flow"), at_off("inlet_pressure"))
}

fn open(trace: &Trace, cycle: Cycle, [start, steady]: [f64; 2], found: &mut Indicators) {
    let window = trace.window(steady, cycle.shut);
    found.inlet_pressure_open = mean(trace, "inlet_pressure", window.clone());
    found.outlet_pressure_open = mean(trace, "outlet_pressure", window);
    found.differential_open =
        found.inlet_pressure_open.zip(found.outlet_pressure_open).map(|(inlet, outlet)| inlet - outlet);
    let opening = trace.window(cycle.open, start);
    found.inlet_peak_opening = extremes(trace, "inlet_pressure", opening.clone()).map(|(_, high)| high);
    found.outlet_peak_opening = extremes(trace, "outlet_pressure", opening).map(|(_, high)| high);
}

fn closing(trace: &Trace, cycle: Cycle, reference: &Reference, found: &mut Indicators) {
    let Some(contact) = events(trace, EventKind::SeatContact, cycle.shut, cycle.end).next() else { return };
    let end = |wave_return: f64| (contact.time + wave_return + AFTER_RETURN).min(cycle.end);
    let (inlet_end, outlet_end) = (end(reference.upstream_return), end(reference.downstream_return));
    let range = |channel: &str, from: f64, to: f64| extremes(trace, channel, trace.window(from, to));
    if let Some((low, high)) = range("inlet_pressure", cycle.shut, inlet_end) {
        found.inlet_trough_closing = Some(low);
        found.inlet_peak_closing = Some(high);
    }
    if let Some((low, high)) = range("outlet_pressure", cycle.shut, outlet_end) {
        found.outlet_trough_closing = Some(low);
        found.outlet_peak_closing = Some(high);
    }
    found.inlet_peak_later = range("inlet_pressure", inlet_end, cycle.end).map(|(_, high)| high);
    found.outlet_peak_later = range("outlet_pressure", outlet_end, cycle.end).map(|(_, high)| high);
    let cavity = |channel: &str, floor: f64| {
        range(channel, cycle.open, cycle.end).map(|(_, high)| if high > floor { high } else { 0.0 })
    };
    found.largest_inlet_cavity = cavity("inlet_gas_volume", reference.cavity_floor[0]);
    found.largest_outlet_cavity = cavity("outlet_gas_volume", reference.cavity_floor[1]);
    let last = range("inlet_pressure", cycle.end - 2.0 * reference.upstream_return, cycle.end);
    found.residual_wave = last
        .zip(range("inlet_pressure", contact.time, inlet_end))
        .filter(|(_, (low, high))| high > low)
        .map(|((low, high), (first_low, first_high))| (high - low) / (first_high - first_low));
}

fn machs(trace: &Trace, cycle: Cycle, reference: &Reference, found: &mut Indicators) {
    let largest = |channel: &str, sonic: Option<f64>| {
        let (low, high) = extremes(trace, channel, trace.window(cycle.open, cycle.end))?;
        Some(low.abs().max(high.abs()) / sonic?)
    };
    found.inlet_mach = largest("inlet_flow", reference.upstream_sonic_flow);
    found.outlet_mach = largest("outlet_flow", reference.downstream_sonic_flow);
}
