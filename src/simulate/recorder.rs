//! From states to a trace: channels and events.

use crate::physics::installation::{Installation, Instant};
use crate::physics::parts::Function;
use crate::physics::state::*;
use crate::trace::{Channel, Event, EventKind, Quantity, Trace};
use crate::units::Dimension;

macro_rules! channels {
    ($( $name:literal, $dimension:ident, $meaning:literal; )*) => {
        /// The channels of a simulated run.
        pub const CHANNELS: &[Quantity] = &[ $( Quantity {
            name: $name, dimension: Dimension::$dimension, meaning: $meaning,
        }, )* ];
    };
}

channels! {
    "inlet_pressure", AbsolutePressure, "Pressure in the inlet port";
    "outlet_pressure", AbsolutePressure, "Pressure in the outlet port";
    "chamber_pressure", AbsolutePressure, "Pressure in the control chamber";
    "lift", Length, "Lift of the main stage from its seat";
    "stage_velocity", Velocity, "Speed of the main stage, opening positive";
    "armature_travel", Length, "Armature travel from the pilot seat";
    "coil_current", Current, "Current in the winding";
    "coil_voltage", Voltage, "Voltage at the coil's terminals";
    "magnet_force", Force, "Pull of the magnet on the armature";
    "armature_load", Force, "Spring, weight and pilot pressure against the pull";
    "main_flow", MassFlow, "Flow past the main seat";
    "pilot_flow", MassFlow, "Flow through the pilot";
    "bleed_flow", MassFlow, "Flow through the bleed";
    "inlet_flow", MassFlow, "Flow from the upstream line into the inlet port";
    "outlet_flow", MassFlow, "Flow from the outlet port into the downstream line";
    "inlet_gas_volume", Volume, "Gas and vapour at the inlet port";
    "outlet_gas_volume", Volume, "Gas and vapour at the outlet port";
    "mains_current", Current, "Current out of the mains into the rectifier";
}

/// A contact counts as a new one only after the part has been off by this share of its full way: less is the elastic
/// recovery of one and the same contact.
const REARM_STAGE: f64 = 1e-3;
/// The same for the armature: at the pole an audible hit needs some micrometres.
const REARM_ARMATURE: f64 = 2.5e-3;
/// A cavity is called open below this pressure above the vapour pressure, Pa, and shut above twice it; a trace of gas is
/// then far larger than at rest.
const CAVITY_MARGIN: f64 = 2e3;

/// Watches one part meet one end of its way.
#[derive(Clone, Copy, Debug, Default)]
struct ContactWatch {
    armed: bool,
}

impl ContactWatch {
    /// `clearance` is positive when free; a contact is reported with the speed of approach.
    fn look(&mut self, clearance: f64, rearm: f64) -> bool {
        if clearance > rearm {
            self.armed = true;
        }
        let touched = self.armed && clearance <= 0.0;
        if touched {
            self.armed = false;
        }
        touched
    }
}

/// Watches a cavity open and collapse.
#[derive(Clone, Copy, Debug, Default)]
struct CavityWatch {
    open: bool,
    largest: f64,
}

/// Builds the trace of a run.
#[derive(Clone, Debug)]
pub struct Recorder {
    /// The trace so far.
    pub trace: Trace,
    /// Places of its channels in [`CHANNELS`].
    recorded: Vec<usize>,
    seat: ContactWatch,
    stop: ContactWatch,
    pilot_seat: ContactWatch,
    pole: ContactWatch,
    inlet_cavity: CavityWatch,
    outlet_cavity: CavityWatch,
}

/// What a valve without a servo does not have: chamber, pilot and bleed, and an armature apart from the stage.
const SERVO_CHANNELS: [&str; 4] = ["chamber_pressure", "pilot_flow", "bleed_flow", "armature_travel"];

/// What only a coil behind a rectifier has: else it is the coil's own current.
const MAINS_CURRENT: &str = "mains_current";

impl Recorder {
    /// A recorder of that installation.
    pub fn new(installation: &Installation) -> Self {
        let rectified = installation.magnet.coil.supply.rectifier().is_some();
        let absent = |name| {
            (installation.control.servo().is_none() && SERVO_CHANNELS.contains(&name))
                || (!rectified && name == MAINS_CURRENT)
        };
        let recorded: Vec<usize> = (0..CHANNELS.len()).filter(|&i| !absent(CHANNELS[i].name)).collect();
        let channel = |&i: &usize| Channel { quantity: CHANNELS[i], values: Vec::new() };
        Recorder {
            trace: Trace { time: Vec::new(), channels: recorded.iter().map(channel).collect(), events: Vec::new() },
            recorded,
            seat: ContactWatch::default(),
            stop: ContactWatch::default(),
            pilot_seat: ContactWatch::default(),
            pole: ContactWatch::default(),
            inlet_cavity: CavityWatch::default(),
            outlet_cavity: CavityWatch::default(),
        }
    }

