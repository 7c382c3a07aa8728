//! What stands between armature and main stage, by the kind of the valve: each question is passed on to the kind's own file.

pub mod vented_pilot;

use self::vented_pilot::VentedPilot;
use super::answer::{Answer, ControlFlow, Given, HeldBy};
use super::armature::{ArmatureMotion, ArmatureRest, InstalledArmature, Rested};
use super::cell::Near;
use super::direct;
use super::forced_lift::ForcedLift;
use super::magnet::Magnet;
use super::main_stage::Stage;
use super::servo::Servo;
use crate::dual::Real;
use crate::physics::fluid::Fluid;
use crate::physics::parts::{ControlParts, Link, MainStage, Valve};
use crate::physics::state::*;

/// How the armature commands the main stage: what makes the kind of a valve.
#[derive(Clone, Debug)]
#[allow(clippy::large_enum_variant, reason = "there is one in a run, and its rates are asked for millions of times")]
pub enum Control {
    /// By a pilot: lifted by the differential alone.
    Servo(Servo),
    /// Not at all: it carries the seal itself.
    Direct,
    /// By a pilot in the stage and by a link that draws it along.
    ForcedLift(ForcedLift),
    /// By a pilot that vents to a place of its own.
    VentedPilot(VentedPilot),
}

impl Control {
    /// The control of a valve in a fluid whose supply is at `pressure` (Pa absolute).
    pub fn new(valve: &Valve, fluid: &Fluid, pressure: f64) -> Self {
        match &valve.control {
            ControlParts::Servo(parts) => {
                let diameter = valve.main.effective_diameter;
                Control::Servo(Servo::new(parts, valve.armature.stroke, diameter, fluid, pressure))
            }
            ControlParts::Direct => Control::Direct,
            ControlParts::ForcedLift(parts) => {
                Control::ForcedLift(ForcedLift::new(parts, valve.main.effective_diameter, fluid, pressure))
            }
            ControlParts::VentedPilot(parts) => {
                let diameter = valve.main.effective_diameter;
                Control::VentedPilot(VentedPilot::new(parts, valve.armature.stroke, diameter, fluid, pressure))
            }
        }
    }

    /// The main stage of a valve of that kind, as mounted.
    pub fn main_stage(valve: &Valve) -> MainStage {
        match &valve.control {
            ControlParts::Servo(_) | ControlParts::ForcedLift(_) | ControlParts::VentedPilot(_) => valve.main.clone(),
            ControlParts::Direct => direct::installed(&valve.armature, &valve.function, &valve.main, valve.attitude),
        }
    }

    /// Its servo, if it has one.
    pub fn servo(&self) -> Option<&Servo> {
        match self {
            Control::Servo(servo) => Some(servo),
            Control::Direct => None,
            Control::ForcedLift(lift) => Some(&lift.servo),
            Control::VentedPilot(vented) => Some(&vented.servo),
        }
    }

    /// Its link between armature and main stage, if it has one.
    pub fn link(&self) -> Option<&Link> {
        match self {
            Control::Servo(_) | Control::Direct | Control::VentedPilot(_) => None,
            Control::ForcedLift(lift) => Some(&lift.link),
        }
    }

