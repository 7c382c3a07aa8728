//! Paths of the pressures that belong together.

/// The state's own pressure.
pub(in crate::scenario) const STATE: &str = "fluid.named.pressure";
/// The supply's pressure, by itself and counted from the sink.
pub(in crate::scenario) const SUPPLY: &str = "supply.pressure";
pub(in crate::scenario) const ABOVE_SINK: &str = "supply.differential";
pub(in crate::scenario) const SINK: &str = "sink.pressure";
