//! What a valve is without current: shut, or open.

use super::stage::Contact;
use crate::key::part;

part! {
    /// What a normally open valve has beside a normally closed one: its magnet pulls the armature down to its seat, towards a pole that
    /// lies a little below where the seat stops it, and its spring lifts it to an upper stop.
    pub struct NormallyOpen {
        /// gap left to the pole, in addition to the residual gap, when the armature just meets its seat
        pole_clearance: Length, Positive, "pole clearance of the shut armature", usually 1e-6 to 5e-3;
    }
    and {
        /// Contact with the upper stop.
        stop: Contact;
    }
}

/// What the valve is without current.
#[derive(Clone, Debug, PartialEq)]
pub enum Function {
    /// Shut: the magnet lifts the armature, the spring presses it onto its seat.
    NormallyClosed,
    /// Open: the magnet presses the armature onto its seat, the spring lifts it.
    NormallyOpen(NormallyOpen),
}

impl Function {
    /// Is the valve open without current?
    pub fn is_open(&self) -> bool {
        match self {
            Function::NormallyClosed => false,
            Function::NormallyOpen(_) => true,
        }
    }
}
