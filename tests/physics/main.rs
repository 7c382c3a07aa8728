//! Physics and the methods that solve it: balances, limits, trends, small motions, and the validation book.

#![allow(clippy::disallowed_methods, reason = "references may be computed by the system's own functions")]

mod baseline;
mod chamber;
mod coil_bench;
mod coil_heat;
mod coil_runs;
mod coil_supply;
mod convergence;
#[path = "../demo/mod.rs"]
mod demo;
mod direct;
mod direct_ledger;
mod faults;
mod flow;
mod forced_ledger;
mod forced_lift;
mod forced_trade;
mod ledger;
mod lift_off;
mod linearisation;
mod normally_open;
mod normally_open_ledger;
mod piston_leak;
#[path = "../program/mod.rs"]
mod program;
mod real_gas;
mod regimes;
mod seat_gas_flow;
mod section;
mod soft_closing;
mod soft_ledger;
mod solver_contract;
mod solver_problems;
mod stability;
mod stuck_piston;
mod validation;
mod valve_trends;
mod vented_pilot;
mod wall_layer;
