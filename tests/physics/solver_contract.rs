//! What the solver promises its systems: order of convergence, exact derivatives by time, delays, switching instants,
//! untouched histories, and agreement with an independent method.

use quietseat::dual::Real;
use quietseat::solver::explicit::integrate_explicitly;
use quietseat::solver::interpolant::Hermite;
use quietseat::solver::{
    Counters, Finish, Interval, Method, Settings, SolveError, State, Step, StepSize, System, Then, integrate,
};
use std::cell::Cell;

const METHODS: [(Method, f64); 2] = [(Method::Rodas5P, 5.0), (Method::Rodas, 4.0)];

fn settings<const N: usize>(method: Method, tolerance: f64) -> Settings<N> {
    Settings { method, relative_tolerance: tolerance, absolute_tolerance: [tolerance; N], most_steps: 100_000 }
}

const CONTROLLED: StepSize = StepSize::Controlled { first: None };

/// A nonlinear, coupled, forced problem with a solution in closed form. With u₁ = cos t, u₂ = exp(−sin t):
///
/// y₁' = u₁y₁(1 − y₁), y₂' = −u₁y₂²y₁(1 + 3u₂); y(0) = (1/4, 1/2)
///
/// has y₁ = 1/(1 + 3u₂), y₂ = 1/(2 + sin t); the integrals of u₁y₁ and of y₂'s negative rate are ln(exp(sin t) + 3) − ln 4
/// and 1/2 − y₂.
struct Forced {
    /// What the solver is told of the slopes of the forcing: 1 for the truth.
    told: f64,
}

impl System<2, 2, 2> for Forced {
    fn forcing(&self, time: f64) -> ([f64; 2], [f64; 2]) {
        let (sine, cosine) = time.sin_cos();
        let decay = (-sine).exp();
        ([cosine, decay], [-sine * self.told, -cosine * decay * self.told])
    }

    fn rates<T: Real>(&self, forcing: &[T; 2], y: &[T; 2], rate: &mut [T; 2], integrand: &mut [T; 2]) {
        let [wave, decay] = *forcing;
        rate[0] = wave * y[0] * (-y[0] + 1.0);
        rate[1] = -(wave * y[1].square() * y[0] * (decay * 3.0 + 1.0));
        integrand[0] = wave * y[0];
        integrand[1] = -rate[1];
    }

    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }

    fn accepted(&mut self, _step: &Step<'_, 2, 2>) -> Then {
        Then::Continue
    }
}

const FORCED_START: [f64; 2] = [0.25, 0.5];

fn forced_solution(time: f64) -> State<2, 2> {
    let sine = time.sin();
    let y = [1.0 / (1.0 + 3.0 * (-sine).exp()), 1.0 / (2.0 + sine)];
    State { y, integrals: [(sine.exp() + 3.0).ln() - 4.0_f64.ln(), 0.5 - y[1]] }
}

fn run_forced(told: f64, step_size: StepSize, settings: &Settings<2>, end: f64) -> State<2, 2> {
    let mut state = State::at_start(FORCED_START);
    let interval = Interval { from: 0.0, to: end };
    integrate::<4, 2, 2, 2, _>(
        &mut Forced { told },
        interval,
        &mut state,
        step_size,
        settings,
        &mut Counters::default(),
    )
    .expect("a solvable problem");
    state
}

/// Largest errors of the states and of the integrals after 2 s with fixed steps.
fn forced_errors(method: Method, told: f64, step: f64) -> (f64, f64) {
    let state = run_forced(told, StepSize::Fixed(step), &settings(method, 1.0), 2.0);
    let exact = forced_solution(2.0);
    let largest = |found: &[f64; 2], exact: &[f64; 2]| (found[0] - exact[0]).abs().max((found[1] - exact[1]).abs());
    (largest(&state.y, &exact.y), largest(&state.integrals, &exact.integrals))
}

/// Orders seen on halving the step, of the states and of the integrals.
fn observed_orders(method: Method, told: f64) -> (f64, f64) {
    let (coarse, fine) = (forced_errors(method, told, 0.1), forced_errors(method, told, 0.05));
    ((coarse.0 / fine.0).log2(), (coarse.1 / fine.1).log2())
}

