//! The state at rest before the coil is first switched on, and a stage that is moved at once: shut, no flow, chamber at inlet
//! pressure; and the same pressures at another lift.

use super::installation::{Installation, Nearby};
use super::state::*;
use super::valve::Control;
use super::valve::chamber::Filling;

impl Installation {
    /// State at rest with the inlet at `p_1` and the outlet at `p_2`, Pa absolute.
    ///
    /// Stage and armature rest in their contacts under their own loads. Source: balance of forces at no motion.
    pub fn at_rest(&self, p_1: f64, p_2: f64) -> [f64; STATES] {
        let Control::Servo(servo) = &self.control;
        let mut y = [0.0; STATES];
        y[LIFT] = self.stage.rest_lift(p_1 - p_2);
        y[TRAVEL] = self.armature.seated_travel((p_1 - p_2) * servo.pilot.seat_area);
        [y[CHAMBER], y[CHAMBER_ENERGY]] = servo.chamber.filling.fill(p_1, servo.volume(&self.stage, &y));
        y[INLET] = self.inlet.content(p_1);
        y[OUTLET] = self.outlet.content(p_2);
        y
    }

    /// Put the stage at once to another lift (m), all pressures and flows as they were.
    pub fn knock(&self, near: &Nearby, y: &mut [f64; STATES], lift: f64) {
        let Control::Servo(servo) = &self.control;
        let pressure = servo.chamber_pressure(&near.chamber, &self.stage, y);
        y[LIFT] = lift;
        match &servo.chamber.filling {
            // The content is what goes beyond the vessel, whatever that holds.
            Filling::Liquid { .. } => {}
            Filling::Gas(gas) => [y[CHAMBER], y[CHAMBER_ENERGY]] = gas.fill(pressure, servo.volume(&self.stage, y)),
        }
    }
}
