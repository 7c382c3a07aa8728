//! The link of a forced lift: slack over its free play, then it draws armature and main stage together.

use super::contact::Touch;
use crate::dual::Real;
use crate::physics::parts::Link;

impl Link {
    /// Pull of the link (N) at a gap g (m) of the pilot seat that grows at the rate ġ (m/s), and what it loses.
    ///
    /// ```text
    /// L = max(0, k_l·δ·(1 + d_l·δ̇))   for δ = g − ℓ > 0, else 0          loss = (L − k_l·δ)·δ̇
    /// ```
    ///
    /// The damping goes with the force: it vanishes with the stiffness, and nothing jumps as the link gets taut. Source: the contact of
    /// [`Contact::touch`](crate::physics::parts::Contact::touch) with a linear spring, own choice.
    #[inline(always)]
    pub fn pull<T: Real>(&self, gap: T, rate: T) -> Touch<T> {
        let stretch = gap - self.free_play;
        if stretch.value() <= 0.0 {
            return Touch { force: T::constant(0.0), loss: T::constant(0.0) };
        }
        let elastic = stretch * self.stiffness;
        let force = (elastic * (rate * self.dissipation + 1.0)).positive_part();
        Touch { force, loss: (force - elastic) * rate }
    }

    /// Its elastic energy at a gap of the pilot seat (m), J: k_l·δ²/2. Source: integral of the elastic force.
    pub fn energy(&self, gap: f64) -> f64 {
        let stretch = (gap - self.free_play).max(0.0);
        0.5 * self.stiffness * stretch * stretch
    }

    /// Its pull at rest at a gap of the pilot seat (m), N: k_l·δ. Source: the same law at δ̇ = 0.
    pub fn steady_pull(&self, gap: f64) -> f64 {
        self.stiffness * (gap - self.free_play).max(0.0)
    }
}
