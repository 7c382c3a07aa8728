//! A body that meets a rigid seat: between impacts the production solver, at an impact the speed is turned round and
//! shrunk. The valve's own contacts are compliant; this law exists only to recompute published and exact cases.
//!
//! The instant of an impact is found to rounding: the step that passes the seat is made again with other ends, until two
//! neighbouring numbers hold it. No interpolant is involved.

use super::trail::{Point, dips};
use crate::dual::Real;
use crate::solver::{Counters, Finish, Interval, Settings, State, Step, StepSize, System, Then, integrate};

/// Place of the gap between body and seat among the states.
pub(super) const GAP: usize = 0;
/// Place of the speed of the gap.
pub(super) const SPEED: usize = 1;
/// More impacts than this are an endless loop.
const MOST_IMPACTS: usize = 100_000;

/// What a seat does to a body.
#[derive(Clone, Copy, Debug)]
pub(super) struct Restitution {
    /// Speed after over speed before.
    pub coefficient: f64,
    /// A flight shorter than this (by the acceleration at its start) and all that would follow are summed as a geometric
    /// series; then the body rests until it is lifted.
    pub shortest_flight: f64,
}

/// How accurately to integrate.
#[derive(Clone, Copy, Debug)]
pub(super) struct Accuracy<const N: usize> {
    /// Settings of the solver.
    pub settings: Settings<N>,
    /// No step is longer than this.
    pub longest_step: f64,
}

/// One impact.
#[derive(Clone, Copy, Debug)]
pub(super) struct Impact<const N: usize> {
    /// When.
    pub time: f64,
    /// The state just before it, its gap being zero to rounding.
    pub before: [f64; N],
    /// The state just after it.
    pub after: [f64; N],
}

/// A motion with impacts.
#[derive(Clone, Debug)]
pub(super) struct Motion<const N: usize> {
    /// Impacts in order.
    pub impacts: Vec<Impact<N>>,
    /// When the body came to rest on the seat, each time.
    pub rests: Vec<f64>,
    /// Ends of all steps, with both sides of each impact.
    pub trail: Vec<Point<N>>,
    /// State at the end.
    pub end: [f64; N],
}

impl<const N: usize> Motion<N> {
    /// Impacts in a span of time.
    pub(super) fn impacts_within(&self, from: f64, to: f64) -> usize {
        self.impacts.iter().filter(|impact| impact.time > from && impact.time < to).count()
    }
}

/// What ends a stretch of motion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Watch {
    /// Nothing but the end of time.
    Nothing,
    /// The gap falls below zero.
    Seat,
    /// The speed falls below zero.
    Apex,
    /// The body, held on its seat, is no longer pressed on it.
    LiftOff,
}

/// How a stretch ended.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch<const N: usize> {
    /// When.
    pub time: f64,
    /// State there.
    pub y: [f64; N],
    /// Did what was watched for happen?
    pub happened: bool,
    /// Step to go on with.
    pub next_step: f64,
}

/// A system without known functions of time, whose first two states are gap and speed, with its accuracy.
#[derive(Clone, Copy, Debug)]
pub(super) struct Body<'a, S, const N: usize> {
    /// Equations of free motion.
    pub system: &'a S,
    /// Accuracy.
    pub accuracy: &'a Accuracy<N>,
}

