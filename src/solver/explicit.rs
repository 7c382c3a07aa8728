//! The same equations by an independent explicit method, to repeat a run with.
//!
//! The method is the fifth-order Runge–Kutta pair of J. R. Dormand and P. J. Prince ("A family of embedded Runge-Kutta
//! formulae", Journal of Computational and Applied Mathematics 6 (1980) 19-26, cited from memory) from the crate
//! `ode_solvers`. It shares with the Rosenbrock methods neither the formulas nor the Jacobian, so that agreement of the two
//! speaks for both. It is slow on stiff equations.

use super::error::SolveError;
use super::finite::first_not_finite;
use super::interval::Clock;
use super::interval::Interval;
use super::pace::{Pace, Span};
use super::settings::{Counters, Finish, Settings};
use super::system::{State, Step, System, Then};
use ode_solvers::dop_shared::IntegrationError;
use ode_solvers::{DVector, Dopri5, OutputType};

/// Bounds of the units states are expressed in: wide enough to switch a tolerance off or to make it purely relative,
/// narrow enough for squares not to overflow.
const SMALLEST_UNIT: f64 = 1e-100;
const LARGEST_UNIT: f64 = 1e100;

// Settings of the integrator's own step size controller: its defaults, which have to be named to reach the others.
const SAFETY: f64 = 0.9;
const INTEGRAL_GAIN: f64 = 0.04;
const STRONGEST_REDUCTION: f64 = 0.2;
const STRONGEST_GROWTH: f64 = 10.0;
/// The integrator gives up on equations that look stiff every so many steps; patience is wanted here.
const NO_STIFFNESS_TEST: u32 = u32::MAX;

/// Integrate `system` over `interval` from `state`, as [`super::integrate()`] does; running integrals become further
/// states, uncontrolled as there.
///
/// The equations are integrated in chunks no longer than [`System::longest_step`]; the steps of a chunk are reported when
/// the chunk is done, since the history must not change while the integrator holds the system.
pub fn integrate_explicitly<const N: usize, const K: usize, const Q: usize, Y: System<N, K, Q>>(
    system: &mut Y,
    interval: Interval,
    state: &mut State<N, Q>,
    settings: &Settings<N>,
    counters: &mut Counters,
) -> Result<Finish, SolveError> {
    interval.check()?;
    let clock = interval.clock();
    let chunks = Pace::unbounded();
    let mut time = interval.from;
    let mut rates = Equations::new(system, clock, settings).rates(time, &state.y).0;
    counters.evaluations += 1;
    if let Some(component) = first_not_finite(&rates) {
        return Err(SolveError::NotFinite { time, component });
    }
    // zero lets the integrator guess
    let mut longest = 0.0;
    let mut budget = settings.most_steps;
    while time < interval.to {
        let span = chunks.next_span(time, interval.to, system.longest_step(time))?;
        let equations = Equations::new(system, clock, settings);
        let trail = equations.integrate(span, state, longest, budget, counters)?;
        budget = budget.saturating_sub(trail.len());
        longest = 0.0;
        for point in trail {
            longest = f64::max(longest, point.time - time);
            if system.accepted(&point.step_from(time, state, &rates)) == Then::Stop {
                *state = point.state;
                return Ok(Finish { time: point.time, next_step: longest, then: Then::Stop });
            }
            (time, rates, *state) = (point.time, point.rates, point.state);
        }
    }
    Ok(Finish { time, next_step: longest, then: Then::Continue })
}

/// End of an accepted step.
struct Point<const N: usize, const Q: usize> {
    time: f64,
    state: State<N, Q>,
    rates: [f64; N],
}

impl<const N: usize, const Q: usize> Point<N, Q> {
    fn step_from<'a>(&'a self, time: f64, state: &'a State<N, Q>, rates: &'a [f64; N]) -> Step<'a, N, Q> {
        Step {
            from: time,
            to: self.time,
            old_y: &state.y,
            new_y: &self.state.y,
            old_rates: rates,
            new_rates: &self.rates,
            old_integrals: &state.integrals,
            new_integrals: &self.state.integrals,
        }
    }
}

/// The equations in the form the integrator wants: one vector, each state in units of its absolute tolerance, because the
/// integrator knows a single absolute tolerance.
struct Equations<'a, const N: usize, const K: usize, const Q: usize, Y> {
    system: &'a Y,
    clock: Clock,
    relative_tolerance: f64,
    units: [f64; N],
}