    /// Note an event that is known beforehand.
    pub fn event(&mut self, time: f64, kind: EventKind, magnitude: f64) {
        self.trace.events.push(Event { time, kind, magnitude });
    }

    /// Record one instant; `before` is the state at the start of the step.
    pub fn record(
        &mut self,
        time: f64,
        before: &[f64; STATES],
        y: &[f64; STATES],
        now: &Instant<f64>,
        installation: &Installation,
    ) {
        // In gas service the cell's trace of gas is only a guard against vacuum, no cavity.
        let cavities = if installation.is_gas() {
            [0.0; 2]
        } else {
            [installation.inlet.gas_volume(now.inlet_pressure), installation.outlet.gas_volume(now.outlet_pressure)]
        };
        let row = [
            now.inlet_pressure,
            now.outlet_pressure,
            now.chamber_pressure,
            y[LIFT],
            y[LIFT_RATE],
            installation.control.travel(y),
            now.current,
            now.coil_voltage,
            now.pull,
            now.armature_load,
            now.main_flow,
            y[PILOT_FLOW],
            y[BLEED_FLOW],
            now.inlet_flow,
            now.outlet_flow,
            cavities[0],
            cavities[1],
            now.drawn,
        ];
        self.trace.time.push(time);
        for (channel, &place) in self.trace.channels.iter_mut().zip(&self.recorded) {
            channel.values.push(row[place]);
        }
        self.watch_contacts(time, before, y, installation);
        self.watch_cavities(time, now, cavities, installation);
    }

    fn watch_contacts(&mut self, time: f64, before: &[f64; STATES], y: &[f64; STATES], installation: &Installation) {
        let full = installation.stage.part.lift;
        let stroke = installation.armature.part.stroke;
        let stage_speed = before[LIFT_RATE].abs();
        let travel = installation.control.travel(y);
        let armature_speed = installation.control.travel_rate(before).abs();
        if self.seat.look(y[LIFT], REARM_STAGE * full) {
            self.event(time, EventKind::SeatContact, stage_speed);
        }
        // An armature that is the stage meets the main seat and no pilot seat, and above the pole or, normally open, a stop.
        let apart = installation.control.servo().is_some();
        let stop = match installation.armature.function {
            Function::NormallyClosed => apart,
            Function::NormallyOpen(_) => true,
        };
        if self.stop.look(full - y[LIFT], REARM_STAGE * full) && stop {
            self.event(time, EventKind::StopContact, stage_speed);
        }
        if self.pilot_seat.look(installation.control.seat_gap(y), REARM_ARMATURE * stroke) && apart {
            self.event(time, EventKind::PilotSeatContact, armature_speed);
        }
        if self.pole.look(installation.armature.off_the_pole(travel), REARM_ARMATURE * stroke) {
            self.event(time, EventKind::PoleContact, armature_speed);
        }
    }

    fn watch_cavities(&mut self, time: f64, now: &Instant<f64>, volumes: [f64; 2], installation: &Installation) {
        let ends = [
            (&mut self.inlet_cavity, now.inlet_pressure - installation.inlet.vapour, volumes[0], true),
            (&mut self.outlet_cavity, now.outlet_pressure - installation.outlet.vapour, volumes[1], false),
        ];
        for (watch, above, volume, inlet) in ends {
            if !watch.open && above < CAVITY_MARGIN {
                *watch = CavityWatch { open: true, largest: 0.0 };
                let kind = if inlet { EventKind::InletCavityOpens } else { EventKind::OutletCavityOpens };
                self.trace.events.push(Event { time, kind, magnitude: 0.0 });
            }
            if watch.open {
                watch.largest = watch.largest.max(volume);
                if above > 2.0 * CAVITY_MARGIN {
                    watch.open = false;
                    let kind = if inlet { EventKind::InletCavityCollapses } else { EventKind::OutletCavityCollapses };
                    self.trace.events.push(Event { time, kind, magnitude: watch.largest });
                }
            }
        }
    }
}
