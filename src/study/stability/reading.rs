//! Numbers that outputs show beside the study: how fast a mode grows or dies, the size of a cure's change, values by hand.

use super::cure::{Attempt, Direction};
use super::point::{Answer, PointStability};
use crate::portable::Portable;
use crate::scenario::Scenario;
use crate::simulate::throttle::prepare;
use crate::stability::modes::Mode;
use crate::stability::valve::Energised;
use crate::study::judgement::hand;
use crate::units::Dimension;
use std::f64::consts::LN_2;

/// Time in which a mode doubles (where it grows) or halves (where it dies), s: ln 2/|σ|.
pub fn doubling_time(mode: &Mode) -> f64 {
    LN_2 / mode.growth().abs()
}

/// Factor by which a mode grows in one cycle: e^(2π·σ/ω).
pub fn growth_per_cycle(mode: &Mode) -> f64 {
    (mode.growth() / mode.frequency()).exponential()
}

/// How much of a parameter has to change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// By this share of today's value; below zero: less.
    Share(f64),
    /// By this pressure difference, Pa; below zero: less. A differential is set on a gauge, not by a percentage.
    Pressure(f64),
}

impl Attempt {
    /// The change from today's value to the quoted one; none where there is none, or where the thing is taken away.
    pub fn change(&self) -> Option<Change> {
        let cure = self.cure.as_ref().filter(|_| self.direction != Direction::Without)?;
        Some(match self.lever.dimension {
            Dimension::PressureDifference => Change::Pressure(cure.value - self.lever.value),
            _ => Change::Share(cure.value / self.lever.value - 1.0),
        })
    }
}

/// Circuit differentials by hand, Pa, beside the exact bounds of the states.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HandBounds {
    /// Lift-off; no flow but the pilot's is in the lines then, so that circuit and valve see the same.
    pub lift_off: Option<f64>,
    /// Full lift, with the losses of the lines at the flow of the open valve.
    pub full_lift: Option<f64>,
}

impl HandBounds {
    /// Those of a scenario whose valve is given.
    pub(super) fn of(scenario: &Scenario, valve: &Energised) -> Self {
        let by_hand = hand(scenario, &valve.installation, valve.coil.temperature);
        let full = by_hand.full_lift_differential.map(|across| valve.installation.circuit_for(across));
        // Counted from the stated sink, as the circuit's differential is; a flashing throttle holds its line above that.
        let held = prepare(scenario).map_or(0.0, |ready| ready.sink.held());
        let circuit = |bound: Option<f64>| bound.map(|bound| bound + held);
        HandBounds { lift_off: circuit(by_hand.lift_off_differential), full_lift: circuit(full) }
    }
}

impl PointStability {
    /// Is the state that an opening valve comes to first unfit: does an oscillation grow in it, or is there none at all?
    pub fn adverse(&self) -> bool {
        self.first_reached().is_none_or(|e| e.answer != Answer::Stable)
    }

    /// Equilibria whose list of modes the count by the argument principle contradicts.
    pub fn miscounted(&self) -> usize {
        self.equilibria.iter().filter(|e| e.miscount.is_some_and(|n| n != 0)).count()
    }
}
