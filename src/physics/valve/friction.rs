//! Dry friction of a piston: it sticks elastically and then slides, without creep.

use crate::dual::Real;
use crate::physics::parts::StageKind;

/// Dry friction with an elastic deflection z before sliding.
///
/// ```text
/// F_r = σ·z        ż = v − |v|·σ·z/F_c        loss = |v|·F_r²/F_c
/// ```
///
/// Source: P. R. Dahl (1968), "A solid friction model" (from memory).
#[derive(Clone, Copy, Debug)]
pub struct DryFriction {
    /// Break-away (and sliding) friction F_c, N, above zero.
    force: f64,
    /// Stiffness before it slides σ, N/m.
    stiffness: f64,
}

/// What rubbing does at one instant.
#[derive(Clone, Copy, Debug)]
pub struct Rub<T> {
    /// Force against the motion, N.
    pub force: T,
    /// dz/dt, m/s.
    pub deflection_rate: T,
    /// Power lost, W.
    pub loss: T,
}

impl StageKind {
    /// The stage's dry friction, if it has any.
    #[inline(always)]
    pub fn friction(&self) -> Option<DryFriction> {
        match *self {
            StageKind::Piston { friction, presliding_stiffness } => {
                (friction > 0.0).then_some(DryFriction { force: friction, stiffness: presliding_stiffness })
            }
            StageKind::Diaphragm { .. } => None,
        }
    }
}

impl<T: Real> Rub<T> {
    /// No friction.
    #[inline(always)]
    pub fn none() -> Self {
        let zero = T::constant(0.0);
        Rub { force: zero, deflection_rate: zero, loss: zero }
    }
}

impl DryFriction {
    /// Force, rate of the deflection and loss at a speed (m/s) and a deflection (m). Source: see [`DryFriction`].
    #[inline(always)]
    pub fn rub<T: Real>(&self, speed: T, deflection: T) -> Rub<T> {
        let force = deflection * self.stiffness;
        let slip = speed.abs() * force * (1.0 / self.force);
        Rub { force, deflection_rate: speed - slip, loss: slip * force }
    }

    /// Energy of the deflection, J: σ·z²/2.
    pub fn energy(&self, deflection: f64) -> f64 {
        0.5 * self.stiffness * deflection * deflection
    }
}
