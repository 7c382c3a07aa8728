//! The forced (assisted) lift: the pilot seat is in the main stage, and a link draws the stage after the armature. So the magnet opens
//! it without any differential, and the differential helps as in a servo valve.
//!
//! ```text
//! g = x_a − x          gap of the pilot seat: armature travel less lift, both counted from the shut main seat
//! P = A_ps·(1 − φ_p(g))·(p_c − p_s)          the pilot vents under the main seat, p_s = p_2 + φ·(p_1 − p_2)
//! armature   m_a·v̇_a = F − F_a0 − m_a·g·cos θ − k_a·x_a − c_a·v_a − P − L + N + pole
//! stage      m·v̇ = (main stage as in a servo valve) + P + L − N          L link, N tip on pilot seat
//! ```
//!
//! Force on the tip and volume swept by it belong to one another: the tip takes W(g) from the chamber and gives it to the outlet,
//! dW/dg = A_ps·(1 − φ_p), since what stands open wide of its seat sweeps nothing. With curtain and bore of equal discharge coefficients
//! 1 − φ_p = 1/(1 + (g/g_0)²), g_0 = d_p²/(4·d_ps), so that W = A_ps·g_0·arctan(g/g_0).
//!
//! ```text
//! V̇_1 = (A_d − A_s)·v + ẇ          V̇_c = −A_d·v − ẇ − Ẇ          V̇_2 = A_s·v + Ẇ          they add to nothing
//! lost at the main seat, beside what a servo valve loses there (liquid): φ·Δp·(q_p − Ẇ)
//! ```
//!
//! Validity: the pilot's stream is small against the main one where that has a pressure under its seat; the stage's tilt is left out.
//! Source: own derivation from balances of momentum, volume and energy.

use super::answer::{Answer, ControlFlow, Given, HeldBy};
use super::armature::{ArmatureMotion, ArmatureRest, InstalledArmature, Rested};
use super::cell::Near;
use super::chamber::Filling;
use super::magnet::Magnet;
use super::main_stage::Stage;
use super::pilot::InstalledPilot;
use super::servo::{Servo, Surrounding, set_motion};
use crate::dual::Real;
use crate::physics::fluid::Fluid;
use crate::physics::parts::{ForcedLiftParts, Link};
use crate::physics::root::falling_root;
use crate::physics::state::*;
use crate::portable::Portable;

/// Places between the end of the free play and the pole at which the armature's forces are looked at.
const LOOKS: usize = 24;

/// Servo and link.
#[derive(Clone, Debug)]
pub struct ForcedLift {
    /// Pilot, bleed and chamber.
    pub servo: Servo,
    /// Link.
    pub link: Link,
}

impl InstalledPilot {
    /// Volume W that the tip takes from the chamber at a gap (m), m³: the integral of A_ps·(1 − φ_p), see the head of this file; below
    /// the gap to which a shut seat leaks φ_p no longer changes.
    #[inline(always)]
    fn swept<T: Real>(&self, gap: T) -> T {
        let scale = self.part.diameter.to_the(2) / (4.0 * self.part.seat_diameter);
        let at = gap.value().max(self.leak_gap) / scale;
        let slope = self.seat_area / (1.0 + at * at);
        let volume = self.seat_area * scale * at.angle_over(1.0);
        if gap.value() > self.leak_gap { gap.chain(volume, slope) } else { (gap - self.leak_gap) * slope + volume }
    }
}

impl ForcedLift {
    /// The forced lift with a stage of that diameter (m), in a fluid whose supply is at `pressure` (Pa absolute).
    pub fn new(parts: &ForcedLiftParts, diameter: f64, fluid: &Fluid, pressure: f64) -> Self {
        let servo = Servo::new(&parts.servo, parts.link.free_play, diameter, fluid, pressure);
        ForcedLift { servo, link: parts.link.clone() }
    }

    /// Volume that the tip takes from the chamber and gives to the outlet, m³.
    #[inline(always)]
    pub fn swept<T: Real>(&self, y: &[T; STATES]) -> T {
        self.servo.pilot.swept(y[TRAVEL] - y[LIFT])
    }

    /// Volume of the chamber, m³: V_c = V_c0 − A_d·x − w − W. Source: geometry.
    pub fn volume(&self, stage: &Stage, y: &[f64; STATES]) -> f64 {
        self.servo.volume_less(stage, y, self.swept(y))
    }

    /// See [`super::control::Control::evaluate`]. Source: the head of this file.
    #[inline]
    pub fn evaluate<T: Real>(
        &self,
        given: &Given<'_, T>,
        near: &Near,
        y: &[T; STATES],
        rate: &mut [T; STATES],
        flux: &mut [T; INTEGRALS],
    ) -> Answer<T> {
        let (servo, part) = (&self.servo, &given.armature.part);
        let (gap, gap_rate) = (y[TRAVEL] - y[LIFT], y[TRAVEL_RATE] - y[LIFT_RATE]);
        let chamber = servo.chamber_state_less(near, given.stage, y, self.swept(y));
        let moved = Servo::moved(given, chamber, y);
        let p_s = moved.stage.under_seat;
        let now = servo.state(moved.chamber, gap, [given.inlet, p_s], y);
        let (tip, link) = (part.seat.touch(-gap, -gap_rate), self.link.pull(gap, gap_rate));
        let load = given.armature.load(y[TRAVEL], now.pilot_force + link.force);
        let mut armature = given.armature.state_on(given.pull, load, ArmatureMotion::of(y), tip);
        armature.loss = armature.loss + link.loss;
        let drawn = (now.pilot_force + link.force - tip.force) * (1.0 / given.stage.part.mass);
        set_motion(&moved, moved.stage.acceleration + drawn, &armature, y, rate, flux);
        let tip_rate = (-now.recovery + 1.0) * gap_rate * servo.pilot.seat_area;
        let regained = T::constant(0.0);
        let around = Surrounding { inlet: given.inlet, behind: p_s, bulge_rate: moved.bulge.rate, tip_rate, regained };
        servo.balance(given.stage, &now, around, y, rate, flux);
        let mut answer = servo.answer(&moved, load, around, p_s * tip_rate, y);
        if let Filling::Liquid { density, .. } = servo.chamber.filling {
            let through_seat = y[PILOT_FLOW] * (1.0 / density) - tip_rate;
            answer.stage.throttle_loss = answer.stage.throttle_loss + (p_s - given.outlet) * through_seat;
        }
        answer
    }

