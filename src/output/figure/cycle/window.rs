//! Which stretches of time are shown: the whole run; its opening, a swing while it is held open and its closing enlarged.

use crate::trace::{EventKind, Trace};

/// A stretch of time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Window {
    /// In words.
    pub(super) title: &'static str,
    /// From, s.
    pub(super) from: f64,
    /// To, s.
    pub(super) to: f64,
    /// Instant from which its time is counted, s.
    pub(super) zero: f64,
    /// Share of the width.
    pub(super) share: f64,
    /// What its time is counted from, in words.
    pub(super) counted: &'static str,
}

/// Stretches in which the coil was energised.
pub(super) fn energised(trace: &Trace) -> Vec<(f64, f64)> {
    let (Some(first), Some(last)) = (trace.time.first(), trace.time.last()) else {
        return Vec::new();
    };
    let mut stretches = Vec::new();
    let mut on: Option<f64> = None;
    for event in trace.events.iter().filter(|e| e.time.is_finite()) {
        match event.kind {
            EventKind::CoilOn => on = on.or(Some(event.time)),
            // Switched off without having been switched on: it was on from the beginning.
            EventKind::CoilOff if on.is_some() || stretches.is_empty() => {
                stretches.push((on.take().unwrap_or(*first), event.time));
            }
            _ => {}
        }
    }
    stretches.extend(on.map(|from| (from, *last)));
    stretches
}

/// What asks a valve to open and to shut, and how that is called.
pub(super) struct Asking {
    open: EventKind,
    pub(super) shut: EventKind,
    after_open: &'static str,
    pub(super) after_shut: &'static str,
    to_shut: &'static str,
}

/// How the valve of a trace is asked: by the coil, switched on to open it or, normally open, off; a record may hold the coil's events alone.
pub(super) fn asking(trace: &Trace) -> Asking {
    let first = |kind| trace.events.iter().find(|e| e.kind == kind).map(|e| e.time);
    let (asked, on, off) = (first(EventKind::AskedOpen), first(EventKind::CoilOn), first(EventKind::CoilOff));
    let by_coil = Asking {
        open: EventKind::CoilOn,
        shut: EventKind::CoilOff,
        after_open: "after switching on",
        after_shut: "after switching off",
        to_shut: "to switching off",
    };
    if asked.is_none() || asked == on || asked != off {
        return by_coil;
    }
    Asking {
        open: EventKind::CoilOff,
        shut: EventKind::CoilOn,
        after_open: "after switching off",
        after_shut: "after switching on",
        to_shut: "to switching on",
    }
}

/// The windows in the order of the columns.
pub(super) fn windows(trace: &Trace) -> Vec<Window> {
    let finite = || trace.time.iter().copied().filter(|t| t.is_finite());
    let (first, last) = (finite().fold(f64::INFINITY, f64::min), finite().fold(f64::NEG_INFINITY, f64::max));
    if first >= last {
        let title = "no run";
        return vec![Window { title, from: 0.0, to: 1.0, zero: 0.0, share: 1.0, counted: "" }];
    }
    let whole = Window { title: "whole run", from: first, to: last, zero: 0.0, share: 1.0, counted: "" };
    let mut all = vec![whole];
    let opening = opening(trace, first, last);
    all.extend(opening);
    all.extend(held(trace, first, opening.map_or(last - first, |w| w.to - w.from)));
    all.extend(closing(trace, first, last));
    all
}

fn event(trace: &Trace, kind: EventKind, from: f64) -> Option<f64> {
    trace.events.iter().find(|e| e.kind == kind && e.time >= from).map(|e| e.time)
}

/// From asking to open for twice the time in which seven tenths of the largest lift are reached, but never most of the run.
fn opening(trace: &Trace, first: f64, last: f64) -> Option<Window> {
    let asking = asking(trace);
    let on = event(trace, asking.open, first)?;
    let off = event(trace, asking.shut, on).unwrap_or(last);
    let range = trace.window(on, off);
    let lift = trace.values("lift");
    let within = lift.get(range.clone()).unwrap_or(&[]);
    let largest = within.iter().copied().filter(|v| v.is_finite()).fold(0.0, f64::max);
    let open = (largest > 0.0)
        .then(|| within.iter().position(|&v| v >= 0.7 * largest))
        .flatten()
        .map(|i| trace.time[range.start + i])
        .or_else(|| event(trace, EventKind::PoleContact, on).filter(|&t| t <= off));
    const MOST: f64 = 0.4;
    let length = open.map_or(0.1 * (off - on), |t| 2.0 * (t - on));
    span(on, length.min(MOST * (last - first)), first, last, "opening", asking.after_open)
}

