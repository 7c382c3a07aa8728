//! How an integration is asked for, and how it went.

use super::system::Then;

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