/// The next term of the error expansion is a step size smaller, so the order is seen to within a few tenths.
#[test]
fn states_and_integrals_converge_with_the_order_of_the_method() {
    for (method, order) in METHODS {
        let (states, integrals) = observed_orders(method, 1.0);
        assert!((states - order).abs() < 0.4, "{method:?}: order {states} of the states");
        assert!((integrals - order).abs() < 0.4, "{method:?}: order {integrals} of the integrals");
    }
}

/// The slopes of the forcing are part of the method: left out, only first or second order remains.
#[test]
fn without_the_derivative_by_time_the_order_falls() {
    for (method, order) in METHODS {
        let (states, integrals) = observed_orders(method, 0.0);
        assert!(states < order - 1.5 && integrals < order - 1.5, "{method:?}: orders {states}, {integrals}");
    }
}

/// Errors stay within a hundred tolerances, and tightening the tolerance tightens them.
#[test]
fn the_tolerance_governs_the_error() {
    for (method, _) in METHODS {
        for tolerance in [1e-4, 1e-6, 1e-8, 1e-10] {
            let state = run_forced(1.0, CONTROLLED, &settings(method, tolerance), 20.0);
            let exact = forced_solution(20.0);
            for i in 0..2 {
                let error = (state.y[i] - exact.y[i]).abs();
                assert!(error < 100.0 * tolerance, "{method:?} at {tolerance}: {error:e}");
            }
        }
    }
}

/// A state with infinite absolute tolerance must not cost steps: the second oscillator is a thousand times faster.
#[test]
fn an_uncontrolled_state_costs_no_steps() {
    let steps = |absolute_tolerance| {
        let mut counters = Counters::default();
        let settings = Settings { absolute_tolerance, ..settings(Method::Rodas5P, 1e-6) };
        let mut state = State::at_start([1.0, 1.0, 0.0]);
        let interval = Interval { from: 0.0, to: 1.0 };
        integrate::<4, 3, 0, 0, _>(&mut SlowAndFast, interval, &mut state, CONTROLLED, &settings, &mut counters)
            .expect("a solvable problem");
        counters.accepted
    };
    let (all, slow_only) = (steps([1e-6; 3]), steps([1e-6, f64::INFINITY, f64::INFINITY]));
    assert!(slow_only < 10 && all > 500, "{all} and {slow_only} steps");
}

/// y₁' = −y₁ beside an oscillator of 1000 rad/s.
struct SlowAndFast;

impl System<3, 0, 0> for SlowAndFast {
    fn forcing(&self, _time: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }

    fn rates<T: Real>(&self, _forcing: &[T; 0], y: &[T; 3], rate: &mut [T; 3], _integrand: &mut [T; 0]) {
        *rate = [-y[0], y[2] * 1e3, y[1] * -1e3];
    }

    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }

    fn accepted(&mut self, _step: &Step<'_, 3, 0>) -> Then {
        Then::Continue
    }
}

/// y' = −y(t − 1) with y = 1 up to t = 0; the solution by the method of steps is
/// y = Σ (−1)ᵏ (t − k + 1)ᵏ/k! over all k with t > k − 1 (R. D. Driver, "Ordinary and Delay Differential Equations", 1977,
/// cited from memory).
struct Delayed {
    history: Vec<Hermite>,
    longest_step: f64,
}

impl Delayed {
    const DELAY: f64 = 1.0;

    fn new(longest_step: f64) -> Self {
        Delayed { history: Vec::new(), longest_step }
    }

    fn exact(time: f64) -> f64 {
        let mut sum = 0.0;
        let (mut factorial, mut sign) = (1.0, 1.0);
        for k in 0_i32.. {
            let reach = time - f64::from(k) + 1.0;
            if reach < 0.0 {
                break;
            }
            sum += sign * reach.powi(k) / factorial;
            sign = -sign;
            factorial *= f64::from(k + 1);
        }
        sum
    }
}

impl System<1, 1, 1> for Delayed {
    fn forcing(&self, time: f64) -> ([f64; 1], [f64; 1]) {
        let past = time - Self::DELAY;
        if past < 0.0 {
            return ([1.0], [0.0]);
        }
        let piece = &self.history[self.history.partition_point(|piece| piece.to <= past)];
        let (value, slope) = piece.at(past);
        ([value], [slope])
    }

    fn rates<T: Real>(&self, forcing: &[T; 1], _y: &[T; 1], rate: &mut [T; 1], integrand: &mut [T; 1]) {
        rate[0] = -forcing[0];
        integrand[0] = forcing[0];
    }

