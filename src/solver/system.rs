//! The contract between the solver and what it integrates.

use super::finite::first_not_finite;
use super::interpolant::Hermite;
use super::linearisation::{Coupling, Linearisation};
use crate::dual::{Dual, Real};

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
        by_dual_numbers::<P, N, K, Q, Self>(self, forcing, slopes, y, result);
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
    pub(super) fn first_not_finite(&self) -> Option<usize> {
        let state = first_not_finite(&self.y);
        state.or_else(|| first_not_finite(&self.integrals).map(|index| N + index))
    }
}

/// Linearise `system` in lanes shared as its coupling allows.
#[inline]
fn by_dual_numbers<const P: usize, const N: usize, const K: usize, const Q: usize, S>(
    system: &S,
    forcing: &[f64; K],
    slopes: &[f64; K],
    y: &[f64; N],
    result: &mut Linearisation<N, Q>,
) where
    S: System<N, K, Q> + ?Sized,
{
    const { assert!(S::COUPLING.fits(P), "too few lanes, or a lane shared by states that enter the same rate") };
    let coupling = const { &S::COUPLING };
    let states: [Dual<P>; N] = std::array::from_fn(|i| Dual::variable(y[i], coupling.lane[i]));
    let known: [Dual<P>; K] = std::array::from_fn(|i| {
        let mut function = Dual::constant(forcing[i]);
        function.slope[coupling.time_lane] = slopes[i];
        function
    });
    let mut rate = [Dual::constant(0.0); N];
    let mut integrand = [Dual::constant(0.0); Q];
    system.rates(&known, &states, &mut rate, &mut integrand);
    result.rate = rate.map(|r| r.value);
    result.integrand = integrand.map(|g| g.value);
    pick(&rate, coupling.time_lane, coupling.time_enters, &mut result.rate_by_time);
    for ((column, &lane), &enters) in result.rate_by_state.iter_mut().zip(&coupling.lane).zip(&coupling.enters) {
        pick(&rate, lane, enters, column);
    }
}

/// Take the derivatives of the rates named by `enters` out of a lane. The others stay zero, as they always were.
#[inline(always)]
fn pick<const P: usize, const N: usize>(rates: &[Dual<P>; N], lane: usize, enters: u64, column: &mut [f64; N]) {
    let mut left = enters;
    while left != 0 {
        let row = left.trailing_zeros() as usize;
        left &= left - 1;
        column[row] = rates[row].slope[lane];
    }
}

/// Derivative of the integrands in one direction: as the state moves along `direction` while the forcing moves along
/// `forcing_direction`.
#[inline]
pub(super) fn integrands_along<const N: usize, const K: usize, const Q: usize, S>(
    system: &S,
    forcing: &[f64; K],
    forcing_direction: &[f64; K],
    y: &[f64; N],
    direction: &[f64; N],
) -> [f64; Q]
where
    S: System<N, K, Q>,
{
    let along = |value: f64, slope: f64| Dual::<1> { slope: [slope], value };
    let known = std::array::from_fn(|i| along(forcing[i], forcing_direction[i]));
    let states = std::array::from_fn(|i| along(y[i], direction[i]));
    let mut rate = [Dual::constant(0.0); N];
    let mut integrand = [Dual::constant(0.0); Q];
    system.rates(&known, &states, &mut rate, &mut integrand);
    integrand.map(|g| g.slope[0])
}
