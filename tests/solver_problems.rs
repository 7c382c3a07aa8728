//! The stiff solver on problems from the literature.
//!
//! Reference values: F. Mazzia, C. Magherini, "Test Set for Initial Value Problem Solvers", University of Bari; the
//! problems are also in E. Hairer, G. Wanner, "Solving Ordinary Differential Equations II", 2nd ed. 1996, section IV.10.
//!
//! Allowed error: ten times the relative tolerance of 1e-8. The tolerance bounds the error of one step; the errors of some
//! hundred to thousand steps partly add up, and in these dissipative problems mostly die out (seen: at most twice the
//! tolerance), so that one digit is left for their accumulation.

use quietseat::dual::Real;
use quietseat::solver::{
    Counters, Interval, Method, Settings, SolveError, State, Step, StepSize, System, Then, integrate,
};

const RELATIVE_TOLERANCE: f64 = 1e-8;
const ALLOWED_ERROR: f64 = 10.0 * RELATIVE_TOLERANCE;

/// A problem without forcing; its running integrals are those of the negative rates, so that each state plus its integral
/// is constant.
trait Autonomous<const N: usize> {
    fn rates<T: Real>(y: &[T; N]) -> [T; N];
}

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

/// The state at `end`, started from `y` at zero.
fn solve<const P: usize, const N: usize, A: Autonomous<N> + Default>(
    y: [f64; N],
    end: f64,
    settings: &Settings<N>,
    counters: &mut Counters,
) -> State<N, N> {
    let mut state = State::at_start(y);
    let step_size = StepSize::Controlled { first: None };
    let interval = Interval { from: 0.0, to: end };
    let mut problem = Problem::<A>::default();
    let finish = integrate::<P, N, 0, N, _>(&mut problem, interval, &mut state, step_size, settings, counters)
        .expect("a solvable problem");
    assert_eq!((finish.time, problem.reached, problem.steps), (end, end, counters.accepted));
    state
}

fn assert_close<const N: usize>(found: &[f64; N], expected: &[f64; N]) {
    for i in 0..N {
        let error = (found[i] - expected[i]).abs() / expected[i].abs();
        assert!(error <= ALLOWED_ERROR, "state {i}: {} against {}, error {error:e}", found[i], expected[i]);
    }
}

const METHODS: [Method; 2] = [Method::Rodas5P, Method::Rodas];

/// Robertson's chemical reaction:
/// y₁' = −0.04 y₁ + 10⁴ y₂y₃, y₂' = 0.04 y₁ − 10⁴ y₂y₃ − 3·10⁷ y₂², y₃' = 3·10⁷ y₂²; y(0) = (1, 0, 0).
#[derive(Default)]
struct Robertson;

impl Autonomous<3> for Robertson {
    fn rates<T: Real>(y: &[T; 3]) -> [T; 3] {
        let [slow, fast, fastest] = [y[0] * 0.04, y[1] * y[2] * 1e4, y[1].square() * 3e7];
        [fast - slow, slow - fast - fastest, fastest]
    }
}

/// The second state is of size 1e-5 to 1e-13 and has to be right to six digits, so the absolute tolerance is far below.
const ROBERTSON_ABSOLUTE_TOLERANCE: f64 = 1e-21;