    fn longest_step(&self, _time: f64) -> f64 {
        self.longest_step
    }

    fn accepted(&mut self, step: &Step<'_, 1, 1>) -> Then {
        // a history with a gap or an overlap would show a rejected step
        assert_eq!(self.history.last().map_or(0.0, |piece| piece.to), step.from);
        self.history.push(step.interpolant(0));
        Then::Continue
    }
}

/// Integrate from one kink of the solution to the next, ten delays long.
fn run_delayed(
    longest_step: f64,
    mut leg: impl FnMut(&mut Delayed, Interval, &mut State<1, 1>) -> Result<Finish, SolveError>,
) -> State<1, 1> {
    let mut system = Delayed::new(longest_step);
    let mut state = State::at_start([1.0]);
    for k in 0..10 {
        let interval = Interval { from: f64::from(k), to: f64::from(k + 1) };
        leg(&mut system, interval, &mut state).expect("a solvable problem");
    }
    state
}

/// Error at t = 10 by the stiff solver; the balance of state and integral is checked on the way.
fn delayed_error(method: Method, longest_step: f64, step_size: StepSize) -> f64 {
    let state = run_delayed(longest_step, |system, interval, state| {
        let settings = settings(method, 1e-9);
        integrate::<4, 1, 1, 1, _>(system, interval, state, step_size, &settings, &mut Counters::default())
    });
    // some seven hundred additions round at 1e-16 each
    assert!((state.y[0] + state.integrals[0] - 1.0).abs() < 1e-13);
    (state.y[0] - Delayed::exact(10.0)).abs()
}

/// With short steps the error is that of the tolerance, with the usual hundredfold for accumulation.
#[test]
fn a_delay_equation_is_followed_through_its_kinks() {
    assert!((Delayed::exact(2.5) - (1.0 - 2.5 + 1.5_f64.powi(2) / 2.0 - 0.5_f64.powi(3) / 6.0)).abs() < 1e-15);
    for (method, _) in METHODS {
        let error = delayed_error(method, Delayed::DELAY / 64.0, CONTROLLED);
        assert!(error < 1e-7, "{method:?}: {error:e}");
    }
}

/// The interpolated history is of fourth order, whatever the method.
#[test]
fn a_delayed_argument_converges_with_fourth_order() {
    for (method, _) in METHODS {
        let error = |step| delayed_error(method, Delayed::DELAY, StepSize::Fixed(step));
        let order = (error(0.125) / error(0.0625)).log2();
        assert!((order - 4.0).abs() < 0.4, "{method:?}: order {order}");
    }
}

#[test]
fn the_explicit_method_agrees_on_a_delay_equation() {
    let state = run_delayed(Delayed::DELAY / 64.0, |system, interval, state| {
        integrate_explicitly(system, interval, state, &settings(Method::Rodas5P, 1e-9), &mut Counters::default())
    });
    let error = (state.y[0] - Delayed::exact(10.0)).abs();
    assert!(error < 1e-7, "{error:e}");
    assert!((state.y[0] + state.integrals[0] - 1.0).abs() < 1e-14);
}

/// Two methods with nothing in common but the equations, each within a hundred tolerances of the truth.
#[test]
fn the_explicit_method_agrees_on_a_forced_problem() {
    let settings = settings(Method::Rodas5P, 1e-9);
    let implicit = run_forced(1.0, CONTROLLED, &settings, 20.0);
    let mut explicit = State::at_start(FORCED_START);
    let mut counters = Counters::default();
    let interval = Interval { from: 0.0, to: 20.0 };
    let finish = integrate_explicitly(&mut Forced { told: 1.0 }, interval, &mut explicit, &settings, &mut counters)
        .expect("easy");
    assert_eq!(finish.time, 20.0);
    for i in 0..2 {
        assert!((implicit.y[i] - explicit.y[i]).abs() < 2e-7);
        assert!((implicit.integrals[i] - explicit.integrals[i]).abs() < 2e-7);
    }
    assert!(counters.accepted > 10 && counters.jacobians == 0, "{counters:?}");
}

/// A first-order lag behind a square wave of half period τ = 0.1, an instant no binary number hits:
/// y' = (u − y)/0.03, y(0) = 0. It records where it was asked for its forcing.
struct SquareWave {
    half_period: f64,
    earliest: Cell<f64>,
    latest: Cell<f64>,
    stop_after: f64,
}

