//! What faults make of a sound valve: each changes numbers of its parts, and no equation.
//!
//! ```text
//! cracked ring        R_ring → R_ring/(1 − share), no ring at 1       its conductor loses that share of its cross-section
//! dirt on the pole    residual gap + t, stroke − t                    the open gap stays: the pole's face has moved by t
//! weak springs        force and rate × (1 − share)                     weight stays
//! clogged bleed       d_b·√(1 − share)         worn bleed  d_b·√(1 + growth)
//! torn diaphragm      d_b → √(d_b² + d²)                              a hole beside the bleed, between the same two volumes
//! worn ring           radial clearance × (1 + growth)                 an orifice that stands for a ring: its area
//! magnetised          F_c + F                                         ampere-turns beside those of the winding
//! wrong coil          N·U/U_right, R·(U/U_right)²                     the same copper and flux at another voltage
//! ```
//!
//! Source: geometry; conductors and orifices in parallel; R ∝ N²/(copper area), N ∝ U at equal flux and copper area (textbooks).

use super::armature::GRAVITY;
use super::direct;
use crate::physics::parts::{ControlParts, Faults, Function, RingLeak, ServoParts, StageKind, Valve};
use crate::portable::Portable;
use crate::units::Dimension;

/// A number of the valve that a fault changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// Name of the fault.
    pub fault: &'static str,
    /// Path of the number.
    pub path: &'static str,
    /// Its kind.
    pub dimension: Dimension,
    /// In the sound valve, SI; none where there is nothing.
    pub from: Option<f64>,
    /// With the fault.
    pub to: Option<f64>,
}

/// A fault that this valve cannot have.
#[derive(Clone, Debug, PartialEq)]
pub struct Impossible {
    /// Name of the fault.
    pub fault: &'static str,
    /// Why.
    pub why: String,
}

/// What the faults need to know beside the valve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around {
    /// Pressure of the supply, Pa absolute.
    pub supply_pressure: f64,
    /// Is the fluid a liquid?
    pub liquid: bool,
    /// Voltage for which the right coil is rated, V.
    pub rated_voltage: Option<f64>,
}

/// A valve with its faults.
#[derive(Clone, Debug, PartialEq)]
pub struct Faulty {
    /// The valve.
    pub valve: Valve,
    /// Voltage for which the coil that is fitted is rated, V.
    pub rated_voltage: Option<f64>,
    /// What was changed.
    pub changed: Vec<Changed>,
    /// Faults that it cannot have.
    pub impossible: Vec<Impossible>,
}

const NO_GAP: &str = "its [valve.main.piston] states neither a clearance nor a ring that could wear";
const NO_BLEED: &str = "this kind of valve has no bleed orifice";
const NO_PILOT: &str = "this kind of valve has no pilot";
const NO_CHAMBER: &str = "this kind of valve has no control chamber";

impl Faulty {
    /// The sound `valve` with the faults in it.
    pub fn new(valve: Valve, faults: &Faults, around: Around) -> Faulty {
        let mut faulty =
            Faulty { valve, rated_voltage: around.rated_voltage, changed: Vec::new(), impossible: Vec::new() };
        faulty.magnet(faults);
        faulty.moving(faults);
        faulty.orifices(faults);
        faulty.chamber(faults, around);
        if let ControlParts::Direct = faulty.valve.control {
            faulty.valve.main = direct::carried_by(&faulty.valve.armature, &faulty.valve.function, &faulty.valve.main);
        }
        faulty
    }

    fn put(&mut self, fault: &'static str, path: &'static str, dimension: Dimension, numbers: [Option<f64>; 2]) {
        self.changed.push(Changed { fault, path, dimension, from: numbers[0], to: numbers[1] });
    }

    fn cannot(&mut self, fault: &'static str, why: impl Into<String>) {
        self.impossible.push(Impossible { fault, why: why.into() });
    }

    fn magnet(&mut self, faults: &Faults) {
        if let Some(share) = faults.cracked_ring {
            let sound = self.valve.coil.shading_ring;
            let left = sound.filter(|_| share < 1.0).map(|ring| ring / (1.0 - share));
            match sound {
                Some(_) => {
                    self.valve.coil.shading_ring = left;
                    self.put("cracked_ring", "valve.coil.shading_ring", Dimension::Resistance, [sound, left]);
                }
                None => self.cannot("cracked_ring", "the coil has no shading ring that could crack"),
            }
        }
        if let Some(thickness) = faults.pole_dirt {
            self.dirt(thickness);
        }
        if let Some(force) = faults.magnetised_armature {
            let sound = self.valve.coil.coercive_force;
            let more = Some(sound.unwrap_or(0.0) + force);
            self.valve.coil.coercive_force = more;
            self.put("magnetised_armature", "valve.coil.coercive_force", Dimension::Current, [sound, more]);
        }
        if let Some(voltage) = faults.wrong_coil {
            self.other_coil(voltage);
        }
    }

