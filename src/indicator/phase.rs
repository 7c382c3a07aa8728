//! When the valve is asked to open and to shut: as the trace says, or as its channels show.

use super::energised::Energised;
use crate::trace::{EventKind, Trace};

/// The last cycle of a trace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cycle {
    /// Opening is asked for, s.
    pub open: f64,
    /// Shutting is asked for, s.
    pub shut: f64,
    /// End of the cycle, s.
    pub end: f64,
}

/// How a channel tells an open valve from a shut one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    /// It swings about nought while open, as an alternating current does, or is steady.
    BySize,
    /// It is higher while open.
    High,
    /// It is lower while open.
    Low,
}

/// Channels that show what is asked, the surest first: the coil's, then what the valve does, which is later by its dead time, and last
/// what a gauge at either port sees.
const TELLING: [(&str, Shown); 9] = [
    ("coil_voltage", Shown::BySize),
    ("coil_current", Shown::BySize),
    ("armature_travel", Shown::High),
    ("lift", Shown::High),
    ("main_flow", Shown::High),
    ("inlet_flow", Shown::High),
    ("outlet_flow", Shown::High),
    ("outlet_pressure", Shown::High),
    ("inlet_pressure", Shown::Low),
];

/// A channel that is missed for less than this is still there, s: samples lie as far apart, and half a period of 25 Hz.
const LEAST_PAUSE: f64 = 0.025;
/// A stretch shorter than this share of the longest is a bounce, no cycle.
const BOUNCE: f64 = 0.3;
/// What a channel does for less than this share of the time is no state of the valve.
const RARE: f64 = 0.02;
/// A channel that does not change by this share of its size tells nothing.
const LEAST_CHANGE: f64 = 0.05;

/// The last cycle in which the valve was asked to open and then to shut: from the trace's events, else from the first channel that
/// shows one.
pub fn last_cycle(trace: &Trace) -> Option<Cycle> {
    cycle_by(trace, &TELLING)
}

/// The same of a valve that is energised at that time: where it is shut, the coil's channels do not show it open.
pub(super) fn last_cycle_of(trace: &Trace, energised: Energised) -> Option<Cycle> {
    let coil = TELLING.iter().take_while(|(_, shown)| *shown == Shown::BySize).count();
    cycle_by(trace, &TELLING[energised.choose(0, coil)..])
}

fn cycle_by(trace: &Trace, telling: &[(&str, Shown)]) -> Option<Cycle> {
    let end = *trace.time.last()?;
    let time_of = |kind: EventKind| trace.events.iter().rev().find(|e| e.kind == kind).map(|e| e.time);
    let told = time_of(EventKind::AskedOpen).zip(time_of(EventKind::AskedShut));
    let (open, shut) = match told {
        Some(told) => told,
        None => telling.iter().find_map(|&(channel, shown)| last_stretch(trace, channel, shown))?,
    };
    (open < shut).then_some(Cycle { open, shut, end })
}

/// The last stretch in which a channel shows the valve open, with a change of state at both of its ends.
fn last_stretch(trace: &Trace, channel: &str, shown: Shown) -> Option<(f64, f64)> {
    let of = |v: f64| match shown {
        Shown::BySize => v.abs(),
        Shown::High => v,
        Shown::Low => -v,
    };
    let values: Vec<f64> = trace.values(channel).iter().copied().map(of).collect();
    let (low, high) = levels(&trace.time, &values)?;
    if high - low <= LEAST_CHANGE * high.abs().max(low.abs()) {
        return None;
    }
    let middle = 0.5 * (low + high);
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    for (&time, _) in trace.time.iter().zip(&values).filter(|(_, value)| **value > middle) {
        match stretches.last_mut() {
            Some(last) if time - last.1 < LEAST_PAUSE => last.1 = time,
            _ => stretches.push((time, time)),
        }
    }
    // A stretch that the record begins or ends with has no instant of asking.
    let (first, last) = (*trace.time.first()?, *trace.time.last()?);
    let longest = stretches.iter().map(|(from, to)| to - from).fold(0.0, f64::max);
    let whole = |(from, to): &(f64, f64)| *from > first && last - *to > LEAST_PAUSE && to - from > BOUNCE * longest;
    stretches.into_iter().rev().find(whole)
}

/// The values that a channel stays below for a small share of its time, and above: a blow counts for neither.
fn levels(times: &[f64], values: &[f64]) -> Option<(f64, f64)> {
    let mut shares: Vec<(f64, f64)> = times.windows(2).zip(values).map(|(t, &value)| (value, t[1] - t[0])).collect();
    shares.sort_by(|a, b| a.0.total_cmp(&b.0));
    let whole: f64 = shares.iter().map(|(_, time)| time).sum();
    let at = |share: f64| {
        let mut passed = 0.0;
        shares.iter().find(|(_, time)| {
            passed += time;
            passed >= share * whole
        })
    };
    Some((at(RARE)?.0, at(1.0 - RARE)?.0))
}
