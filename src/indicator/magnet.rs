//! Magnet, armature and coil heat.

use super::cycle::{Cycle, events, extremes, integral, mean};
use super::{Indicators, Reference};
use crate::trace::{EventKind, Trace};

pub(super) fn read(trace: &Trace, cycle: Cycle, start: f64, reference: &Reference, found: &mut Indicators) {
    let window = trace.window(start, cycle.off);
    let span = (cycle.off - start).max(f64::MIN_POSITIVE);
    if found.armature_opening_time.is_some() {
        found.least_magnet_force = extremes(trace, "magnet_force", window.clone()).map(|(low, _)| low);
        found.armature_load = mean(trace, "armature_load", window.clone());
        found.pole_contact_rate = Some(events(trace, EventKind::PoleContact, start, cycle.off).count() as f64 / span);
        found.armature_swing = extremes(trace, "armature_travel", window.clone()).map(|(low, high)| high - low);
    }
    let squared = |w| integral(trace, "coil_current", w, |_, i| i * i);
    let Some(mean_square) = squared(window).map(|total| total / span) else { return };
    found.coil_current = Some(mean_square.sqrt());
    let power = mean_square * reference.winding_resistance;
    found.coil_power = Some(power);
    let energised = cycle.off - cycle.on;
    let heat = squared(trace.window(cycle.on, cycle.off)).map(|total| total * reference.winding_resistance);
    found.pull_in_energy = heat.map(|heat| heat - power * energised);
    found.coil_heat_per_cycle = found.pull_in_energy.map(|extra| extra + power * reference.on_time);
}
