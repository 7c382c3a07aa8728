//! Effort, balances and failures of the stiff solver on hard problems. Their end states against the literature are cases of
//! the validation book.

use quietseat::dual::Real;
use quietseat::solver::{
    Counters, Interval, Method, Settings, SolveError, State, Step, StepSize, System, Then, integrate,
};
use quietseat::validation::stiff_problems::{Autonomous, Hires, VanDerPol};

const RELATIVE_TOLERANCE: f64 = 1e-8;

/// A problem without forcing; its running integrals are those of the negative rates, so that each state plus its integral
/// is constant.
///
/// Checks that accepted steps, and no others, are reported one after the other.
#[derive(Default)]
struct Problem<A> {
    equations: std::marker::PhantomData<A>,
    steps: usize,
    reached: f64,
}

impl<const N: usize, A: Autonomous<N>> System<N, 0, N> for Problem<A> {
    fn forcing(&self, _time: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }

    fn rates<T: Real>(&self, _forcing: &[T; 0], y: &[T; N], rate: &mut [T; N], integrand: &mut [T; N]) {
        *rate = A::rates(y);
        *integrand = rate.map(|r| -r);
    }

    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }

    fn accepted(&mut self, step: &Step<'_, N, N>) -> Then {
        assert_eq!(step.from, self.reached);
        assert!(step.to > step.from);
        self.reached = step.to;
        self.steps += 1;
        Then::Continue
    }
}

fn settings<const N: usize>(method: Method, relative_tolerance: f64, absolute_tolerance: f64) -> Settings<N> {
    Settings { method, relative_tolerance, absolute_tolerance: [absolute_tolerance; N], most_steps: 100_000 }
}

/// The state at `end`.
fn solve<const P: usize, const N: usize, A: Autonomous<N> + Default>(
    end: f64,
    settings: &Settings<N>,
    counters: &mut Counters,
) -> State<N, N> {
    let mut state = State::at_start(A::START);
    let step_size = StepSize::Controlled { first: None };
    let interval = Interval { from: 0.0, to: end };
    let mut problem = Problem::<A>::default();
    let finish = integrate::<P, N, 0, N, _>(&mut problem, interval, &mut state, step_size, settings, counters)
        .expect("a solvable problem");
    assert_eq!((finish.time, problem.reached, problem.steps), (end, end, counters.accepted));
    state
}

const METHODS: [Method; 2] = [Method::Rodas5P, Method::Rodas];

/// The effort is part of the behaviour: whatever changes the method, the controller or what is evaluated changes a number.
#[test]
fn effort_on_van_der_pol_is_exactly_this() {
    let mut effort = [Counters::default(); 2];
    for (method, counters) in METHODS.into_iter().zip(&mut effort) {
        solve::<4, 2, VanDerPol>(2.0, &settings(method, 1e-6, 1e-6), counters);
        let attempts = counters.accepted + counters.rejected;
        assert_eq!(counters.factorisations, attempts);
        // one linearisation at the start and one at the end of each step but the last
        assert_eq!(counters.jacobians, counters.accepted);
        let stages = if method == Method::Rodas { 6 } else { 8 };
        assert_eq!(counters.evaluations, (stages - 1) * attempts + 1);
    }
    assert_eq!(effort.map(|c| (c.accepted, c.rejected, c.evaluations)), [(675, 11, 4803), (1179, 8, 5936)]);
}

/// Each state plus the integral of its negative rate is constant, whatever the tolerance: the integrals follow from the
/// same stages. What is left is rounding, which is that of the largest terms summed, here increments of size 1.
#[test]
fn integrals_close_the_balance_to_rounding() {
    for method in METHODS {
        let mut counters = Counters::default();
        let state = solve::<12, 8, Hires>(321.8122, &settings(method, 1e-3, 1e-6), &mut counters);
        for (i, start) in Hires::START.iter().enumerate() {
            let excess = (state.y[i] + state.integrals[i] - start).abs();
            assert!(excess < 1e-14 * counters.accepted as f64, "state {i}: {excess:e}");
        }
    }
}

/// y' = y²: infinite at t = 1 from y(0) = 1.
#[derive(Default)]
struct Explosion;

impl Autonomous<1> for Explosion {
    const START: [f64; 1] = [1.0];
    const ABSOLUTE_SHARE: f64 = 1.0;
    fn rates<T: Real>(y: &[T; 1]) -> [T; 1] {
        [y[0].square()]
    }
}

#[test]
fn a_solution_that_ends_is_reported_where_it_ends() {
    let mut state = State::at_start([1.0]);
    let outcome = integrate::<4, 1, 0, 1, _>(
        &mut Problem::<Explosion>::default(),
        Interval { from: 0.0, to: 2.0 },
        &mut state,
        StepSize::Controlled { first: None },
        &settings(Method::Rodas5P, 1e-6, 1e-6),
        &mut Counters::default(),
    );
    match outcome {
        Err(SolveError::StepUnderflow { time, component: 0 } | SolveError::NotFinite { time, component: 0 }) => {
            assert!((time - 1.0).abs() < 1e-5, "ended at {time}");
        }
        other => panic!("{other:?}"),
    }
}

/// y' = −√y from y(0) = 1: y = (1 − t/2)², and steps that overshoot zero give no number.
#[derive(Default)]
struct Draining;

impl Autonomous<1> for Draining {
    const START: [f64; 1] = [1.0];
    const ABSOLUTE_SHARE: f64 = 0.0;
    fn rates<T: Real>(y: &[T; 1]) -> [T; 1] {
        [-y[0].sqrt()]
    }
}

#[test]
fn values_that_are_not_finite_shorten_the_step() {
    let mut state = State::at_start([1.0]);
    let mut counters = Counters::default();
    integrate::<4, 1, 0, 1, _>(
        &mut Problem::<Draining>::default(),
        Interval { from: 0.0, to: 1.9 },
        &mut state,
        StepSize::Controlled { first: Some(100.0) },
        &settings(Method::Rodas5P, RELATIVE_TOLERANCE, 0.0),
        &mut counters,
    )
    .expect("a solvable problem");
    // a relative error δ made early shifts the moment of emptying, and grows by 1/(1 − t/2) = 20 until it is observed
    assert!((state.y[0] / 0.0025 - 1.0).abs() < 20.0 * 10.0 * RELATIVE_TOLERANCE);
    assert!(counters.rejected > 0);
}

#[test]
fn a_spent_budget_is_reported_with_the_time_reached() {
    let mut state = State::at_start(VanDerPol::START);
    let mut counters = Counters::default();
    let outcome = integrate::<4, 2, 0, 2, _>(
        &mut Problem::<VanDerPol>::default(),
        Interval { from: 0.0, to: 2.0 },
        &mut state,
        StepSize::Controlled { first: None },
        &Settings { most_steps: 10, ..settings(Method::Rodas5P, 1e-6, 1e-6) },
        &mut counters,
    );
    assert!(matches!(outcome, Err(SolveError::TooManySteps { time, most: 10 }) if time > 0.0 && time < 2.0));
    assert_eq!(counters.accepted + counters.rejected, 10);
}
