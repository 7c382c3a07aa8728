//! How far a lift swings from period to period, and whether it has stopped growing and falling.

use crate::portable::Portable;
use std::collections::VecDeque;

/// An oscillation is judged over at least this time, s, …
pub(super) const JUDGED_TIME: f64 = 1.0;
/// … and this many periods.
const JUDGED_PERIODS: usize = 24;
/// It lasts as it is once the three thirds of that stretch swing alike: to this share of the last one …
const ALIKE: f64 = 0.07;
/// … or, where it strikes its seat in half of the periods or more and is irregular by that, to this many times the error of such a
/// mean. A free swing that varies is a beat of two motions, of which one may be dying.
const ERRORS: f64 = 2.0;
/// The mean lift must have stopped as well, to this share of itself from third to third: a stage that creeps may yet strike its seat,
/// or strike it no more …
const CREEP: f64 = 0.02;
/// … and so must the number of periods in which it strikes, to this many.
const STRIKES_ALIKE: usize = 2;
/// The stage strikes its seat in a period in which it comes down to this share of full lift.
const STRIKES: f64 = 2e-3;
/// The mean lift follows within this time, s.
const MEAN_WITHIN: f64 = 0.2;
/// Share of full lift by which the lift must pass its mean for a crossing to count; a tenth of the mean lift takes the place of full
/// lift where it is less …
const CROSSING_BAND: f64 = 0.005;
/// … but no less than this share: below, it is the noise of the steps.
const NOISE: f64 = 1e-4;

/// Extremes of a number over a window.
#[derive(Clone, Copy, Debug)]
pub(super) struct Range {
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Range {
    pub(super) fn at(value: f64) -> Self {
        Range { low: value, high: value }
    }
    pub(super) fn stretch(&mut self, value: f64) -> f64 {
        self.low = self.low.min(value);
        self.high = self.high.max(value);
        self.high - self.low
    }
}

/// A finished period.
#[derive(Clone, Copy, Debug)]
struct Period {
    end: f64,
    swing: f64,
    mean: f64,
    strikes: bool,
}

/// Watches a lift.
#[derive(Clone, Debug)]
pub(super) struct Swing {
    full_lift: f64,
    mean: f64,
    last_time: f64,
    above: bool,
    period: Range,
    /// When the period began, s, and ∫ lift dt since.
    begun: f64,
    area: f64,
    periods: VecDeque<Period>,
    lasts: bool,
}

impl Swing {
    /// Of a stage with that full lift, m, which rests shut.
    pub(super) fn of(full_lift: f64) -> Self {
        let periods = VecDeque::with_capacity(4 * JUDGED_PERIODS);
        Swing {
            full_lift,
            mean: 0.0,
            last_time: 0.0,
            above: false,
            period: Range::at(0.0),
            begun: 0.0,
            area: 0.0,
            periods,
            lasts: false,
        }
    }

    /// From a lift on, at an instant. The storage of the periods is kept: it grows with the most that one judged time has held, and
    /// with nothing else.
    pub(super) fn begin(&mut self, time: f64, lift: f64) {
        self.periods.clear();
        (self.mean, self.last_time, self.above, self.lasts) = (lift, time, false, false);
        (self.period, self.begun, self.area) = (Range::at(lift), time, 0.0);
    }

    /// Look at an instant.
    pub(super) fn look(&mut self, time: f64, lift: f64) {
        let elapsed = time - self.last_time;
        self.last_time = time;
        self.mean += (lift - self.mean) * (1.0 - (-elapsed / MEAN_WITHIN).exponential());
        let band = (CROSSING_BAND * self.full_lift.min(10.0 * self.mean)).max(NOISE * self.full_lift);
        self.area += lift * elapsed;
        self.period.stretch(lift);
        if !self.above && lift > self.mean + band {
            self.above = true;
            self.finish(time, lift);
        } else if self.above && lift < self.mean - band {
            self.above = false;
        }
    }

    /// A period ends with an upward crossing of the mean.
    fn finish(&mut self, time: f64, lift: f64) {
        self.periods.push_back(Period {
            end: time,
            swing: self.period.high - self.period.low,
            mean: self.area / (time - self.begun).max(f64::MIN_POSITIVE),
            strikes: self.period.low < STRIKES * self.full_lift,
        });
        while self.periods.len() > JUDGED_PERIODS && self.periods[1].end <= time - JUDGED_TIME {
            self.periods.pop_front();
        }
        self.period = Range::at(lift);
        (self.begun, self.area) = (time, 0.0);
        self.lasts = self.seen_enough() && self.thirds_alike();
    }

    /// Does it swing as far as before, neither less nor more, over the time and the periods that are needed to tell?
    pub(super) fn lasts(&self) -> bool {
        self.lasts
    }

    fn seen_enough(&self) -> bool {
        let span = self.periods.back().zip(self.periods.front()).map_or(0.0, |(b, a)| b.end - a.end);
        self.periods.len() >= JUDGED_PERIODS && span >= JUDGED_TIME * 0.95
    }

