//! When has enough been seen? A phase of the run (coil on, coil off) ends early once nothing moves any more, or once an
//! oscillation has shown itself long enough; the rest of a long phase is quiet time that need not be computed.

use crate::physics::installation::Instant;
use crate::physics::state::*;
use crate::solver::Then;

/// Rest: lift stays within this share of full lift.
const STILL_LIFT: f64 = 5e-4;
/// Rest at part lift: pressures stay within this share of the differential, or of `LEAST_DIFFERENTIAL`.
const STILL_PRESSURE: f64 = 2e-3;
/// Rest at a stop: the lines may still ring this much, since nothing answers to it.
const STILL_PRESSURE_AT_STOP: f64 = 0.1;
/// Below this a differential is noise, Pa.
const LEAST_DIFFERENTIAL: f64 = 500.0;
/// Rest at a stop (shut or open) must last this long while energised, s: a dozen periods of 50 Hz, for hum to be judged.
const HOLD_AT_STOP: f64 = 0.25;
/// Rest at part lift must last this long, s: a slow growth of oscillation must have time to show.
const HOLD_FLOATING: f64 = 1.0;
/// An oscillation is judged over at least this time, s, …
const JUDGED_TIME: f64 = 1.0;
/// … and this many periods.
const JUDGED_PERIODS: usize = 24;
/// What happens in this time after the stage first moves is transient, s.
const TRANSIENT: f64 = 0.3;
/// Share of full lift by which the lift must pass its mean for a crossing to count.
const CROSSING_BAND: f64 = 0.005;

/// Extremes of a number over a window.
#[derive(Clone, Copy, Debug)]
struct Range {
    low: f64,
    high: f64,
}

impl Range {
    fn at(value: f64) -> Self {
        Range { low: value, high: value }
    }
    fn stretch(&mut self, value: f64) -> f64 {
        self.low = self.low.min(value);
        self.high = self.high.max(value);
        self.high - self.low
    }
}

/// Watches a phase.
#[derive(Clone, Debug)]
pub struct Settling {
    energised: bool,
    full_lift: f64,
    differential: f64,
    /// Waves must have been seen to pass this long after closing, s.
    ring_time: f64,
    began: f64,
    window_start: f64,
    lift: Range,
    pressures: [Range; 3],
    moved_at: Option<f64>,
    slow_lift: f64,
    last_time: f64,
    above: bool,
    crossings: usize,
    /// First instant of the phase at which the stage was shut.
    shut_since: Option<f64>,
    /// Did the phase end by rest?
    pub at_rest: bool,
}

impl Settling {
    /// A judge for an installation with that full lift (m), circuit differential (Pa) and ring time (s).
    pub fn new(full_lift: f64, differential: f64, ring_time: f64) -> Self {
        let nothing = Range::at(0.0);
        Settling {
            energised: true,
            full_lift,
            differential: differential.abs().max(LEAST_DIFFERENTIAL),
            ring_time,
            began: 0.0,
            window_start: 0.0,
            lift: nothing,
            pressures: [nothing; 3],
            moved_at: None,
            slow_lift: 0.0,
            last_time: 0.0,
            above: false,
            crossings: 0,
            shut_since: None,
            at_rest: false,
        }
    }

    /// A phase begins.
    pub fn begin(&mut self, time: f64, energised: bool, y: &[f64; STATES], now: &Instant<f64>) {
        self.energised = energised;
        self.began = time;
        self.last_time = time;
        self.moved_at = None;
        self.crossings = 0;
        self.shut_since = None;
        self.slow_lift = y[LIFT];
        self.at_rest = false;
        self.restart(time, y, now);
    }

    fn restart(&mut self, time: f64, y: &[f64; STATES], now: &Instant<f64>) {
        self.window_start = time;
        self.lift = Range::at(y[LIFT]);
        self.pressures = [now.inlet_pressure, now.outlet_pressure, now.chamber_pressure].map(Range::at);
    }

    /// Since when nothing has moved, if the phase ended at rest.
    pub fn still_since(&self) -> Option<f64> {
        self.at_rest.then_some(self.window_start)
    }

    /// Look at one instant: enough seen?
    pub fn look(&mut self, time: f64, y: &[f64; STATES], now: &Instant<f64>) -> Then {
        self.count_crossings(time, y[LIFT]);
        if self.moved_at.is_none() && y[LIFT] > 0.01 * self.full_lift {
            self.moved_at = Some(time);
        }
        let lift_moves = self.lift.stretch(y[LIFT]) > STILL_LIFT * self.full_lift;
        let shut = y[LIFT] < 0.01 * self.full_lift;
        let open = y[LIFT] > 0.97 * self.full_lift;
        let allowed = self.differential * if shut || open { STILL_PRESSURE_AT_STOP } else { STILL_PRESSURE };
        let mut pressure_moves = false;
        for (range, p) in self.pressures.iter_mut().zip([now.inlet_pressure, now.outlet_pressure, now.chamber_pressure])
        {
            pressure_moves |= range.stretch(p) > allowed;
        }
        // After closing, the line may ring for long; only a re-opening stage and a span of ringing count then.
        let moves = if self.energised { lift_moves || pressure_moves } else { y[LIFT] > 0.01 * self.full_lift };
        if moves {
            self.restart(time, y, now);
        }
        let held = time - self.window_start;
        let hold = match (self.energised, shut || open) {
            (true, true) => HOLD_AT_STOP,
            (true, false) => HOLD_FLOATING,
            (false, _) if shut => self.ring_time,
            (false, _) => f64::INFINITY,
        };
        if shut && self.shut_since.is_none() {
            self.shut_since = Some(time);
        }
        // Collapsing cavities can knock the stage about for long after it closed; what they do is uncertain anyway.
        let rung_out = !self.energised && shut && self.shut_since.is_some_and(|t| time - t > 2.0 * self.ring_time);
        if held >= hold || rung_out {
            self.at_rest = true;
            return Then::Stop;
        }
        let oscillating = self.energised
            && self.crossings >= JUDGED_PERIODS
            && self.moved_at.is_some_and(|t| time - t > TRANSIENT + JUDGED_TIME);
        if oscillating { Then::Stop } else { Then::Continue }
    }

    /// Upward crossings of a slowly following mean.
    fn count_crossings(&mut self, time: f64, lift: f64) {
        let elapsed = time - self.last_time;
        self.last_time = time;
        self.slow_lift += (lift - self.slow_lift) * (1.0 - (-elapsed / 0.2).exp());
        let band = CROSSING_BAND * self.full_lift;
        if !self.above && lift > self.slow_lift + band {
            self.above = true;
            self.crossings += 1;
        } else if self.above && lift < self.slow_lift - band {
            self.above = false;
        }
    }
}
