//! Fluids side by side: a row for each, and water beside them.

use super::boiling::Boiling;
use super::line::{Flow, Line};
use crate::fluid::{Aggregation, State};

/// One fluid in the line.
#[derive(Clone, Debug, PartialEq)]
pub struct FluidRow {
    /// Short name, its own among the rows.
    pub name: String,
    /// Name and state in words.
    pub label: String,
    /// How far from saturation, in words, where that is known.
    pub distance: Option<String>,
    /// Its state at rest, upstream of the valve.
    pub state: State,
    /// Wave speed in the line a, m/s; a gas has its sound speed.
    pub wave_speed: f64,
    /// Surge per velocity ρ·a in the line, Pa·s/m.
    pub surge_per_velocity: f64,
    /// The same in a rigid line, Pa·s/m.
    pub rigid_surge_per_velocity: f64,
    /// Return time 2·L/a, s.
    pub return_time: f64,
    /// Velocity that is stopped, m/s.
    pub velocity: f64,
    /// Surge of a sudden stop of it, Pa.
    pub surge: f64,
    /// What a liquid has that can boil.
    pub boiling: Option<Boiling>,
}

impl FluidRow {
    /// Is it a gas?
    pub fn is_gas(&self) -> bool {
        self.state.aggregation == Aggregation::Gas
    }

    /// Highest pressure of the sudden stop upstream of the valve, Pa absolute.
    pub fn peak(&self) -> f64 {
        self.state.pressure + self.surge
    }
}

/// Water, against which the others are held.
#[derive(Clone, Debug, PartialEq)]
pub struct Reference {
    /// Name and state in words.
    pub label: String,
    /// Surge per velocity in the line, Pa·s/m.
    pub surge_per_velocity: f64,
    /// Return time, s.
    pub return_time: f64,
    /// Which row it is; none where no liquid water is among them.
    pub row: Option<usize>,
}

/// The fluids side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct SurgeComparison {
    /// The line.
    pub line: Line,
    /// What sets the velocity.
    pub flow: Flow,
    /// One row for each fluid, in the order in which they were named.
    pub rows: Vec<FluidRow>,
    /// Water.
    pub reference: Reference,
    /// What the numbers say.
    pub findings: Vec<String>,
    /// What they rest on, and what is odd.
    pub remarks: Vec<String>,
}
