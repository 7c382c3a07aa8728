//! The state at rest in which a run begins, and a stage that is moved at once: shut, no flow, chamber at inlet pressure; and the same
//! pressures at another lift.

use super::installation::{Installation, Nearby};
use super::state::*;

impl Installation {
    /// State at rest with the inlet at `p_1` and the outlet at `p_2`, Pa absolute.
    ///
    /// Stage and armature rest in their contacts under their own loads. Source: balance of forces at no motion.
    pub fn at_rest(&self, p_1: f64, p_2: f64) -> [f64; STATES] {
        let (flux, ring_flux) = self.remanent_flux();
        self.shut_under(p_1, p_2, [flux, ring_flux])
    }

    /// Fluxes of core and shaded face that the iron of a shut valve keeps up without current, Wb: none, unless it stays magnetised.
    fn remanent_flux(&self) -> (f64, f64) {
        let stays = self.magnet.coil.coercive_force;
        stays.map_or((0.0, 0.0), |_| self.magnet.steady_flux(0.0, self.armature.approach(0.0)))
    }

    /// Pull of a shut valve's magnet that is left without current, N.
    ///
    /// Valid for an armature that just touches its seat. Source: [`super::valve::magnet::Magnet::state`] in its steady flux.
    pub fn remanent_pull(&self) -> f64 {
        let (flux, ring_flux) = self.remanent_flux();
        self.magnet.state(0.0, flux, ring_flux, self.armature.approach(0.0)).pull
    }

    /// The state at rest with the magnet in those fluxes (core and shaded face, Wb): so is a normally open valve at rest that is shut. Where not even
    /// its pull keeps the armature down, it stands in its seat untouched, about to leave it.
    pub fn shut_under(&self, p_1: f64, p_2: f64, fluxes: [f64; 2]) -> [f64; STATES] {
        let mut y = [0.0; STATES];
        [y[FLUX], y[RING_FLUX]] = fluxes;
        let pull = self.magnet.state(0.0, y[FLUX], y[RING_FLUX], self.armature.approach(0.0)).pull;
        self.control.rest(&self.armature, &self.stage, [p_1, p_2], pull, &mut y);
        y[INLET] = self.inlet.content(p_1);
        y[OUTLET] = self.outlet.content(p_2);
        y
    }

    /// Put the stage at once to another lift (m), all pressures and flows as they were.
    pub fn knock(&self, near: &Nearby, y: &mut [f64; STATES], lift: f64) {
        self.control.knock(&near.chamber, &self.stage, y, lift);
    }
}
