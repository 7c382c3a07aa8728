//! Ways an integration can fail.

use std::fmt;

/// Why an integration could not be finished. Components are numbered states first, then running integrals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SolveError {
    /// The interval does not run forwards between finite times.
    BadInterval {
        /// Start asked for.
        from: f64,
        /// End asked for.
        to: f64,
    },
    /// The equations gave no finite value, and no shorter step can avoid it.
    NotFinite {
        /// Time of the step's start.
        time: f64,
        /// First component concerned.
        component: usize,
    },
    /// The tolerance could not be met with any step that still moves time forwards.
    StepUnderflow {
        /// Time of the step's start.
        time: f64,
        /// Component with the largest error.
        component: usize,
    },
    /// The equations of a step have no solution, however short it is.
    Singular {
        /// Time of the step's start.
        time: f64,
    },
    /// The explicit method found no step that meets the tolerance and still moves time forwards.
    ExplicitStepUnderflow {
        /// Time reached.
        time: f64,
    },
    /// The system allowed no step.
    NoStepAllowed {
        /// Time of the step's start.
        time: f64,
        /// Step allowed by the system.
        longest: f64,
    },
    /// The budget of steps is spent.
    TooManySteps {
        /// Time reached.
        time: f64,
        /// The budget.
        most: usize,
    },
}

impl fmt::Display for SolveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SolveError::BadInterval { from, to } => write!(f, "cannot integrate from t = {from} s to t = {to} s"),
            SolveError::NotFinite { time, component } => {
                write!(f, "component {component} is not finite after t = {time} s")
            }
            SolveError::StepUnderflow { time, component } => {
                write!(f, "no step is short enough at t = {time} s, because of component {component}")
            }
            SolveError::Singular { time } => write!(f, "the equations of a step have no solution at t = {time} s"),
            SolveError::ExplicitStepUnderflow { time } => {
                write!(f, "no step of the explicit method is short enough at t = {time} s")
            }
            SolveError::NoStepAllowed { time, longest } => {
                write!(f, "the system allows a step of only {longest} s at t = {time} s")
            }
            SolveError::TooManySteps { time, most } => write!(f, "more than {most} steps, at t = {time} s"),
        }
    }
}

impl std::error::Error for SolveError {}
