//! The program as a user meets it, and as a machine ends it.

#![allow(clippy::disallowed_methods, reason = "references may be computed by the system's own functions")]

mod commands;
#[path = "../demo/mod.rs"]
mod demo;
mod faults;
#[path = "../program/mod.rs"]
mod program;
mod readme;
mod stability_command;
#[cfg(unix)]
mod stopped;
#[cfg(unix)]
mod streams;
