//! From a scenario to a trace: the only place that sees both physics and solver.

pub mod coil_heat;
pub mod contact;
pub mod coupling;
mod record;
pub mod recorder;
mod refusal;
mod run;
mod run_error;
pub mod running;
pub mod settling;
pub mod start;
mod surroundings;
mod swing;
pub mod throttle;

pub use record::{ALLOWED_RESIDUE, Record, allowed_residue};
pub use run::{CROSS_CHECK_LEAK_SHARE, Integrator, Phases, simulate, simulate_from};
pub use run_error::RunError;
pub use start::install;
pub use surroundings::{surroundings, transits};
