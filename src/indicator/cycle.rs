//! Judged windows of a cycle, and what is read over a window.

use super::Reference;
use super::phase::Cycle;
use crate::portable::Portable;
use crate::trace::{Event, EventKind, Trace};
use std::ops::Range;

/// Least time over which an oscillation is judged, s.
const JUDGED_TIME: f64 = 1.0;
/// Least number of periods over which an oscillation is judged.
const JUDGED_PERIODS: f64 = 20.0;
/// A swing slower than the judged time needs this many crossings in the whole phase to be one.
const SLOW_CROSSINGS: usize = 3;
/// What happens this long after opening is asked for belongs to the opening, s (or half of the time for which it is asked, if that is shorter).
const TRANSIENT: f64 = 0.3;

/// Start of the judged part of the phase in which the valve is asked to be open: where rest began, or the last second or twenty periods, but not the
/// opening itself.
pub fn judged_start(trace: &Trace, cycle: Cycle, reference: &Reference) -> f64 {
    if let Some(since) = reference.still_since.filter(|t| *t >= cycle.open && *t < cycle.shut) {
        return since;
    }
    let earliest = cycle.open + TRANSIENT.min(0.5 * (cycle.shut - cycle.open));
    let first = (cycle.shut - JUDGED_TIME).max(earliest);
    let window = trace.window(first, cycle.shut);
    let rate = crossings(trace, "lift", window, 0.0).rate.or_else(|| {
        // Slower than the window: look at all of the phase.
        let whole = crossings(trace, "lift", trace.window(earliest, cycle.shut), 0.0);
        whole.rate.filter(|_| whole.count >= SLOW_CROSSINGS)
    });
    match rate {
        Some(rate) => (cycle.shut - JUDGED_TIME.max(JUDGED_PERIODS / rate)).max(earliest),
        None => first,
    }
}

/// What is steady is read over the last of a phase at rest, s: before, lines and flow may still be settling by some tenths of a
/// per cent, and how long they were watched is chance.
const STEADY: f64 = 0.25;

/// Start of the time over which flow and pressures of the open valve are means: the last of a rest, else the judged part.
pub fn steady_start(cycle: Cycle, judged: f64, reference: &Reference) -> f64 {
    if reference.still_since.is_some() { judged.max(cycle.shut - STEADY) } else { judged }
}

/// Events of a kind in a span of time.
pub fn events(trace: &Trace, kind: EventKind, from: f64, to: f64) -> impl Iterator<Item = &Event> {
    trace.events.iter().filter(move |e| e.kind == kind && e.time >= from && e.time <= to)
}

/// Least and largest value over a window.
pub fn extremes(trace: &Trace, channel: &str, window: Range<usize>) -> Option<(f64, f64)> {
    let values = trace.values(channel).get(window)?;
    values.iter().fold(None, |seen, &v| match seen {
        None => Some((v, v)),
        Some((low, high)) => Some((v.min(low), v.max(high))),
    })
}

/// Least and largest value over a window about its linear trend: a slow drift is no swing.
///
/// The trend is that of least squares in time, each instant weighted by the time for which it stands.
pub fn about_trend(trace: &Trace, channel: &str, window: Range<usize>) -> Option<(f64, f64)> {
    let values = trace.values(channel).get(window.clone())?;
    let (first, last) = (*trace.time.get(window.start)?, *trace.time.get(window.end.checked_sub(1)?)?);
    let (span, middle) = (last - first, 0.5 * (first + last));
    let slope = if span > 0.0 {
        integral(trace, channel, window.clone(), |t, x| (t - middle) * x)? * 12.0 / span.to_the(3)
    } else {
        0.0
    };
    values.iter().zip(&trace.time[window]).map(|(v, t)| v - slope * (t - middle)).fold(None, |seen, v| match seen {
        None => Some((v, v)),
        Some((low, high)) => Some((f64::min(low, v), f64::max(high, v))),
    })
}

/// Time integral of `f` of a channel over a window, by the trapezoidal rule.
pub fn integral(trace: &Trace, channel: &str, window: Range<usize>, f: impl Fn(f64, f64) -> f64) -> Option<f64> {
    let (times, values) = (trace.time.get(window.clone())?, trace.values(channel).get(window)?);
    if times.len() < 2 {
        return None;
    }
    let pairs = times.windows(2).zip(values.windows(2));
    Some(pairs.map(|(t, v)| 0.5 * (t[1] - t[0]) * (f(t[0], v[0]) + f(t[1], v[1]))).sum())
}

/// Mean over a window, weighted by time; a single value stands for itself.
pub fn mean(trace: &Trace, channel: &str, window: Range<usize>) -> Option<f64> {
    let times = trace.time.get(window.clone())?;
    let span = times.last()? - times.first()?;
    if span <= 0.0 {
        return trace.values(channel).get(window.start).copied();
    }
    Some(integral(trace, channel, window, |_, v| v)? / span)
}

/// Upward crossings of the mean.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Crossings {
    /// How many.
    pub count: usize,
    /// Mean rate between the first and the last, 1/s; none below two.
    pub rate: Option<f64>,
}

/// Upward crossings of the mean by more than a tenth of the swing and `floor` on either side.
pub fn crossings(trace: &Trace, channel: &str, window: Range<usize>, floor: f64) -> Crossings {
    let (Some(mean), Some((low, high))) =
        (mean(trace, channel, window.clone()), extremes(trace, channel, window.clone()))
    else {
        return Crossings::default();
    };
    let band = (0.1 * (high - low)).max(floor);
    if band <= 0.0 {
        return Crossings::default();
    }
    let mut below = false;
    let mut found = Vec::new();
    for i in window {
        let value = trace.values(channel)[i];
        if value < mean - band {
            below = true;
        } else if below && value > mean + band {
            below = false;
            found.push(trace.time[i]);
        }
    }
    let span = found.last().zip(found.first()).map(|(b, a)| b - a);
    let rate = span.filter(|s| *s > 0.0).map(|s| (found.len() - 1) as f64 / s);
    Crossings { count: found.len(), rate }
}

/// The channel of the armature's travel: the lift itself, where a trace holds no other, since the armature is the main stage.
pub(super) fn travel(trace: &Trace) -> &'static str {
    if trace.channel("armature_travel").is_some() { "armature_travel" } else { "lift" }
}
