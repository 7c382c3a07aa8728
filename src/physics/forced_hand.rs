//! Formulas for a check by hand of a forced lift: which strokes and pulls it asks for, and what it does without them.

use super::hand::overcome;
use super::installation::Installation;
use super::parts::{Armature, Link, MainStage};
use super::valve::armature::InstalledArmature;
use super::valve::forced_lift::ForcedLift;

/// Stroke that the armature needs to bring the main stage to its stop by the link alone, m.
///
/// ```text
/// s_a ≥ x_max + ℓ + (F_0 + k·x_max)/k_l
/// ```
///
/// Valid without a differential, which helps the link. Source: geometry of the taut link, own derivation.
pub fn needed_stroke(link: &Link, main: &MainStage) -> f64 {
    main.lift + link.free_play + (main.preload + main.spring_rate * main.lift) / link.stiffness
}

/// Lift at which the main stage hangs from its link without a differential, the armature at the pole, m; full lift at most.
///
/// ```text
/// k_l·(s_a − x − ℓ) = F_0 + k·x        x = (k_l·(s_a − ℓ) − F_0)/(k_l + k)
/// ```
///
/// Valid where the magnet holds the armature at the pole. Source: balance of forces on the stage, own derivation.
pub fn hanging_lift(link: &Link, armature: &Armature, main: &MainStage) -> f64 {
    let balance = link.stiffness * (armature.stroke - link.free_play) - main.preload;
    (balance / (link.stiffness + main.spring_rate)).clamp(0.0, main.lift)
}

/// Pull that the magnet needs to draw the main stage off its seat with the link just taut, N, all pressures equal.
///
/// ```text
/// F(g_res + s_a − ℓ) ≥ F_a0 + m_a·g·cos θ + k_a·ℓ + F_0
/// ```
///
/// Valid for a stiff link; a soft one is drawn longer first, where the magnet pulls harder. Source: balance of forces.
pub fn drawing_pull(link: &Link, armature: &InstalledArmature, main: &MainStage) -> f64 {
    armature.part.preload + armature.weight + armature.part.spring_rate * link.free_play + main.preload
}

impl Installation {
    /// Differential across the valve at which a forced lift's main stage just reaches its stop, Pa; none if it never does.
    ///
    /// ```text
    /// Δp_full = (F_0 + k·x_max − L)/((1 − φ)·[A_d·(1 − r) − A_s − 2·k_ff·C_c + A_ps·r·(1 − φ_p)])
    /// L = k_l·(s_a − x_max − ℓ), not below zero        φ at full lift, r and φ_p at g = s_a − x_max
    /// ```
    ///
    /// Some twice a servo valve's where the link does not help, since pilot and chamber vent to the pressure under the main seat, not to
    /// the outlet's; zero where the link alone does it. Valid with the armature at the pole, for a liquid, or a gas at a small pressure
    /// ratio. Source: balance of forces at the stop, own derivation.
    pub(super) fn forced_full_lift(&self, forced: &ForcedLift) -> Option<f64> {
        let stage = &self.stage;
        let part = &stage.part;
        let gap = self.armature.part.stroke - part.lift;
        let left = part.preload + part.spring_rate * part.lift - forced.link.steady_pull(gap);
        if left <= 0.0 {
            return Some(0.0);
        }
        let restrictions = stage.restrictions(part.lift);
        let not_recovered = restrictions.bore * restrictions.bore
            / (restrictions.curtain * restrictions.curtain + restrictions.bore * restrictions.bore);
        let flow_force = 2.0 * part.flow_force_factor * restrictions.curtain;
        overcome(left, |differential| {
            let share = forced.servo.chamber_share(gap, part.lift, not_recovered * differential);
            let pressing = forced.servo.steady_force(share, gap);
            not_recovered * (stage.effective_area * (1.0 - share) - stage.seat_area - flow_force + pressing)
        })
    }
}