    /// Energy of the armature, its contacts and the link, J. Source: integrals of the forces of [`ForcedLift::evaluate`].
    pub fn armature_energy(&self, armature: &InstalledArmature, y: &[f64; STATES]) -> f64 {
        let gap = y[TRAVEL] - y[LIFT];
        armature.energy_over(ArmatureMotion::of(y), gap) + self.link.energy(gap)
    }

    /// At rest between the ports' pressures (Pa absolute): the armature stands on the stage with its spring and weight, and both stand
    /// in the main seat; what the pilot's differential presses the one down with lifts the other.
    pub fn rest(
        &self,
        armature: &InstalledArmature,
        stage: &Stage,
        [p_1, p_2]: [f64; 2],
        pull: f64,
        y: &mut [f64; STATES],
    ) {
        let pressing = self.servo.steady_force(p_1 - p_2, 0.0);
        y[LIFT] = stage.pressed_lift(p_1 - p_2, armature.part.preload + armature.weight - pull);
        y[TRAVEL] = y[LIFT] + armature.seated_travel(pull, pressing);
        [y[CHAMBER], y[CHAMBER_ENERGY]] = self.servo.chamber.filling.fill(p_1, self.volume(stage, y));
    }

    /// Put the stage at once to another lift (m), the chamber's pressure as it was; the armature goes along as far as tip and link ask.
    pub fn knock(&self, near: &Near, stage: &Stage, y: &mut [f64; STATES], lift: f64) {
        let pressure = self.servo.chamber_state_less(near, stage, y, self.swept(y)).pressure;
        y[LIFT] = lift;
        y[TRAVEL] = y[TRAVEL].max(lift).min(lift + self.link.free_play);
        self.servo.keep_pressure(pressure, self.volume(stage, y), y);
    }

    /// Flows, travel and chamber of a steady flow.
    pub fn fill(&self, stage: &Stage, p_1: f64, steady: &ControlFlow, travel: f64, y: &mut [f64; STATES]) {
        y[TRAVEL] = travel;
        self.servo.fill_over(stage, p_1, steady, self.swept(y), y);
    }

    /// See [`super::control::Control::resting`].
    ///
    /// From its seat on the armature rises as long as the pull is more than its load, and stays where that ends: held back by the link,
    /// or at the pole. Source: balance of forces of [`ForcedLift::evaluate`] at no motion.
    pub fn resting(&self, armature: &InstalledArmature, magnet: &Magnet, held: &HeldBy) -> Rested {
        let part = &armature.part;
        let flux = |travel: f64| magnet.steady_flux(held.voltage, travel);
        let pull = |travel: f64| {
            let (core, ring) = flux(travel);
            magnet.state(held.voltage, core, ring, travel).pull
        };
        let free = |travel: f64| {
            let gap = travel - held.lift;
            let carried = self.servo.steady_force(held.differential, gap) + self.link.steady_pull(gap);
            pull(travel) - armature.load(travel, carried)
        };
        let tip = |travel: f64| part.seat.stiffness * (held.lift - travel).max(0.0).power(1.5);
        let pole = |travel: f64| part.pole.stiffness * (travel - part.stroke).max(0.0).power(1.5);
        match held.rest {
            ArmatureRest::PilotSeat => {
                let push = -free(held.lift);
                let deep = held.lift - 2.0 * part.seat.indentation(push.max(0.0));
                let travel = falling_root(deep, held.lift, |x| free(x) + tip(x));
                Rested { travel, flux: flux(travel), held: push > 0.0 }
            }
            ArmatureRest::Pole => {
                let push = free(part.stroke) + tip(part.stroke);
                let deep = part.stroke + 2.0 * part.pole.indentation(push.max(0.0));
                let travel = falling_root(part.stroke, deep, |x| free(x) + tip(x) - pole(x));
                Rested { travel, flux: flux(travel), held: push > 0.0 }
            }
            ArmatureRest::Link => {
                let taut = held.lift + self.link.free_play;
                let place = |i: usize| taut + (part.stroke - taut) * (i as f64 / LOOKS as f64).to_the(2);
                // It comes from below: the first balance counts, and only if it gets there.
                let rises = taut < part.stroke && free(held.lift) > 0.0 && free(taut) > 0.0;
                let end = (1..=LOOKS).find(|&i| rises && free(place(i)) <= 0.0);
                let travel = end.map_or(taut, |i| falling_root(place(i - 1), place(i), free));
                Rested { travel, flux: flux(travel), held: end.is_some() }
            }
        }
    }
}
