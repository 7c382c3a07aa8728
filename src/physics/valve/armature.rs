//! The armature on its way between the pilot seat and the pole, or of a normally open valve between its upper stop and the pilot seat:
//! its forces, what it loses and stores, and where it rests.
//!
//! ```text
//! normally closed   m_a·v̇_a = F(g_res + s_a − x_a) − F_a0 − k_a·x_a − m_a·g·cos θ − c_a·v_a − pressing + contacts
//! normally open     m_a·v̇_a = F_a0 + k_a·(s_a − x_a) − F(g_res + c + x_a) − m_a·g·cos θ − c_a·v_a − pressing + contacts
//! ```
//!
//! Both are one with −(F_a0 + k_a·s_a) for the preload on the seat of the second, and its pull turned round. The pole of a normally open
//! valve lies c below where the armature meets its seat, so that a soft seat may let it come to the pole, and never nearer than the
//! residual gap. Source: own derivation.

use super::contact::Touch;
use super::friction::{Rub, Sticking};
use super::magnet::Magnet;
use crate::dual::Real;
use crate::physics::parts::{Armature, Contact, Function};
use crate::physics::root::falling_root;
use crate::physics::state::*;
use crate::portable::Portable;

/// Standard gravity, m/s². Source: 3rd General Conference on Weights and Measures (1901), exact.
pub const GRAVITY: f64 = 9.806_65;

/// Rounds by which the indentation of an armature at rest settles: it changes the gap by some 10⁻⁴ of itself.
const ROUNDS: usize = 8;

/// The armature with its weight.
#[derive(Clone, Debug)]
pub struct InstalledArmature {
    /// The part.
    pub part: Armature,
    /// What the valve is without current, and so which way the magnet pulls.
    pub function: Function,
    /// What its spring presses it onto its seat with, N: negative where the spring lifts it off.
    pub seat_preload: f64,
    /// Weight along its axis, N, closing.
    pub weight: f64,
    /// Its dry friction, if it has any.
    sticking: Option<Sticking>,
}

/// The armature's motion at one instant.
#[derive(Clone, Copy, Debug)]
pub struct ArmatureState<T> {
    /// Acceleration, m/s².
    pub acceleration: T,
    /// Rate of the elastic deflection of its dry friction, m/s.
    pub deflection_rate: T,
    /// Loss of damping, dry friction and contacts, W.
    pub loss: T,
}

/// Motion of the armature.
#[derive(Clone, Copy, Debug)]
pub struct ArmatureMotion<T> {
    /// Travel x_a, m.
    pub travel: T,
    /// Speed v_a, m/s.
    pub speed: T,
    /// Elastic deflection of its dry friction, m.
    pub deflection: T,
}

impl<T: Copy> ArmatureMotion<T> {
    /// The motion in a state.
    #[inline(always)]
    pub fn of(y: &[T; STATES]) -> Self {
        ArmatureMotion { travel: y[TRAVEL], speed: y[TRAVEL_RATE], deflection: y[ARMATURE_DEFLECTION] }
    }
}

/// Where the armature rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ArmatureRest {
    /// Where the pilot is open: on the pole, of a normally open valve on its upper stop.
    Pole,
    /// Between pilot seat and pole, held back by its link to the main stage: the pilot is open.
    Link,
    /// On the pilot seat: the pilot is shut.
    PilotSeat,
}

/// The armature at rest, with the flux that it rests in.
#[derive(Clone, Copy, Debug)]
pub struct Rested {
    /// Travel, m.
    pub travel: f64,
    /// Flux of the core and of the shaded face, Wb.
    pub flux: (f64, f64),
    /// Is it held there?
    pub held: bool,
}

/// Force with which a spring presses an armature onto its seat, N: F_a0, of a normally open valve −(F_a0 + k_a·s_a).
///
/// Source: a spring of rate k_a, whose preload is that of the armature at rest.
pub fn seat_preload(part: &Armature, function: &Function) -> f64 {
    match function {
        Function::NormallyClosed => part.preload,
        Function::NormallyOpen(_) => -(part.preload + part.spring_rate * part.stroke),
    }
}

