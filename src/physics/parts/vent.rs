//! What a valve has whose pilot vents to a place of its own.

use super::servo::ServoParts;
use crate::key::part;

part! {
    /// The line by which the pilot vents past the outlet: to a suction side, or into the open air.
    pub struct Vent {
        /// absolute pressure where the pilot vents to; it stays the same whatever comes
        pressure: AbsolutePressure "p_v", Positive, "pressure to which the pilot vents", usually 1e2 to 200e5;
    }
}

/// What a valve with a vented pilot is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct VentedPilotParts {
    /// Pilot, bleed and chamber.
    pub servo: ServoParts,
    /// Where the pilot vents to.
    pub vent: Vent,
}
