//! The answer as one JSON document, the same for a run, a map, a closing study and a check.
//!
//! ```text
//! program, version     who answered
//! command              "run", "map", "closing", "stability", "faults" or "check"
//! scenario, question, data, overrides
//! inputs[]             { path, si, us, typed }: every input echoed, as text with its unit
//! remarks[]            sentences on inputs that are odd
//! indicators[]         { name, value, unit, us_value, us_unit, definition, firm }; value null where the run did not show it
//! verdict              { adverse, findings[]: { behaviour, words, adverse, margin, reason }, not_judged[], no_hammer }; null
//!                      for a map and a check
//! map                  axes and cells; null for a run and a check
//! stability            equilibria, modes, boundaries, cures and curve in SI base units; null but for `stability`
//! closing              target, criteria, changes, points, sentences; null but for a closing study
//! faults               verdict without a fault and with each, and the numbers that change; null but for `faults`
//! ledger[]             { name, value, unit }: what came in, went out, was stored, and what is left over
//! counters[]           { name, value }: cost of the simulation
//! cautions[]           sentences to be read with the answer
//! ```
//!
//! A number that is infinite or none at all is null. Fields may be added in later versions; none changes its meaning.

mod answers;
mod closing;
mod document;
mod faults;
mod fluid;
mod heat;
mod indicator;
mod map;
mod stability;
mod surge;
mod verdict;

pub use answers::{check_answer, closing_answer, faults_answer, map_answer, run_answer, stability_answer};
pub use closing::{ChangePart, ClosingPart, CriterionPart, PointPart, TargetPart, ValuePart, closing_part};
pub use document::{Command, CounterRow, Document, InputRow, LedgerRow};
pub use faults::{DifferenceRow, FaultPart, FaultsPart, faults_part};
pub use fluid::{FluidDocument, PropertyRow};
pub use heat::{HeatAllowed, HeatCell, HeatDocument, HeatLimit, HeatOwn, HeatPanel};
pub use indicator::{IndicatorRow, indicator_rows};
pub use map::{AxisPart, BoundaryPart, CellPart, CellState, MapPart, map_part};
pub use stability::{StabilityPart, stability_part};
pub use surge::{BoilingRow, SideRow, SurgeDocument, SurgeFlow, SurgeLine, SurgeRow};
pub use verdict::{FindingRow, VerdictPart, verdict_part};