impl<'a, const N: usize, const K: usize, const Q: usize, Y: System<N, K, Q>> Equations<'a, N, K, Q, Y> {
    fn new(system: &'a Y, clock: Clock, settings: &Settings<N>) -> Self {
        let units = settings.absolute_tolerance.map(|tolerance| tolerance.clamp(SMALLEST_UNIT, LARGEST_UNIT));
        Equations { system, clock, relative_tolerance: settings.relative_tolerance, units }
    }

    fn rates(&self, time: f64, y: &[f64; N]) -> ([f64; N], [f64; Q]) {
        let (mut rate, mut integrand) = ([0.0; N], [0.0; Q]);
        self.system.rates(&self.system.forcing(self.clock.inside(time)).0, y, &mut rate, &mut integrand);
        (rate, integrand)
    }

    /// Points at the ends of the steps over `span`, in order.
    fn integrate(
        self,
        span: Span,
        start: &State<N, Q>,
        step: f64,
        budget: usize,
        counters: &mut Counters,
    ) -> Result<Vec<Point<N, Q>>, SolveError> {
        // the integrator takes the root of the mean square over all components; with tolerances divided by √n its bound
        // implies the same bound on the maximum
        let share = 1.0 / ((N + Q) as f64).sqrt();
        let most = u32::try_from(budget).unwrap_or(u32::MAX);
        let (system, clock, units) = (self.system, self.clock, self.units);
        let relative_tolerance = self.relative_tolerance;
        let vector = self.pack(start);
        let mut integrator = Dopri5::from_param(
            self,
            span.from,
            span.to,
            span.length,
            vector,
            relative_tolerance * share,
            share,
            SAFETY,
            INTEGRAL_GAIN,
            STRONGEST_REDUCTION,
            STRONGEST_GROWTH,
            span.length,
            step.min(span.length),
            most,
            NO_STIFFNESS_TEST,
            OutputType::Sparse,
        );
        let effort = integrator.integrate().map_err(|error| translate(error, span.from, budget))?;
        counters.accepted += effort.accepted_steps as usize;
        counters.rejected += effort.rejected_steps as usize;
        counters.evaluations += effort.num_eval as usize;
        let back = Equations { system, clock, relative_tolerance, units };
        let last = integrator.x_out().len() - 1;
        let ends = integrator.x_out().iter().zip(integrator.y_out()).enumerate().skip(1);
        let points = ends.map(|(i, (time, vector))| back.point(if i == last { span.to } else { *time }, vector));
        counters.evaluations += last;
        Ok(points.collect())
    }

    fn point(&self, time: f64, vector: &DVector<f64>) -> Point<N, Q> {
        let state = self.unpack(vector);
        let rates = self.rates(time, &state.y).0;
        Point { time, state, rates }
    }

    fn pack(&self, state: &State<N, Q>) -> DVector<f64> {
        let scaled = state.y.iter().zip(&self.units).map(|(y, unit)| y / unit);
        DVector::from_iterator(N + Q, scaled.chain(state.integrals.iter().map(|z| z / LARGEST_UNIT)))
    }

    fn unpack(&self, vector: &DVector<f64>) -> State<N, Q> {
        State {
            y: std::array::from_fn(|i| vector[i] * self.units[i]),
            integrals: std::array::from_fn(|i| vector[N + i] * LARGEST_UNIT),
        }
    }
}

impl<const N: usize, const K: usize, const Q: usize, Y: System<N, K, Q>> ode_solvers::System<f64, DVector<f64>>
    for Equations<'_, N, K, Q, Y>
{
    fn system(&self, time: f64, vector: &DVector<f64>, slope: &mut DVector<f64>) {
        let (rate, integrand) = self.rates(time, &self.unpack(vector).y);
        slope.copy_from(&self.pack(&State { y: rate, integrals: integrand }));
    }
}

fn translate(error: IntegrationError, start: f64, most: usize) -> SolveError {
    match error {
        IntegrationError::MaxNumStepReached { x, .. } => SolveError::TooManySteps { time: x, most },
        IntegrationError::StepSizeUnderflow { x } => SolveError::ExplicitStepUnderflow { time: x },
        // cannot happen, as the test for stiffness is switched off
        IntegrationError::StiffnessDetected { .. } => SolveError::ExplicitStepUnderflow { time: start },
    }
}