impl<S: System<N, 0, 0>, const N: usize> Body<'_, S, N> {
    /// The motion from zero to `end`.
    pub(super) fn bounce(&self, y: [f64; N], end: f64, law: Restitution) -> Result<Motion<N>, String> {
        let mut motion = Motion { impacts: Vec::new(), rests: Vec::new(), trail: Vec::new(), end: y };
        let (mut time, mut first) = (0.0, None);
        while time < end {
            let flight = self.until(Watch::Seat, time, end, motion.end, first, &mut motion.trail)?;
            (time, motion.end, first) = (flight.time, flight.y, Some(flight.next_step));
            if !flight.happened {
                break;
            }
            if motion.impacts.len() == MOST_IMPACTS {
                return Err(format!("more than {MOST_IMPACTS} impacts before {time}"));
            }
            motion.impacts.push(struck(time, flight.y, law));
            motion.end = struck(time, flight.y, law).after;
            if let Some(remaining) = self.last_flights(&motion.end, law) {
                time = self.rest(time, remaining, end, &mut motion)?;
            }
        }
        Ok(motion)
    }

    /// Time that all further flights will take together, if the next one is too short to be followed.
    fn last_flights(&self, y: &[f64; N], law: Restitution) -> Option<f64> {
        let fall = -self.rates(y)[SPEED];
        let flight = 2.0 * y[SPEED] / fall;
        (fall > 0.0 && flight < law.shortest_flight).then(|| flight / (1.0 - law.coefficient))
    }

    /// Let the body come to rest, and hold it until it is lifted or time ends.
    fn rest(&self, time: f64, remaining: f64, end: f64, motion: &mut Motion<N>) -> Result<f64, String> {
        (motion.end[GAP], motion.end[SPEED]) = (0.0, 0.0);
        motion.rests.push(time + remaining);
        let held = self.until(Watch::LiftOff, time, end, motion.end, None, &mut motion.trail)?;
        motion.end = held.y;
        Ok(held.time)
    }

    /// Integrate from `from` to `to`, or to where what is watched for happens.
    pub(super) fn until(
        &self,
        watch: Watch,
        from: f64,
        to: f64,
        y: [f64; N],
        first: Option<f64>,
        trail: &mut Vec<Point<N>>,
    ) -> Result<Stretch<N>, String> {
        let mut now = Stretch { time: from, y, happened: false, next_step: first.unwrap_or(0.0) };
        trail.push(Point { time: from, y, rates: self.rates_while(watch, &y) });
        while now.time < to {
            let first = Some(now.next_step).filter(|step| *step > 0.0);
            let mut watched = Watched { body: self, watch, trail, last: None };
            let interval = Interval { from: now.time, to };
            let (finish, y) = watched.run(interval, now.y, StepSize::Controlled { first })?;
            let last = watched.last;
            now = Stretch { time: finish.time, y, happened: false, next_step: finish.next_step };
            let Some(step) = last.filter(|_| finish.then == Then::Stop) else { continue };
            if let Some((length, y)) = self.locate(watch, &step)? {
                (now.time, now.y, now.happened) = (step.from + length, y, true);
            }
            trail.push(Point { time: now.time, y: now.y, rates: self.rates_while(watch, &now.y) });
            if now.happened {
                break;
            }
        }
        Ok(now)
    }

    /// Length of the step at whose end the watched number leaves zero, and the state there; none if, looked at closely, it
    /// does not.
    fn locate(&self, watch: Watch, step: &Last<N>) -> Result<Option<(f64, [f64; N])>, String> {
        let value = |watch: Watch, length: f64| Ok(self.watched(watch, &self.one_step(watch, step, length)?));
        let (mut low, mut high) = (0.0, step.length);
        if watch == Watch::Seat {
            if step.old_y[SPEED] > 0.0 {
                // A flight that begins on the seat: the crossing sought lies behind the apex.
                low = last_above_zero(0.0, high, |length| value(Watch::Apex, length))?;
            }
            if value(Watch::Seat, high)? >= 0.0 {
                // Down and up again within the step: look at its lowest point.
                high = last_above_zero(low, high, |length| Ok(-value(Watch::Apex, length)?))?;
                if value(Watch::Seat, high)? >= 0.0 {
                    return Ok(None);
                }
            }
        }
        let length = last_above_zero(low, high, |length| value(watch, length))?;
        Ok(Some((length, self.one_step(watch, step, length)?)))
    }

    /// The state after a step of that length from the start of `step`. Free motion does not depend on time.
    fn one_step(&self, watch: Watch, step: &Last<N>, length: f64) -> Result<[f64; N], String> {
        if length <= 0.0 {
            return Ok(step.old_y);
        }
        let held = if watch == Watch::LiftOff { Watch::LiftOff } else { Watch::Nothing };
        let mut unrecorded = Vec::new();
        let mut again = Watched { body: self, watch: held, trail: &mut unrecorded, last: None };
        let interval = Interval { from: 0.0, to: length };
        again.run(interval, step.old_y, StepSize::Fixed(length)).map(|(_, y)| y)
    }

    /// The number whose fall below zero is waited for.
    fn watched(&self, watch: Watch, y: &[f64; N]) -> f64 {
        match watch {
            Watch::Nothing => 0.0,
            Watch::Seat => y[GAP],
            Watch::Apex => y[SPEED],
            Watch::LiftOff => -self.rates(y)[SPEED],
        }
    }

    fn rates(&self, y: &[f64; N]) -> [f64; N] {
        let mut rates = [0.0; N];
        self.system.rates(&[], y, &mut rates, &mut []);
        rates
    }

    fn rates_while(&self, watch: Watch, y: &[f64; N]) -> [f64; N] {
        let mut rates = self.rates(y);
        if watch == Watch::LiftOff {
            (rates[GAP], rates[SPEED]) = (0.0, 0.0);
        }
        rates
    }
}