/// How far an armature has come towards the pole (m) from where the coil finds it, at a travel from its seat (m): x_a, of a normally open
/// valve s_a − x_a. Source: geometry.
#[inline(always)]
pub fn approach<T: Real>(part: &Armature, function: &Function, travel: T) -> T {
    match function {
        Function::NormallyClosed => travel,
        Function::NormallyOpen(_) => -travel + part.stroke,
    }
}

impl InstalledArmature {
    /// The armature with its axis at `attitude` (rad from upright).
    pub fn new(part: &Armature, function: &Function, attitude: f64) -> Self {
        InstalledArmature {
            part: part.clone(),
            function: function.clone(),
            seat_preload: seat_preload(part, function),
            weight: part.mass * GRAVITY * attitude.cosine(),
            sticking: part.friction.map(Sticking::new),
        }
    }

    /// See [`approach`].
    #[inline(always)]
    pub fn approach<T: Real>(&self, travel: T) -> T {
        approach(&self.part, &self.function, travel)
    }

    /// A force between armature and pole as it acts along the travel, away from the seat, N: a pull turned round where the pole lies
    /// below. What loads the armature towards its seat stands against the pull by the same rule. Source: geometry.
    #[inline(always)]
    pub fn along_travel<T: Real>(&self, force: T) -> T {
        match self.function {
            Function::NormallyClosed => force,
            Function::NormallyOpen(_) => -force,
        }
    }

    /// Spring, weight and what presses it onto its seat (N), towards the seat, N. Source: sum of forces.
    #[inline(always)]
    pub fn load<T: Real>(&self, travel: T, pressing: T) -> T {
        travel * self.part.spring_rate + pressing + (self.seat_preload + self.weight)
    }

    /// What ends its way above: the pole, of a normally open valve its stop.
    #[inline(always)]
    fn above(&self) -> &Contact {
        match &self.function {
            Function::NormallyClosed => &self.part.pole,
            Function::NormallyOpen(open) => &open.stop,
        }
    }

    /// Contact with a pole that lies below the seat: none in a normally closed valve.
    #[inline(always)]
    pub fn pole_below<T: Real>(&self, travel: T, speed: T) -> Touch<T> {
        match &self.function {
            Function::NormallyClosed => Touch { force: T::constant(0.0), loss: T::constant(0.0) },
            Function::NormallyOpen(open) => self.part.pole.touch(-travel - open.pole_clearance, -speed),
        }
    }

    /// Energy in that contact, J. Source: [`Contact::energy`].
    pub fn pole_below_energy(&self, travel: f64) -> f64 {
        match &self.function {
            Function::NormallyClosed => 0.0,
            Function::NormallyOpen(open) => self.part.pole.energy(-travel - open.pole_clearance),
        }
    }

    /// How far the armature is from its pole, m; negative by the pole's indentation. Source: geometry.
    pub fn off_the_pole(&self, travel: f64) -> f64 {
        match &self.function {
            Function::NormallyClosed => self.part.stroke - travel,
            Function::NormallyOpen(open) => travel + open.pole_clearance,
        }
    }

    /// Acceleration and losses under a pull and a load (N).
    ///
    /// ```text
    /// m_a·v̇_a = ±F − F_load − c_a·v_a − F_r + contacts        F_load = F_a0 + m_a·g·cos θ + k_a·x_a + pressing
    /// ```
    ///
    /// F_r: see [`super::friction`]. Source: momentum balance, see the head of this file.
    #[inline(always)]
    pub fn state<T: Real>(&self, pull: T, load: T, motion: ArmatureMotion<T>) -> ArmatureState<T> {
        self.state_on(pull, load, motion, self.part.seat.touch(-motion.travel, -motion.speed))
    }

    /// The same over a seat that moves itself, whose contact is given.
    #[inline(always)]
    pub fn state_on<T: Real>(&self, pull: T, load: T, motion: ArmatureMotion<T>, seat: Touch<T>) -> ArmatureState<T> {
        let part = &self.part;
        let (travel, speed) = (motion.travel, motion.speed);
        let above = self.above().touch(travel - part.stroke, speed);
        let below = self.pole_below(travel, speed);
        let damping = speed * part.damping;
        let rub = self.rub(speed, motion.deflection);
        let pull = self.along_travel(pull);
        let contacts = seat.force - above.force + below.force;
        ArmatureState {
            acceleration: (pull - load - damping - rub.force + contacts) * (1.0 / part.mass),
            deflection_rate: rub.deflection_rate,
            loss: damping * speed + rub.loss + seat.loss + above.loss + below.loss,
        }
    }

