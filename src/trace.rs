//! What was seen over time: named channels with a unit, and events. A simulated run and, one day, a recorded one are both
//! a `Trace`; all that judges a valve reads only this.

use crate::units::Dimension;

/// A named, unit-bearing quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// Name in words joined by underscores, the same in file, table and figure.
    pub name: &'static str,
    /// Kind of quantity, from which its units follow.
    pub dimension: Dimension,
    /// What it is, in one line.
    pub meaning: &'static str,
}

/// One quantity over time.
#[derive(Clone, Debug)]
pub struct Channel {
    /// What is recorded.
    pub quantity: Quantity,
    /// Its value at each instant of the trace, SI.
    pub values: Vec<f64>,
}

/// What happened at one instant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EventKind {
    /// Coil switched on.
    CoilOn,
    /// Coil switched off.
    CoilOff,
    /// The valve is asked to open: by switching on a normally closed one.
    AskedOpen,
    /// The valve is asked to shut.
    AskedShut,
    /// Main stage met its seat (magnitude: speed, m/s).
    SeatContact,
    /// Main stage met its upper stop (magnitude: speed, m/s).
    StopContact,
    /// Armature met the pilot seat (magnitude: speed, m/s).
    PilotSeatContact,
    /// Armature met the pole (magnitude: speed, m/s).
    PoleContact,
    /// A vapour cavity opened at the inlet port (magnitude: 0).
    InletCavityOpens,
    /// The inlet cavity collapsed (magnitude: its largest volume, m³).
    InletCavityCollapses,
    /// A vapour cavity opened at the outlet port (magnitude: 0).
    OutletCavityOpens,
    /// The outlet cavity collapsed (magnitude: its largest volume, m³).
    OutletCavityCollapses,
}

/// An event and its instant.
#[derive(Clone, Copy, Debug)]
pub struct Event {
    /// When, s.
    pub time: f64,
    /// What.
    pub kind: EventKind,
    /// How hard; see [`EventKind`].
    pub magnitude: f64,
}

/// Channels over common instants, and events.
#[derive(Clone, Debug, Default)]
pub struct Trace {
    /// Instants, s, never decreasing.
    pub time: Vec<f64>,
    /// Channels, each as long as `time`.
    pub channels: Vec<Channel>,
    /// Events in the order of time.
    pub events: Vec<Event>,
}

impl Trace {
    /// The channel of that name.
    pub fn channel(&self, name: &str) -> Option<&Channel> {
        self.channels.iter().find(|c| c.quantity.name == name)
    }

    /// The values of a channel; empty when there is none of that name.
    pub fn values(&self, name: &str) -> &[f64] {
        self.channel(name).map_or(&[], |c| &c.values)
    }

    /// Indices of the instants in `from..=to`.
    pub fn window(&self, from: f64, to: f64) -> std::ops::Range<usize> {
        let start = self.time.partition_point(|&t| t < from);
        let end = self.time.partition_point(|&t| t <= to);
        start..end.max(start)
    }
}
