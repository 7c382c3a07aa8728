//! Why does a solenoid valve hum, chatter or bang? First-principles simulation of a pilot-operated valve between its lines.
//!
//! ```text
//!  scenario file ─ units (the one door) ─► Scenario ─► Installation ─► simulate ─► Trace
//!                                           what        physics         + solver      │
//!                                                                                     ▼
//!                    CSV, figures, JSON ◄─ StabilityMap ◄─ study ◄─ Verdict ◄─ Indicators
//!                        output                                      meaning    numbers
//! ```
//!
//! Everything runs one way. Physics knows no files and no solver; the solver knows no valve; outputs compute nothing
//! (`tests/house/architecture.rs` holds the table of imports).
//!
//! Reading order: this page; [`physics`] with its cross-section and assumptions; [`physics::installation`], all balances on
//! one page; [`simulate`]; [`indicator`]; [`verdict`]; [`study`]. How far off all this may be: [`validation`].
//!
//! ```
//! use quietseat::scenario::Document;
//! use quietseat::study::examine::examine;
//!
//! let document = Document::open("scenarios/air-low-differential.toml").expect("a readable file");
//! let (scenario, _remarks) = document.scenario().expect("a sound scenario");
//! let examined = examine(&scenario).expect("a run whose ledger closes");
//! for finding in &examined.verdict.findings {
//!     println!("{}: {}", finding.behaviour.words(), finding.reason);
//! }
//! assert!(examined.record.residue() < 1e-4);
//! ```

#![cfg_attr(not(test), deny(clippy::print_stdout, clippy::print_stderr))]

pub mod dual;
pub mod file;
pub mod fluid;
pub mod indicator;
pub mod key;
pub mod output;
mod parallel;
pub mod physics;
pub mod pipe;
pub mod portable;
pub mod quote;
pub mod scenario;
pub mod simulate;
pub mod solver;
pub mod stability;
pub mod study;
pub mod trace;
pub mod units;
#[cfg(feature = "book")]
pub mod validation;
pub mod verdict;
