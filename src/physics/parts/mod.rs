//! The parts of the valve and of its lines: what each is made of, in SI units. One declaration serves the scenario file, the
//! equations and the parameter paths; there is no second description (`src/key/declaration.rs` tells its form).

mod coil;
mod fault;
mod feed;
mod fittings;
mod function;
mod line;
mod servo;
mod soft;
mod stage;
mod vent;

use crate::key::declared;

pub use coil::{Coil, CoilTemperature, Rectifier, Voltage};
pub use fault::Faults;
pub use feed::{Bounce, Cable, ContactSide, Economiser, Feed, Suppressor, Transformer};
pub use fittings::{CheckValve, Fittings, Strainer};
pub use function::{Function, NormallyOpen};
pub use line::{Line, LineModel, Sink, Source};
pub use servo::{Bleed, Chamber, ForcedLiftParts, Link, Pilot, ServoParts};
pub use soft::{Clearance, Cushion, Pin, RingLeak, SplitRing};
pub use stage::{Armature, Contact, MainStage, StageKind};
pub use vent::{Vent, VentedPilotParts};

/// How the armature commands the main stage, with the parts that this takes: what makes the kind of a valve.
#[derive(Clone, Debug, PartialEq)]
pub enum ControlParts {
    /// By a pilot: lifted by the differential alone.
    Servo(ServoParts),
    /// Not at all: it carries the seal of the main seat itself, moved by magnet and spring alone.
    Direct,
    /// By a pilot in the main stage and by a link that draws the stage along: normally closed, lifted by the magnet, by the
    /// differential, or by both.
    ForcedLift(ForcedLiftParts),
    /// By a pilot that vents to a place of its own: lifted by what the inlet is above that.
    VentedPilot(VentedPilotParts),
}

declared! {
    /// The whole valve.
    pub struct Valve {
        /// attitude in which the valve is mounted: coil on top, to the side, or below
        /// The angle of the coil's axis from upright: 0 coil on top, π/2 lying, π hanging.
        attitude: Attitude, HalfTurn, "tilt of the valve from upright";
    }
    and {
        /// Winding and magnetic circuit.
        coil: Coil;
        /// Armature.
        armature: Armature;
        /// What it is without current.
        function: Function;
        /// How the armature commands the main stage.
        control: ControlParts;
        /// Main stage.
        main: MainStage;
        /// Body cavity at the inlet.
        inlet: Port;
        /// Body cavity at the outlet.
        outlet: Port;
    }
}

impl Valve {
    /// Does the armature carry the seal of the main seat, so that it is the main stage itself?
    pub fn armature_is_stage(&self) -> bool {
        match self.control {
            ControlParts::Servo(_) | ControlParts::ForcedLift(_) | ControlParts::VentedPilot(_) => false,
            ControlParts::Direct => true,
        }
    }

    /// Is it open without current?
    pub fn normally_open(&self) -> bool {
        self.function.is_open()
    }

    /// Way of the armature from where the coil finds it, without current, to the pole, m: at its end only the residual gap is left.
    pub fn way_to_pole(&self) -> f64 {
        match &self.function {
            Function::NormallyClosed => self.armature.stroke,
            Function::NormallyOpen(open) => self.armature.stroke + open.pole_clearance,
        }
    }

    /// Gap of the magnet while the armature is pulled in, m: the residual one, of a normally open valve wider by the pole's clearance, since
    /// the seat stops it.
    pub fn held_gap(&self) -> f64 {
        let clearance = self.way_to_pole() - self.armature.stroke;
        self.coil.residual_gap + clearance
    }

    /// Its servo, if it has one.
    pub fn servo(&self) -> Option<&ServoParts> {
        match &self.control {
            ControlParts::Servo(servo) => Some(servo),
            ControlParts::Direct => None,
            ControlParts::ForcedLift(parts) => Some(&parts.servo),
            ControlParts::VentedPilot(parts) => Some(&parts.servo),
        }
    }

    /// Its servo, to change a part of it.
    pub fn servo_mut(&mut self) -> Option<&mut ServoParts> {
        match &mut self.control {
            ControlParts::Servo(servo) => Some(servo),
            ControlParts::Direct => None,
            ControlParts::ForcedLift(parts) => Some(&mut parts.servo),
            ControlParts::VentedPilot(parts) => Some(&mut parts.servo),
        }
    }

    /// Does its pilot vent to a place of its own, so that it needs no differential across itself?
    pub fn vents_elsewhere(&self) -> bool {
        match &self.control {
            ControlParts::VentedPilot(_) => true,
            ControlParts::Servo(_) | ControlParts::Direct | ControlParts::ForcedLift(_) => false,
        }
    }

    /// The link between armature and main stage, if there is one.
    pub fn link(&self) -> Option<&Link> {
        match &self.control {
            ControlParts::Servo(_) | ControlParts::Direct | ControlParts::VentedPilot(_) => None,
            ControlParts::ForcedLift(parts) => Some(&parts.link),
        }
    }

    /// The same, to change it.
    pub fn link_mut(&mut self) -> Option<&mut Link> {
        match &mut self.control {
            ControlParts::Servo(_) | ControlParts::Direct | ControlParts::VentedPilot(_) => None,
            ControlParts::ForcedLift(parts) => Some(&mut parts.link),
        }
    }
}

declared! {
    /// The body cavity at a port and any gas held there.
    pub struct Port {
        /// volume of the body cavity
        volume: Volume, Positive, "body cavity volume at the {}", usually 1e-8 to 0.05;
        /// gas held at the port
        /// A pocket, a surge volume, or the trace from which a vapour cavity grows.
        gas: Volume, Positive, "gas volume at the {}", usually 0.0 to 0.05, or none;
        /// pressure at which `gas` is counted
        gas_pressure: AbsolutePressure, Positive, "pressure at which the gas at the {} is counted", usually 1e3 to 500e5, or none;
        /// polytropic exponent of that gas
        polytropic_exponent: Number, Polytropic, "polytropic exponent of the gas at the {}", or none;
    }
}
