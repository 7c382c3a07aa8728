//! The question put to the program, in SI units; nothing derived.

use crate::fluid::{Medium, State};
use crate::physics::fluid::Fluid;
use crate::physics::parts::{Line, Sink, Source, Valve};

/// A whole scenario.
#[derive(Clone, Debug, PartialEq)]
pub struct Scenario {
    /// Short name (the file's stem).
    pub name: String,
    /// The question that it answers.
    pub question: String,
    /// Where its data come from.
    pub data: String,
    /// Atmospheric pressure for gauge readings, Pa absolute.
    pub atmosphere: f64,
    /// Fluid.
    pub fluid: Fluid,
    /// What names the fluid; none where it is stated by numbers.
    pub named: Option<NamedFluid>,
    /// Valve.
    pub valve: Valve,
    /// Voltage for which the coil is rated, V; none where it is not stated.
    pub rated_voltage: Option<f64>,
    /// Supply end.
    pub supply: Source,
    /// Line from the supply to the valve.
    pub upstream: Line,
    /// Line from the valve to the sink.
    pub downstream: Line,
    /// Sink end.
    pub sink: Sink,
    /// Flow at which the valve, fully open, is meant to work, kg/s; the throttle is solved from it.
    pub flow: Option<f64>,
    /// Switching.
    pub duty: Duty,
    /// What counts as too much.
    pub limits: Limits,
    /// Settings of the run.
    pub run: Run,
    /// Axes of the map.
    pub map: MapAxes,
}

/// A fluid that was found by its name, and its state at the valve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NamedFluid {
    /// The fluid, of which other states can be had.
    pub medium: Medium,
    /// Its state.
    pub state: State,
}

/// How the coil is switched.
#[derive(Clone, Debug, PartialEq)]
pub struct Duty {
    /// Cycles per second, 1/s.
    pub cycle_rate: f64,
    /// Share of a cycle for which the coil is energised.
    pub on_fraction: f64,
}

/// Limits set by the user.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// Highest allowed pressure at the valve, Pa absolute.
    pub peak_pressure: Option<f64>,
    /// Highest allowed rise above the pressure at rest, Pa.
    pub surge: Option<f64>,
    /// Main seat impact speed above which closing counts as hard, m/s.
    pub seat_speed: f64,
    /// Highest allowed winding temperature, K.
    pub coil_temperature: Option<f64>,
}

/// Settings of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Relative tolerance of the integration.
    pub tolerance: f64,
    /// Longest energised time that is simulated, s.
    pub longest_on: f64,
    /// Longest de-energised time that is simulated, s.
    pub longest_off: f64,
}

/// One axis of the map.
#[derive(Clone, Debug, PartialEq)]
pub struct AxisRange {
    /// Parameter path, such as `supply.differential` or `duty.cycle_rate`.
    pub path: String,
    /// Lower end, SI.
    pub from: f64,
    /// Upper end, SI.
    pub to: f64,
    /// Number of grid points.
    pub points: usize,
    /// Logarithmic spacing.
    pub logarithmic: bool,
}

/// Both axes of the map.
#[derive(Clone, Debug, PartialEq)]
pub struct MapAxes {
    /// Across.
    pub x: AxisRange,
    /// Up.
    pub y: AxisRange,
}
