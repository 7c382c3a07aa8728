//! The servo: the armature opens a pilot, the chamber behind the main stage empties, and the inlet's pressure lifts the stage.

use super::answer::{Answer, ControlFlow, Given};
use super::armature::InstalledArmature;
use super::bleed::InstalledBleed;
use super::bulge::Bulging;
use super::cell::Near;
use super::chamber::{ChamberRates, ChamberState, Filling, InstalledChamber};
use super::main_stage::{Stage, StageMotion, StagePressures};
use super::passage::Passage;
use super::pilot::InstalledPilot;
use crate::dual::Real;
use crate::physics::fluid::{Fluid, fluid_at};
use crate::physics::parts::ServoParts;
use crate::physics::root::falling_root;
use crate::physics::state::*;

/// Pilot, bleed and the chamber between them.
#[derive(Clone, Debug)]
pub struct Servo {
    /// Pilot.
    pub pilot: InstalledPilot,
    /// Bleed.
    pub bleed: InstalledBleed,
    /// Control chamber.
    pub chamber: InstalledChamber,
}

/// The servo at one instant.
#[derive(Clone, Copy, Debug)]
struct ServoState<T> {
    /// Pressure and density in the chamber.
    chamber: ChamberState<T>,
    /// Force that presses the armature onto the pilot seat, N.
    pilot_force: T,
    /// Share of the pilot's differential that is regained behind its seat.
    recovery: T,
    /// Pressure lost in the pilot, Pa.
    pilot_loss: T,
    /// Pressure lost in the bleed, Pa.
    bleed_loss: T,
}

/// What moves the servo from outside.
#[derive(Clone, Copy, Debug)]
struct Surrounding<T> {
    /// Inlet pressure p_1, Pa absolute.
    inlet: T,
    /// Outlet pressure p_2, Pa absolute.
    outlet: T,
    /// Growth of the stage's bulge, m³/s.
    bulge_rate: T,
}

impl Servo {
    /// The servo under an armature of that stroke (m), in a fluid whose supply is at `pressure` (Pa absolute).
    pub fn new(parts: &ServoParts, stroke: f64, fluid: &Fluid, pressure: f64) -> Self {
        let (density, _, viscosity) = fluid_at(fluid, pressure);
        Servo {
            pilot: InstalledPilot::new(&parts.pilot, stroke, density, viscosity),
            bleed: InstalledBleed::new(&parts.bleed, density, viscosity),
            chamber: InstalledChamber::new(&parts.chamber, fluid, pressure),
        }
    }

    /// See [`super::control::Control::set_scales`].
    pub fn set_scales(&mut self, scales: &mut [f64; STATES], stroke: f64, pressure: f64, drop: f64, density: f64) {
        let root = (2.0 * density * drop).sqrt();
        [scales[CHAMBER], scales[CHAMBER_ENERGY]] = self.chamber.scales(pressure, drop, density);
        self.chamber.filling.look_from(pressure);
        scales[PILOT_FLOW] = self.pilot.area(stroke) * root;
        scales[BLEED_FLOW] = self.bleed.area() * root;
        scales[TRAVEL] = stroke;
    }

    /// Volumes by which stage, bulge and armature reduce the chamber, m³: A_d·x, w and A_ps·x_a. Source: geometry.
    #[inline(always)]
    fn displaced<T: Real>(&self, stage: &Stage, y: &[T; STATES]) -> [T; 3] {
        [y[LIFT] * stage.effective_area, y[BULGE], y[TRAVEL] * self.pilot.seat_area]
    }

    /// Volume of the chamber, m³: V_c = V_c0 − A_d·x − w − A_ps·x_a. Source: geometry.
    pub fn volume(&self, stage: &Stage, y: &[f64; STATES]) -> f64 {
        self.displaced(stage, y).iter().fold(self.chamber.part.volume, |left, volume| left - volume)
    }

    /// Chamber pressure at a state, Pa absolute. Source: [`Filling::state`].
    pub fn chamber_pressure(&self, near: &Near, stage: &Stage, y: &[f64; STATES]) -> f64 {
        self.chamber.filling.state_near(y[CHAMBER], y[CHAMBER_ENERGY], self.volume(stage, y), near).pressure
    }

    /// Pressure and density in the chamber. Source: [`Filling::state`].
    #[inline(always)]
    pub fn chamber_state<T: Real>(&self, near: &Near, stage: &Stage, y: &[T; STATES]) -> ChamberState<T> {
        let [by_stage, by_bulge, by_armature] = self.displaced(stage, y);
        let volume = -by_stage - by_bulge - by_armature + self.chamber.part.volume;
        self.chamber.filling.state_near(y[CHAMBER], y[CHAMBER_ENERGY], volume, near)
    }