impl SquareWave {
    const LAG: f64 = 0.03;

    fn new(stop_after: f64) -> Self {
        let (earliest, latest) = (Cell::new(f64::INFINITY), Cell::new(f64::NEG_INFINITY));
        SquareWave { half_period: 0.1, earliest, latest, stop_after }
    }
}

impl System<1, 1, 0> for SquareWave {
    fn forcing(&self, time: f64) -> ([f64; 1], [f64; 1]) {
        self.earliest.set(self.earliest.get().min(time));
        self.latest.set(self.latest.get().max(time));
        let even = (time / self.half_period).floor() as i64 % 2 == 0;
        ([if even { 1.0 } else { -1.0 }], [0.0])
    }

    fn rates<T: Real>(&self, forcing: &[T; 1], y: &[T; 1], rate: &mut [T; 1], _integrand: &mut [T; 0]) {
        rate[0] = (forcing[0] - y[0]) * (1.0 / Self::LAG);
    }

    fn longest_step(&self, _time: f64) -> f64 {
        self.half_period
    }

    fn accepted(&mut self, step: &Step<'_, 1, 0>) -> Then {
        if step.to >= self.stop_after { Then::Stop } else { Then::Continue }
    }
}

/// One wrong half period of forcing, even at a single stage, would be an error of size one; and the lag forgets.
#[test]
fn switching_instants_are_hit_exactly_and_never_looked_across() {
    let settings = settings(Method::Rodas5P, 1e-9);
    let mut state = State::at_start([0.0]);
    let mut counters = Counters::default();
    let mut first = None;
    let mut exact = 0.0;
    for k in 0..50 {
        let mut system = SquareWave::new(f64::INFINITY);
        // at the start of each interval the forcing must already be the new one, whatever the rounding of k/10
        let interval = Interval { from: f64::from(k) / 10.0 + 1e-15, to: f64::from(k + 1) / 10.0 };
        let step_size = StepSize::Controlled { first };
        let finish = integrate::<4, 1, 1, 0, _>(&mut system, interval, &mut state, step_size, &settings, &mut counters)
            .expect("a solvable problem");
        assert_eq!((finish.time, finish.then), (interval.to, Then::Continue));
        assert_eq!(system.earliest.get(), interval.from);
        assert!(system.latest.get() < interval.to);
        first = Some(finish.next_step);
        let level = if k % 2 == 0 { 1.0 } else { -1.0 };
        exact = level + (exact - level) * (-system.half_period / SquareWave::LAG).exp();
        assert!((state.y[0] - exact).abs() < 1e-7, "after {k}: {} against {exact}", state.y[0]);
    }
}

#[test]
fn a_system_can_stop_the_integration() {
    let mut system = SquareWave::new(0.04);
    let mut state = State::at_start([0.0]);
    let settings = settings(Method::Rodas5P, 1e-6);
    let interval = Interval { from: 0.0, to: 0.1 };
    let finish =
        integrate::<4, 1, 1, 0, _>(&mut system, interval, &mut state, CONTROLLED, &settings, &mut Counters::default())
            .expect("a solvable problem");
    assert_eq!(finish.then, Then::Stop);
    assert!(finish.time >= 0.04 && finish.time < 0.1);
    assert!((state.y[0] - (1.0 - (-finish.time / SquareWave::LAG).exp())).abs() < 1e-4);
}

#[test]
fn an_interval_that_does_not_run_forwards_is_refused() {
    for (from, to) in [(1.0, 0.0), (0.0, f64::INFINITY), (f64::NAN, 1.0)] {
        let mut state = State::at_start([1.0, 1.0, 0.0]);
        let settings = settings(Method::Rodas5P, 1e-6);
        let interval = Interval { from, to };
        let mut counters = Counters::default();
        let implicit =
            integrate::<4, 3, 0, 0, _>(&mut SlowAndFast, interval, &mut state, CONTROLLED, &settings, &mut counters);
        let explicit = integrate_explicitly(&mut SlowAndFast, interval, &mut state, &settings, &mut counters);
        assert!(matches!(implicit, Err(SolveError::BadInterval { .. })));
        assert!(matches!(explicit, Err(SolveError::BadInterval { .. })));
        assert_eq!(counters, Counters::default());
    }
}