    fn thirds_alike(&self) -> bool {
        let third = self.periods.len() / 3;
        let thirds = [0, third, self.periods.len() - third].map(|from| from..from + third);
        let [first, second, last] = thirds.map(|range| Third::of(self.periods.range(range)));
        let striking = 2 * (first.strikes + second.strikes + last.strikes) >= 3 * third;
        let errors = if striking { ERRORS } else { 0.0 };
        [first, second].iter().all(|before| {
            last.swing.alike(&before.swing, ALIKE, errors)
                && last.mean.alike(&before.mean, CREEP, errors)
                && last.strikes.abs_diff(before.strikes) <= STRIKES_ALIKE.max(third / 4)
        })
    }
}

/// A third of the judged periods.
struct Third {
    swing: Mean,
    mean: Mean,
    strikes: usize,
}

impl Third {
    fn of<'a>(periods: impl Iterator<Item = &'a Period> + Clone) -> Self {
        Third {
            swing: Mean::of(periods.clone().map(|p| p.swing)),
            mean: Mean::of(periods.clone().map(|p| p.mean)),
            strikes: periods.filter(|p| p.strikes).count(),
        }
    }
}

/// A mean and its standard error, from what follows on one another: a trend is no error.
struct Mean {
    mean: f64,
    error: f64,
}

impl Mean {
    /// Is it like another, to a share of itself or to so many times their errors?
    fn alike(&self, other: &Mean, share: f64, errors: f64) -> bool {
        (self.mean - other.mean).abs() <= (errors * self.error.length_with(other.error)).max(share * self.mean)
    }

    /// Variance as half the mean square of successive differences (J. von Neumann and others, Annals of Mathematical Statistics 12
    /// (1941) 153-162, from memory).
    fn of(values: impl Iterator<Item = f64>) -> Self {
        let (mut count, mut sum, mut squares, mut last) = (0.0, 0.0, 0.0, None);
        for value in values {
            squares += last.map_or(0.0, |before: f64| (value - before).to_the(2));
            (count, sum, last) = (count + 1.0, sum + value, Some(value));
        }
        let n = f64::max(count, 2.0);
        Mean { mean: sum / n, error: (squares / (2.0 * (n - 1.0)) / n).sqrt() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// When a swing of 50 Hz with that envelope is taken as lasting, s.
    fn lasts_at(envelope: impl Fn(f64) -> f64) -> Option<f64> {
        lasts_about(0.5, envelope)
    }

    fn lasts_about(mean: f64, envelope: impl Fn(f64) -> f64) -> Option<f64> {
        let mut swing = Swing::of(1.0);
        swing.begin(0.0, mean);
        (1..200_000).map(|k| f64::from(k) * 1e-4).find(|&t| {
            swing.look(t, mean + envelope(t) * (std::f64::consts::TAU * 50.0 * t).sine());
            swing.lasts()
        })
    }

    #[test]
    fn a_swing_lasts_once_it_neither_grows_nor_falls() {
        let at = lasts_at(|_| 0.05).expect("steady");
        assert!((0.9..1.6).contains(&at), "{at}");
        // Growing to 0.1 with 4 1/s: not while it grows; at 1.5 s three thirds within 7 % mean that 0.97 of the end is reached.
        let at = lasts_at(|t| 0.1 / (1.0 + (4.0 * (1.5 - t)).exponential())).expect("it ends");
        assert!(at > 2.6, "{at}");
        assert_eq!(lasts_at(|t| 0.002 * (0.3 * t).exponential()), None);
        assert_eq!(lasts_at(|t| 0.3 * (-0.3 * t).exponential()), None);
        // Falling fast at first, as after an opening: not before it has settled.
        let at = lasts_at(|t| 0.05 + 0.3 * (-4.0 * t).exponential()).expect("it ends");
        assert!(at > 1.6, "{at}");
    }

    /// No step takes storage, and no later phase either: 96 periods are room enough up to 96 Hz, and above that it grows within the
    /// first judged time.
    #[test]
    fn storage_is_taken_once() {
        for (frequency, grows) in [(50.0, false), (300.0, true)] {
            let mut swing = Swing::of(1.0);
            let first = swing.periods.capacity();
            let mut watch = |until: f64| {
                swing.begin(0.0, 0.5);
                let instants = (1..).map(|k| f64::from(k) * 1e-4).take_while(|t| *t < until);
                instants.for_each(|t| swing.look(t, 0.5 + 0.05 * (std::f64::consts::TAU * frequency * t).sine()));
                swing.periods.capacity()
            };
            let after = watch(1.2 * JUDGED_TIME);
            assert_eq!(after > first, grows, "{frequency} Hz: {first}, {after}");
            assert_eq!((watch(20.0), watch(0.0)), (after, after), "{frequency} Hz");
        }
    }

    #[test]
    fn an_irregular_swing_lasts_too() {
        // No period is like the next, as in chatter that strikes its seat: it scatters by a half.
        let mut seed = 1u32;
        let mut scatter = vec![0.0; 2000];
        for s in &mut scatter {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            *s = f64::from(seed >> 8) / f64::from(1u32 << 24);
        }
        let scattered = |t: f64| 0.05 * (0.5 + scatter[(50.0 * t) as usize]);
        let at = lasts_about(0.025, scattered).expect("it lasts");
        assert!(at < 2.5, "{at}");
        assert!(lasts_at(scattered).is_none_or(|free| free > at));
    }
}
