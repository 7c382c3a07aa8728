//! Error norm and step size controller.
//!
//! The controller is the predictive one of K. Gustafsson, "Control-theoretic techniques for stepsize selection in implicit
//! Runge–Kutta methods", ACM Transactions on Mathematical Software 20 (1994) 496-517, in the form that Hairer and Wanner
//! use it (section IV.8 of "Solving Ordinary Differential Equations II"); both cited from memory.

use super::settings::Settings;
use crate::portable::Portable;

/// Aim below the tolerance, so that small misjudgements do not cost a rejection; common practice.
const SAFETY: f64 = 0.9;
/// Strongest growth of a step: the estimate says little about steps far longer than the one just made.
pub(super) const STRONGEST_GROWTH: f64 = 6.0;
/// Strongest reduction of a step: after a rejection the error may be far from its asymptotic law.
const STRONGEST_REDUCTION: f64 = 0.2;
/// Errors below this fraction of the tolerance are remembered as this: the trend of vanishing errors is noise.
const SMALLEST_REMEMBERED_ERROR: f64 = 1e-2;
/// Keeps the power of a vanishing error away from zero.
const SMALLEST_ERROR: f64 = 1e-10;

/// Largest error relative to what is allowed, and the state it belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Misfit {
    pub(super) error: f64,
    pub(super) component: usize,
}

/// The largest ratio of error to tolerance over the states. The maximum, not a mean, so that adding quiet states to a
/// system never loosens the control of the others. Needs finite arguments.
#[inline]
pub(super) fn misfit<const N: usize>(
    error: &[f64; N],
    old: &[f64; N],
    new: &[f64; N],
    relative: f64,
    absolute: &[f64; N],
) -> Misfit {
    let ratios: [f64; N] = std::array::from_fn(|i| {
        let allowed = absolute[i] + relative * old[i].abs().max(new[i].abs());
        // a state that rests at zero without absolute tolerance has no error and no tolerance
        error[i].abs() / allowed.max(f64::MIN_POSITIVE)
    });
    let mut worst = Misfit { error: 0.0, component: 0 };
    for (component, &error) in ratios.iter().enumerate() {
        if error > worst.error {
            worst = Misfit { error, component };
        }
    }
    worst
}

/// Proposes the next step from the errors of the last two.
#[derive(Clone, Debug)]
pub(super) struct Controller {
    /// Order of the error per step in the step size.
    error_order: f64,
    previous: Option<Record>,
    after_rejection: bool,
}

#[derive(Clone, Copy, Debug)]
struct Record {
    step: f64,
    error: f64,
}

impl Controller {
    /// A controller for a method whose local error estimate varies as step^`error_order`.
    pub(super) fn new(error_order: u8) -> Self {
        Controller { error_order: f64::from(error_order), previous: None, after_rejection: false }
    }

    /// Next step after `step` was accepted with `error` ≤ 1.
    pub(super) fn accept(&mut self, step: f64, error: f64) -> f64 {
        let error = error.max(SMALLEST_ERROR);
        let mut factor = self.factor(error);
        if let Some(previous) = self.previous {
            // the trend of the error, carried on for one more step
            let predicted = error * error / previous.error;
            factor = factor.min(step / previous.step * self.factor(predicted));
        }
        factor = bounded(factor);
        self.previous = Some(Record { step, error: error.max(SMALLEST_REMEMBERED_ERROR) });
        if self.after_rejection {
            factor = factor.min(1.0);
        }
        self.after_rejection = false;
        step * factor
    }

    /// Next step after `step` was rejected with `error` > 1.
    pub(super) fn reject(&mut self, step: f64, error: f64) -> f64 {
        self.after_rejection = true;
        step * bounded(self.factor(error))
    }

    /// Next step after `step` gave no solution at all, so that nothing is known about its error.
    pub(super) fn reject_hopeless(&mut self, step: f64) -> f64 {
        self.after_rejection = true;
        step * STRONGEST_REDUCTION
    }

    /// Factor that would bring `error` to just below the tolerance.
    fn factor(&self, error: f64) -> f64 {
        SAFETY * error.power(-1.0 / self.error_order)
    }
}

fn bounded(factor: f64) -> f64 {
    factor.clamp(STRONGEST_REDUCTION, STRONGEST_GROWTH)
}

/// First proposal from the size of the state and of its rate: a step over which the state would change by a hundredth
/// (the first half of the starting rule in E. Hairer, S. P. Nørsett, G. Wanner, "Solving Ordinary Differential Equations
/// I", section II.4; the second half, which evaluates a trial step, is not worth its evaluation for a method that may grow
/// sixfold per step).
pub(super) fn first_guess<const N: usize>(y: &[f64; N], rate: &[f64; N], settings: &Settings<N>, length: f64) -> f64 {
    const CHANGE: f64 = 0.01;
    /// Share of the interval to start with when a state at rest or at zero gives no hint.
    const BLIND_SHARE: f64 = 1e-6;
    let (relative, absolute) = (settings.relative_tolerance, &settings.absolute_tolerance);
    let size = misfit(y, y, y, relative, absolute).error;
    let speed = misfit(rate, y, y, relative, absolute).error;
    let hint = CHANGE * size / speed;
    if size > 1e-5 && speed > 1e-5 && hint.is_normal() { hint.min(length) } else { BLIND_SHARE * length }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn misfit_is_the_largest_ratio_and_infinite_tolerance_switches_off() {
        let found = misfit(&[1e-3, -4e-3, 9.0], &[0.0, 1.0, 0.0], &[1.0, 2.0, 0.0], 1e-3, &[1e-3, 0.0, f64::INFINITY]);
        assert_eq!(found, Misfit { error: 2.0, component: 1 });
    }

    #[test]
    fn a_state_at_rest_at_zero_without_absolute_tolerance_has_no_misfit() {
        assert_eq!(misfit(&[0.0], &[0.0], &[0.0], 1e-6, &[0.0]).error, 0.0);
    }

    /// An error of exactly the tolerance, steadily: only the safety factor acts.
    #[test]
    fn steady_error_at_the_tolerance_shrinks_by_the_safety_factor() {
        let mut controller = Controller::new(5);
        assert!((controller.accept(1.0, 1.0) - SAFETY).abs() < 1e-15);
        assert!((controller.accept(1.0, 1.0) - SAFETY).abs() < 1e-15);
    }

    #[test]
    fn growth_and_reduction_are_limited_and_no_growth_follows_a_rejection() {
        let mut controller = Controller::new(4);
        assert_eq!(controller.accept(1.0, 0.0), STRONGEST_GROWTH);
        assert_eq!(controller.reject(1.0, 1e30), STRONGEST_REDUCTION);
        assert_eq!(controller.accept(1.0, 0.0), 1.0);
        assert!(controller.accept(1.0, 0.0) > 1.0);
    }

    /// Tenfold growth of the error from step to step is carried on: error²/previous = 10 where the error itself is 1.
    #[test]
    fn a_rising_error_is_anticipated() {
        let mut controller = Controller::new(5);
        controller.accept(1.0, 0.1);
        assert!((controller.accept(1.0, 1.0) - SAFETY * 10.0_f64.power(-0.2)).abs() < 1e-15);
    }
}
