//! The state at rest before the coil is first switched on, and a stage that is moved at once: shut, no flow, chamber at inlet
//! pressure; and the same pressures at another lift.

use super::installation::{Installation, Nearby};
use super::state::*;

impl Installation {
    /// State at rest with the inlet at `p_1` and the outlet at `p_2`, Pa absolute.
    ///
    /// Stage and armature rest in their contacts under their own loads. Source: balance of forces at no motion.
    pub fn at_rest(&self, p_1: f64, p_2: f64) -> [f64; STATES] {
        let mut y = [0.0; STATES];
        y[LIFT] = self.stage.rest_lift(p_1 - p_2);
        self.control.rest(&self.armature, &self.stage, p_1, p_2, &mut y);
        let held = self.magnet.coil.coercive_force.map(|_| self.magnet.steady_flux(0.0, self.control.travel(&y)));
        (y[FLUX], y[RING_FLUX]) = held.unwrap_or((0.0, 0.0));
        y[INLET] = self.inlet.content(p_1);
        y[OUTLET] = self.outlet.content(p_2);
        y
    }

    /// Put the stage at once to another lift (m), all pressures and flows as they were.
    pub fn knock(&self, near: &Nearby, y: &mut [f64; STATES], lift: f64) {
        self.control.knock(&near.chamber, &self.stage, y, lift);
    }
}
