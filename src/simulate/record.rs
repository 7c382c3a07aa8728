//! What a run leaves behind, and how far its ledger may be open.

use crate::physics::installation::Installation;
use crate::physics::ledger::Balance;
use crate::solver::Counters;
use crate::trace::Trace;

/// A finished run.
#[derive(Clone, Debug)]
pub struct Record {
    /// Trace.
    pub trace: Trace,
    /// Balances of mass and energy over the run.
    pub balances: Vec<Balance>,
    /// Effort.
    pub counters: Counters,
    /// Winding temperature, K.
    pub coil_temperature: f64,
    /// Since when the last phase asked to be open was at rest, if it came to rest.
    pub open_still_since: Option<f64>,
    /// The same for the last one asked to be shut.
    pub shut_still_since: Option<f64>,
    /// The installation that was run.
    pub installation: Installation,
    /// Tolerance at which it was integrated: the scenario's, or a tenth or a hundredth of it where the ledger asked for that.
    pub tolerance: f64,
    /// Simulated time, s.
    pub duration: f64,
}

impl Record {
    /// Largest relative residue of the balances.
    pub fn residue(&self) -> f64 {
        self.balances.iter().map(Balance::relative).fold(0.0, f64::max)
    }
}

/// Residue allowed at a tolerance: [`ALLOWED_RESIDUE`] up to the default one, in proportion at coarser ones.
pub fn allowed_residue(tolerance: f64) -> f64 {
    ALLOWED_RESIDUE * (tolerance / 1e-5).max(1.0)
}

/// Residue of the ledger up to which a run is shown, relative to the larger side. At the default tolerance usual runs stay
/// a hundred times below.
pub const ALLOWED_RESIDUE: f64 = 1e-4;