    fn dirt(&mut self, thickness: f64) {
        if self.valve.normally_open() {
            return self.dirt_below(thickness);
        }
        let (gap, stroke) = (self.valve.coil.residual_gap, self.valve.armature.stroke);
        if thickness >= stroke {
            let why = "it is as thick as the armature's whole stroke (valve.armature.stroke): state less than that";
            return self.cannot("pole_dirt", why);
        }
        (self.valve.coil.residual_gap, self.valve.armature.stroke) = (gap + thickness, stroke - thickness);
        let length = Dimension::Length;
        self.put("pole_dirt", "valve.coil.residual_gap", length, [Some(gap), Some(gap + thickness)]);
        self.put("pole_dirt", "valve.armature.stroke", length, [Some(stroke), Some(stroke - thickness)]);
    }

    /// The pole of a normally open valve lies below its seat: dirt on it takes from the clearance that lets the armature seat.
    fn dirt_below(&mut self, thickness: f64) {
        let gap = self.valve.coil.residual_gap;
        let Function::NormallyOpen(open) = &mut self.valve.function else { return };
        let clearance = open.pole_clearance;
        if thickness >= clearance {
            let why = "it is as thick as the clearance below the seat (valve.armature.pole_clearance): the valve would not shut, which \
                       is not computed; state less than that";
            return self.cannot("pole_dirt", why);
        }
        open.pole_clearance = clearance - thickness;
        self.valve.coil.residual_gap = gap + thickness;
        let length = Dimension::Length;
        self.put("pole_dirt", "valve.coil.residual_gap", length, [Some(gap), Some(gap + thickness)]);
        let clearances = [Some(clearance), Some(clearance - thickness)];
        self.put("pole_dirt", "valve.armature.pole_clearance", length, clearances);
    }

    fn other_coil(&mut self, voltage: f64) {
        let coil = &mut self.valve.coil;
        let ratio = voltage / self.rated_voltage.unwrap_or(coil.supply.stated());
        let (turns, resistance) = (coil.turns, coil.resistance);
        (coil.turns, coil.resistance) = (turns * ratio, resistance * ratio * ratio);
        let (more_turns, more_resistance) = (coil.turns, coil.resistance);
        self.rated_voltage = Some(voltage);
        self.put("wrong_coil", "valve.coil.turns", Dimension::Number, [Some(turns), Some(more_turns)]);
        let resistances = [Some(resistance), Some(more_resistance)];
        self.put("wrong_coil", "valve.coil.resistance", Dimension::Resistance, resistances);
    }

    fn moving(&mut self, faults: &Faults) {
        if let Some(lost) = faults.weak_armature_spring {
            let left = 1.0 - lost;
            let armature = &mut self.valve.armature;
            let (force, rate) = (armature.preload, armature.spring_rate);
            (armature.preload, armature.spring_rate) = (left * force, left * rate);
            let fault = "weak_armature_spring";
            self.put(fault, "valve.armature.preload", Dimension::Force, [Some(force), Some(left * force)]);
            self.put(fault, "valve.armature.spring_rate", Dimension::SpringRate, [Some(rate), Some(left * rate)]);
        }
        if let Some(lost) = faults.weak_main_spring {
            self.main_spring(1.0 - lost);
        }
        if let Some(force) = faults.stuck_armature {
            let sound = self.valve.armature.friction;
            let stuck = Some(sound.unwrap_or(0.0) + force);
            self.valve.armature.friction = stuck;
            self.put("stuck_armature", "valve.armature.friction", Dimension::Force, [sound, stuck]);
        }
    }

    /// What is stated as preload holds the stage's weight; a spring that breaks does not take that with it.
    fn main_spring(&mut self, left: f64) {
        if self.valve.armature_is_stage() {
            let why = "its spring is the armature's: state faults.weak_armature_spring";
            return self.cannot("weak_main_spring", why);
        }
        let weight = self.valve.main.mass * GRAVITY * self.valve.attitude.cosine();
        let main = &mut self.valve.main;
        let (preload, rate) = (main.preload, main.spring_rate);
        let weight = weight.min(preload);
        let force = weight + left * (preload - weight);
        (main.preload, main.spring_rate) = (force, left * rate);
        let fault = "weak_main_spring";
        self.put(fault, "valve.main.preload", Dimension::Force, [Some(preload), Some(force)]);
        self.put(fault, "valve.main.spring_rate", Dimension::SpringRate, [Some(rate), Some(left * rate)]);
    }

