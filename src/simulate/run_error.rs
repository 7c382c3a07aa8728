//! Why a run gives no result.

use crate::solver::SolveError;
use std::fmt;

/// Why a run gave no result.
#[derive(Clone, Debug, PartialEq)]
pub enum RunError {
    /// The integration failed.
    Solve {
        /// Name of the state that failed, where one is to blame.
        state: &'static str,
        /// Cause.
        cause: SolveError,
    },
    /// The ledger does not close.
    Ledger {
        /// Which balance.
        name: &'static str,
        /// Relative residue.
        residue: f64,
        /// Allowed residue.
        allowed: f64,
    },
    /// The scenario cannot be run, with the reason and the remedy.
    Impossible(String),
    /// The liquid would boil before the valve, in it or behind it, which is not computed; with the place and the remedy.
    WouldBoil(String),
}

impl fmt::Display for RunError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RunError::Solve { state: "", cause } => write!(f, "the integration failed: {cause}"),
            RunError::Solve { state, cause } => write!(f, "the integration failed at {state}: {cause}"),
            RunError::Ledger { name, residue, allowed } => write!(
                f,
                "the balance of {name} does not close: residue {residue:.1e} of the larger side, allowed {allowed:.1e}; \
                 lower run.tolerance"
            ),
            RunError::Impossible(reason) | RunError::WouldBoil(reason) => f.write_str(reason),
        }
    }
}

impl std::error::Error for RunError {}
