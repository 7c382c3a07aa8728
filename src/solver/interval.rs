//! The stretch of time integrated over, and its last instant.

use super::SolveError;

/// How far inside the interval its last instant is taken, in units in the last place of the time: enough that phases
/// computed from it by a few operations still fall before the switching instant.
const INSET_IN_ULPS: f64 = 16.0;

/// The stretch of time to integrate over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Start; the forcing is asked for here.
    pub from: f64,
    /// End, a switching instant: reached exactly, but the forcing is asked for only just before it.
    pub to: f64,
}

impl Interval {
    /// Refuse an interval that does not run forwards between finite times.
    pub(super) fn check(&self) -> Result<(), SolveError> {
        let Interval { from, to } = *self;
        let forwards = from.is_finite() && to.is_finite() && from <= to;
        if forwards { Ok(()) } else { Err(SolveError::BadInterval { from, to }) }
    }

    pub(super) fn clock(&self) -> Clock {
        let inset = INSET_IN_ULPS * f64::EPSILON * self.from.abs().max(self.to.abs());
        Clock { latest: self.to - inset.min(0.5 * (self.to - self.from)) }
    }
}

/// Times at which the forcing may be asked for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Clock {
    /// Last time that belongs to the interval and not to the next one.
    latest: f64,
}

impl Clock {
    /// `time`, or the last time inside the interval if that is earlier.
    #[inline]
    pub(super) fn inside(&self, time: f64) -> f64 {
        time.min(self.latest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Intervals of every length, down to neighbouring numbers, keep their last instant inside.
    #[test]
    fn the_last_instant_is_inside() {
        for (from, to) in [(0.0, 0.1), (1e6, 1e6 + 1e-9), (-3.0, 0.0), (5.0, 5.0 + 4.0 * f64::EPSILON)] {
            let latest = Interval { from, to }.clock().inside(to);
            assert!(from <= latest && latest < to, "{latest} in {from}..{to}");
            assert!(to - latest <= 32.0 * f64::EPSILON * from.abs().max(to.abs()));
        }
        assert_eq!(Interval { from: 0.0, to: 0.1 }.clock().inside(0.05), 0.05);
    }
}