/// A few periods before it is asked to shut, where something swings then that `shown`, the longest enlarged stretch so far, shows
/// too closely.
fn held(trace: &Trace, first: f64, shown: f64) -> Option<Window> {
    const PERIODS: f64 = 8.0;
    const TOO_MANY: f64 = 40.0;
    let asking = asking(trace);
    let on = event(trace, asking.open, first)?;
    let off = event(trace, asking.shut, on)?;
    let period = period(trace, off - 0.3 * (off - on), off)?;
    let (from, to) = (off - PERIODS * period, off + 0.3 * period);
    let fits = from > on && shown > TOO_MANY * period;
    let counted = asking.to_shut;
    fits.then_some(Window { title: "held open", from, to, zero: off, share: 1.0, counted })
}

/// Period of whatever swings: of the main stage if it does, else of the armature or its magnet.
fn period(trace: &Trace, from: f64, to: f64) -> Option<f64> {
    // Smaller swings than this share of the whole way are not what the figure is looked at for.
    const LEAST: f64 = 0.02;
    const TURNS: usize = 12;
    ["lift", "armature_travel", "magnet_force", "coil_current"].iter().find_map(|name| {
        let values = trace.values(name);
        let (low, high) = super::panel::extremes(values.iter().copied())?;
        let within = values.get(trace.window(from, to))?;
        let count = turns(within.iter().copied().filter(|v| v.is_finite()), LEAST * (high - low));
        (count >= TURNS).then(|| 2.0 * (to - from) / count as f64)
    })
}

/// How often a curve turns by more than `least`.
pub(super) fn turns(values: impl Iterator<Item = f64>, least: f64) -> usize {
    let (mut low, mut high, mut rising, mut count) = (f64::INFINITY, f64::NEG_INFINITY, None, 0);
    for y in values {
        (low, high) = (low.min(y), high.max(y));
        let way = match rising {
            Some(true) | None if high - y > least => Some(false),
            Some(false) | None if y - low > least => Some(true),
            _ => continue,
        };
        if way != rising {
            count += usize::from(rising.is_some());
            (rising, low, high) = (way, y, y);
        }
    }
    count
}

/// From asking to shut until a little after the first seat contact.
fn closing(trace: &Trace, first: f64, last: f64) -> Option<Window> {
    let asking = asking(trace);
    let off = event(trace, asking.shut, first)?;
    let again = event(trace, asking.open, off).unwrap_or(last);
    let contact = event(trace, EventKind::SeatContact, off).filter(|&t| t <= again);
    let length = contact.map_or(again - off, |t| 1.8 * (t - off));
    span(off, length, first, last, "closing", asking.after_shut)
}

fn span(zero: f64, length: f64, first: f64, last: f64, title: &'static str, counted: &'static str) -> Option<Window> {
    // Never less than 5 ms: below that nothing of the valve can be seen.
    let length = length.max(5e-3);
    let (from, to) = ((zero - 0.06 * length).max(first), (zero + length).min(last));
    (from < to).then_some(Window { title, from, to, zero, share: 1.0, counted })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::portable::Portable;

    #[test]
    fn turns_are_counted_and_ripple_is_not() {
        let wave = |i: i32| (f64::from(i) * 0.01 * std::f64::consts::TAU).sine() + 0.01 * f64::from(i % 2);
        // Ten periods turn twice each; the first turn has nothing before it.
        assert_eq!(turns((0..1000).map(wave), 0.1), 20);
        assert_eq!(turns((0..1000).map(wave), 3.0), 0);
        assert_eq!(turns(std::iter::empty(), 0.0), 0);
    }
}
