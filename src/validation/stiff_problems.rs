//! Stiff problems of the literature: equations, starts and accuracies.

use crate::dual::Real;
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// A problem whose rates do not depend on time.
pub trait Autonomous<const N: usize> {
    /// State at zero.
    const START: [f64; N];
    /// Error allowed per step beside the relative one, over the relative tolerance.
    const ABSOLUTE_SHARE: f64;
    /// dy/dt.
    fn rates<T: Real>(y: &[T; N]) -> [T; N];
}

/// Robertson's chemical reaction:
/// y₁' = −0.04·y₁ + 10⁴·y₂y₃, y₂' = 0.04·y₁ − 10⁴·y₂y₃ − 3·10⁷·y₂², y₃' = 3·10⁷·y₂².
#[derive(Default)]
pub struct Robertson;

impl Autonomous<3> for Robertson {
    const START: [f64; 3] = [1.0, 0.0, 0.0];
    /// The second state falls to 1e-13 and has to be right to six digits.
    const ABSOLUTE_SHARE: f64 = 1e-13;
    fn rates<T: Real>(y: &[T; 3]) -> [T; 3] {
        let [slow, fast, fastest] = [y[0] * 0.04, y[1] * y[2] * 1e4, y[1].square() * 3e7];
        [fast - slow, slow - fast - fastest, fastest]
    }
}

/// Van der Pol's oscillator in its own slow time, ε = 10⁻⁶: y₁' = y₂, y₂' = ((1 − y₁²)·y₂ − y₁)/ε.
#[derive(Default)]
pub struct VanDerPol;

impl Autonomous<2> for VanDerPol {
    const START: [f64; 2] = [2.0, 0.0];
    const ABSOLUTE_SHARE: f64 = 1.0;
    fn rates<T: Real>(y: &[T; 2]) -> [T; 2] {
        let damping = -y[0].square() + 1.0;
        [y[1], (damping * y[1] - y[0]) * 1e6]
    }
}

/// The same in unscaled time, μ = 1000: y₁' = y₂, y₂' = μ·(1 − y₁²)·y₂ − y₁.
#[derive(Default)]
pub struct UnscaledVanDerPol;

impl Autonomous<2> for UnscaledVanDerPol {
    const START: [f64; 2] = [2.0, 0.0];
    const ABSOLUTE_SHARE: f64 = 1e-3;
    fn rates<T: Real>(y: &[T; 2]) -> [T; 2] {
        let damping = -y[0].square() + 1.0;
        [y[1], damping * y[1] * 1e3 - y[0]]
    }
}

/// HIRES, eight reactants of a plant's response to light; equations in the rates below.
#[derive(Default)]
pub struct Hires;

impl Autonomous<8> for Hires {
    const START: [f64; 8] = [1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0057];
    const ABSOLUTE_SHARE: f64 = 1e-4;
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

/// OREGO, the oscillating Belousov–Zhabotinskii reaction: y₁' = 77.27·(y₂ + y₁·(1 − 8.375·10⁻⁶·y₁ − y₂)),
/// y₂' = (y₃ − (1 + y₁)·y₂)/77.27, y₃' = 0.161·(y₁ − y₃).
#[derive(Default)]
pub struct Orego;

impl Autonomous<3> for Orego {
    const START: [f64; 3] = [1.0, 2.0, 3.0];
    const ABSOLUTE_SHARE: f64 = 1.0;
    fn rates<T: Real>(y: &[T; 3]) -> [T; 3] {
        let growth = -(y[0] * 8.375e-6) - y[1] + 1.0;
        [(y[1] + y[0] * growth) * 77.27, (y[2] - (y[0] + 1.0) * y[1]) * (1.0 / 77.27), (y[0] - y[2]) * 0.161]
    }
}

/// A problem for the solver.
struct Problem<A>(std::marker::PhantomData<A>);

impl<const N: usize, A: Autonomous<N>> System<N, 0, 0> for Problem<A> {
    fn forcing(&self, _time: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }

    fn rates<T: Real>(&self, _forcing: &[T; 0], y: &[T; N], rate: &mut [T; N], _integrand: &mut [T; 0]) {
        *rate = A::rates(y);
    }

    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }

    fn accepted(&mut self, _step: &Step<'_, N, 0>) -> Then {
        Then::Continue
    }
}

/// The state at `end` by a method at a relative tolerance; `P` is the number of lanes of the dual numbers, more than `N`.
pub fn solve<const P: usize, const N: usize, A: Autonomous<N>>(
    end: f64,
    method: Method,
    tolerance: f64,
) -> Result<Vec<f64>, String> {
    let settings = Settings {
        method,
        relative_tolerance: tolerance,
        absolute_tolerance: [tolerance * A::ABSOLUTE_SHARE; N],
        most_steps: 100_000,
    };
    let mut state = State::at_start(A::START);
    let (interval, size) = (Interval { from: 0.0, to: end }, StepSize::Controlled { first: None });
    let mut problem = Problem::<A>(std::marker::PhantomData);
    integrate::<P, N, 0, 0, _>(&mut problem, interval, &mut state, size, &settings, &mut Counters::default())
        .map_err(|cause| cause.to_string())?;
    Ok(state.y.to_vec())
}
