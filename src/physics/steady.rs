//! The steady state with the main stage held at a lift: flows, pressures, flux, and the force that would move the stage.
//!
//! With the lift given, all else follows from two scalar balances, each monotone and so with one solution: the flow through
//! both lines against the flow through the valve, and the chamber pressure between bleed and pilot. The equilibria of the
//! free stage are the lifts at which no force is left; nothing depends on a first guess.

use super::chamber::Filling;
use super::installation::Installation;
use super::parts::StageKind;
use super::passage::Passage;
use super::state::*;
use crate::dual::Real;

/// Where the armature rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ArmatureRest {
    /// On the pole: the pilot is open.
    Pole,
    /// On the pilot seat: the pilot is shut.
    PilotSeat,
}

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

/// Root of a falling function between `low` (where it is not below zero) and `high` (where it is not above), to rounding.
///
/// Source: regula falsi with the Illinois weighting, then halving; own implementation since both ends are always known.
pub fn falling_root(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low <= 0.0 {
        return low;
    }
    if at_high >= 0.0 {
        return high;
    }
    let mut last = 0;
    for round in 0..200 {
        let width = high - low;
        if width <= 4.0 * f64::EPSILON * low.abs().max(high.abs()) {
            break;
        }
        let mut x = (low * at_high - high * at_low) / (at_high - at_low);
        if round % 6 == 5 || !(x > low && x < high) {
            x = 0.5 * (low + high);
        }
        let y = f(x);
        if y == 0.0 {
            return x;
        }
        if y > 0.0 {
            (low, at_low) = (x, y);
            at_high *= if last > 0 { 0.5 } else { 1.0 };
            last = 1;
        } else {
            (high, at_high) = (x, y);
            at_low *= if last < 0 { 0.5 } else { 1.0 };
            last = -1;
        }
    }
    0.5 * (low + high)
}

/// Rounds between armature and pilot; each leaves 10⁻⁵ of the misfit.
const ROUNDS: usize = 2;

/// Pilot and bleed in series.
#[derive(Clone, Copy, Debug)]
struct ServoFlow {
    chamber_pressure: f64,
    flow: f64,
}

impl Passage {
    /// Steady mass flow (kg/s) under a differential (Pa, not below zero): the root of [`Passage::loss`] = Δp.
    fn steady_flow(&self, differential: f64, loss_at_one: f64) -> f64 {
        let quadratic = loss_at_one - self.laminar;
        2.0 * differential / (self.laminar + (self.laminar * self.laminar + 4.0 * quadratic * differential).sqrt())
    }
}

impl Installation {
    /// The steady state with the stage held at `lift` (m) and the armature at rest, under `voltage` (V, direct).
    ///
    /// ```text
    /// p_1 = P_s − Δp_u(ṁ)     p_2 = P_k + Δp_d(ṁ)     ṁ = ṁ_m(x, p_1, p_2) + ṁ_p     ṁ_b(p_1, p_c) = ṁ_p(p_c, p_2)
    /// ```
    ///
    /// Valid for P_s ≥ P_k and direct voltage; dry friction of a piston is taken as relaxed. Source: the balances of
    /// [`Installation::evaluate`] with all rates but the stage's set to zero.
    pub fn held_at(&self, lift: f64, ends: EndPressures, armature: ArmatureRest, voltage: f64) -> Held {
        self.held_after(ROUNDS, lift, ends, armature, voltage)
    }

    /// The same to a share of some 10⁻⁵, in a third of the time: enough to see where the force changes its sign.
    pub fn held_roughly_at(&self, lift: f64, ends: EndPressures, armature: ArmatureRest, voltage: f64) -> Held {
        self.held_after(0, lift, ends, armature, voltage)
    }

    fn held_after(&self, rounds: usize, lift: f64, ends: EndPressures, armature: ArmatureRest, voltage: f64) -> Held {
        let pressures = |flow: f64| {
            let p_1 = ends.supply - self.upstream.whole_loss(flow);
            let p_2 = ends.sink + self.downstream.whole_loss(flow);
            (p_1, p_2)
        };
        let balance = |travel: f64| {
            let through = |p_1: f64, p_2: f64| {
                if p_1 <= p_2 {
                    return 0.0;
                }
                self.stage.throughflow(lift, p_1, p_2).mass_flow + self.servo_flow(p_1, p_2, travel).flow
            };
            let most = through(ends.supply, ends.sink);
            let flow = falling_root(0.0, most, |q| {
                let (p_1, p_2) = pressures(q);
                through(p_1, p_2) - q
            });
            let (p_1, p_2) = pressures(flow);
            Balance { flow, p_1, p_2, servo: self.servo_flow(p_1, p_2.min(p_1), travel) }
        };
        // The armature's indentation opens the pilot a little further, and the pilot's pressure presses on the armature.
        let mut differential = 0.0;
        let mut found = balance(self.rest_armature(&mut [0.0; STATES], differential, armature, voltage).travel);
        for _ in 0..rounds {
            differential = found.servo.chamber_pressure - found.p_2;
            found = balance(self.rest_armature(&mut [0.0; STATES], differential, armature, voltage).travel);
        }
        self.fill(lift, ends, voltage, armature, found)
    }

