//! A pressure wave travelling along one segment of a line: what was sent, and when it arrives.

use crate::portable::Portable;
use std::cell::Cell as Hint;

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
    /// One curve stands for several that arrive where it misses them by no more than this, Pa.
    pub merged: f64,
}

/// A step may pass over a knot that a single curve misses by this many times the error of a kept wave: ten times the error
/// that the step itself is allowed.
const PASSED_ERRORS: f64 = 10.0;

/// At most so many.
const MOST_MERGED: usize = 24;

/// Knots that may be left out between two kept ones are checked, at most this many: more would cost more than they save.
const MOST_SKIPPED: usize = 12;
/// Knots that have passed are dropped so many at a time, so that each is moved once at most.
const DROPPED_AT_ONCE: usize = 256;
/// Two instants nearer than this are the same, s: sums of times and delays, up to some hours, are rounded to less.
const SAME_INSTANT: f64 = 1e-12;

/// The curve that leaves a knot for the next: value + t·(slope + t·(bend + t·(twist + t·swell))), t counted from the knot. A cubic,
/// but for those that stand for several, see [`Wave::merge_ahead`].
#[derive(Clone, Copy, Debug, PartialEq)]
struct Curve {
    from: Knot,
    bend: f64,
    twist: f64,
    swell: f64,
}

impl Curve {
    /// A curve that has no next knot yet.
    fn open(from: Knot) -> Self {
        Curve { from, bend: 0.0, twist: 0.0, swell: 0.0 }
    }

    /// The cubic through two knots with their slopes (Hermite's).
    #[inline(always)]
    fn between(from: Knot, to: Knot) -> Self {
        let per_time = 1.0 / (to.time - from.time);
        let chord = (to.value - from.value) * per_time;
        let bend = (3.0 * chord - 2.0 * from.slope - to.slope) * per_time;
        let twist = (from.slope + to.slope - 2.0 * chord) * per_time * per_time;
        Curve { from, bend, twist, swell: 0.0 }
    }

    /// Value and slope at `time`.
    #[inline(always)]
    fn at(&self, time: f64) -> (f64, f64) {
        let t = time - self.from.time;
        (
            self.from.value + t * (self.from.slope + t * (self.bend + t * (self.twist + t * self.swell))),
            self.from.slope + t * (2.0 * self.bend + t * (3.0 * self.twist + 4.0 * t * self.swell)),
        )
    }

    /// ∫ value dt from the knot to `time`.
    fn area(&self, time: f64) -> f64 {
        let t = time - self.from.time;
        let by_t = self.twist / 4.0 + t * self.swell / 5.0;
        t * (self.from.value + t * (self.from.slope / 2.0 + t * (self.bend / 3.0 + t * by_t)))
    }

    /// The curve through two knots with their slopes that also has that area between them:
    ///
    /// ```text
    /// c = Hermite's cubic + κ·t²·(h − t)²        κ = 30·(area − area of the cubic)/h⁵
    /// ```
    ///
    /// Source: own algebra, ∫ t²·(h − t)² dt = h⁵/30.
    fn with_area(from: Knot, to: Knot, area: f64) -> Self {
        let mut curve = Curve::between(from, to);
        let h = to.time - from.time;
        let swell = 30.0 * (area - curve.area(to.time)) / h.to_the(5);
        curve.bend += swell * h * h;
        curve.twist -= 2.0 * swell * h;
        curve.swell = swell;
        curve
    }
}

/// A wave between two ends of a segment: knots kept only where the wave bends, cubic Hermite curves between.
#[derive(Clone, Debug)]
pub struct Wave {
    delay: f64,
    fineness: Fineness,
    /// Kept knots, each with its curve to the next; never fewer than two from `first` on.
    curves: Vec<Curve>,
    /// The first that is still of use.
    first: usize,
    skipped: Vec<Knot>,
    /// Where the last question found its answer; questions move on in time.
    hint: Hint<usize>,
}

impl Wave {
    /// A wave that has always been `value` (Pa above datum) until `now`, and takes `delay` seconds to pass.
    pub fn steady(value: f64, now: f64, delay: f64, fineness: Fineness) -> Self {
        let knot = |time| Curve::open(Knot { time, value, slope: 0.0 });
        Wave {
            delay,
            fineness,
            curves: vec![knot(now - 2.0 * delay), knot(now)],
            first: 0,
            skipped: Vec::with_capacity(MOST_SKIPPED + 1),
            hint: Hint::new(0),
        }
    }

    /// Transit time, s.
    pub fn delay(&self) -> f64 {
        self.delay
    }

