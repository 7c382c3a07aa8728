//! When has enough been seen? A phase of the run (asked to be open, or shut) ends early once nothing moves any more, or once an
//! oscillation has shown itself long enough; the rest of a long phase is quiet time that need not be computed.

use super::swing::{JUDGED_TIME, Range, Swing};
use crate::physics::installation::Instant;
use crate::physics::state::*;
use crate::solver::Then;

/// Rest: lift stays within this share of full lift.
const STILL_LIFT: f64 = 5e-4;
/// Rest at part lift: pressures stay within this share of the differential, or of `LEAST_DIFFERENTIAL`.
const STILL_PRESSURE: f64 = 2e-3;
/// Rest at a stop: the lines may still ring this much, since nothing answers to it.
const STILL_PRESSURE_AT_STOP: f64 = 0.02;
/// Rest at the upper stop: the flow stays within this share of its largest value.
const STILL_FLOW: f64 = 5e-3;
/// At a stop, pressures may go on rippling (a humming armature does that) once the lift has been still this long, s, and three
/// times as many returns as else.
const HOLD_RIPPLING: f64 = 1.5;
/// … and the flow past an open seat has not crept by more than this share in that time: where little pressure drives a long line,
/// the flow grows for seconds after the stage has come to its stop.
const CREEPING_FLOW: f64 = 0.02;
/// Rest must last this many returns of the wave, so that a slow line is not taken for a quiet one.
const HOLD_RETURNS: f64 = 4.0;
/// A stage on its seat above this share of its lift-off differential may still be about to leave it.
const NEAR_LIFT_OFF: f64 = 0.95;
/// Below this a differential is noise, Pa.
const LEAST_DIFFERENTIAL: f64 = 500.0;
/// Rest at a stop (shut or open) must last this long while open is asked for, s: a dozen periods of 50 Hz, for hum to be judged.
const HOLD_AT_STOP: f64 = 0.25;
/// A magnet that holds a valve shut is watched this long, s: so that the flux of direct current has risen, and a dozen periods of 50 Hz are
/// left to be judged.
const HELD_SHUT: f64 = 0.6;
/// Rest at part lift must last this long, s: a slow growth of oscillation must have time to show.
const HOLD_FLOATING: f64 = 1.0;
/// What happens in this time after the stage first moves is transient, s.
const TRANSIENT: f64 = 0.3;
/// Watches a phase.
#[derive(Clone, Debug)]
pub struct Settling {
    asked_open: bool,
    full_lift: f64,
    differential: f64,
    /// Waves must have been seen to pass this long after closing, s.
    ring_time: f64,
    /// Longest return 2L/a of both lines, s.
    wave_return: f64,
    /// Is it held shut by a magnet, which may hum?
    held_shut: bool,
    /// May the stage, asked to open, leave its seat at this differential, by hand?
    can_lift: bool,
    flow: Range,
    window_start: f64,
    /// Since when the lift alone has been still, s, and its range since then.
    stage_still_since: f64,
    stage_lift: Range,
    /// Since when the flow has been level, s, and its range since then.
    flow_level_since: f64,
    level_flow: Range,
    lift: Range,
    pressures: [Range; 3],
    moved_at: Option<f64>,
    last_time: f64,
    swing: Swing,
    /// A swing ends no phase before this instant, s.
    watched_until: f64,
    /// First instant of the phase at which the stage was shut.
    shut_since: Option<f64>,
    /// Did the phase end by rest?
    pub at_rest: bool,
}

impl Settling {
    /// A judge for an installation with that full lift (m), circuit differential (Pa), lift-off differential by hand (Pa) and
    /// longest transit time of its lines (s).
    pub fn new(full_lift: f64, differential: f64, lift_off: Option<f64>, transit: f64) -> Self {
        let nothing = Range::at(0.0);
        Settling {
            asked_open: true,
            full_lift,
            differential: differential.abs().max(LEAST_DIFFERENTIAL),
            ring_time: (12.0 * transit).max(0.1),
            wave_return: 2.0 * transit,
            held_shut: false,
            can_lift: lift_off.is_some_and(|limit| differential > NEAR_LIFT_OFF * limit),
            flow: nothing,
            window_start: 0.0,
            stage_still_since: 0.0,
            stage_lift: nothing,
            flow_level_since: 0.0,
            level_flow: nothing,
            lift: nothing,
            pressures: [nothing; 3],
            moved_at: None,
            last_time: 0.0,
            swing: Swing::of(full_lift),
            watched_until: 0.0,
            shut_since: None,
            at_rest: false,
        }
    }

    /// The same of a valve that is energised while it is shut.
    pub fn held_shut(self, yes: bool) -> Self {
        Settling { held_shut: yes, ..self }
    }