    /// Where an armature that the magnet has lifted may come to rest.
    pub fn lifted_rests(&self) -> &'static [ArmatureRest] {
        match self {
            Control::Servo(_) | Control::Direct | Control::VentedPilot(_) => &[ArmatureRest::Pole],
            Control::ForcedLift(_) => &[ArmatureRest::Link, ArmatureRest::Pole],
        }
    }

    /// Area of the seat that the armature shuts, m².
    pub fn armature_seat_area(&self, stage: &Stage) -> f64 {
        match self {
            Control::Servo(servo) => servo.pilot.seat_area,
            Control::Direct => stage.seat_area,
            Control::ForcedLift(lift) => lift.servo.pilot.seat_area,
            Control::VentedPilot(vented) => vented.servo.pilot.seat_area,
        }
    }

    /// Let a shut pilot leak as if through that gap (m).
    pub fn leak_through(&mut self, gap: f64) {
        match self {
            Control::Servo(servo) => servo.pilot.leak_gap = gap,
            Control::Direct => {}
            Control::ForcedLift(lift) => lift.servo.pilot.leak_gap = gap,
            Control::VentedPilot(vented) => vented.servo.pilot.leak_gap = gap,
        }
    }

    /// Where the chamber's pressure is looked for at first.
    pub fn near(&self) -> Near {
        match self {
            Control::Servo(servo) => servo.chamber.filling.near(),
            Control::Direct => Near::anywhere(),
            Control::ForcedLift(lift) => lift.servo.chamber.filling.near(),
            Control::VentedPilot(vented) => vented.servo.chamber.filling.near(),
        }
    }

    /// Set the usual sizes of its states and of the armature's travel over `stroke` (m), where pressure changes by `drop` about
    /// `pressure` (Pa), at that density (kg/m³).
    pub fn set_scales(&mut self, scales: &mut [f64; STATES], stroke: f64, pressure: f64, drop: f64, density: f64) {
        match self {
            Control::Servo(servo) => servo.set_scales(scales, stroke, pressure, drop, density),
            Control::Direct => direct::set_scales(scales),
            Control::ForcedLift(lift) => lift.servo.set_scales(scales, stroke, pressure, drop, density),
            Control::VentedPilot(vented) => vented.servo.set_scales(scales, stroke, pressure, drop, density),
        }
    }

    /// Travel of the armature, m.
    #[inline(always)]
    pub fn travel<T: Real>(&self, y: &[T; STATES]) -> T {
        match self {
            Control::Servo(_) | Control::ForcedLift(_) | Control::VentedPilot(_) => y[TRAVEL],
            Control::Direct => y[LIFT],
        }
    }

    /// Speed of the armature, m/s.
    pub fn travel_rate(&self, y: &[f64; STATES]) -> f64 {
        match self {
            Control::Servo(_) | Control::ForcedLift(_) | Control::VentedPilot(_) => y[TRAVEL_RATE],
            Control::Direct => y[LIFT_RATE],
        }
    }

    /// Gap over the seat that the armature shuts, m.
    pub fn seat_gap(&self, y: &[f64; STATES]) -> f64 {
        match self {
            Control::Servo(_) | Control::VentedPilot(_) => y[TRAVEL],
            Control::Direct => y[LIFT],
            Control::ForcedLift(_) => y[TRAVEL] - y[LIFT],
        }
    }

    /// Rates of all states but the magnet's and the ports', integrands of their losses, and what the rest of the installation sees.
    #[inline(always)]
    pub fn evaluate<T: Real>(
        &self,
        given: &Given<'_, T>,
        near: &Near,
        y: &[T; STATES],
        rate: &mut [T; STATES],
        flux: &mut [T; INTEGRALS],
    ) -> Answer<T> {
        match self {
            Control::Servo(servo) => servo.evaluate(given, near, y, rate, flux),
            Control::Direct => direct::evaluate(given, y, rate, flux),
            Control::ForcedLift(lift) => lift.evaluate(given, near, y, rate, flux),
            Control::VentedPilot(vented) => vented.evaluate(given, near, y, rate, flux),
        }
    }

    /// Mass in the chamber, kg.
    pub fn mass(&self, stage: &Stage, y: &[f64; STATES]) -> f64 {
        match self {
            Control::Servo(servo) => servo.chamber.mass(y[CHAMBER], servo.volume(stage, y)),
            Control::Direct => 0.0,
            Control::ForcedLift(lift) => lift.servo.chamber.mass(y[CHAMBER], lift.volume(stage, y)),
            Control::VentedPilot(vented) => vented.servo.chamber.mass(y[CHAMBER], vented.servo.volume(stage, y)),
        }
    }

    /// Volumes (m³) by which inlet and outlet port are reduced beside what the stage takes.
    pub fn taken(&self, y: &[f64; STATES]) -> [f64; 2] {
        match self {
            Control::Servo(servo) => [y[BULGE], servo.pilot.seat_area * y[TRAVEL]],
            Control::Direct => [0.0; 2],
            Control::ForcedLift(lift) => [y[BULGE], lift.swept(y)],
            Control::VentedPilot(_) => [y[BULGE], 0.0],
        }
    }

    /// Energy of the armature, J, beside that of the stage where it carries this.
    pub fn armature_energy(&self, armature: &InstalledArmature, y: &[f64; STATES]) -> f64 {
        match self {
            Control::Servo(_) | Control::VentedPilot(_) => armature.energy(ArmatureMotion::of(y)),
            Control::Direct => armature.rubbing_energy(y[DEFLECTION]) + armature.pole_below_energy(y[LIFT]),
            Control::ForcedLift(lift) => lift.armature_energy(armature, y),
        }
    }

    /// Energies of a liquid in chamber and passages against the datum pressure, J.
    pub fn energies(&self, near: &Near, y: &[f64; STATES], datum: f64) -> [f64; 4] {
        match self {
            Control::Servo(servo) => servo.energies(near, y, datum),
            Control::Direct => [0.0; 4],
            Control::ForcedLift(lift) => lift.servo.energies(near, y, datum),
            Control::VentedPilot(vented) => vented.servo.energies(near, y, datum),
        }
    }

    /// Put stage and armature at rest on their seats between the ports' pressures (Pa absolute), under a pull of the magnet (N).
    pub fn rest(
        &self,
        armature: &InstalledArmature,
        stage: &Stage,
        [p_1, p_2]: [f64; 2],
        pull: f64,
        y: &mut [f64; STATES],
    ) {
        let pressing = stage.part.preload + (p_1 - p_2) * stage.seat_area;
        match self {
            Control::Servo(servo) => {
                y[LIFT] = -stage.part.seat.indentation(pressing);
                servo.rest(armature, stage, [p_1, p_2], pull, y);
            }
            Control::Direct => y[LIFT] = armature.seated(&stage.part.seat, pressing - armature.along_travel(pull)),
            Control::ForcedLift(lift) => lift.rest(armature, stage, [p_1, p_2], pull, y),
            Control::VentedPilot(vented) => {
                y[LIFT] = -stage.part.seat.indentation(pressing);
                vented.servo.rest(armature, stage, [p_1, vented.pressure], pull, y);
            }
        }
    }

    /// Put the stage at once to another lift (m), all pressures and flows as they were.
    pub fn knock(&self, near: &Near, stage: &Stage, y: &mut [f64; STATES], lift: f64) {
        match self {
            Control::Servo(servo) => servo.knock(near, stage, y, lift),
            Control::Direct => y[LIFT] = lift,
            Control::ForcedLift(forced) => forced.knock(near, stage, y, lift),
            Control::VentedPilot(vented) => vented.servo.knock(near, stage, y, lift),
        }
    }

    /// Pressure to which the pilot vents, with p_1 and p_2 at the ports and a share of their difference recovered under the main seat.
    pub fn vents_to(&self, p_1: f64, p_2: f64, recovery: f64) -> f64 {
        match self {
            Control::Servo(_) | Control::Direct => p_2,
            Control::ForcedLift(_) => p_2 + recovery * (p_1 - p_2),
            Control::VentedPilot(vented) => vented.steady_vent(p_1),
        }
    }

    /// Pressure of the place of its own to which the pilot vents, Pa absolute, if it does.
    pub fn own_vent(&self) -> Option<f64> {
        match self {
            Control::Servo(_) | Control::Direct | Control::ForcedLift(_) => None,
            Control::VentedPilot(vented) => Some(vented.pressure),
        }
    }

    /// Steady flow (kg/s) that leaves past the outlet port, as [`Control::steady`].
    pub fn steady_aside(&self, p_1: f64, travel: f64, lift: f64) -> f64 {
        match self {
            Control::Servo(_) | Control::Direct | Control::ForcedLift(_) => 0.0,
            Control::VentedPilot(vented) => vented.servo.steady(p_1, vented.steady_vent(p_1), travel, lift).flow,
        }
    }

    /// Steady flow beside the main seat between p_1 and what the pilot vents to, p_v ≤ p_1 (Pa absolute), with the armature at `travel`
    /// and the stage at `lift` (m).
    pub fn steady(&self, p_1: f64, p_v: f64, travel: f64, lift: f64) -> ControlFlow {
        match self {
            Control::Servo(servo) => servo.steady(p_1, p_v, travel, lift),
            Control::Direct => direct::steady(p_1),
            Control::ForcedLift(forced) => forced.servo.steady(p_1, p_v, travel - lift, lift),
            Control::VentedPilot(vented) => vented.servo.steady(p_1, p_v, travel, lift),
        }
    }

    /// The armature at rest, under a voltage (V, direct) and a chamber that is `differential` (Pa) above what the pilot vents to, with
    /// the stage held at `lift` (m).
    pub fn resting(&self, armature: &InstalledArmature, magnet: &Magnet, held: &HeldBy) -> Rested {
        match self {
            Control::Servo(servo) => {
                let pressing = |travel| servo.steady_force(held.differential, travel);
                armature.resting(magnet, held.voltage, held.rest, pressing)
            }
            Control::Direct => direct::resting(armature, magnet, held),
            Control::ForcedLift(lift) => lift.resting(armature, magnet, held),
            Control::VentedPilot(vented) => {
                let pressing = |travel| vented.servo.steady_force(held.differential, travel);
                armature.resting(magnet, held.voltage, held.rest, pressing)
            }
        }
    }

    /// Fill its states for a steady flow, the stage and the armature being where they are held.
    pub fn fill(&self, stage: &Stage, p_1: f64, steady: &ControlFlow, travel: f64, y: &mut [f64; STATES]) {
        match self {
            Control::Servo(servo) => servo.fill(stage, p_1, steady, travel, y),
            Control::Direct => {}
            Control::ForcedLift(lift) => lift.fill(stage, p_1, steady, travel, y),
            Control::VentedPilot(vented) => vented.servo.fill(stage, p_1, steady, travel, y),
        }
    }
}