    /// Chamber pressure, the force on the armature and the losses of pilot and bleed, between the ports' pressures.
    #[inline(always)]
    fn state<T: Real>(&self, near: &Near, stage: &Stage, p_1: T, p_2: T, y: &[T; STATES]) -> ServoState<T> {
        let filling = &self.chamber.filling;
        let chamber = self.chamber_state(near, stage, y);
        let curtain = self.pilot.curtain(y[TRAVEL]);
        let recovery = self.pilot.recovery(curtain);
        let (pilot_flow, bleed_flow) = (y[PILOT_FLOW], y[BLEED_FLOW]);
        let behind = filling.upstream(pilot_flow.value() >= 0.0, chamber, p_2);
        let before = filling.upstream(bleed_flow.value() < 0.0, chamber, p_1);
        ServoState {
            chamber,
            pilot_force: self.pilot.force(chamber.pressure - p_2, recovery),
            recovery,
            pilot_loss: self.pilot.passage.loss(pilot_flow, self.pilot.inverse_square(curtain), behind),
            bleed_loss: self.bleed.passage.loss(bleed_flow, T::constant(self.bleed.inverse_square()), before),
        }
    }

    /// Armature, stage, bulge and servo; see [`super::control::Control::evaluate`].
    #[inline(always)]
    pub fn evaluate<T: Real>(
        &self,
        given: &Given<'_, T>,
        near: &Near,
        y: &[T; STATES],
        rate: &mut [T; STATES],
        flux: &mut [T; INTEGRALS],
    ) -> Answer<T> {
        let (v, v_a, p_1, p_2) = (y[LIFT_RATE], y[TRAVEL_RATE], given.inlet, given.outlet);
        let now = self.state(near, given.stage, p_1, p_2, y);
        let p_c = now.chamber.pressure;
        let bulge = match given.stage.part.kind.bulge() {
            Some(bulge) => bulge.state(p_1 - p_c, y[BULGE]),
            None => Bulging::none(),
        };
        let pressures = StagePressures { inlet: p_1, outlet: p_2, chamber: p_c };
        let stage = given.stage.state(pressures, StageMotion { lift: y[LIFT], speed: v, deflection: y[DEFLECTION] });
        let load = given.armature.load(y[TRAVEL], now.pilot_force);
        let armature = given.armature.state(given.pull, load, y[TRAVEL], v_a);
        rate[TRAVEL] = v_a;
        rate[TRAVEL_RATE] = armature.acceleration;
        rate[LIFT] = v;
        rate[LIFT_RATE] = stage.acceleration;
        rate[BULGE] = bulge.rate;
        rate[DEFLECTION] = stage.deflection_rate;
        flux[BULGE_LOSS] = bulge.loss;
        flux[STAGE_LOSS] = stage.loss;
        flux[ARMATURE_LOSS] = armature.loss;
        let around = Surrounding { inlet: p_1, outlet: p_2, bulge_rate: bulge.rate };
        self.balance(given.stage, &now, around, y, rate, flux);
        Answer {
            stage,
            chamber_pressure: p_c,
            armature_load: given.armature.along_travel(load),
            drawn: y[BLEED_FLOW],
            given: y[PILOT_FLOW],
            inlet_swept: bulge.rate,
            outlet_swept: v_a * self.pilot.seat_area,
            stream_work: stage.stream_force * v + p_1 * bulge.rate + self.stream_work(&now, p_2, v_a),
        }
    }

    /// Rates of its states and integrands of its losses.
    ///
    /// Liquid: a column loses what its flow loses, less what the armature's motion takes from under the pilot seat.
    /// Gas: enthalpy through both columns and heat from the wall. Source: own derivation.
    #[inline(always)]
    fn balance<T: Real>(
        &self,
        stage: &Stage,
        now: &ServoState<T>,
        around: Surrounding<T>,
        y: &[T; STATES],
        rate: &mut [T; STATES],
        flux: &mut [T; INTEGRALS],
    ) {
        let (p_1, p_2, p_c) = (around.inlet, around.outlet, now.chamber.pressure);
        let (inflow, outflow, v_a) = (y[BLEED_FLOW], y[PILOT_FLOW], y[TRAVEL_RATE]);
        let growth = -(y[LIFT_RATE] * stage.effective_area) - around.bulge_rate - v_a * self.pilot.seat_area;
        let balance = self.chamber.filling.balance(ChamberRates { inflow, outflow, growth }, now.chamber);
        rate[CHAMBER] = balance.content_rate;
        rate[CHAMBER_ENERGY] = balance.energy_rate;
        rate[PILOT_FLOW] = self.pilot.passage.acceleration(p_c - p_2, now.pilot_loss);
        rate[BLEED_FLOW] = self.bleed.passage.acceleration(p_1 - p_c, now.bleed_loss);
        flux[WALL_HEAT] = balance.heat;
        match self.chamber.filling {
            Filling::Liquid { density, .. } => {
                let taken = now.recovery * (p_c - p_2) * v_a * self.pilot.seat_area;
                flux[PILOT_LOSS] = now.pilot_loss * outflow * (1.0 / density) - taken;
                flux[BLEED_LOSS] = now.bleed_loss * inflow * (1.0 / density);
            }
            Filling::Gas(_) => {
                flux[PILOT_LOSS] = balance.enthalpy_out;
                flux[BLEED_LOSS] = balance.enthalpy_in;
            }
        }
    }