    /// All states from the pressures and flows.
    fn fill(&self, lift: f64, ends: EndPressures, voltage: f64, armature: ArmatureRest, found: Balance) -> Held {
        let Balance { flow, p_1, p_2, servo } = found;
        let p_c = servo.chamber_pressure;
        let mut y = [0.0; STATES];
        y[LIFT] = lift;
        (y[PILOT_FLOW], y[BLEED_FLOW]) = (servo.flow, servo.flow);
        if let StageKind::Diaphragm { bulge_compliance, .. } = self.valve.main.kind {
            y[BULGE] = bulge_compliance * (p_1 - p_c);
        }
        (y[UPSTREAM_FLOW], y[DOWNSTREAM_FLOW]) =
            (if self.upstream.lumped { flow } else { 0.0 }, if self.downstream.lumped { flow } else { 0.0 });
        let armature_held = self.rest_armature(&mut y, p_c - p_2, armature, voltage).held;
        let volume = self.chamber_volume(&y);
        match &self.filling {
            Filling::Liquid { cell, .. } => y[CHAMBER] = cell.content(p_c),
            Filling::Gas(gas) => [y[CHAMBER], y[CHAMBER_ENERGY]] = gas.fill(p_c, volume),
        }
        y[INLET] = self.inlet.content(p_1);
        y[OUTLET] = self.outlet.content(p_2);
        let forcing = [
            voltage,
            self.upstream.arriving_for(p_1, flow, ends.supply),
            self.downstream.arriving_for(p_2, -flow, ends.sink),
        ];
        let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
        self.evaluate(&forcing, &y, &mut rate, &mut flux);
        Held {
            y,
            forcing,
            force: rate[LIFT_RATE] * self.stage.part.mass,
            inlet_flow: flow,
            outlet_flow: flow,
            inlet_pressure: p_1,
            outlet_pressure: p_2,
            armature_held,
        }
    }

    /// Flow through bleed and pilot between p_1 and p_2 ≤ p_1, with the armature at `travel` (m).
    fn servo_flow(&self, p_1: f64, p_2: f64, travel: f64) -> ServoFlow {
        let bore = self.pilot_bore();
        let pilot_inverse = 1.0 / self.pilot_curtain(travel).powi(2) + 1.0 / (bore * bore);
        let bleed_inverse = 1.0 / self.bleed_area().powi(2);
        let density_at = |p: f64| match &self.filling {
            Filling::Liquid { density, .. } => *density,
            Filling::Gas(gas) => gas.density(p),
        };
        let bleed = |p_c: f64| {
            let loss = self.bleed.loss(1.0, bleed_inverse, self.bleed_side(1.0, density_at(p_c), p_1, p_c));
            self.bleed.steady_flow(p_1 - p_c, loss)
        };
        let pilot = |p_c: f64| {
            let loss = self.pilot.loss(1.0, pilot_inverse, self.side(1.0, density_at(p_c), p_c, p_2));
            self.pilot.steady_flow(p_c - p_2, loss)
        };
        let chamber_pressure = falling_root(p_2, p_1, |p_c| bleed(p_c) - pilot(p_c));
        ServoFlow { chamber_pressure, flow: bleed(chamber_pressure) }
    }

    /// Put the armature with its flux to rest at one end of its way; is it held there?
    fn rest_armature(&self, y: &mut [f64; STATES], differential: f64, rest: ArmatureRest, voltage: f64) -> Rested {
        let arm = &self.valve.armature;
        let mut indentation: f64 = 0.0;
        let mut push = 0.0;
        // The gap changes by the indentation, some 10⁻⁴ of itself: a few rounds settle it to rounding.
        for _ in 0..8 {
            y[TRAVEL] = match rest {
                ArmatureRest::Pole => arm.stroke + indentation,
                ArmatureRest::PilotSeat => -indentation,
            };
            let (flux, ring_flux) = self.magnet.steady_flux(voltage, y[TRAVEL]);
            (y[FLUX], y[RING_FLUX]) = (flux, ring_flux);
            let pull = self.magnet.state(voltage, flux, ring_flux, y[TRAVEL]).pull;
            let load = self.armature_load(y[TRAVEL], differential);
            push = match rest {
                ArmatureRest::Pole => pull - load,
                ArmatureRest::PilotSeat => load - pull,
            };
            let contact = if rest == ArmatureRest::Pole { &arm.pole } else { &arm.seat };
            indentation = contact.indentation(push.max(0.0));
        }
        Rested { travel: y[TRAVEL], held: push > 0.0 }
    }

    /// Spring, weight and pilot pressure on an armature at rest, N.
    fn armature_load(&self, travel: f64, differential: f64) -> f64 {
        let arm = &self.valve.armature;
        let ratio = (self.pilot_curtain(travel) / self.pilot_bore()).square();
        let recovery = ratio / (1.0 + ratio);
        travel * arm.spring_rate
            + differential * (1.0 - recovery) * self.pilot_seat_area
            + arm.preload
            + self.armature_weight
    }
}

/// The armature at rest.
struct Rested {
    travel: f64,
    held: bool,
}

/// Flows and pressures in balance.
struct Balance {
    flow: f64,
    p_1: f64,
    p_2: f64,
    servo: ServoFlow,
}
