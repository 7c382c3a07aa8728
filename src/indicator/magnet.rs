//! Magnet, armature and coil heat.

use super::cycle::{events, extremes, integral, mean, travel};
use super::energised::Energised;
use super::motion::first_passage;
use super::phase::Cycle;
use super::{Indicators, Reference};
use crate::trace::{EventKind, Trace};
use std::ops::Range;

/// The judged part, of alternating current its last whole periods: a part of one would count the crest of the current more than its
/// zero, or less.
pub(super) fn holding_window(trace: &Trace, [start, end]: [f64; 2], reference: &Reference) -> Range<usize> {
    let span = (end - start).max(f64::MIN_POSITIVE);
    let periods = |f: f64| (span * f).floor() / f;
    let steady = reference.mains_frequency.map(periods).filter(|whole| *whole > 0.0).unwrap_or(span);
    trace.window(end - steady, end)
}

/// An armature that shuts a normally open valve is judged over the last of the time for which it is held, s: a dozen periods of 50 Hz.
const HELD: f64 = 0.25;

/// When the coil is energised, and when its magnet should hold.
#[derive(Clone, Copy)]
pub(super) struct Spans {
    /// From switching on to switching off, s.
    pub(super) energised: [f64; 2],
    /// From switching off to switching on, s.
    pub(super) without_current: [f64; 2],
    /// The part of the energised time that is judged: start, start of what is steady, and end, s.
    pub(super) held: [f64; 3],
    /// Has the armature been pulled in?
    pub(super) pulled_in: bool,
}

/// When the coil is energised in a cycle whose open time is judged from `start`, and is steady from `steady` on (s).
pub(super) fn spans(
    trace: &Trace,
    cycle: Cycle,
    [start, steady]: [f64; 2],
    reference: &Reference,
    found: &mut Indicators,
) -> Spans {
    match reference.energised {
        Energised::WhileOpen => Spans {
            energised: [cycle.open, cycle.shut],
            without_current: [cycle.shut, cycle.end],
            held: [start, steady, cycle.shut],
            pulled_in: found.armature_opening_time.is_some(),
        },
        Energised::WhileShut => while_shut(trace, cycle, reference, found),
    }
}

pub(super) fn read(trace: &Trace, spans: Spans, reference: &Reference, found: &mut Indicators) {
    let [start, steady, end] = spans.held;
    let window = trace.window(start, end);
    let span = (end - start).max(f64::MIN_POSITIVE);
    if spans.pulled_in {
        // On direct current the flux still rises when the armature has just come to the pole; on alternating it goes on pulsing.
        let held = if reference.mains_frequency.is_some() { start } else { steady };
        found.least_magnet_force = extremes(trace, "magnet_force", trace.window(held, end)).map(|(low, _)| low);
        found.armature_load = mean(trace, "armature_load", window.clone());
        let rate = |kind| events(trace, kind, start, end).count() as f64 / span;
        found.pole_contact_rate = Some(rate(EventKind::PoleContact));
        let seat = if travel(trace) == "lift" { EventKind::SeatContact } else { EventKind::PilotSeatContact };
        found.held_seat_contact_rate = reference.energised.choose(None, Some(rate(seat)));
        found.armature_swing = extremes(trace, travel(trace), window.clone()).map(|(low, high)| high - low);
    }
    let squared = |w| integral(trace, "coil_current", w, |_, i| i * i);
    let holding = holding_window(trace, [start, end], reference);
    let ends = (trace.time.get(holding.start), trace.time.get(holding.end.saturating_sub(1)));
    let (Some(total), (Some(first), Some(last))) = (squared(holding), ends) else { return };
    let mean_square = total / (last - first).max(f64::MIN_POSITIVE);
    found.coil_current = Some(mean_square.sqrt());
    let power = mean_square * reference.winding_resistance;
    found.coil_power = Some(power);
    let [on, off] = spans.energised;
    let heat = squared(trace.window(on, off)).map(|total| total * reference.winding_resistance);
    found.pull_in_energy = heat.map(|heat| heat - power * (off - on));
    found.coil_heat_per_cycle = found.pull_in_energy.map(|extra| extra + power * reference.on_time);
}

/// The energised time of a normally open valve, judged over its last, and no earlier than half-way after the armature has come down.
fn while_shut(trace: &Trace, cycle: Cycle, reference: &Reference, found: &mut Indicators) -> Spans {
    let down = first_passage(trace, travel(trace), cycle.shut, cycle.end, 0.1 * reference.stroke, false);
    found.armature_closing_time = down.map(|time| time - cycle.shut);
    let from = down.unwrap_or(cycle.shut);
    let start = (0.5 * (from + cycle.end)).max(cycle.end - HELD);
    Spans {
        energised: [cycle.shut, cycle.end],
        without_current: [cycle.open, cycle.shut],
        held: [start, start, cycle.end],
        pulled_in: down.is_some(),
    }
}
