//! Integration of stiff ordinary differential equations with switching instants and delays.
//!
//! Nothing here knows what is being simulated. A [`System`] states its equations once, generically over the kind of
//! number; the solver evaluates that one text with plain numbers for values and with dual numbers for exact Jacobians.
//! Running integrals (the entries of a ledger) are carried along by the stages of the method at almost no cost, since
//! they do not feed back into the state.
//!
//! * Switching: the caller integrates from one switching instant to the next; [`integrate()`] ends exactly on the second
//!   and never asks for the forcing there, where it belongs to the next interval.
//! * Delays: the system keeps its own history, fed by [`System::accepted`], and bounds the step through
//!   [`System::longest_step`] so that no stage looks beyond what is recorded.
//!
//! Reading order: `system` (the contract); `settings`; [`tableau`] (the methods); `rosenbrock` (one step); [`factor`] (the linear algebra of a
//! step); `step_size` (error norm and controller); `pace` (how far each step goes); `integrate` (the loop);
//! [`interpolant`] (between the ends of a step); [`explicit`] (an independent method for cross-checks).

pub mod error;
pub mod explicit;
pub mod factor;
mod finite;
mod integrate;
pub mod interpolant;
mod interval;
pub mod linearisation;
mod pace;
mod rosenbrock;
mod settings;
mod step_size;
mod system;
pub mod tableau;

pub use error::SolveError;
pub use integrate::integrate;
pub use interval::Interval;
pub use linearisation::{Coupling, Linearisation};
pub use settings::{Counters, Finish, Method, Settings, StepSize};
pub use system::{State, Step, System, Then};