    /// Its dry friction at a speed (m/s) and an elastic deflection (m). Source: see [`Sticking`].
    #[inline(always)]
    pub fn rub<T: Real>(&self, speed: T, deflection: T) -> Rub<T> {
        self.sticking.map_or(Rub::none(), |sticking| sticking.rub(speed, deflection))
    }

    /// Energy of that deflection, J.
    pub fn rubbing_energy(&self, deflection: f64) -> f64 {
        self.sticking.map_or(0.0, |sticking| sticking.energy(deflection))
    }

    /// Energy of motion, spring, weight, contacts and dry friction, J. Source: integrals of the forces of
    /// [`InstalledArmature::state`].
    pub fn energy(&self, motion: ArmatureMotion<f64>) -> f64 {
        self.energy_over(motion, motion.travel)
    }

    /// The same where its gap over the seat (m) is not its travel.
    pub fn energy_over(&self, motion: ArmatureMotion<f64>, gap: f64) -> f64 {
        let part = &self.part;
        let (travel, speed) = (motion.travel, motion.speed);
        self.rubbing_energy(motion.deflection)
            + 0.5 * part.mass * speed * speed
            + (self.seat_preload + self.weight) * travel
            + 0.5 * part.spring_rate * travel * travel
            + part.seat.energy(-gap)
            + self.above().energy(travel - part.stroke)
            + self.pole_below_energy(travel)
    }

    /// Travel at which it rests in a seat under a force (N) towards it, m. Source: balance of seat and, where it gives way so far, pole.
    pub fn seated(&self, seat: &Contact, force: f64) -> f64 {
        let indentation = seat.indentation(force);
        match &self.function {
            Function::NormallyOpen(open) if indentation > open.pole_clearance => {
                let carried = |depth: f64| {
                    seat.touch(depth, 0.0).force + self.part.pole.touch(depth - open.pole_clearance, 0.0).force
                };
                -falling_root(open.pole_clearance, indentation, |depth| force - carried(depth))
            }
            Function::NormallyClosed | Function::NormallyOpen(_) => -indentation,
        }
    }

    /// Travel at which it rests in its seat under a magnet's pull and what presses it there beside spring and weight (N), m.
    pub fn seated_travel(&self, pull: f64, pressing: f64) -> f64 {
        let force = self.seat_preload + self.weight + pressing - self.along_travel(pull);
        self.seated(&self.part.seat, force)
    }

    /// At rest at one end of its way under a direct voltage (V), pressed by what `pressing` gives (N) at a travel.
    /// Source: balance of forces of [`InstalledArmature::state`] at no motion.
    pub fn resting(&self, magnet: &Magnet, voltage: f64, rest: ArmatureRest, pressing: impl Fn(f64) -> f64) -> Rested {
        let mut beyond: f64 = 0.0;
        let mut found = Rested { travel: 0.0, flux: (0.0, 0.0), held: false };
        for _ in 0..ROUNDS {
            found.travel = match rest {
                ArmatureRest::Pole => self.part.stroke + beyond,
                // Nothing holds it on its way but a link, which this armature does not have.
                ArmatureRest::Link => return found,
                ArmatureRest::PilotSeat => beyond,
            };
            let approach = self.approach(found.travel);
            found.flux = magnet.steady_flux(voltage, approach);
            let pull = self.along_travel(magnet.state(voltage, found.flux.0, found.flux.1, approach).pull);
            let load = self.load(found.travel, pressing(found.travel));
            let push = match rest {
                ArmatureRest::Pole => pull - load,
                ArmatureRest::Link | ArmatureRest::PilotSeat => load - pull,
            };
            beyond = match rest {
                ArmatureRest::Pole => self.above().indentation(push.max(0.0)),
                ArmatureRest::Link | ArmatureRest::PilotSeat => self.seated(&self.part.seat, push.max(0.0)),
            };
            found.held = push > 0.0;
        }
        found
    }
}
