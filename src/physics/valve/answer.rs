//! What a kind of valve is asked, and what it answers: all that the rest of the installation sees of it.

use super::armature::{ArmatureRest, InstalledArmature};
use super::main_stage::{Stage, StageState};

/// What a kind of valve is given at one instant.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a, T> {
    /// Main stage.
    pub stage: &'a Stage,
    /// Armature.
    pub armature: &'a InstalledArmature,
    /// Pull of the magnet, N.
    pub pull: T,
    /// Inlet pressure p_1, Pa absolute.
    pub inlet: T,
    /// Outlet pressure p_2, Pa absolute.
    pub outlet: T,
}

/// What the ports, the ledger and the record see of it, beside the rates and losses of its own parts.
#[derive(Clone, Copy, Debug)]
pub struct Answer<T> {
    /// Main stage.
    pub stage: StageState<T>,
    /// Chamber pressure, Pa absolute.
    pub chamber_pressure: T,
    /// What stands against the pull, N.
    pub armature_load: T,
    /// Flow out of the inlet port beside the main seat's, kg/s.
    pub drawn: T,
    /// Flow into the outlet port beside the main seat's, kg/s.
    pub given: T,
    /// Volume taken from the inlet port beside what the stage sweeps, m³/s.
    pub inlet_swept: T,
    /// The same of the outlet port, m³/s.
    pub outlet_swept: T,
    /// Work of the streams on all that moves, W (gas).
    pub stream_work: T,
}

/// Steady flow beside the main seat.
#[derive(Clone, Copy, Debug)]
pub struct ControlFlow {
    /// Chamber pressure, Pa absolute.
    pub chamber_pressure: f64,
    /// Flow, kg/s.
    pub flow: f64,
    /// The part of it that leaks past the piston, kg/s.
    pub leak: f64,
}

/// What holds the armature in a steady state.
#[derive(Clone, Copy, Debug)]
pub struct HeldBy {
    /// Which end of its way.
    pub rest: ArmatureRest,
    /// Direct voltage, V.
    pub voltage: f64,
    /// Chamber pressure over that to which the pilot vents, Pa.
    pub differential: f64,
    /// Lift at which the stage is held, m.
    pub lift: f64,
}