    /// Work of the stream behind the pilot seat on the armature, W.
    #[inline(always)]
    fn stream_work<T: Real>(&self, now: &ServoState<T>, p_2: T, speed: T) -> T {
        let behind_pilot_seat = p_2 + now.recovery * (now.chamber.pressure - p_2);
        behind_pilot_seat * speed * self.pilot.seat_area
    }

    /// Steady flow between p_1 and p_2 ≤ p_1 (Pa absolute) with the armature at `travel` (m).
    ///
    /// Source: ṁ_b(p_1, p_c) = ṁ_p(p_c, p_2), each by [`Passage::steady_flow`]; the one falls with p_c, the other rises.
    pub fn steady(&self, p_1: f64, p_2: f64, travel: f64) -> ControlFlow {
        let filling = &self.chamber.filling;
        let steady = |passage: &Passage, inverse: f64, differential: f64, upstream| {
            passage.steady_flow(differential, passage.loss(1.0, inverse, upstream))
        };
        let at = |p_c: f64| ChamberState { pressure: p_c, density: filling.density(p_c) };
        let (pilot_inverse, bleed_inverse) =
            (self.pilot.inverse_square(self.pilot.curtain(travel)), self.bleed.inverse_square());
        let bleed =
            |p_c: f64| steady(&self.bleed.passage, bleed_inverse, p_1 - p_c, filling.upstream(false, at(p_c), p_1));
        let pilot =
            |p_c: f64| steady(&self.pilot.passage, pilot_inverse, p_c - p_2, filling.upstream(true, at(p_c), p_2));
        let chamber_pressure = falling_root(p_2, p_1, |p_c| bleed(p_c) - pilot(p_c));
        ControlFlow { chamber_pressure, flow: bleed(chamber_pressure) }
    }

    /// Steady force on the armature at a differential across the pilot (Pa) and a travel (m), N.
    pub fn steady_force(&self, differential: f64, travel: f64) -> f64 {
        self.pilot.force(differential, self.pilot.recovery(self.pilot.curtain(travel)))
    }

    /// At rest between the ports' pressures (Pa absolute), the magnet pulling (N): the pilot shut, the chamber at the inlet's.
    pub fn rest(
        &self,
        armature: &InstalledArmature,
        stage: &Stage,
        [p_1, p_2]: [f64; 2],
        pull: f64,
        y: &mut [f64; STATES],
    ) {
        y[TRAVEL] = armature.seated_travel(pull, (p_1 - p_2) * self.pilot.seat_area);
        [y[CHAMBER], y[CHAMBER_ENERGY]] = self.chamber.filling.fill(p_1, self.volume(stage, y));
    }

    /// Put the stage at once to another lift (m), the chamber's pressure as it was.
    pub fn knock(&self, near: &Near, stage: &Stage, y: &mut [f64; STATES], lift: f64) {
        let pressure = self.chamber_pressure(near, stage, y);
        y[LIFT] = lift;
        match &self.chamber.filling {
            // The content is what goes beyond the vessel, whatever that holds.
            Filling::Liquid { .. } => {}
            Filling::Gas(gas) => [y[CHAMBER], y[CHAMBER_ENERGY]] = gas.fill(pressure, self.volume(stage, y)),
        }
    }

    /// Flows, bulge, travel and chamber of a steady flow.
    pub fn fill(&self, stage: &Stage, p_1: f64, steady: &ControlFlow, travel: f64, y: &mut [f64; STATES]) {
        let p_c = steady.chamber_pressure;
        (y[PILOT_FLOW], y[BLEED_FLOW]) = (steady.flow, steady.flow);
        y[BULGE] = stage.part.kind.bulge().map_or(0.0, |bulge| bulge.steady_volume(p_1 - p_c));
        y[TRAVEL] = travel;
        [y[CHAMBER], y[CHAMBER_ENERGY]] = self.chamber.filling.fill(p_c, self.volume(stage, y));
    }

    /// Energies of a liquid in the chamber and in the columns of pilot and bleed against the datum pressure, J; none of a gas, whose
    /// own is a state.
    pub fn energies(&self, near: &Near, y: &[f64; STATES], datum: f64) -> [f64; 3] {
        match &self.chamber.filling {
            Filling::Gas(_) => [0.0; 3],
            Filling::Liquid { cell, density } => {
                let kinetic = |passage: &Passage, flow: f64| 0.5 * passage.inertance * flow * flow / density;
                [
                    cell.energy(cell.pressure_near(y[CHAMBER], near), datum),
                    kinetic(&self.pilot.passage, y[PILOT_FLOW]),
                    kinetic(&self.bleed.passage, y[BLEED_FLOW]),
                ]
            }
        }
    }
}
