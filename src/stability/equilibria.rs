//! All equilibria of the valve that is asked to be open, and the differentials at which they begin and end.
//!
//! The lift is the coordinate: with the stage held at a lift everything else is determined
//! ([`crate::physics::steady`]), so the equilibria are the roots of one function of one variable on a closed range, and the
//! branch of floating states is a curve Δp(x) with one value for each lift, folds included. Nothing hangs on a first guess.

use super::valve::Energised;
use crate::physics::root::falling_root;
use crate::physics::state::{LIFT, TRAVEL};
use crate::physics::steady::Held;
use crate::physics::valve::armature::ArmatureRest;
use crate::portable::Portable;
use serde::{Deserialize, Serialize};

/// What an equilibrium is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rest {
    /// The magnet, of a normally open valve the spring, does not lift the armature off the pilot seat.
    PilotShut,
    /// Pilot open, main stage on its seat.
    Shut,
    /// Main stage between seat and stop.
    Floating,
    /// The same, drawn there by the link to its armature.
    Hanging,
    /// Main stage on its stop.
    Open,
}

impl Rest {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Rest::PilotShut => "pilot stays shut",
            Rest::Shut => "shut",
            Rest::Floating => "floating",
            Rest::Hanging => "hanging from its link",
            Rest::Open => "fully open",
        }
    }
}

/// An equilibrium.
#[derive(Clone, Copy, Debug)]
pub struct Equilibrium {
    /// What it is.
    pub rest: Rest,
    /// Lift, m; in contact it lies outside the free range by the indentation.
    pub lift: f64,
    /// Force that answers a displacement of the stage, N/m, all else settled: negative leads back.
    pub stiffness: f64,
    /// The whole state.
    pub held: Held,
}

/// Lifts at which the force is looked at between seat and stop.
const LOOKS: usize = 120;
/// Share of full lift over which the stiffness is measured.
const STIFFNESS_STEP: f64 = 1e-6;
/// Differential (Pa) that counts as none.
const LEAST: f64 = 1.0;

impl Energised {
    /// Force on the stage at a lift with the armature lifted: where it comes first of what holds it there.
    fn force(&self, lift: f64) -> f64 {
        let [nearer @ .., last] = self.lifted_rests() else { return f64::NAN };
        let held = nearer.iter().map(|rest| self.held_at(lift, *rest)).find(|held| held.armature_held);
        held.unwrap_or_else(|| self.held_at(lift, *last)).force
    }

