//! A pressure wave travelling along one segment of a line: what was sent, and when it arrives.

use std::cell::Cell as Hint;
use std::collections::VecDeque;

/// What was sent at one instant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knot {
    /// Instant of sending, s.
    pub time: f64,
    /// Characteristic pressure, Pa above the line's datum.
    pub value: f64,
    /// Its slope, Pa/s.
    pub slope: f64,
}

/// How finely a wave is kept.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness {
    /// Largest error of the interpolated pressure that leaving out a knot may cause, Pa.
    pub error: f64,
    /// Longest time between kept knots, s.
    pub gap: f64,
}

/// Knots that may be left out between two kept ones are checked, at most this many: more would cost more than they save.
const MOST_SKIPPED: usize = 12;

/// A wave between two ends of a segment: knots kept only where the wave bends, cubic Hermite curves between.
#[derive(Clone, Debug)]
pub struct Wave {
    delay: f64,
    fineness: Fineness,
    knots: VecDeque<Knot>,
    skipped: Vec<Knot>,
    /// Number of knots dropped from the front so far; makes indices absolute.
    dropped: usize,
    hint: Hint<usize>,
}

impl Wave {
    /// A wave that has always been `value` (Pa above datum) until `now`, and takes `delay` seconds to pass.
    pub fn steady(value: f64, now: f64, delay: f64, fineness: Fineness) -> Self {
        let knot = |time| Knot { time, value, slope: 0.0 };
        Wave {
            delay,
            fineness,
            knots: VecDeque::from([knot(now - 2.0 * delay), knot(now)]),
            skipped: Vec::with_capacity(MOST_SKIPPED + 1),
            dropped: 0,
            hint: Hint::new(0),
        }
    }

    /// Transit time, s.
    pub fn delay(&self) -> f64 {
        self.delay
    }

    /// Latest instant at which the arriving wave is known, s.
    pub fn known_until(&self) -> f64 {
        self.knots.back().map_or(f64::NEG_INFINITY, |k| k.time) + self.delay
    }

    /// Send a further knot; times must rise.
    pub fn send(&mut self, knot: Knot) {
        let Some(&last) = self.knots.back() else { return };
        let too_long = knot.time - last.time > self.fineness.gap;
        if let Some(&latest) = self.skipped.last() {
            if too_long || self.skipped.len() >= MOST_SKIPPED || !self.follows(last, knot) {
                self.knots.push_back(latest);
                self.skipped.clear();
            }
        }
        self.skipped.push(knot);
        if knot.time - self.last_kept() > self.fineness.gap {
            self.flush();
        }
    }

    /// Keep the latest knot, so that all that was sent is known.
    pub fn flush(&mut self) {
        if let Some(latest) = self.skipped.pop() {
            self.knots.push_back(latest);
            self.skipped.clear();
        }
    }

    fn last_kept(&self) -> f64 {
        self.knots.back().map_or(f64::NEG_INFINITY, |k| k.time)
    }

    /// Would the curve from `last` to `knot` pass all skipped knots within the allowed error?
    fn follows(&self, last: Knot, knot: Knot) -> bool {
        self.skipped.iter().all(|k| (hermite(last, knot, k.time).0 - k.value).abs() <= self.fineness.error)
    }

    /// What arrives at `time`: characteristic pressure (Pa above datum) and slope (Pa/s).
    #[inline]
    pub fn arriving(&self, time: f64) -> (f64, f64) {
        self.sent(time - self.delay)
    }

    /// What was sent at `time`.
    #[inline]
    pub fn sent(&self, time: f64) -> (f64, f64) {
        let last = self.knots.len() - 2;
        let mut i = self.hint.get().saturating_sub(self.dropped).min(last);
        while i > 0 && self.knots[i].time > time {
            i -= 1;
        }
        while i < last && self.knots[i + 1].time < time {
            i += 1;
        }
        self.hint.set(i + self.dropped);
        let (a, b) = (self.knots[i], self.knots[i + 1]);
        if time <= a.time {
            return (a.value, 0.0);
        }
        hermite(a, b, time)
    }

    /// Instant of the first kept knot that arrives after `time`, s.
    pub fn next_arrival(&self, time: f64) -> Option<f64> {
        let sent = time - self.delay;
        let i = self.knots.partition_point(|k| k.time <= sent);
        self.knots.get(i).map(|k| k.time + self.delay)
    }

    /// Instant of the second kept knot that arrives after `time`, s: how far one may go without passing over a feature.
    pub fn second_arrival(&self, time: f64) -> Option<f64> {
        let sent = time - self.delay;
        let mut i = self.hint.get().saturating_sub(self.dropped).min(self.knots.len() - 1);
        while i > 0 && self.knots[i].time > sent {
            i -= 1;
        }
        while i < self.knots.len() && self.knots[i].time <= sent {
            i += 1;
        }
        self.knots.get(i + 1).map(|k| k.time + self.delay)
    }

    /// Forget what arrived before `time`.
    pub fn forget(&mut self, time: f64) {
        let sent = time - 1.5 * self.delay;
        while self.knots.len() > 3 && self.knots[1].time < sent {
            self.knots.pop_front();
            self.dropped += 1;
        }
    }

    /// Integrals over what is under way at `time`: ∫c dt (Pa·s) and ∫c² dt (Pa²·s), exact for the kept curves.
    pub fn under_way(&self, time: f64) -> (f64, f64) {
        let (from, to) = (time - self.delay, time);
        let mut sum = (0.0, 0.0);
        let mut edge = from;
        for knot in self.knots.iter().skip_while(|k| k.time <= from) {
            let end = knot.time.min(to);
            self.add_piece(edge, end, &mut sum);
            edge = end;
            if edge >= to {
                break;
            }
        }
        sum
    }

    fn add_piece(&self, from: f64, to: f64, sum: &mut (f64, f64)) {
        let half = 0.5 * (to - from);
        for (x, w) in GAUSS_4 {
            let (value, _) = self.sent(from + half * (1.0 + x));
            sum.0 += w * half * value;
            sum.1 += w * half * value * value;
        }
    }
}

/// Four-point Gauss-Legendre rule, exact for the square of a cubic. Source: M. Abramowitz & I. A. Stegun, "Handbook of
/// Mathematical Functions" (1964), table 25.4 (from memory).
pub const GAUSS_4: [(f64, f64); 4] = [
    (-0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
    (-0.339_981_043_584_856_26, 0.652_145_154_862_546_2),
    (0.339_981_043_584_856_26, 0.652_145_154_862_546_2),
    (0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
];

/// Value and slope at `time` of the cubic through two knots with their slopes.
#[inline(always)]
fn hermite(a: Knot, b: Knot, time: f64) -> (f64, f64) {
    let h = b.time - a.time;
    let s = (time - a.time) / h;
    let rise = b.value - a.value;
    let (m_a, m_b) = (a.slope * h, b.slope * h);
    let c3 = m_a + m_b - 2.0 * rise;
    let c2 = 3.0 * rise - 2.0 * m_a - m_b;
    (a.value + s * (m_a + s * (c2 + s * c3)), (m_a + s * (2.0 * c2 + 3.0 * s * c3)) / h)
}
