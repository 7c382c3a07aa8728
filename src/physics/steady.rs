//! The steady state with the main stage held at a lift: flows, pressures, flux, and the force that would move the stage.
//!
//! With the lift given, all else follows from two scalar balances, each monotone and so with one solution: the flow through
//! both lines against the flow through the valve, and the chamber pressure between bleed and pilot. The equilibria of the
//! free stage are the lifts at which no force is left; nothing depends on a first guess.

use super::installation::{Installation, Nearby};
use super::root::falling_root;
use super::state::*;
use super::valve::answer::{ControlFlow, HeldBy};
use super::valve::armature::ArmatureRest;

/// Pressures at the far ends of the lines, Pa absolute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndPressures {
    /// Supply P_s.
    pub supply: f64,
    /// Sink P_k.
    pub sink: f64,
}

/// A steady state with the stage held.
#[derive(Clone, Copy, Debug)]
pub struct Held {
    /// All states; the stage's speed is zero.
    pub y: [f64; STATES],
    /// Coil voltage and what arrives at the ports.
    pub forcing: [f64; FORCINGS],
    /// Force that would move the stage, N, opening.
    pub force: f64,
    /// Flow from the upstream line, kg/s.
    pub inlet_flow: f64,
    /// Flow into the downstream line, kg/s.
    pub outlet_flow: f64,
    /// Inlet pressure, Pa absolute.
    pub inlet_pressure: f64,
    /// Outlet pressure, Pa absolute.
    pub outlet_pressure: f64,
    /// Does the magnet hold the armature where it was assumed to rest?
    pub armature_held: bool,
}

/// Rounds between armature and pilot; each leaves 10⁻⁵ of the misfit.
const ROUNDS: usize = 2;

impl Installation {
    /// The steady state with the stage held at `lift` (m) and the armature at rest, under `voltage` (V, direct).
    ///
    /// ```text
    /// p_1 = P_s − Δp_u(ṁ)     p_2 = P_k + Δp_d(ṁ − ṁ_a)     ṁ = ṁ_m(x, p_1, p_2) + ṁ_p     ṁ_b + ṁ_l (p_1, p_c) = ṁ_p(p_c, p_2)
    /// ```
    ///
    /// ṁ_a leaves past the outlet port: ṁ_p where the pilot vents to a place of its own, then with p_v in the place of p_2, else none.
    /// Valid for P_s ≥ P_k and direct voltage; dry friction of a piston is taken as relaxed. Source: the balances of
    /// [`Installation::evaluate`] with all rates but the stage's set to zero.
    pub fn held_at(&self, near: &Nearby, lift: f64, ends: EndPressures, armature: ArmatureRest, voltage: f64) -> Held {
        self.held_after(near, ROUNDS, lift, ends, armature, voltage)
    }

    /// The same to a share of some 10⁻⁵, in a third of the time: enough to see where the force changes its sign.
    pub fn held_roughly_at(
        &self,
        near: &Nearby,
        lift: f64,
        ends: EndPressures,
        armature: ArmatureRest,
        voltage: f64,
    ) -> Held {
        self.held_after(near, 0, lift, ends, armature, voltage)
    }

    fn held_after(
        &self,
        near: &Nearby,
        rounds: usize,
        lift: f64,
        ends: EndPressures,
        armature: ArmatureRest,
        voltage: f64,
    ) -> Held {
        let balance = |travel: f64| {
            let pressures = |flow: f64| {
                let p_1 = ends.supply - self.upstream.whole_loss(flow);
                let onward = flow - self.control.steady_aside(p_1, travel, lift);
                (p_1, ends.sink + self.downstream.whole_loss(onward), onward)
            };
            let through = |p_1: f64, p_2: f64| {
                if p_1 <= p_2 {
                    return self.control.steady_aside(p_1, travel, lift);
                }
                let through = self.stage.throughflow(lift, p_1, p_2);
                let vent = self.control.vents_to(p_1, p_2, through.recovery);
                through.mass_flow + self.control.steady(p_1, vent, travel, lift).flow
            };
            let most = through(ends.supply, ends.sink);
            let flow = falling_root(0.0, most, |q| {
                let (p_1, p_2, _) = pressures(q);
                through(p_1, p_2) - q
            });
            let (p_1, p_2, onward) = pressures(flow);
            let recovery = self.stage.throughflow(lift, p_1, p_2).recovery;
            let vent = self.control.vents_to(p_1, p_2.min(p_1), recovery);
            Balance { flow, onward, p_1, p_2, vent, control: self.control.steady(p_1, vent, travel, lift) }
        };
        // The armature's indentation opens the pilot a little further, and the pilot's pressure presses on the armature.
        let mut held = HeldBy { rest: armature, voltage, differential: 0.0, lift };
        let resting = |held: &HeldBy| self.control.resting(&self.armature, &self.magnet, held);
        let mut found = balance(resting(&held).travel);
        for _ in 0..rounds {
            held.differential = found.control.chamber_pressure - found.vent;
            found = balance(resting(&held).travel);
        }
        held.differential = found.control.chamber_pressure - found.vent;
        self.fill(near, ends, held, found)
    }

    /// All states from the pressures and flows.
    fn fill(&self, near: &Nearby, ends: EndPressures, held: HeldBy, found: Balance) -> Held {
        let Balance { flow, onward, p_1, p_2, control, .. } = found;
        let mut y = [0.0; STATES];
        y[LIFT] = held.lift;
        (y[UPSTREAM_FLOW], y[DOWNSTREAM_FLOW]) =
            (if self.upstream.lumped { flow } else { 0.0 }, if self.downstream.lumped { onward } else { 0.0 });
        let rested = self.control.resting(&self.armature, &self.magnet, &held);
        (y[FLUX], y[RING_FLUX]) = rested.flux;
        self.control.fill(&self.stage, p_1, &control, rested.travel, &mut y);
        y[INLET] = self.inlet.content(p_1);
        y[OUTLET] = self.outlet.content(p_2);
        let forcing = [
            held.voltage,
            self.upstream.arriving_for(p_1, flow, ends.supply),
            self.downstream.arriving_for(p_2, -onward, ends.sink),
        ];
        let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
        self.evaluate(near, &forcing, &y, &mut rate, &mut flux);
        Held {
            y,
            forcing,
            force: rate[LIFT_RATE] * self.stage.part.mass,
            inlet_flow: flow,
            outlet_flow: onward,
            inlet_pressure: p_1,
            outlet_pressure: p_2,
            armature_held: rested.held,
        }
    }
}

/// Flows and pressures in balance.
struct Balance {
    flow: f64,
    onward: f64,
    p_1: f64,
    p_2: f64,
    vent: f64,
    control: ControlFlow,
}
