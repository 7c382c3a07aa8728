//! The armature on its way between the pilot seat and the pole: its forces, what it loses and stores, and where it rests.

use super::contact::Touch;
use super::friction::{Rub, Sticking};
use super::magnet::Magnet;
use crate::dual::Real;
use crate::physics::parts::Armature;
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
    /// On the pole: the pilot is open.
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

impl InstalledArmature {
    /// The armature with its axis at `attitude` (rad from upright).
    pub fn new(part: &Armature, attitude: f64) -> Self {
        InstalledArmature {
            part: part.clone(),
            weight: part.mass * GRAVITY * attitude.cosine(),
            sticking: part.friction.map(Sticking::new),
        }
    }

    /// Spring, weight and what presses it onto its seat (N), against the pull, N. Source: sum of forces.
    #[inline(always)]
    pub fn load<T: Real>(&self, travel: T, pressing: T) -> T {
        travel * self.part.spring_rate + pressing + (self.part.preload + self.weight)
    }

    /// Acceleration and losses under a pull and a load (N).
    ///
    /// ```text
    /// m_a·v̇_a = F − F_load − c_a·v_a − F_r + contacts        F_load = F_a0 + m_a·g·cos θ + k_a·x_a + pressing
    /// ```
    ///
    /// F_r: see [`super::friction`]. Source: momentum balance.
    #[inline(always)]
    pub fn state<T: Real>(&self, pull: T, load: T, motion: ArmatureMotion<T>) -> ArmatureState<T> {
        self.state_on(pull, load, motion, self.part.seat.touch(-motion.travel, -motion.speed))
    }

    /// The same over a seat that moves itself, whose contact is given.
    #[inline(always)]
    pub fn state_on<T: Real>(&self, pull: T, load: T, motion: ArmatureMotion<T>, seat: Touch<T>) -> ArmatureState<T> {
        let part = &self.part;
        let (travel, speed) = (motion.travel, motion.speed);
        let pole = part.pole.touch(travel - part.stroke, speed);
        let damping = speed * part.damping;
        let rub = self.rub(speed, motion.deflection);
        ArmatureState {
            acceleration: (pull - load - damping - rub.force + seat.force - pole.force) * (1.0 / part.mass),
            deflection_rate: rub.deflection_rate,
            loss: damping * speed + rub.loss + seat.loss + pole.loss,
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
            + (part.preload + self.weight) * travel
            + 0.5 * part.spring_rate * travel * travel
            + part.seat.energy(-gap)
            + part.pole.energy(travel - part.stroke)
    }

    /// Travel at which it rests in its seat without a pull, m.
    pub fn seated_travel(&self, pressing: f64) -> f64 {
        -self.part.seat.indentation(self.part.preload + self.weight + pressing)
    }

    /// At rest at one end of its way under a direct voltage (V), pressed by what `pressing` gives (N) at a travel.
    /// Source: balance of forces of [`InstalledArmature::state`] at no motion.
    pub fn resting(&self, magnet: &Magnet, voltage: f64, rest: ArmatureRest, pressing: impl Fn(f64) -> f64) -> Rested {
        let part = &self.part;
        let mut indentation: f64 = 0.0;
        let mut found = Rested { travel: 0.0, flux: (0.0, 0.0), held: false };
        for _ in 0..ROUNDS {
            found.travel = match rest {
                ArmatureRest::Pole => part.stroke + indentation,
                // Nothing holds it on its way but a link, which this armature does not have.
                ArmatureRest::Link => return found,
                ArmatureRest::PilotSeat => -indentation,
            };
            found.flux = magnet.steady_flux(voltage, found.travel);
            let pull = magnet.state(voltage, found.flux.0, found.flux.1, found.travel).pull;
            let load = self.load(found.travel, pressing(found.travel));
            let (push, contact) = match rest {
                ArmatureRest::Pole => (pull - load, &part.pole),
                ArmatureRest::Link | ArmatureRest::PilotSeat => (load - pull, &part.seat),
            };
            indentation = contact.indentation(push.max(0.0));
            found.held = push > 0.0;
        }
        found
    }
}