    /// Where a lifted armature may rest. The direct voltage that stands for an alternating one gives the pull at the pole only.
    fn lifted_rests(&self) -> &'static [ArmatureRest] {
        if self.left_out() { &[ArmatureRest::Pole] } else { self.installation.control.lifted_rests() }
    }

    /// Are states left out in which the armature is off the pole?
    pub fn left_out(&self) -> bool {
        self.coil.mean_of_alternating && self.installation.control.link().is_some()
    }

    /// All equilibria, by rising lift. A pilot that stays shut comes first, where the armature is not lifted.
    pub fn equilibria(&self) -> Vec<Equilibrium> {
        let mut found = Vec::new();
        let pilot_shut = self.settled_in_seat(ArmatureRest::PilotSeat);
        if pilot_shut.armature_held && !self.left_out() {
            let (rest, lift) = (Rest::PilotShut, pilot_shut.y[LIFT]);
            found.push(self.equilibrium(rest, ArmatureRest::PilotSeat, lift, pilot_shut));
        }
        let linked = self.installation.control.link().is_some();
        if !linked && !self.held_at(0.0, ArmatureRest::Pole).armature_held {
            return found;
        }
        for rest in self.lifted_rests() {
            // A taut link may draw the armature off the pole at one lift and leave it there at another.
            found.extend(self.lifted(*rest).into_iter().filter(|e| !linked || e.held.armature_held));
        }
        if linked {
            found.sort_by(|a, b| a.lift.total_cmp(&b.lift));
        }
        found
    }

    /// All equilibria with the armature off its seat and resting there.
    fn lifted(&self, armature: ArmatureRest) -> Vec<Equilibrium> {
        let mut found = Vec::new();
        let full = self.installation.stage.part.lift;
        let lifts: Vec<f64> = (0..=LOOKS).map(|i| full * (i as f64 / LOOKS as f64).to_the(2)).collect();
        // Where no link holds the armature there is no such state, and no force.
        let force_of =
            |held: Held| if armature != ArmatureRest::Link || held.armature_held { held.force } else { f64::NAN };
        let exactly = |x: f64| force_of(self.held_at(x, armature));
        let roughly = |x: f64| {
            let held = self.installation.held_roughly_at(&self.near, x, self.ends, armature, self.coil.voltage);
            force_of(held)
        };
        let mut forces: Vec<f64> = lifts.iter().map(|&x| roughly(x)).collect();
        (forces[0], forces[LOOKS]) = (exactly(0.0), exactly(full));
        if forces[0] < 0.0 {
            let held = self.settled_in_seat(armature);
            found.push(self.equilibrium(Rest::Shut, armature, held.y[LIFT], held));
        }
        for i in 0..LOOKS {
            let (a, b) = (forces[i], forces[i + 1]);
            if (a >= 0.0) == (b >= 0.0) || !(a.is_finite() && b.is_finite()) {
                continue;
            }
            let sign = if a >= 0.0 { 1.0 } else { -1.0 };
            let lift = falling_root(lifts[i], lifts[i + 1], |x| sign * exactly(x));
            let held = self.held_at(lift, armature);
            let rest = if self.hangs(&held) { Rest::Hanging } else { Rest::Floating };
            found.push(self.equilibrium(rest, armature, lift, held));
        }
        if forces[LOOKS] > 0.0 {
            let deep = full + 2.0 * self.installation.stage.part.stop.indentation(forces[LOOKS]);
            let lift = falling_root(full, deep, exactly);
            found.push(self.equilibrium(Rest::Open, armature, lift, self.held_at(lift, armature)));
        }
        found
    }

    /// Is the stage drawn by its link?
    fn hangs(&self, held: &Held) -> bool {
        self.installation.control.link().is_some_and(|link| held.y[TRAVEL] - held.y[LIFT] > link.free_play)
    }

    /// The stage at rest in its seat.
    fn settled_in_seat(&self, armature: ArmatureRest) -> Held {
        let load = -self.held_at(0.0, armature).force;
        let deep = -2.0 * self.installation.stage.part.seat.indentation(load.max(0.0));
        let lift = falling_root(deep, 0.0, |x| self.held_at(x, armature).force);
        self.held_at(lift, armature)
    }

    fn equilibrium(&self, rest: Rest, armature: ArmatureRest, lift: f64, held: Held) -> Equilibrium {
        let step = STIFFNESS_STEP * self.installation.stage.part.lift;
        let at = |x: f64| self.held_at(x, armature).force;
        Equilibrium { rest, lift, stiffness: (at(lift + step) - at(lift - step)) / (2.0 * step), held }
    }
}

/// Differential (Pa) at which the stage is in balance at `lift` (m); none up to `highest`. `at` builds the valve for a
/// circuit differential.
pub fn differential_for(lift: f64, highest: f64, at: impl Fn(f64) -> Option<Energised>) -> Option<f64> {
    // A differential that makes no sound valve (a stated flow that it cannot drive, say) has no force.
    let force = |differential: f64| at(differential).map(|valve| valve.force(lift)).filter(|f| f.is_finite());
    let mut high = highest.min(1e3);
    while force(high).is_none_or(|f| f <= 0.0) {
        high *= 2.0;
        if high > highest {
            return None;
        }
    }
    let mut low = 0.5 * high;
    // Without a closing force at the lower end no balance lies between: the stage lifts wherever there is a sound valve.
    if high > 1e3 && force(low).is_none_or(|f| f > 0.0) {
        return None;
    }
    // Where the least differential looked at lifts it already, the balance lies below, if a magnet does not lift it at none.
    if force(low).is_some_and(|f| f > 0.0) {
        low = LEAST;
        if force(low).is_none_or(|f| f > 0.0) {
            return None;
        }
    }
    let root = falling_root(low, high, |dp| force(dp).map_or(f64::NAN, |f| -f));
    Some(root).filter(|r| r.is_finite())
}

/// The differentials that bound the valve's states, Pa.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// The shut stage lifts off.
    pub lift_off: Option<f64>,
    /// The open stage leaves its stop as the differential falls.
    pub full_lift: Option<f64>,
    /// Lowest differential at which a floating (or open) equilibrium exists; below lift-off where the branch folds back.
    pub least_open: Option<f64>,
}

/// The differentials that bound the states of a valve with full lift `full` (m), looked for up to `highest` (Pa).
pub fn limits(full: f64, highest: f64, at: impl Fn(f64) -> Option<Energised> + Copy) -> Limits {
    let branch: Vec<f64> =
        (0..=40).filter_map(|i| differential_for(full * (f64::from(i) / 40.0).to_the(2), highest, at)).collect();
    Limits {
        lift_off: differential_for(0.0, highest, at),
        full_lift: differential_for(full, highest, at),
        least_open: branch.into_iter().min_by(f64::total_cmp),
    }
}
