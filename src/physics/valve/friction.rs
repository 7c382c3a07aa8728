//! Dry friction of a piston and of an armature: it sticks elastically and then slides, without creep under a steady load.

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

/// Dry friction that sticks elastically up to its break-away force, also where what it bears trembles: the armature's.
///
/// ```text
/// F_r = F_c·ζ        ζ = z/z_c        ż = v·(1 − ζ⁸) while it is loaded further (v·ζ > 0), else v        loss = F_r·(v − ż)
/// ```
///
/// A load that swings below the break-away force brings it back to where it was, but for ζ⁸; with [`DryFriction`] it would creep on with
/// each swing, as an alternating magnet's pull does. Source: R. Bouc (1967) and Y.-K. Wen, "Method for random vibration of hysteretic
/// systems", J. Eng. Mech. Div. ASCE 102 (1976) 249-263, with A = 1, β = γ = 1/2, n = 8 (from memory).
#[derive(Clone, Copy, Debug)]
pub struct Sticking {
    /// Break-away (and sliding) friction F_c, N, above zero.
    force: f64,
}

/// Way by which a stuck armature gives way before it slides z_c, m: what dirt and the play in its tube let it move. Judgement, no
/// source; it is small against a stroke and far above the error of the integration.
const YIELD: f64 = 1e-5;

impl Sticking {
    /// Dry friction of that break-away force (N).
    pub fn new(force: f64) -> Self {
        Sticking { force }
    }

    /// Force, rate of the deflection and loss at a speed (m/s) and a deflection (m). Source: see [`Sticking`].
    #[inline(always)]
    pub fn rub<T: Real>(&self, speed: T, deflection: T) -> Rub<T> {
        let share = deflection * (1.0 / YIELD);
        let force = share * self.force;
        let loaded = speed.value() * share.value() > 0.0;
        let slip = if loaded { speed * share.square().square().square() } else { T::constant(0.0) };
        Rub { force, deflection_rate: speed - slip, loss: slip * force }
    }

    /// Energy of the deflection, J: F_c·z²/(2·z_c).
    pub fn energy(&self, deflection: f64) -> f64 {
        0.5 * self.force / YIELD * deflection * deflection
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
