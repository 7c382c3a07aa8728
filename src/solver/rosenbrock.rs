//! One step of a Rosenbrock method; formulas and symbols in [`super::tableau`].

use super::factor::{Factors, Singular};
use super::interval::Clock;
use super::linearisation::Linearisation;
use super::pace::Span;
use super::settings::Counters;
use super::system::{State, System, integrands_along};
use super::tableau::Tableau;

/// The number of leaves that the linear algebra is compiled for; a system with more has them treated as core, which is never
/// wrong, only slower.
const LEAVES: usize = 7;

/// Memory of one step, kept from step to step so that nothing is allocated or cleared in between.
pub(super) struct Stepper<const S: usize, const N: usize, const K: usize, const Q: usize> {
    tableau: &'static Tableau<S>,
    clock: Clock,
    factors: Factors<N>,
    increments: [[f64; N]; S],
    /// Σ wᵢUᵢ.
    weighted_increment: [f64; N],
    /// Σ wᵢgᵢ.
    weighted_integrand: [f64; Q],
    /// Outcome of the last attempt.
    pub(super) outcome: State<N, Q>,
    /// Forcing and its slopes at the start of the step.
    pub(super) start_forcing: ([f64; K], [f64; K]),
    /// Forcing and its slopes at the end of the last attempt.
    pub(super) end_forcing: ([f64; K], [f64; K]),
}

impl<const S: usize, const N: usize, const K: usize, const Q: usize> Stepper<S, N, K, Q> {
    pub(super) fn new(tableau: &'static Tableau<S>, clock: Clock) -> Self {
        Stepper {
            tableau,
            clock,
            factors: Factors::zero(),
            increments: [[0.0; N]; S],
            weighted_increment: [0.0; N],
            weighted_integrand: [0.0; Q],
            outcome: State { y: [0.0; N], integrals: [0.0; Q] },
            start_forcing: ([0.0; K], [0.0; K]),
            end_forcing: ([0.0; K], [0.0; K]),
        }
    }

    pub(super) fn order(&self) -> u8 {
        self.tableau.order
    }

    /// Estimated error of the last attempt's state.
    #[inline]
    pub(super) fn error(&self) -> &[f64; N] {
        &self.increments[S - 1]
    }

    /// Try a step from `start`, about which `local` is the linearisation.
    #[inline]
    pub(super) fn attempt<Y: System<N, K, Q>>(
        &mut self,
        system: &Y,
        start: &State<N, Q>,
        local: &Linearisation<N, Q>,
        span: Span,
        counters: &mut Counters,
    ) -> Result<(), Singular> {
        let tableau = self.tableau;
        counters.factorisations += 1;
        let shift = 1.0 / (span.length * tableau.diagonal);
        if Y::LEAVES >= LEAVES {
            self.factors.factor_shifted::<LEAVES>(shift, &local.rate_by_state)?;
        } else {
            self.factors.factor_shifted::<0>(shift, &local.rate_by_state)?;
        }
        self.weighted_increment = [0.0; N];
        self.weighted_integrand = [0.0; Q];
        self.solve_stage(0, &local.rate, &local.integrand, local, span.length, Y::LEAVES);

        let mut argument = start.y;
        let (mut rate, mut integrand) = ([0.0; N], [0.0; Q]);
        for stage in 1..S {
            self.set_argument(stage, &start.y, &mut argument);
            if tableau.times[stage] != tableau.times[stage - 1] {
                // the last stages sit exactly on the end, whatever the rounding of from + length
                let share = tableau.times[stage];
                let time = if share == 1.0 { span.to } else { span.from + share * span.length };
                self.end_forcing = system.forcing(self.clock.inside(time));
            }
            system.rates(&self.end_forcing.0, &argument, &mut rate, &mut integrand);
            self.solve_stage(stage, &rate, &integrand, local, span.length, Y::LEAVES);
        }
        counters.evaluations += S - 1;

        self.outcome.y = argument;
        add(&mut self.outcome.y, 1.0, &self.increments[S - 1]);
        self.outcome.integrals = start.integrals;
        self.grow_integrals(system, start, span);
        Ok(())
    }

    /// y + Σ aᵢⱼUⱼ. On entry `argument` is that of the stage before.
    #[inline]
    fn set_argument(&self, stage: usize, y: &[f64; N], argument: &mut [f64; N]) {
        if stage >= self.tableau.first_continuing {
            add(argument, 1.0, &self.increments[stage - 1]);
            return;
        }
        *argument = *y;
        let row = &self.tableau.arguments[stage];
        for (factor, increment) in row.iter().zip(&self.increments).take(stage) {
            add(argument, *factor, increment);
        }
    }

    /// Find the increment of a stage from the rate at its argument, and account for it in the running integrals.
    #[inline(always)]
    fn solve_stage(
        &mut self,
        stage: usize,
        rate: &[f64; N],
        integrand: &[f64; Q],
        local: &Linearisation<N, Q>,
        length: f64,
        leaves: usize,
    ) {
        let tableau = self.tableau;
        let mut increment = [0.0; N];
        for (factor, earlier) in tableau.couplings[stage].iter().zip(&self.increments).take(stage) {
            add(&mut increment, *factor, earlier);
        }
        let per_length = 1.0 / length;
        let slope = length * tableau.time_slopes[stage];
        for i in 0..N {
            increment[i] = rate[i] + per_length * increment[i] + slope * local.rate_by_time[i];
        }
        if leaves >= LEAVES {
            self.factors.solve::<LEAVES>(&mut increment);
        } else {
            self.factors.solve::<0>(&mut increment);
        }
        let weight = tableau.weights[stage];
        add(&mut self.weighted_increment, weight, &increment);
        add(&mut self.weighted_integrand, weight, integrand);
        self.increments[stage] = increment;
    }

    /// Add h·(Σ wᵢgᵢ + h·(Σ wᵢdᵢ)·∂g/∂t + ∂g/∂y·Σ wᵢUᵢ): the derivatives are needed in this one direction only.
    #[inline]
    fn grow_integrals<Y: System<N, K, Q>>(&mut self, system: &Y, start: &State<N, Q>, span: Span) {
        let (forcing, slopes) = &self.start_forcing;
        let time_shift = span.length * self.tableau.weighted_time_slope;
        let shifts = slopes.map(|slope| time_shift * slope);
        let mut growth = integrands_along(system, forcing, &shifts, &start.y, &self.weighted_increment);
        add(&mut growth, 1.0, &self.weighted_integrand);
        add(&mut self.outcome.integrals, span.length, &growth);
    }
}

/// target += factor·source
#[inline(always)]
fn add<const L: usize>(target: &mut [f64; L], factor: f64, source: &[f64; L]) {
    for i in 0..L {
        target[i] += factor * source[i];
    }
}
