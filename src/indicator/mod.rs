//! Numbers read off a trace.

mod list;

pub use list::{Indicator, Indicators};
