//! How hot a coil gets: winding and valve body as two stores of heat between the ambient air and the medium.
//!
//! ```text
//!            R_wb            R_ba
//!  winding ───────── body ───────── ambient
//!    C_w              C_b │ R_bm
//!    i²·R(T_w)            └──────── medium         heat of ring and eddies goes into the body
//! ```
//!
//! Nothing here needs a solver: over a step the heat is a straight line of the winding's temperature, for which two stores
//! have a closed form.

mod cycle;
mod held_heat;
mod network;

pub use cycle::{CoilCycle, DutyHeat, Eased};
pub use held_heat::{Heat, HeldHeat, HeldPoint};
pub use network::{CoilState, Passed, ThermalNetwork};