fn struck<const N: usize>(time: f64, before: [f64; N], law: Restitution) -> Impact<N> {
    let mut after = before;
    (after[GAP], after[SPEED]) = (0.0, -law.coefficient * before[SPEED]);
    Impact { time, before, after }
}

/// The largest number between `low` and `high` at which `value` is seen not to be below zero, halved down to rounding;
/// `value` is taken not to be below zero at `low`.
fn last_above_zero(
    mut low: f64,
    mut high: f64,
    mut value: impl FnMut(f64) -> Result<f64, String>,
) -> Result<f64, String> {
    loop {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            return Ok(low);
        }
        if value(middle)? < 0.0 { high = middle } else { low = middle }
    }
}

/// The step that ended an integration.
#[derive(Clone, Copy)]
struct Last<const N: usize> {
    from: f64,
    length: f64,
    old_y: [f64; N],
}

/// The free motion as the solver sees it, stopped by what is watched for.
struct Watched<'a, 'b, S, const N: usize> {
    body: &'a Body<'b, S, N>,
    watch: Watch,
    trail: &'a mut Vec<Point<N>>,
    last: Option<Last<N>>,
}

impl<S: System<N, 0, 0>, const N: usize> Watched<'_, '_, S, N> {
    fn run(&mut self, interval: Interval, y: [f64; N], size: StepSize) -> Result<(Finish, [f64; N]), String> {
        let mut state = State::at_start(y);
        let settings = &self.body.accuracy.settings;
        let finish = integrate::<4, N, 0, 0, _>(self, interval, &mut state, size, settings, &mut Counters::default());
        finish.map(|finish| (finish, state.y)).map_err(|cause| cause.to_string())
    }
}

impl<S: System<N, 0, 0>, const N: usize> System<N, 0, 0> for Watched<'_, '_, S, N> {
    fn forcing(&self, _time: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }

    fn rates<T: Real>(&self, forcing: &[T; 0], y: &[T; N], rate: &mut [T; N], integrand: &mut [T; 0]) {
        self.body.system.rates(forcing, y, rate, integrand);
        if self.watch == Watch::LiftOff {
            (rate[GAP], rate[SPEED]) = (T::constant(0.0), T::constant(0.0));
        }
    }

    fn longest_step(&self, _time: f64) -> f64 {
        self.body.accuracy.longest_step
    }

    fn accepted(&mut self, step: &Step<'_, N, 0>) -> Then {
        let crossed = self.body.watched(self.watch, step.new_y) < 0.0
            || (self.watch == Watch::Seat && dips(&step.interpolant(GAP)));
        if crossed {
            self.last = Some(Last { from: step.from, length: step.to - step.from, old_y: *step.old_y });
            return Then::Stop;
        }
        self.trail.push(Point { time: step.to, y: *step.new_y, rates: *step.new_rates });
        Then::Continue
    }
}
