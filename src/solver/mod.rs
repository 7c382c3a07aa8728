//! Integration of stiff ordinary differential equations with switching instants and delays.
//!
//! Nothing here knows what is being simulated. A [`System`] states its equations once, generically over the kind of
//! number; the solver evaluates that one text with plain numbers for values and with dual numbers for exact Jacobians.
//! Running integrals (the entries of a ledger) are carried along by the stages of the method at almost no cost, since
//! they do not feed back into the state.
//!
//! * Switching: the caller integrates from one switching instant to the next; [`integrate()`] ends exactly on the second
//!   and never asks for the forcing there, where it belongs to the next interval.
//! * Delays: the system keeps its own history, fed by [`System::accepted`], and bounds the step through
//!   [`System::longest_step`] so that no stage looks beyond what is recorded.
//!
//! Reading order: this contract; [`tableau`] (the methods); `rosenbrock` (one step); [`factor`] (the linear algebra of a
//! step); `step_size` (error norm and controller); `pace` (how far each step goes); `integrate` (the loop);
//! [`interpolant`] (between the ends of a step); [`explicit`] (an independent method for cross-checks).

pub mod error;
pub mod explicit;
pub mod factor;
mod integrate;
pub mod interpolant;
mod interval;
pub mod linearisation;
mod pace;
mod rosenbrock;
mod step_size;
pub mod tableau;

pub use error::SolveError;
pub use integrate::integrate;
pub use interval::Interval;
pub use linearisation::{Coupling, Linearisation};

use crate::dual::Real;
use interpolant::Hermite;

/// Equations of motion with `N` states, `K` known functions of time and `Q` running integrals.
pub trait System<const N: usize, const K: usize, const Q: usize> {
    /// The first so many states are *leaves*: the rate of a leaf depends on no other leaf, and falls, or at least does not
    /// rise, with the leaf itself. Then each can be eliminated by itself when the equations of a stage are solved.
    const LEAVES: usize = 0;

    /// Which state enters which rate; what is not said here may be anything.
    const COUPLING: Coupling<N> = Coupling::full();

    /// The known functions of time that enter the equations (a source voltage, an arriving wave) and their slopes.
    ///
    /// Must give the same answer for a given time before and after [`System::accepted`] of a step that ends there.
    fn forcing(&self, time: f64) -> ([f64; K], [f64; K]);

    /// dy/dt and the integrands of the running integrals.
    ///
    /// Every element of `rate` and `integrand` must be written; what they hold on entry means nothing.
    fn rates<T: Real>(&self, forcing: &[T; K], y: &[T; N], rate: &mut [T; N], integrand: &mut [T; Q]);

    /// The step that starts at `time` is not made longer than this; asked before every attempt.
    ///
    /// Two things may bound it: a delay, beyond which a stage would ask for what is not recorded yet; and the history's own
    /// accuracy, since the error of interpolation within a step is not seen by the step size control.
    fn longest_step(&self, time: f64) -> f64;

    /// Called once for each accepted step, in order of time, and never for a rejected one.
    fn accepted(&mut self, step: &Step<'_, N, Q>) -> Then;

    /// Values and exact derivatives of [`System::rates`] at one point.
    ///
    /// The provided method is one pass with dual numbers of `P` lanes, shared as [`System::COUPLING`] allows; the lane of
    /// time carries the slopes of the forcing. Override it only with something equally exact and cheaper.
    #[inline]
    fn linearise<const P: usize>(
        &self,
        forcing: &[f64; K],
        slopes: &[f64; K],
        y: &[f64; N],
        result: &mut Linearisation<N, Q>,
    ) {
        linearisation::by_dual_numbers::<P, N, K, Q, Self>(self, forcing, slopes, y, result);
    }
}

/// What to do after an accepted step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Then {
    /// Go on to the end of the interval.
    Continue,
    /// End the integration at the end of this step.
    Stop,
}

/// An accepted step, as seen by [`System::accepted`].
#[derive(Clone, Copy, Debug)]
pub struct Step<'a, const N: usize, const Q: usize> {
    /// Time at its start.
    pub from: f64,
    /// Time at its end.
    pub to: f64,
    /// State at its start.
    pub old_y: &'a [f64; N],
    /// State at its end.
    pub new_y: &'a [f64; N],
    /// dy/dt at its start.
    pub old_rates: &'a [f64; N],
    /// dy/dt at its end, approached from inside the interval of integration.
    pub new_rates: &'a [f64; N],
    /// Running integrals at its start.
    pub old_integrals: &'a [f64; Q],
    /// Running integrals at its end.
    pub new_integrals: &'a [f64; Q],
}

impl<const N: usize, const Q: usize> Step<'_, N, Q> {
    /// State number `index` between the ends of the step.
    pub fn interpolant(&self, index: usize) -> Hermite {
        Hermite {
            from: self.from,
            to: self.to,
            values: [self.old_y[index], self.new_y[index]],
            slopes: [self.old_rates[index], self.new_rates[index]],
        }
    }
}

/// What is integrated: the state and the running integrals at one time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State<const N: usize, const Q: usize> {
    /// The state proper.
    pub y: [f64; N],
    /// Running integrals so far.
    pub integrals: [f64; Q],
}

impl<const N: usize, const Q: usize> State<N, Q> {
    /// A state whose running integrals start from zero.
    pub fn at_start(y: [f64; N]) -> Self {
        State { y, integrals: [0.0; Q] }
    }

    /// Number of the first state or running integral that is not finite, states first.
    #[inline]
    fn first_not_finite(&self) -> Option<usize> {
        let state = step_size::first_not_finite(&self.y);
        state.or_else(|| step_size::first_not_finite(&self.integrals).map(|index| N + index))
    }
}

/// Which Rosenbrock method.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Method {
    /// Order 5, eight stages.
    #[default]
    Rodas5P,
    /// Order 4, six stages.
    Rodas,
}

/// How long the steps are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StepSize {
    /// Controlled by the error estimate. The first proposal is guessed if none is given; pass on
    /// [`Finish::next_step`] to go on from one interval to the next.
    Controlled {
        /// First proposal.
        first: Option<f64>,
    },
    /// Equal steps not longer than this, whatever the error; for the measurement of orders of convergence.
    Fixed(f64),
}

/// Accuracy and effort.
#[derive(Clone, Copy, Debug)]
pub struct Settings<const N: usize> {
    /// Rosenbrock method.
    pub method: Method,
    /// Error allowed per step, relative to each state.
    pub relative_tolerance: f64,
    /// Error allowed per step beside the relative one, state by state; infinite leaves that state uncontrolled.
    pub absolute_tolerance: [f64; N],
    /// Most steps, accepted and rejected, in one call.
    pub most_steps: usize,
}

/// Effort spent; accumulates over calls.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counters {
    /// Steps kept.
    pub accepted: usize,
    /// Steps thrown away.
    pub rejected: usize,
    /// Evaluations of the equations with plain numbers.
    pub evaluations: usize,
    /// Evaluations together with their derivatives.
    pub jacobians: usize,
    /// LU factorisations.
    pub factorisations: usize,
}

/// How an integration ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finish {
    /// Time reached: the end of the interval unless the system stopped it.
    pub time: f64,
    /// Step size to go on with.
    pub next_step: f64,
    /// Whether the system asked to stop.
    pub then: Then,
}
