//! What is concluded from runs: verdicts, maps, cures, and the sentences that say so.

#![allow(clippy::disallowed_methods, reason = "references may be computed by the system's own functions")]

mod boiling;
mod closing;
mod closing_cures;
mod coil_words;
mod combined;
mod cycles;
#[path = "../demo/mod.rs"]
mod demo;
mod demonstrations;
mod digits;
mod faults;
mod heat;
mod map_cells;
mod mixed;
mod plausible;
#[path = "../program/mod.rs"]
mod program;
mod random_scenarios;
mod reference;
mod settling;
mod soft_trade;
mod stability_cures;
mod statements;
mod surge;
