//! The state at rest before the coil is first switched on: shut, no flow, chamber at inlet pressure.

use super::chamber::Filling;
use super::installation::Installation;
use super::state::*;

impl Installation {
    /// State at rest with the inlet at `p_1` and the outlet at `p_2`, Pa absolute.
    ///
    /// Stage and armature rest in their contacts under their own loads. Source: balance of forces at no motion.
    pub fn at_rest(&self, p_1: f64, p_2: f64) -> [f64; STATES] {
        let mut y = [0.0; STATES];
        let stage = &self.stage;
        let load = stage.part.preload + (p_1 - p_2) * stage.seat_area;
        y[LIFT] = -stage.part.seat.indentation(load);
        let arm = &self.valve.armature;
        let pilot = arm.preload + self.armature_weight + (p_1 - p_2) * self.pilot_seat_area;
        y[TRAVEL] = -arm.seat.indentation(pilot);
        let volume = self.chamber_volume(&y);
        match &self.filling {
            Filling::Liquid { cell, .. } => y[CHAMBER] = cell.content(p_1),
            Filling::Gas(gas) => [y[CHAMBER], y[CHAMBER_ENERGY]] = gas.fill(p_1, volume),
        }
        y[INLET] = self.inlet.content(p_1);
        y[OUTLET] = self.outlet.content(p_2);
        y
    }

    /// Volume of the control chamber, m³: V_c0 − A_d·x − w − A_ps·x_a. Source: geometry.
    pub fn chamber_volume(&self, y: &[f64; STATES]) -> f64 {
        self.valve.chamber.volume - self.stage.effective_area * y[LIFT] - y[BULGE] - self.pilot_seat_area * y[TRAVEL]
    }

    /// Chamber pressure at a state, Pa absolute. Source: [`Filling::state`].
    pub fn chamber_pressure(&self, y: &[f64; STATES]) -> f64 {
        self.filling.state(y[CHAMBER], y[CHAMBER_ENERGY], self.chamber_volume(y)).pressure
    }
}
