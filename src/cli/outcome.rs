//! How a command ends.

use super::arguments::Strict;
use std::fmt;

/// Why a command could not be done.
pub(crate) struct Failure(pub(crate) String);

impl<E: fmt::Display> From<E> for Failure {
    fn from(error: E) -> Self {
        Failure(error.to_string())
    }
}

/// What a finished command tells the shell.
pub(crate) enum Outcome {
    /// The work is done.
    Done,
    /// The work is done, and a script is to hear of its result: a broken tolerance, or an adverse verdict under `--strict`.
    Adverse,
}

impl Outcome {
    /// That of a verdict: a fault of the valve is no fault of the program, so that only scripts that ask for it hear of it.
    pub(crate) fn of_verdict(adverse: bool, asked: &Strict) -> Outcome {
        if adverse && asked.strict { Outcome::Adverse } else { Outcome::Done }
    }
}
