//! The output door: figures, tables, texts and documents, from invented data.

#![allow(clippy::disallowed_methods, reason = "references may be computed by the system's own functions")]

mod documents;
mod figures;
mod synthetic_map;
mod synthetic_trace;
