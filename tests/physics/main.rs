//! Physics and the methods that solve it: balances, limits, trends, small motions, and the validation book.

#![allow(clippy::disallowed_methods, reason = "references may be computed by the system's own functions")]

mod baseline;
mod chamber;
mod convergence;
#[path = "../demo/mod.rs"]
mod demo;
mod direct;
mod flow;
mod ledger;
mod lift_off;
mod linearisation;
mod normally_open;
mod normally_open_ledger;
#[path = "../program/mod.rs"]
mod program;
mod real_gas;
mod regimes;
mod seat_gas_flow;
mod solver_contract;
mod solver_problems;
mod stability;
mod stuck_piston;
mod validation;
mod valve_trends;
mod wall_layer;
