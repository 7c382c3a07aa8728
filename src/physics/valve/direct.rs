//! The direct-operated valve: the armature carries the seal of the main seat, and magnet and spring alone move it. There is no chamber,
//! no pilot and no bleed; armature and stage are one body, whose states are the stage's.
//!
//! ```text
//! m·v̇ = F(g_res + s − x) − F_0 − k·x − c·v − (p_1 − p_s)·(A_s + 2·k_ff·C_c) − F_r + contacts   p_s = p_2 + φ·(p_1 − p_2)
//! ```
//!
//! Normally open, the spring lifts it with F_0 + k·(s − x) and the magnet presses it down with F(g_res + c + x): it opens again up to the
//! differential at which A_s·Δp is F_0 + k·s, and beyond stays shut; after a quick release up to some
//! 4 % beyond it still opens, since the pressed seal throws it off.
//!
//! With y = C_c/C_b, curtain over bore, the fluid closes with A_s·Δp·(1 + 2·k_ff·C_c/A_s)/(1 + y²): most of it at the seat. So it opens
//! at no differential at all, and up to the one at which A_s·Δp + F_0 is the pull over the whole gap. Its spring is the armature's, its
//! upper stop the pole. What lies behind the armature is at inlet pressure, which slots in the armature pass on: nothing of that is
//! computed apart, so that the mass that is stated includes the fluid's inertia there, and the damping its drag.
//! Source: the main stage of [`super::main_stage`] without a control chamber, A_d = 0.

use super::answer::{Answer, ControlFlow, Given, HeldBy};
use super::armature::{GRAVITY, InstalledArmature, Rested, seat_preload};
use super::magnet::Magnet;
use super::main_stage::{StageMotion, StagePressures};
use crate::dual::Real;
use crate::physics::parts::{Armature, Function, MainStage, StageKind};
use crate::physics::state::*;
use crate::portable::Portable;

/// States that a direct-operated valve does not have.
const IDLE: [usize; 9] =
    [TRAVEL, TRAVEL_RATE, CHAMBER, CHAMBER_ENERGY, BULGE, ARMATURE_DEFLECTION, PILOT_FLOW, BLEED_FLOW, RING_LEAK_FLOW];

/// A stage that neither bulges nor rubs.
pub const STIFF: StageKind = StageKind::Diaphragm { bulge_compliance: 0.0, bulge_resistance: 0.0 };

/// The armature with its seal as a main stage on the seat of `main`: mass, spring, damping, way and what ends it above, its pole or of a
/// normally open valve its stop, are the armature's. Its weight is not in the preload yet.
pub fn carried_by(armature: &Armature, function: &Function, main: &MainStage) -> MainStage {
    MainStage {
        kind: STIFF,
        effective_diameter: 0.0,
        lift: armature.stroke,
        mass: armature.mass,
        preload: seat_preload(armature, function),
        spring_rate: armature.spring_rate,
        damping: armature.damping,
        stop: match function {
            Function::NormallyClosed => armature.pole.clone(),
            Function::NormallyOpen(open) => open.stop.clone(),
        },
        ..main.clone()
    }
}

/// The same with its weight, its axis at `attitude` (rad from upright).
pub fn installed(armature: &Armature, function: &Function, main: &MainStage, attitude: f64) -> MainStage {
    let stage = carried_by(armature, function, main);
    MainStage { preload: stage.preload + stage.mass * GRAVITY * attitude.cosine(), ..stage }
}

/// States that stay as they are have no size.
pub fn set_scales(scales: &mut [f64; STATES]) {
    for place in IDLE {
        scales[place] = f64::INFINITY;
    }
}

/// See [`super::control::Control::evaluate`]. Source: momentum balance, see the head of this file.
#[inline(always)]
pub fn evaluate<T: Real>(
    given: &Given<'_, T>,
    y: &[T; STATES],
    rate: &mut [T; STATES],
    flux: &mut [T; INTEGRALS],
) -> Answer<T> {
    let zero = T::constant(0.0);
    let part = &given.stage.part;
    let (x, v) = (y[LIFT], y[LIFT_RATE]);
    let pressures = StagePressures { inlet: given.inlet, outlet: given.outlet, chamber: given.inlet };
    let stage = given.stage.state(pressures, StageMotion { lift: x, speed: v, deflection: zero });
    let rub = given.armature.rub(v, y[DEFLECTION]);
    for place in IDLE {
        rate[place] = zero;
    }
    rate[LIFT] = v;
    let pole = given.armature.pole_below(x, v);
    let pull = given.armature.along_travel(given.pull) + pole.force - rub.force;
    rate[LIFT_RATE] = stage.acceleration + pull * (1.0 / part.mass);
    rate[DEFLECTION] = rub.deflection_rate;
    for place in [BULGE_LOSS, PILOT_LOSS, BLEED_LOSS, RING_LEAK_LOSS, WALL_HEAT] {
        flux[place] = zero;
    }
    flux[STAGE_LOSS] = stage.loss + pole.loss;
    flux[ARMATURE_LOSS] = rub.loss;
    Answer {
        stage,
        chamber_pressure: given.inlet,
        armature_load: given.armature.along_travel(x * part.spring_rate - stage.stream_force + part.preload),
        drawn: zero,
        given: zero,
        inlet_swept: zero,
        outlet_swept: zero,
        stream_work: stage.stream_force * v,
    }
}

/// Nothing flows beside the main seat.
pub fn steady(p_1: f64) -> ControlFlow {
    ControlFlow { chamber_pressure: p_1, flow: 0.0, leak: 0.0 }
}

/// The armature is where the stage is held, and the flux belongs to that gap; no end of its way holds it by itself.
pub fn resting(armature: &InstalledArmature, magnet: &Magnet, held: &HeldBy) -> Rested {
    Rested {
        travel: held.lift,
        flux: magnet.steady_flux(held.voltage, armature.approach(held.lift)),
        held: held.rest == super::armature::ArmatureRest::Pole,
    }
}