#[test]
fn robertson() {
    let references = [
        (40.0, [0.715827068719408, 9.18553476455788e-6, 0.284163745745829]),
        (400.0, [0.450518668471, 3.2229014417e-6, 0.549478108627]),
        (4e4, [0.03898337708549, 1.6217683159e-7, 0.96101646073769]),
        (1e11, [0.2083340149701255e-7, 0.8333360770334713e-13, 0.999999979166505]),
    ];
    for method in METHODS {
        let settings = settings(method, RELATIVE_TOLERANCE, ROBERTSON_ABSOLUTE_TOLERANCE);
        for (end, expected) in references {
            let state = solve::<4, 3, Robertson>([1.0, 0.0, 0.0], end, &settings, &mut Counters::default());
            assert_close(&state.y, &expected);
            // the substance is conserved by the equations; each step rounds
            assert!((state.y.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        }
    }
}

/// Van der Pol's oscillator, ε = 10⁻⁶: y₁' = y₂, y₂' = ((1 − y₁²)y₂ − y₁)/ε; y(0) = (2, 0).
#[derive(Default)]
struct VanDerPol;

impl Autonomous<2> for VanDerPol {
    fn rates<T: Real>(y: &[T; 2]) -> [T; 2] {
        let damping = -y[0].square() + 1.0;
        [y[1], (damping * y[1] - y[0]) * 1e6]
    }
}

const VAN_DER_POL_END: [f64; 2] = [1.706167732170483, -0.8928097010247975];

#[test]
fn van_der_pol() {
    for method in METHODS {
        let settings = settings(method, RELATIVE_TOLERANCE, RELATIVE_TOLERANCE);
        let state = solve::<4, 2, VanDerPol>([2.0, 0.0], 2.0, &settings, &mut Counters::default());
        assert_close(&state.y, &VAN_DER_POL_END);
    }
}

/// HIRES, eight reactants of a plant's response to light; equations in the rates below, y(0) = (1, 0, …, 0, 0.0057).
#[derive(Default)]
struct Hires;

impl Autonomous<8> for Hires {
    fn rates<T: Real>(y: &[T; 8]) -> [T; 8] {
        let binding = y[5] * y[7] * 280.0 - y[6] * 1.81;
        [
            y[1] * 0.43 - y[0] * 1.71 + y[2] * 8.32 + 0.0007,
            y[0] * 1.71 - y[1] * 8.75,
            y[3] * 0.43 - y[2] * 10.03 + y[4] * 0.035,
            y[1] * 8.32 + y[2] * 1.71 - y[3] * 1.12,
            y[5] * 0.43 - y[4] * 1.745 + y[6] * 0.43,
            y[3] * 0.69 + y[4] * 1.71 - y[5] * 0.43 + y[6] * 0.69 - y[5] * y[7] * 280.0,
            binding,
            -binding,
        ]
    }
}

#[test]
fn hires() {
    let expected = [
        0.7371312573325668e-3,
        0.1442485726316185e-3,
        0.5888729740967575e-4,
        0.1175651343283149e-2,
        0.2386356198831331e-2,
        0.6238968252742796e-2,
        0.2849998395185769e-2,
        0.2850001604814231e-2,
    ];
    let start = [1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0057];
    for method in METHODS {
        let settings = settings(method, RELATIVE_TOLERANCE, RELATIVE_TOLERANCE * 1e-4);
        let state = solve::<12, 8, Hires>(start, 321.8122, &settings, &mut Counters::default());
        assert_close(&state.y, &expected);
        assert!((state.y[6] + state.y[7] - 0.0057).abs() < 1e-15);
    }
}

/// OREGO, the oscillating Belousov–Zhabotinskii reaction: y₁' = 77.27(y₂ + y₁(1 − 8.375·10⁻⁶y₁ − y₂)),
/// y₂' = (y₃ − (1 + y₁)y₂)/77.27, y₃' = 0.161(y₁ − y₃); y(0) = (1, 2, 3).
#[derive(Default)]
struct Orego;

impl Autonomous<3> for Orego {
    fn rates<T: Real>(y: &[T; 3]) -> [T; 3] {
        let growth = -(y[0] * 8.375e-6) - y[1] + 1.0;
        [(y[1] + y[0] * growth) * 77.27, (y[2] - (y[0] + 1.0) * y[1]) * (1.0 / 77.27), (y[0] - y[2]) * 0.161]
    }
}

#[test]
fn orego() {
    for method in METHODS {
        let settings = settings(method, RELATIVE_TOLERANCE, RELATIVE_TOLERANCE);
        let state = solve::<4, 3, Orego>([1.0, 2.0, 3.0], 360.0, &settings, &mut Counters::default());
        assert_close(&state.y, &[1.000814870318523, 1228.178521549917, 132.0554942846706]);
    }
}

/// The effort is part of the behaviour: whatever changes the method, the controller or what is evaluated changes a number.
#[test]
fn effort_on_van_der_pol_is_exactly_this() {
    let mut effort = [Counters::default(); 2];
    for (method, counters) in METHODS.into_iter().zip(&mut effort) {
        solve::<4, 2, VanDerPol>([2.0, 0.0], 2.0, &settings(method, 1e-6, 1e-6), counters);
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
    let start = [1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0057];
    for method in METHODS {
        let mut counters = Counters::default();
        let state = solve::<12, 8, Hires>(start, 321.8122, &settings(method, 1e-3, 1e-6), &mut counters);
        for (i, start) in start.iter().enumerate() {
            let excess = (state.y[i] + state.integrals[i] - start).abs();
            assert!(excess < 1e-14 * counters.accepted as f64, "state {i}: {excess:e}");
        }
    }
}

/// y' = y²: infinite at t = 1 from y(0) = 1.
#[derive(Default)]
struct Explosion;

impl Autonomous<1> for Explosion {
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
    assert!((state.y[0] / 0.0025 - 1.0).abs() < 20.0 * ALLOWED_ERROR);
    assert!(counters.rejected > 0);
}

#[test]
fn a_spent_budget_is_reported_with_the_time_reached() {
    let mut state = State::at_start([2.0, 0.0]);
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
