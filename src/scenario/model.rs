//! The question put to the program, in SI units; nothing derived.

use crate::fluid::{Medium, State};
use crate::key::part;
use crate::physics::fluid::Fluid;
use crate::physics::insulation::InsulationClass;
use crate::physics::parts::{Faults, Line, Sink, Source, Valve};

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
    /// What is wrong with it; its numbers are those with these faults.
    pub faults: Faults,
    /// Voltage for which the coil is rated, V; none where it is not stated.
    pub rated_voltage: Option<f64>,
    /// Frequency for which the coil is rated, Hz, nought where for direct voltage; none where it is not stated.
    pub rated_frequency: Option<f64>,
    /// Thermal class of the winding's insulation; none where it is not stated.
    pub insulation: Option<InsulationClass>,
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

impl Scenario {
    /// The circuit's differential: supply pressure at no flow above the sink's, Pa.
    pub fn differential(&self) -> f64 {
        self.supply.pressure - self.sink.pressure
    }

    /// For how long each cycle of the duty asks for what: the energised share of a normally closed valve is that in which it is asked to
    /// be open, of a normally open one that in which it is asked to be shut.
    pub fn asked_times(&self) -> AskedTimes {
        let period = 1.0 / self.duty.cycle_rate;
        let (on, off) = (period * self.duty.on_fraction, period * (1.0 - self.duty.on_fraction));
        let (longest_on, longest_off) = (self.run.longest_on, self.run.longest_off);
        if self.valve.normally_open() {
            AskedTimes { open: off, shut: on, longest_open: longest_off, longest_shut: longest_on }
        } else {
            AskedTimes { open: on, shut: off, longest_open: longest_on, longest_shut: longest_off }
        }
    }
}

/// For how long a cycle asks the valve to be open and to be shut, and how much of that is simulated at most, s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AskedTimes {
    /// To be open.
    pub open: f64,
    /// To be shut.
    pub shut: f64,
    /// Of the first at most.
    pub longest_open: f64,
    /// Of the second at most.
    pub longest_shut: f64,
}

/// A fluid that was found by its name, and its state at the valve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NamedFluid {
    /// The fluid, of which other states can be had.
    pub medium: Medium,
    /// Its state.
    pub state: State,
}

part! {
    /// How the coil is switched.
    pub struct Duty {
        /// switching cycles per time
        cycle_rate: CycleRate, Positive, "cycle rate", usually 1e-8 to 100.0;
        /// share of a cycle for which the coil is energised
        /// Open, or of a normally open valve shut.
        on_fraction: Fraction, Inside, "energised share of the cycle", usually 1e-6 to 1.0;
    }
}

part! {
    /// Limits set by the user.
    pub struct Limits {
        /// highest allowed pressure at the valve
        peak_pressure: AbsolutePressure(Option<f64>), Positive, "highest allowed pressure at the valve", usually 1e3 to 1e9, or none;
        /// highest allowed rise above the pressure at rest
        surge: PressureDifference(Option<f64>), Positive, "highest allowed pressure rise", usually 1e2 to 1e9, or none;
        /// main seat impact speed above which closing counts as hard
        seat_speed: Velocity, Positive, "main seat impact speed that counts as hard", usually 1e-3 to 1e3;
        /// highest allowed winding temperature
        coil_temperature: Temperature(Option<f64>), Positive, "highest allowed winding temperature", usually 250.0 to 700.0, or none;
    }
}

part! {
    /// Settings of a run.
    pub struct Run {
        /// relative tolerance of the integration
        tolerance: Number, Inside, "integration tolerance", usually 1e-10 to 1e-2;
        /// longest energised time that is simulated
        longest_on: Time, Positive, "longest simulated energised time", usually 1e-3 to 1e5;
        /// longest de-energised time that is simulated
        longest_off: Time, Positive, "longest simulated de-energised time", usually 1e-3 to 1e5;
    }
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
