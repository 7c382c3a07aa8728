//! Magnet, armature and coil heat.

use super::cycle::{events, extremes, integral, mean, travel};
use super::phase::Cycle;
use super::{Indicators, Reference};
use crate::trace::{EventKind, Trace};
use std::ops::Range;

/// The judged part, of alternating current its last whole periods: a part of one would count the crest of the current more than its
/// zero, or less.
pub(super) fn holding_window(trace: &Trace, cycle: Cycle, start: f64, reference: &Reference) -> Range<usize> {
    let span = (cycle.shut - start).max(f64::MIN_POSITIVE);
    let periods = |f: f64| (span * f).floor() / f;
    let steady = reference.mains_frequency.map(periods).filter(|whole| *whole > 0.0).unwrap_or(span);
    trace.window(cycle.shut - steady, cycle.shut)
}

pub(super) fn read(
    trace: &Trace,
    cycle: Cycle,
    [start, steady]: [f64; 2],
    reference: &Reference,
    found: &mut Indicators,
) {
    let window = trace.window(start, cycle.shut);
    let span = (cycle.shut - start).max(f64::MIN_POSITIVE);
    if found.armature_opening_time.is_some() {
        // On direct current the flux still rises when the armature has just come to the pole; on alternating it goes on pulsing.
        let held = if reference.mains_frequency.is_some() { start } else { steady };
        found.least_magnet_force = extremes(trace, "magnet_force", trace.window(held, cycle.shut)).map(|(low, _)| low);
        found.armature_load = mean(trace, "armature_load", window.clone());
        found.pole_contact_rate = Some(events(trace, EventKind::PoleContact, start, cycle.shut).count() as f64 / span);
        found.armature_swing = extremes(trace, travel(trace), window.clone()).map(|(low, high)| high - low);
    }
    let squared = |w| integral(trace, "coil_current", w, |_, i| i * i);
    let holding = holding_window(trace, cycle, start, reference);
    let ends = (trace.time.get(holding.start), trace.time.get(holding.end.saturating_sub(1)));
    let (Some(total), (Some(first), Some(last))) = (squared(holding), ends) else { return };
    let mean_square = total / (last - first).max(f64::MIN_POSITIVE);
    found.coil_current = Some(mean_square.sqrt());
    let power = mean_square * reference.winding_resistance;
    found.coil_power = Some(power);
    let energised = cycle.shut - cycle.open;
    let heat = squared(trace.window(cycle.open, cycle.shut)).map(|total| total * reference.winding_resistance);
    found.pull_in_energy = heat.map(|heat| heat - power * energised);
    found.coil_heat_per_cycle = found.pull_in_energy.map(|extra| extra + power * reference.on_time);
}
