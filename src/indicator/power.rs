//! What the coil takes from its supply, what is left of the voltage, and what the magnet still does once it is switched off.

use super::cycle::{extremes, integral, mean, travel};
use super::energised::Energised;
use super::magnet::{Spans, holding_window};
use super::motion::first_passage;
use super::reference::Rectified;
use super::{Indicators, Reference};
use crate::trace::Trace;
use std::ops::Range;

pub(super) fn read(trace: &Trace, spans: Spans, reference: &Reference, found: &mut Indicators) {
    let [on, off] = spans.energised;
    let [start, _, end] = spans.held;
    power(trace, holding_window(trace, [start, end], reference), reference, found);
    let drawn_in = found.drawn_in(reference.energised).map_or(off, |time| (on + time).min(off));
    found.lowest_coil_voltage = lowest_voltage(trace, [on + reference.bounce_time, drawn_in], reference);
    let [released, again] = spans.without_current;
    // The first instant after switching off has the voltage before it.
    let window = trace.window(released.next_up(), again);
    found.switch_off_voltage = extremes(trace, "coil_voltage", window.clone()).map(|(low, high)| high.max(-low));
    if spans.pulled_in {
        let rises = reference.energised == Energised::WhileShut;
        let back = reference.stroke * if rises { 0.1 } else { 0.9 };
        let passed = first_passage(trace, travel(trace), released, again, back, rises);
        found.release_delay = passed.map(|time| time - released);
    }
    found.remanent_force = trace.values("magnet_force").get(window).and_then(|pulls| pulls.last().copied());
}

/// Power, apparent power and their ratio.
fn power(trace: &Trace, holding: Range<usize>, reference: &Reference, found: &mut Indicators) {
    let effective = |channel| Some(mean_of(trace, channel, holding.clone(), |v| v * v)?.sqrt());
    let into_coil = mean_product(trace, holding.clone());
    match reference.rectified {
        Some(rectified) => {
            let drawn = effective("mains_current");
            let seen = drawn.filter(|_| !rectified.chopped);
            found.holding_apparent_power = seen.map(|drawn| drawn * rectified.mains_voltage);
            found.holding_power = out_of_mains(trace, holding, rectified, into_coil, drawn);
        }
        None => {
            found.holding_power = into_coil;
            let both = effective("coil_voltage").zip(effective("coil_current"));
            found.holding_apparent_power = both.filter(|_| reference.mains_frequency.is_some()).map(|(u, i)| u * i);
        }
    }
    found.power_factor = found.holding_power.zip(found.holding_apparent_power).map(|(p, s)| p / s);
}

/// With what the diodes and the resistance before them take, W: the current runs on through the same diodes while the mains gives
/// nothing.
fn out_of_mains(
    trace: &Trace,
    holding: Range<usize>,
    rectified: Rectified,
    into_coil: Option<f64>,
    drawn: Option<f64>,
) -> Option<f64> {
    let current = mean(trace, "coil_current", holding)?;
    Some(into_coil? + rectified.forward * current + rectified.source * drawn? * drawn?)
}

fn mean_of(trace: &Trace, channel: &str, window: Range<usize>, f: impl Fn(f64) -> f64) -> Option<f64> {
    let times = trace.time.get(window.clone())?;
    let span = times.last()? - times.first()?;
    Some(integral(trace, channel, window, |_, v| f(v))? / span).filter(|mean| mean.is_finite())
}

/// Mean of voltage times current at the coil over a window, W.
fn mean_product(trace: &Trace, window: Range<usize>) -> Option<f64> {
    let times = trace.time.get(window.clone())?;
    let (volts, amperes) =
        (trace.values("coil_voltage").get(window.clone())?, trace.values("coil_current").get(window)?);
    let product = |k: usize| volts[k] * amperes[k];
    let span = times.last()? - times.first()?;
    let whole: f64 = (1..times.len()).map(|k| 0.5 * (times[k] - times[k - 1]) * (product(k) + product(k - 1))).sum();
    (span > 0.0).then(|| whole / span)
}

/// Lowest voltage at the coil from the contact's rest until the armature is drawn in, or in all the time if it is not.
fn lowest_voltage(trace: &Trace, [begin, end]: [f64; 2], reference: &Reference) -> Option<f64> {
    let Some(frequency) = reference.mains_frequency else {
        let volts = trace.values("coil_voltage").get(trace.window(begin.next_up(), end))?;
        return volts.iter().copied().reduce(f64::min);
    };
    let period = 1.0 / frequency;
    // Periods that begin each half period from switching on, of which the first is always seen.
    let count = ((end - begin) * frequency * 2.0 - 1.0).max(1.0) as usize;
    let effective = |k: usize| {
        let from = begin + 0.5 * k as f64 * period;
        let window = trace.window(from, from + period);
        Some(mean_of(trace, "coil_voltage", window, |v| v * v)?.sqrt())
    };
    (0..count).filter_map(effective).reduce(f64::min)
}