    /// Latest instant at which the arriving wave is known, s.
    #[inline]
    pub fn known_until(&self) -> f64 {
        self.last_kept().time + self.delay
    }

    #[inline]
    fn last_kept(&self) -> Knot {
        self.curves[self.curves.len() - 1].from
    }

    /// Send a further knot; times must rise.
    #[inline]
    pub fn send(&mut self, knot: Knot) {
        let last = self.last_kept();
        if let Some(&latest) = self.skipped.last() {
            let too_long = knot.time - last.time > self.fineness.gap;
            if too_long || self.skipped.len() >= MOST_SKIPPED || !self.follows(last, knot) {
                self.keep(latest);
            }
        }
        self.skipped.push(knot);
        if knot.time - self.last_kept().time > self.fineness.gap {
            self.flush();
        }
    }

    /// Keep the latest knot, so that all that was sent is known.
    pub fn flush(&mut self) {
        if let Some(latest) = self.skipped.pop() {
            self.keep(latest);
        }
    }

    fn keep(&mut self, knot: Knot) {
        let last = self.curves.len() - 1;
        self.curves[last] = Curve::between(self.curves[last].from, knot);
        self.curves.push(Curve::open(knot));
        self.skipped.clear();
    }

    /// Would the curve from `last` to `knot` pass all skipped knots within the allowed error?
    fn follows(&self, last: Knot, knot: Knot) -> bool {
        let curve = Curve::between(last, knot);
        self.skipped.iter().all(|k| (curve.at(k.time).0 - k.value).abs() <= self.fineness.error)
    }

    /// What arrives at `time`: characteristic pressure (Pa above datum) and slope (Pa/s).
    #[inline]
    pub fn arriving(&self, time: f64) -> (f64, f64) {
        self.sent(time - self.delay)
    }

    /// What was sent at `time`.
    #[inline]
    pub fn sent(&self, time: f64) -> (f64, f64) {
        let place = self.place(time);
        self.hint.set(place);
        let curve = &self.curves[place];
        if time < curve.from.time { (curve.from.value, 0.0) } else { curve.at(time) }
    }

    /// Index of the curve that covers `time`: the first or the last known one outside all of them.
    #[inline]
    fn place(&self, time: f64) -> usize {
        let last = self.curves.len() - 2;
        let mut place = self.hint.get().clamp(self.first, last);
        while place > self.first && self.curves[place].from.time > time {
            place -= 1;
        }
        while place < last && self.curves[place + 1].from.time < time {
            place += 1;
        }
        place
    }

    /// Index of the first kept knot that arrives after `time`, if there is one.
    #[inline]
    fn next_index(&self, time: f64) -> Option<usize> {
        let sent = time - self.delay + SAME_INSTANT;
        (self.place(sent)..self.curves.len()).find(|&i| self.curves[i].from.time > sent)
    }

    /// Instant of the first kept knot that arrives after `time`, s.
    #[inline]
    pub fn next_arrival(&self, time: f64) -> Option<f64> {
        self.next_index(time).map(|i| self.curves[i].from.time + self.delay)
    }

    /// How far one may go from `time` without passing over a feature of what arrives, s: to the second kept knot ahead where
    /// one curve to it leads past the first, else to the first. The valve answers only at the ends of its steps; a step from
    /// before a front to a point within it would send back a curve with a false hump.
    #[inline]
    pub fn free_until(&self, time: f64) -> Option<f64> {
        let i = self.next_index(time)?;
        let first = self.curves[i].from;
        let Some(second) = self.curves.get(i + 1).map(|curve| curve.from) else { return Some(first.time + self.delay) };
        let sent = time - self.delay;
        let (value, slope) = self.sent(sent);
        let misfit = Curve::between(Knot { time: sent, value, slope }, second).at(first.time).0 - first.value;
        let free = if misfit.abs() <= PASSED_ERRORS * self.fineness.error { second } else { first };
        Some(free.time + self.delay)
    }

    /// Let one curve stand for as many of those that arrive after `time` as it can follow, at their knots and in their middles, to
    /// within [`Fineness::merged`]; with the same area, so that no mass is lost. Nothing before `time` may be asked for any more.
    pub fn merge_ahead(&mut self, time: f64) {
        let sent = time - self.delay;
        let place = self.place(sent);
        if sent < self.curves[place].from.time {
            return;
        }
        let (value, slope) = self.curves[place].at(sent);
        let from = Knot { time: sent, value, slope };
        let farthest = (place + MOST_MERGED).min(self.curves.len() - 1);
        let mut area = self.curves[place + 1].from.time;
        area = self.curves[place].area(area) - self.curves[place].area(sent);
        let mut best = None;
        for end in place + 2..=farthest {
            let to = self.curves[end].from;
            area += self.curves[end - 1].area(to.time);
            let merged = Curve::with_area(from, to, area);
            if !self.stands_for(&merged, sent, place, end) {
                break;
            }
            best = Some((end, merged));
        }
        if let Some((end, merged)) = best {
            self.curves[end - 1] = merged;
            self.first = end - 1;
            self.hint.set(end - 1);
        }
    }

