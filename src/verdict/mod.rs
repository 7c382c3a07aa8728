//! What the numbers mean: behaviours with margins and reasons.

mod boiling;
mod carried;
mod circumstances;
mod coil;
mod finding;
mod forced;
mod hammer;
mod hum;
mod judge;
mod later_peak;
mod normally_open;
mod opening;
mod oscillation;
mod seen;
mod threshold;
mod words;

pub use circumstances::{BeyondRating, Circumstances, CoilLimit, CoilRise, Linked, PastPiston, PullToShut, RingFlux};
pub use finding::{Behaviour, Finding, Verdict};
pub use judge::judge;
pub use later_peak::{LaterPeaks, Over};
pub use threshold::{BOILING_MARGIN, BURNING_VOLTAGE, OPEN_LIFT, STEADY_SWING, WHOLE};
