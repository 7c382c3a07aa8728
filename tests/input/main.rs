//! The input door: units, fluids, pipes and scenario files, and what is refused there.

#![allow(clippy::disallowed_methods, reason = "references may be computed by the system's own functions")]

mod absurd_values;
#[path = "../demo/mod.rs"]
mod demo;
mod fluid_tables;
mod fluids;
mod foreign_files;
mod line_walls;
mod named_fluids;
mod one_pressure;
mod pipes;
#[path = "../program/mod.rs"]
mod program;
mod replaced;
mod scenario_errors;
mod scenarios;
mod soft_parts;
mod solutions;
mod units;
mod valve_kinds;
