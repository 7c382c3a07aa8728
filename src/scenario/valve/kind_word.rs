//! Words for a valve whose pilot vents to a place of its own.

/// The word for it.
pub(in crate::scenario) const VENTED_PILOT: &str = "vented-pilot";
/// Another word for it.
pub(in crate::scenario) const EXTERNAL_DRAIN: &str = "external-drain";
