//! The vented pilot (external pilot drain): a servo whose pilot leads past the outlet to a place of its own at a lower pressure p_v. So
//! the chamber empties, and the stage opens, however little the valve's own differential is.
//!
//! ```text
//! P = A_ps·(p_c − p_v)·(1 − φ_p)          I_p·dṁ_p/dt = p_c − p_v − Δp_loss(ṁ_p)
//! outlet port   ds_2/dt = (ṁ_m − ṁ_d)/ρ_d − A_s·v          neither the pilot's stream nor the room under the tip belongs to it
//! left by the vent      ṁ_p     and of volume     ṁ_p/ρ − A_ps·v_a
//! ```
//!
//! A liquid that leaves works against p_v: (p_v − p_0)·(ṁ_p/ρ − A_ps·v_a) is what the ledger loses over its datum p_0. A gas takes its
//! enthalpy along.
//!
//! Validity: p_v stays, whatever comes; the line to that place has neither loss nor inertia beyond the pilot's own. What flows back is
//! taken as fluid of the supply. A liquid does not flash in the pilot. Source: own derivation from the balances of the servo.

use super::super::answer::{Answer, Given};
use super::super::armature::ArmatureMotion;
use super::super::cell::Near;
use super::super::chamber::Filling;
use super::super::servo::{Servo, Surrounding, set_motion};
use crate::dual::Real;
use crate::physics::fluid::Fluid;
use crate::physics::parts::VentedPilotParts;
use crate::physics::state::*;

/// Servo and vent.
#[derive(Clone, Debug)]
pub struct VentedPilot {
    /// Pilot, bleed and chamber.
    pub servo: Servo,
    /// Pressure to which the pilot vents p_v, Pa absolute.
    pub pressure: f64,
}

impl VentedPilot {
    /// The valve with an armature of that stroke and a stage of that diameter (m), in a fluid whose supply is at `pressure` (Pa
    /// absolute).
    pub fn new(parts: &VentedPilotParts, stroke: f64, diameter: f64, fluid: &Fluid, pressure: f64) -> Self {
        VentedPilot {
            servo: Servo::new(&parts.servo, stroke, diameter, fluid, pressure),
            pressure: parts.vent.pressure,
        }
    }

    /// See [`super::Control::evaluate`]. Source: the head of this file.
    #[inline]
    pub fn evaluate<T: Real>(
        &self,
        given: &Given<'_, T>,
        near: &Near,
        y: &[T; STATES],
        rate: &mut [T; STATES],
        flux: &mut [T; INTEGRALS],
    ) -> Answer<T> {
        let (servo, p_v, nothing) = (&self.servo, T::constant(self.pressure), T::constant(0.0));
        let moved = Servo::moved(given, servo.chamber_state(near, given.stage, y), y);
        let now = servo.state(moved.chamber, y[TRAVEL], [given.inlet, p_v], y);
        let load = given.armature.load(y[TRAVEL], now.pilot_force);
        let armature = given.armature.state(given.pull, load, ArmatureMotion::of(y));
        set_motion(&moved, moved.stage.acceleration, &armature, y, rate, flux);
        let tip_rate = y[TRAVEL_RATE] * servo.pilot.seat_area;
        let over_vent = now.recovery * (moved.chamber.pressure - p_v);
        let (bulge_rate, regained) = (moved.bulge.rate, over_vent * tip_rate);
        let around = Surrounding { inlet: given.inlet, behind: p_v, bulge_rate, tip_rate, regained };
        servo.balance(given.stage, &now, around, y, rate, flux);
        flux[VENT_MASS] = y[PILOT_FLOW];
        flux[VENT_VOLUME] = match servo.chamber.filling {
            Filling::Liquid { density, .. } => y[PILOT_FLOW] * (1.0 / density) - tip_rate,
            Filling::Gas(_) => nothing,
        };
        let load = given.armature.along_travel(load);
        let answer = servo.answer(&moved, load, around, (over_vent + p_v) * tip_rate, y);
        Answer { given: nothing, outlet_swept: nothing, ..answer }
    }

    /// Pressure to which the pilot vents in a steady flow from p_1 (Pa absolute); none comes back against the flow.
    pub fn steady_vent(&self, p_1: f64) -> f64 {
        self.pressure.min(p_1)
    }
}