    /// How long a stage that has shut is watched, s: the ringing, and a magnet that holds it for hum to be judged.
    fn shut_time(&self) -> f64 {
        if self.held_shut { self.ring_time.max(HELD_SHUT) } else { self.ring_time }
    }

    /// A phase begins.
    pub fn begin(&mut self, time: f64, asked_open: bool, y: &[f64; STATES], now: &Instant<f64>) {
        self.asked_open = asked_open;
        self.last_time = time;
        self.moved_at = None;
        self.swing.begin(time, y[LIFT]);
        self.shut_since = None;
        self.at_rest = false;
        self.stage_still_since = time;
        self.stage_lift = Range::at(y[LIFT]);
        self.flow_level_since = time;
        self.level_flow = Range::at(now.main_flow);
        self.restart(time, y, now);
    }

    /// Let a swing end no phase before an instant, s.
    pub fn watch_until(&mut self, time: f64) {
        self.watched_until = time;
    }

    fn restart(&mut self, time: f64, y: &[f64; STATES], now: &Instant<f64>) {
        self.window_start = time;
        self.lift = Range::at(y[LIFT]);
        self.flow = Range::at(now.main_flow);
        self.pressures = [now.inlet_pressure, now.outlet_pressure, now.chamber_pressure].map(Range::at);
    }

    /// Since when the stage has not moved, if the phase ended at rest.
    pub fn still_since(&self) -> Option<f64> {
        self.at_rest.then_some(self.window_start.min(self.stage_still_since.max(self.last_time - HOLD_RIPPLING)))
    }

    /// Look at one instant: enough seen?
    pub fn look(&mut self, time: f64, y: &[f64; STATES], now: &Instant<f64>) -> Then {
        self.last_time = time;
        self.swing.look(time, y[LIFT]);
        if self.moved_at.is_none() && y[LIFT] > 0.01 * self.full_lift {
            self.moved_at = Some(time);
        }
        let lift_moves = self.lift.stretch(y[LIFT]) > STILL_LIFT * self.full_lift;
        let shut = y[LIFT] < 0.01 * self.full_lift;
        let open = y[LIFT] > 0.97 * self.full_lift;
        let at_stop = open || (shut && !self.can_lift);
        let allowed = self.differential * if at_stop { STILL_PRESSURE_AT_STOP } else { STILL_PRESSURE };
        let mut pressure_moves = false;
        for (range, p) in self.pressures.iter_mut().zip([now.inlet_pressure, now.outlet_pressure, now.chamber_pressure])
        {
            pressure_moves |= range.stretch(p) > allowed;
        }
        let flow_moves = self.flow.stretch(now.main_flow) > STILL_FLOW * self.flow.high.abs() && open;
        // After closing, the line may ring for long; only a re-opening stage and a span of ringing count then.
        let moves = if self.asked_open { lift_moves || pressure_moves || flow_moves } else { !shut };
        if moves {
            self.restart(time, y, now);
        }
        if self.stage_lift.stretch(y[LIFT]) > STILL_LIFT * self.full_lift {
            self.stage_still_since = time;
            self.stage_lift = Range::at(y[LIFT]);
        }
        if open && self.level_flow.stretch(now.main_flow) > CREEPING_FLOW * self.level_flow.high.abs() {
            self.flow_level_since = time;
            self.level_flow = Range::at(now.main_flow);
        }
        let rippling = HOLD_RIPPLING.max(3.0 * HOLD_RETURNS * self.wave_return);
        let ripples_on =
            self.asked_open && at_stop && time - self.stage_still_since.max(self.flow_level_since) >= rippling;
        let held = time - self.window_start;
        let hold = match (self.asked_open, at_stop) {
            (true, true) => HOLD_AT_STOP.max(HOLD_RETURNS * self.wave_return),
            (true, false) => HOLD_FLOATING.max(HOLD_RETURNS * self.wave_return),
            (false, _) if shut => self.shut_time(),
            (false, _) => f64::INFINITY,
        };
        if shut && self.shut_since.is_none() {
            self.shut_since = Some(time);
        }
        // Collapsing cavities can knock the stage about for long after it closed; what they do is uncertain anyway.
        let rung_out = !self.asked_open && shut && self.shut_since.is_some_and(|t| time - t > 2.0 * self.shut_time());
        if held >= hold || rung_out || ripples_on {
            self.at_rest = true;
            return Then::Stop;
        }
        let oscillating = self.asked_open
            && time >= self.watched_until
            && self.swing.lasts()
            && self.moved_at.is_some_and(|t| time - t > TRANSIENT + JUDGED_TIME);
        if oscillating { Then::Stop } else { Then::Continue }
    }
}