    fn orifices(&mut self, faults: &Faults) {
        let by = |factor: f64| move |diameter: f64| diameter * factor.sqrt();
        if let Some(share) = faults.clogged_bleed {
            self.bleed("clogged_bleed", by(1.0 - share), by(1.0 - share));
        }
        if let Some(growth) = faults.worn_bleed {
            self.bleed("worn_bleed", by(1.0 + growth), by(1.0 + growth));
        }
        if let Some(hole) = faults.torn_diaphragm {
            match self.valve.main.kind {
                StageKind::Diaphragm { .. } if self.valve.armature_is_stage() => {
                    self.cannot("torn_diaphragm", "this kind of valve has no diaphragm");
                }
                StageKind::Diaphragm { .. } => {
                    let beside = |bleed: f64| bleed.length_with(hole);
                    self.bleed("torn_diaphragm", beside, beside);
                }
                StageKind::Piston { .. } => self.cannot("torn_diaphragm", "its main stage is a piston"),
            }
        }
        if let Some(growth) = faults.worn_ring {
            self.worn_ring(growth);
        }
        if let Some(gap) = faults.leaking_pilot {
            match self.valve.servo_mut() {
                Some(ServoParts { pilot, .. }) => {
                    let (tight, leaking) = (pilot.leak_gap, Some(pilot.leak_gap.unwrap_or(0.0) + gap));
                    pilot.leak_gap = leaking;
                    self.put("leaking_pilot", "valve.pilot.leak_gap", Dimension::Length, [tight, leaking]);
                }
                None => self.cannot("leaking_pilot", NO_PILOT),
            }
        }
    }

    /// A gap grows by its share; of a split ring the orifice that stands for it.
    fn worn_ring(&mut self, growth: f64) {
        let fault = "worn_ring";
        if let StageKind::Diaphragm { .. } = self.valve.main.kind {
            return self.cannot(fault, "its main stage is no piston");
        }
        let Some(ServoParts { leak, .. }) = self.valve.servo_mut() else {
            return self.cannot(fault, "this kind of valve has no piston");
        };
        let (path, width, factor) = match leak {
            RingLeak::Tight => return self.cannot(fault, NO_GAP),
            RingLeak::Clearance(gap) => ("valve.main.piston.radial_clearance", &mut gap.radial_clearance, 1.0 + growth),
            RingLeak::SplitRing(ring) => {
                ("valve.main.piston.ring_orifice", &mut ring.ring_orifice, (1.0 + growth).sqrt())
            }
        };
        let sound = *width;
        *width *= factor;
        let numbers = [Some(sound), Some(sound * factor)];
        self.put(fault, path, Dimension::Length, numbers);
    }

    /// What a fault makes of the bore, and of what a pin leaves free of it near the seat.
    fn bleed(&mut self, fault: &'static str, changed: impl Fn(f64) -> f64, beside_pin: impl Fn(f64) -> f64) {
        let Some(servo) = self.valve.servo_mut() else { return self.cannot(fault, NO_BLEED) };
        let sound = servo.bleed.diameter;
        servo.bleed.diameter = changed(sound);
        let numbers = [Some(sound), Some(servo.bleed.diameter)];
        let pinned = servo.bleed.pin.as_mut().map(|pin| {
            let free = pin.diameter;
            pin.diameter = beside_pin(free);
            [Some(free), Some(pin.diameter)]
        });
        self.put(fault, "valve.bleed.diameter", Dimension::Length, numbers);
        if let Some(numbers) = pinned {
            self.put(fault, "valve.bleed.pin.diameter", Dimension::Length, numbers);
        }
    }

    fn chamber(&mut self, faults: &Faults, around: Around) {
        let Some(air) = faults.air_bound_chamber else { return };
        let fault = "air_bound_chamber";
        if !around.liquid {
            return self.cannot(fault, "the fluid is a gas, which fills the chamber anyway");
        }
        let Some(servo) = self.valve.servo_mut() else { return self.cannot(fault, NO_CHAMBER) };
        let chamber = &mut servo.chamber;
        let (gas, pressure) = (chamber.trapped_gas, chamber.trapped_gas_pressure);
        // What was there is a trace, or is counted at another pressure: it is taken to the supply's at one temperature.
        let more = gas * pressure / around.supply_pressure + air;
        (chamber.trapped_gas, chamber.trapped_gas_pressure) = (more, around.supply_pressure);
        let kept = around.supply_pressure;
        self.put(fault, "valve.chamber.trapped_gas", Dimension::Volume, [Some(gas), Some(more)]);
        let pressures = [Some(pressure), Some(kept)];
        self.put(fault, "valve.chamber.trapped_gas_pressure", Dimension::AbsolutePressure, pressures);
    }
}
