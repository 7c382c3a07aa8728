//! The loop over steps from one switching instant to the next.

use super::error::SolveError;
use super::finite::first_not_finite;
use super::interval::Interval;
use super::linearisation::Linearisation;
use super::pace::{Judgement, Pace, Span};
use super::rosenbrock::Stepper;
use super::settings::{Counters, Finish, Method, Settings, StepSize};
use super::step_size::misfit;
use super::system::{State, Step, System, Then};
use super::tableau::{RODAS, RODAS5P, Tableau};

/// Integrate `system` over `interval` from `state`, which is moved to the last accepted step even if an error follows.
///
/// The error control looks at the states alone: running integrals take whatever steps the states need.
///
/// `P` is the number of lanes of the dual numbers: more than `N`, best a multiple of four.
pub fn integrate<const P: usize, const N: usize, const K: usize, const Q: usize, Y: System<N, K, Q>>(
    system: &mut Y,
    interval: Interval,
    state: &mut State<N, Q>,
    step_size: StepSize,
    settings: &Settings<N>,
    counters: &mut Counters,
) -> Result<Finish, SolveError> {
    interval.check()?;
    match settings.method {
        Method::Rodas5P => {
            Run::<8, N, K, Q, Y>::new(&RODAS5P, system, interval, state, settings, counters).run::<P>(step_size)
        }
        Method::Rodas => {
            Run::<6, N, K, Q, Y>::new(&RODAS, system, interval, state, settings, counters).run::<P>(step_size)
        }
    }
}

/// One integration in progress.
struct Run<'a, const S: usize, const N: usize, const K: usize, const Q: usize, Y> {
    system: &'a mut Y,
    interval: Interval,
    state: &'a mut State<N, Q>,
    settings: &'a Settings<N>,
    counters: &'a mut Counters,
    stepper: Stepper<S, N, K, Q>,
    /// About the start of the step being tried; kept through rejections.
    here: Box<Linearisation<N, Q>>,
    /// About its end.
    ahead: Box<Linearisation<N, Q>>,
}

impl<'a, const S: usize, const N: usize, const K: usize, const Q: usize, Y: System<N, K, Q>> Run<'a, S, N, K, Q, Y> {
    fn new(
        tableau: &'static Tableau<S>,
        system: &'a mut Y,
        interval: Interval,
        state: &'a mut State<N, Q>,
        settings: &'a Settings<N>,
        counters: &'a mut Counters,
    ) -> Self {
        Run {
            system,
            interval,
            state,
            settings,
            counters,
            stepper: Stepper::new(tableau, interval.clock()),
            here: Box::new(Linearisation::zero()),
            ahead: Box::new(Linearisation::zero()),
        }
    }

    fn run<const P: usize>(mut self, step_size: StepSize) -> Result<Finish, SolveError> {
        let mut time = self.interval.from;
        self.linearise_start::<P>()?;
        let mut pace = self.pace(step_size);
        let mut attempts = 0;
        while time < self.interval.to {
            if attempts == self.settings.most_steps {
                return Err(SolveError::TooManySteps { time, most: attempts });
            }
            attempts += 1;
            let span = pace.next_span(time, self.interval.to, self.system.longest_step(time))?;
            match self.attempt::<P>(span, pace.is_controlled()) {
                Judgement::Good { error } => pace.accept(span, error),
                bad => {
                    self.counters.rejected += 1;
                    pace.reject(span, bad)?;
                    continue;
                }
            }
            time = span.to;
            if self.keep(span) == Then::Stop {
                return Ok(Finish { time, next_step: pace.proposal, then: Then::Stop });
            }
        }
        Ok(Finish { time, next_step: pace.proposal, then: Then::Continue })
    }

    fn pace(&self, step_size: StepSize) -> Pace {
        let order = self.stepper.order();
        Pace::new(order, step_size, self.settings, self.interval, &self.state.y, &self.here.rate)
    }

    fn linearise_start<const P: usize>(&mut self) -> Result<(), SolveError> {
        let time = self.interval.from;
        let (forcing, slopes) = self.system.forcing(time);
        self.system.linearise::<P>(&forcing, &slopes, &self.state.y, &mut self.here);
        self.stepper.start_forcing = (forcing, slopes);
        self.counters.jacobians += 1;
        match first_not_finite(&self.here.rate) {
            Some(component) => Err(SolveError::NotFinite { time, component }),
            None => Ok(()),
        }
    }

    /// Try a step; the system's history is not touched.
    #[inline]
    fn attempt<const P: usize>(&mut self, span: Span, controlled: bool) -> Judgement {
        if self.stepper.attempt(self.system, self.state, &self.here, span, self.counters).is_err() {
            return Judgement::Singular;
        }
        let outcome = &self.stepper.outcome;
        if let Some(component) = outcome.first_not_finite().or(first_not_finite(self.stepper.error())) {
            return Judgement::NotFinite { component };
        }
        let Settings { relative_tolerance, absolute_tolerance, .. } = self.settings;
        let misfit = misfit(self.stepper.error(), &self.state.y, &outcome.y, *relative_tolerance, absolute_tolerance);
        if controlled && misfit.error > 1.0 {
            return Judgement::TooCoarse(misfit);
        }
        self.look_ahead::<P>(span);
        match first_not_finite(&self.ahead.rate) {
            Some(component) => Judgement::NotFinite { component },
            None => Judgement::Good { error: misfit.error },
        }
    }

    /// Rates at the end of the step, together with what the next step needs, unless the forcing switches there.
    #[inline]
    fn look_ahead<const P: usize>(&mut self, span: Span) {
        let (forcing, slopes) = &self.stepper.end_forcing;
        let y = &self.stepper.outcome.y;
        if span.to < self.interval.to {
            self.system.linearise::<P>(forcing, slopes, y, &mut self.ahead);
            self.counters.jacobians += 1;
        } else {
            self.system.rates(forcing, y, &mut self.ahead.rate, &mut self.ahead.integrand);
            self.counters.evaluations += 1;
        }
    }

    /// Make the step just tried the present state and report it.
    #[inline]
    fn keep(&mut self, span: Span) -> Then {
        self.counters.accepted += 1;
        let outcome = &self.stepper.outcome;
        let then = self.system.accepted(&Step {
            from: span.from,
            to: span.to,
            old_y: &self.state.y,
            new_y: &outcome.y,
            old_rates: &self.here.rate,
            new_rates: &self.ahead.rate,
            old_integrals: &self.state.integrals,
            new_integrals: &outcome.integrals,
        });
        *self.state = *outcome;
        self.stepper.start_forcing = self.stepper.end_forcing;
        std::mem::swap(&mut self.here, &mut self.ahead);
        then
    }
}