    /// Does a curve follow those from `place` to before `end` after the instant `sent`?
    fn stands_for(&self, merged: &Curve, sent: f64, place: usize, end: usize) -> bool {
        let near = |time: f64, value: f64| (merged.at(time).0 - value).abs() <= self.fineness.merged;
        (place..end).all(|i| {
            let (curve, to) = (&self.curves[i], self.curves[i + 1].from.time);
            let start = curve.from.time.max(sent);
            let middle = 0.5 * (start + to);
            near(middle, curve.at(middle).0) && (i == place || near(curve.from.time, curve.from.value))
        })
    }

    /// Forget what arrived before `time`.
    pub fn forget(&mut self, time: f64) {
        let sent = time - 1.5 * self.delay;
        while self.curves.len() - self.first > 3 && self.curves[self.first + 1].from.time < sent {
            self.first += 1;
        }
        if self.first >= DROPPED_AT_ONCE {
            self.curves.drain(..self.first);
            self.hint.set(self.hint.get().saturating_sub(self.first));
            self.first = 0;
        }
    }

    /// Integrals over what is under way at `time`: ∫c dt (Pa·s) and ∫c² dt (Pa²·s), exact for the kept curves; of the square of
    /// a curve that stands for several next to nothing is left out.
    pub fn under_way(&self, time: f64) -> (f64, f64) {
        let (from, to) = (time - self.delay, time);
        let mut sum = (0.0, 0.0);
        let mut edge = from;
        for curve in self.curves[self.first..].iter().skip_while(|c| c.from.time <= from) {
            let end = curve.from.time.min(to);
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

#[cfg(test)]
mod tests {
    use super::*;

    /// A wave sent as knots of a sine of 1 kPa, finely enough that all are kept.
    fn sent(merged: f64) -> Wave {
        let mut wave = Wave::steady(0.0, 0.0, 0.01, Fineness { error: 0.0, gap: 1.0, merged });
        for k in 1..=80 {
            let time = f64::from(k) * 1e-4;
            let phase = 600.0 * time;
            wave.send(Knot { time, value: 1e3 * phase.sine(), slope: 6e5 * phase.cosine() });
        }
        wave.flush();
        wave
    }

    #[test]
    fn merged_curves_keep_the_area_and_pass_what_they_stand_for() {
        let allowed = 0.5;
        let (plain, mut merged) = (sent(allowed), sent(allowed));
        let before = merged.under_way(0.008).0;
        let (mut time, mut pieces) = (0.0101, 0);
        while time < 0.0178 {
            merged.merge_ahead(time);
            let end = merged.next_arrival(time).expect("a knot");
            for share in 0..=20 {
                let at = time + (end - time) * f64::from(share) / 20.0;
                let (ours, exact) = (merged.arriving(at).0, plain.arriving(at).0);
                assert!((ours - exact).abs() <= 1.2 * allowed, "{at}: {ours} for {exact}");
            }
            (time, pieces) = (end, pieces + 1);
        }
        assert!(pieces < 40, "{pieces} pieces stand for 80");
        let after = merged.under_way(time).0;
        let exact = plain.under_way(time).0;
        assert!((after - exact).abs() < 1e-9 * before.abs(), "{after} for {exact}");
    }

    #[test]
    fn a_front_is_not_merged_away() {
        let mut wave = Wave::steady(0.0, 0.0, 0.01, Fineness { error: 0.0, gap: 1.0, merged: 10.0 });
        for (time, value) in [(1e-3, 0.0), (1.001e-3, 1e5), (2e-3, 1e5), (3e-3, 1e5)] {
            wave.send(Knot { time, value, slope: 0.0 });
        }
        wave.flush();
        wave.merge_ahead(0.0105);
        assert_eq!(wave.next_arrival(0.0105).map(|t| (t * 1e6).round()), Some(11_000.0));
        assert_eq!((wave.arriving(0.0109).0, wave.arriving(0.011_001).0), (0.0, 1e5));
    }
}
