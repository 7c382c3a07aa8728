//! How far each step goes: the proposal, what the system and the interval allow, and what to do about a bad step.

use super::error::SolveError;
use super::interval::Interval;
use super::settings::{Settings, StepSize};
use super::step_size::{Controller, Misfit, STRONGEST_GROWTH, first_guess};

/// A last step may exceed the proposal by this factor rather than leave a sliver for one more.
const STRETCH: f64 = 1.0001;
/// A step of fewer units in the last place of the time no longer moves it reliably.
const SMALLEST_STEP_IN_ULPS: f64 = 4.0;

/// A step to be tried.
#[derive(Clone, Copy, Debug)]
pub(super) struct Span {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) length: f64,
}

/// What is to be thought of a tried step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Judgement {
    /// Good enough.
    Good { error: f64 },
    /// The error is larger than allowed.
    TooCoarse(Misfit),
    /// Not a solution at all.
    NotFinite { component: usize },
    /// The equations of the stages have no solution.
    Singular,
}

/// Step sizes along one interval.
#[derive(Clone, Debug)]
pub(super) struct Pace {
    /// Next step if nothing shortens it.
    pub(super) proposal: f64,
    controller: Option<Controller>,
}

impl Pace {
    pub(super) fn new<const N: usize>(
        error_order: u8,
        step_size: StepSize,
        settings: &Settings<N>,
        interval: Interval,
        y: &[f64; N],
        rate: &[f64; N],
    ) -> Self {
        let length = interval.to - interval.from;
        let (proposal, controller) = match step_size {
            StepSize::Fixed(longest) => (length / (length / longest - 1e-9).ceil().max(1.0), None),
            StepSize::Controlled { first } => {
                let guess = || first_guess(y, rate, settings, length);
                let first = first.filter(|step| *step > 0.0).unwrap_or_else(guess);
                (first, Some(Controller::new(error_order)))
            }
        };
        Pace { proposal, controller }
    }

    /// As far as the system and the interval allow.
    pub(super) fn unbounded() -> Self {
        Pace { proposal: f64::INFINITY, controller: None }
    }

    /// Whether errors decide about steps.
    pub(super) fn is_controlled(&self) -> bool {
        self.controller.is_some()
    }

    /// The step to try from `time`.
    pub(super) fn next_span(&self, time: f64, end: f64, longest: f64) -> Result<Span, SolveError> {
        let smallest = smallest_step(time);
        let remaining = end - time;
        let step = self.proposal.min(longest);
        if remaining <= longest && (remaining <= step * STRETCH || remaining <= 2.0 * smallest) {
            return Ok(Span { from: time, to: end, length: remaining });
        }
        if longest.is_nan() || longest <= smallest {
            return Err(SolveError::NoStepAllowed { time, longest });
        }
        // two equal last steps rather than a full one and a sliver
        let to = time + if remaining < 2.0 * step { 0.5 * remaining } else { step.max(smallest) };
        Ok(Span { from: time, to, length: to - time })
    }

    /// Note an accepted step.
    pub(super) fn accept(&mut self, span: Span, error: f64) {
        if let Some(controller) = &mut self.controller {
            let next = controller.accept(span.length, error);
            // at the limit of growth, the error of a step that was cut short says nothing against the earlier proposal
            let limited = next >= STRONGEST_GROWTH * span.length;
            self.proposal = if limited { next.max(self.proposal) } else { next };
        }
    }

    /// Note a rejected step, unless it is the last straw.
    pub(super) fn reject(&mut self, span: Span, judgement: Judgement) -> Result<(), SolveError> {
        let time = span.from;
        let error = match judgement {
            Judgement::Good { .. } => return Ok(()),
            Judgement::TooCoarse(Misfit { component, .. }) => SolveError::StepUnderflow { time, component },
            Judgement::NotFinite { component } => SolveError::NotFinite { time, component },
            Judgement::Singular => SolveError::Singular { time },
        };
        let Some(controller) = &mut self.controller else {
            return Err(error);
        };
        let next = match judgement {
            Judgement::TooCoarse(misfit) => controller.reject(span.length, misfit.error),
            _ => controller.reject_hopeless(span.length),
        };
        self.proposal = next;
        if next <= smallest_step(time) { Err(error) } else { Ok(()) }
    }
}

/// The smallest step that still moves `time`; beyond any use, but not zero, where time itself is zero.
fn smallest_step(time: f64) -> f64 {
    SMALLEST_STEP_IN_ULPS * f64::EPSILON * time.abs().max(f64::MIN_POSITIVE / f64::EPSILON)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fixed(proposal: f64) -> Pace {
        Pace { proposal, controller: None }
    }

    #[test]
    fn the_last_step_ends_exactly_and_leaves_no_sliver() {
        let pace = fixed(0.1);
        let span = |time| pace.next_span(time, 1.0, f64::INFINITY).expect("room for a step");
        assert_eq!(span(0.5).to, 0.6);
        // a remainder of one and a half steps is halved, one of a step and a hair is taken whole
        assert!((span(0.85).length - 0.075).abs() < 1e-15);
        assert_eq!(span(0.9 - 1e-6).to, 1.0);
        assert_eq!(span(1.0_f64.next_down()).to, 1.0);
    }

    #[test]
    fn the_longest_step_is_never_exceeded() {
        let pace = fixed(1.0);
        // here taking the remainder whole would exceed the bound by a hair
        let span = pace.next_span(0.0, 0.1000001, 0.1).expect("room for a step");
        assert!((span.length - 0.05000005).abs() < 1e-15);
        assert_eq!(pace.next_span(0.0, 0.1, 0.1).map(|span| span.to), Ok(0.1));
    }

    #[test]
    fn a_system_that_allows_no_step_is_refused() {
        for longest in [0.0, -1.0, 1e-17, f64::NAN] {
            let refused = fixed(1.0).next_span(0.5, 1.0, longest);
            assert!(matches!(refused, Err(SolveError::NoStepAllowed { time: 0.5, .. })), "{longest}");
        }
    }

    #[test]
    fn a_step_cut_short_does_not_lower_the_proposal_unless_its_error_does() {
        let short = Span { from: 0.0, to: 1e-3, length: 1e-3 };
        let mut pace = Pace { proposal: 1.0, controller: Some(Controller::new(5)) };
        pace.accept(short, 1e-9);
        assert_eq!(pace.proposal, 1.0);
        pace.accept(short, 1.0);
        assert!(pace.proposal < 1e-3);
    }
}
