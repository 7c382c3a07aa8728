//! The house itself: its plan, what it is built from, what checks it, and what its texts promise.

#![allow(clippy::disallowed_methods, reason = "references may be computed by the system's own functions")]

mod architecture;
mod circles;
#[cfg(unix)]
mod continuous_integration;
mod dependencies;
mod links;
mod tokens;
