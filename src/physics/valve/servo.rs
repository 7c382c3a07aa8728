//! The servo: the armature opens a pilot, the chamber behind the main stage empties, and the inlet's pressure lifts the stage.

use super::answer::{Answer, ControlFlow, Given};
use super::armature::{ArmatureMotion, ArmatureState, InstalledArmature};
use super::bleed::InstalledBleed;
use super::bulge::Bulging;
use super::cell::Near;
use super::chamber::{ChamberRates, ChamberState, Filling, InstalledChamber};
use super::main_stage::{Stage, StageMotion, StagePressures, StageState};
use super::passage::Passage;
use super::pilot::InstalledPilot;
use super::ring_leak::InstalledLeak;
use crate::dual::Real;
use crate::physics::fluid::{Fluid, fluid_at};
use crate::physics::parts::ServoParts;
use crate::physics::root::falling_root;
use crate::physics::state::*;

/// Pilot, bleed, what leaks past the piston, and the chamber between them.
#[derive(Clone, Debug)]
pub struct Servo {
    /// Pilot.
    pub pilot: InstalledPilot,
    /// Bleed.
    pub bleed: InstalledBleed,
    /// Control chamber.
    pub chamber: InstalledChamber,
    /// Leak past the piston, if it is not tight.
    pub leak: Option<InstalledLeak>,
}

/// Chamber, bulge and main stage at one instant.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moved<T> {
    /// Pressure and density in the chamber.
    pub(super) chamber: ChamberState<T>,
    /// Bulge.
    pub(super) bulge: Bulging<T>,
    /// Main stage, moved by all but the armature.
    pub(super) stage: StageState<T>,
}

/// Pilot and bleed at one instant.
#[derive(Clone, Copy, Debug)]
pub(super) struct ServoState<T> {
    /// Pressure and density in the chamber.
    chamber: ChamberState<T>,
    /// Force that presses the armature onto the pilot seat, N.
    pub(super) pilot_force: T,
    /// Share of the pilot's differential that is regained behind its seat.
    pub(super) recovery: T,
    /// Pressure lost in the pilot, Pa.
    pilot_loss: T,
    /// Pressure lost in the bleed, Pa.
    bleed_loss: T,
    /// Pressure lost in the leak past the piston, Pa.
    leak_loss: T,
}

/// What moves the servo from outside.
#[derive(Clone, Copy, Debug)]
pub(super) struct Surrounding<T> {
    /// Inlet pressure p_1, Pa absolute.
    pub(super) inlet: T,
    /// Pressure to which the pilot vents, Pa absolute.
    pub(super) behind: T,
    /// Growth of the stage's bulge, m³/s.
    pub(super) bulge_rate: T,
    /// Volume that the armature takes from the chamber over the pilot seat, m³/s.
    pub(super) tip_rate: T,
    /// Power that this brings back to a liquid's stream behind the seat, W.
    pub(super) regained: T,
}

/// Rates and losses of what moves: armature, main stage (its acceleration in m/s²) and bulge.
#[inline(always)]
pub(super) fn set_motion<T: Real>(
    moved: &Moved<T>,
    stage_acceleration: T,
    armature: &ArmatureState<T>,
    y: &[T; STATES],
    rate: &mut [T; STATES],
    flux: &mut [T; INTEGRALS],
) {
    rate[TRAVEL] = y[TRAVEL_RATE];
    rate[TRAVEL_RATE] = armature.acceleration;
    rate[ARMATURE_DEFLECTION] = armature.deflection_rate;
    rate[LIFT] = y[LIFT_RATE];
    rate[LIFT_RATE] = stage_acceleration;
    rate[BULGE] = moved.bulge.rate;
    rate[DEFLECTION] = moved.stage.deflection_rate;
    flux[BULGE_LOSS] = moved.bulge.loss;
    flux[STAGE_LOSS] = moved.stage.loss;
    flux[ARMATURE_LOSS] = armature.loss;
}

impl Servo {
    /// The servo between an armature of that stroke and a stage of that diameter (m), in a fluid whose supply is at `pressure`
    /// (Pa absolute).
    pub fn new(parts: &ServoParts, stroke: f64, diameter: f64, fluid: &Fluid, pressure: f64) -> Self {
        let (density, _, viscosity) = fluid_at(fluid, pressure);
        Servo {
            pilot: InstalledPilot::new(&parts.pilot, stroke, density, viscosity),
            bleed: InstalledBleed::new(&parts.bleed, density, viscosity),
            chamber: InstalledChamber::new(&parts.chamber, fluid, pressure),
            leak: InstalledLeak::new(&parts.leak, diameter, density, viscosity),
        }
    }

    /// See [`super::control::Control::set_scales`].
    pub fn set_scales(&mut self, scales: &mut [f64; STATES], stroke: f64, pressure: f64, drop: f64, density: f64) {
        let root = (2.0 * density * drop).sqrt();
        [scales[CHAMBER], scales[CHAMBER_ENERGY]] = self.chamber.scales(pressure, drop, density);
        self.chamber.filling.look_from(pressure);
        scales[PILOT_FLOW] = self.pilot.area(stroke) * root;
        scales[BLEED_FLOW] = self.bleed.area() * root;
        scales[RING_LEAK_FLOW] = self.leak.as_ref().map_or(f64::INFINITY, |leak| leak.by_hand(drop, density));
        scales[TRAVEL] = stroke;
    }

    /// Volume that the armature takes from the chamber at a travel (m), m³: A_ps·x_a. Source: geometry.
    #[inline(always)]
    fn tip_volume<T: Real>(&self, y: &[T; STATES]) -> T {
        y[TRAVEL] * self.pilot.seat_area
    }

    /// Volume of the chamber, m³: V_c = V_c0 − A_d·x − w − A_ps·x_a. Source: geometry.
    pub fn volume(&self, stage: &Stage, y: &[f64; STATES]) -> f64 {
        self.volume_less(stage, y, self.tip_volume(y))
    }

    /// The same where the armature takes another volume, m³.
    pub(super) fn volume_less(&self, stage: &Stage, y: &[f64; STATES], by_tip: f64) -> f64 {
        self.chamber.part.volume - y[LIFT] * stage.effective_area - y[BULGE] - by_tip
    }

    /// Pressure and density in the chamber. Source: [`Filling::state`].
    #[inline(always)]
    pub fn chamber_state<T: Real>(&self, near: &Near, stage: &Stage, y: &[T; STATES]) -> ChamberState<T> {
        self.chamber_state_less(near, stage, y, self.tip_volume(y))
    }

    /// The same where the armature takes another volume, m³.
    #[inline(always)]
    pub(super) fn chamber_state_less<T: Real>(
        &self,
        near: &Near,
        stage: &Stage,
        y: &[T; STATES],
        by_tip: T,
    ) -> ChamberState<T> {
        let volume = -(y[LIFT] * stage.effective_area) - y[BULGE] - by_tip + self.chamber.part.volume;
        self.chamber.filling.state_near(y[CHAMBER], y[CHAMBER_ENERGY], volume, near)
    }

    /// Bulge and main stage under a chamber, the armature left out.
    #[inline(always)]
    pub(super) fn moved<T: Real>(given: &Given<'_, T>, chamber: ChamberState<T>, y: &[T; STATES]) -> Moved<T> {
        let (p_1, p_2, p_c) = (given.inlet, given.outlet, chamber.pressure);
        let bulge = match given.stage.part.kind.bulge() {
            Some(bulge) => bulge.state(p_1 - p_c, y[BULGE]),
            None => Bulging::none(),
        };
        let pressures = StagePressures { inlet: p_1, outlet: p_2, chamber: p_c };
        let motion = StageMotion { lift: y[LIFT], speed: y[LIFT_RATE], deflection: y[DEFLECTION] };
        Moved { chamber, bulge, stage: given.stage.state(pressures, motion) }
    }

    /// The force on the armature and the losses of pilot and bleed, the pilot seat open by `gap` (m) and venting to `p_2`.
    #[inline(always)]
    pub(super) fn state<T: Real>(
        &self,
        chamber: ChamberState<T>,
        gap: T,
        [p_1, p_2]: [T; 2],
        y: &[T; STATES],
    ) -> ServoState<T> {
        let filling = &self.chamber.filling;
        let curtain = self.pilot.curtain(gap);
        let recovery = self.pilot.recovery(curtain);
        let (pilot_flow, bleed_flow) = (y[PILOT_FLOW], y[BLEED_FLOW]);
        let behind = filling.upstream(pilot_flow.value() >= 0.0, chamber, p_2);
        let before = filling.upstream(bleed_flow.value() < 0.0, chamber, p_1);
        ServoState {
            chamber,
            pilot_force: self.pilot.force(chamber.pressure - p_2, recovery),
            recovery,
            pilot_loss: self.pilot.passage.loss(pilot_flow, self.pilot.inverse_square(curtain), behind),
            bleed_loss: self.bleed.passage.loss(bleed_flow, self.bleed.inverse_square(y[LIFT]), before),
            leak_loss: self.leak.as_ref().map_or(T::constant(0.0), |leak| {
                let flow = y[RING_LEAK_FLOW];
                let before = filling.upstream(flow.value() < 0.0, chamber, p_1);
                leak.loss(filling, flow, p_1, chamber.pressure, before)
            }),
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
        let (v_a, p_1, p_2) = (y[TRAVEL_RATE], given.inlet, given.outlet);
        let moved = Self::moved(given, self.chamber_state(near, given.stage, y), y);
        let now = self.state(moved.chamber, y[TRAVEL], [p_1, p_2], y);
        let load = given.armature.load(y[TRAVEL], now.pilot_force);
        let armature = given.armature.state(given.pull, load, ArmatureMotion::of(y));
        set_motion(&moved, moved.stage.acceleration, &armature, y, rate, flux);
        let (tip_rate, p_c) = (v_a * self.pilot.seat_area, moved.chamber.pressure);
        let regained = now.recovery * (p_c - p_2) * v_a * self.pilot.seat_area;
        let around = Surrounding { inlet: p_1, behind: p_2, bulge_rate: moved.bulge.rate, tip_rate, regained };
        self.balance(given.stage, &now, around, y, rate, flux);
        let behind_seat = p_2 + now.recovery * (p_c - p_2);
        self.answer(&moved, given.armature.along_travel(load), around, behind_seat * v_a * self.pilot.seat_area, y)
    }

    /// What the rest of the installation sees; the stream behind the pilot seat works on the armature with `tip_work` (W).
    #[inline(always)]
    pub(super) fn answer<T: Real>(
        &self,
        moved: &Moved<T>,
        armature_load: T,
        around: Surrounding<T>,
        tip_work: T,
        y: &[T; STATES],
    ) -> Answer<T> {
        Answer {
            stage: moved.stage,
            chamber_pressure: moved.chamber.pressure,
            armature_load,
            drawn: self.leak.as_ref().map_or(y[BLEED_FLOW], |_| y[BLEED_FLOW] + y[RING_LEAK_FLOW]),
            given: y[PILOT_FLOW],
            inlet_swept: around.bulge_rate,
            outlet_swept: around.tip_rate,
            stream_work: moved.stage.stream_force * y[LIFT_RATE] + around.inlet * around.bulge_rate + tip_work,
        }
    }

    /// Rates of its states and integrands of its losses.
    ///
    /// Liquid: a column loses what its flow loses, less what the armature's motion takes from under the pilot seat.
    /// Gas: enthalpy through both columns and heat from the wall. Source: own derivation.
    #[inline(always)]
    pub(super) fn balance<T: Real>(
        &self,
        stage: &Stage,
        now: &ServoState<T>,
        around: Surrounding<T>,
        y: &[T; STATES],
        rate: &mut [T; STATES],
        flux: &mut [T; INTEGRALS],
    ) {
        let (p_1, p_2, p_c) = (around.inlet, around.behind, now.chamber.pressure);
        let (inflow, outflow) = (y[BLEED_FLOW], y[PILOT_FLOW]);
        let growth = -(y[LIFT_RATE] * stage.effective_area) - around.bulge_rate - around.tip_rate;
        let leak = self.leak.as_ref().map_or(T::constant(0.0), |_| y[RING_LEAK_FLOW]);
        let balance = self.chamber.filling.balance(ChamberRates { inflow, leak, outflow, growth }, now.chamber);
        rate[CHAMBER] = balance.content_rate;
        rate[CHAMBER_ENERGY] = balance.energy_rate;
        rate[PILOT_FLOW] = self.pilot.passage.acceleration(p_c - p_2, now.pilot_loss);
        rate[BLEED_FLOW] = self.bleed.passage.acceleration(p_1 - p_c, now.bleed_loss);
        rate[RING_LEAK_FLOW] = match &self.leak {
            Some(leak) => leak.passage.acceleration(p_1 - p_c, now.leak_loss),
            None => T::constant(0.0),
        };
        flux[WALL_HEAT] = balance.heat;
        match self.chamber.filling {
            Filling::Liquid { density, .. } => {
                flux[PILOT_LOSS] = now.pilot_loss * outflow * (1.0 / density) - around.regained;
                flux[BLEED_LOSS] = now.bleed_loss * inflow * (1.0 / density);
                flux[RING_LEAK_LOSS] = now.leak_loss * leak * (1.0 / density);
            }
            Filling::Gas(_) => {
                flux[PILOT_LOSS] = balance.enthalpy_out;
                flux[BLEED_LOSS] = balance.enthalpy_in;
                flux[RING_LEAK_LOSS] = balance.enthalpy_leaked;
            }
        }
    }

    /// Steady flow between p_1 and p_2 ≤ p_1 (Pa absolute) with the armature at `travel` over its seat and the stage at `lift` (m).
    ///
    /// Source: ṁ_b + ṁ_l (p_1, p_c) = ṁ_p(p_c, p_2), each by [`Passage::steady_flow`]; those fall with p_c, this rises.
    pub fn steady(&self, p_1: f64, p_2: f64, travel: f64, lift: f64) -> ControlFlow {
        let filling = &self.chamber.filling;
        let steady = |passage: &Passage, inverse: f64, differential: f64, upstream| {
            passage.steady_flow(differential, passage.loss(1.0, inverse, upstream))
        };
        let at = |p_c: f64| ChamberState { pressure: p_c, density: filling.density(p_c) };
        let (pilot_inverse, bleed_inverse) =
            (self.pilot.inverse_square(self.pilot.curtain(travel)), self.bleed.inverse_square(lift));
        let bleed =
            |p_c: f64| steady(&self.bleed.passage, bleed_inverse, p_1 - p_c, filling.upstream(false, at(p_c), p_1));
        let pilot =
            |p_c: f64| steady(&self.pilot.passage, pilot_inverse, p_c - p_2, filling.upstream(true, at(p_c), p_2));
        let past_piston = |p_c: f64| {
            let before = || filling.upstream(false, at(p_c), p_1);
            self.leak.as_ref().map_or(0.0, |leak| leak.steady(filling, p_1, p_c, before()))
        };
        let chamber_pressure = falling_root(p_2, p_1, |p_c| bleed(p_c) + past_piston(p_c) - pilot(p_c));
        let leak = past_piston(chamber_pressure);
        ControlFlow { chamber_pressure, flow: bleed(chamber_pressure) + leak, leak }
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
        let pressure = self.chamber_state(near, stage, y).pressure;
        y[LIFT] = lift;
        self.keep_pressure(pressure, self.volume(stage, y), y);
    }

    /// Fill a chamber that has another volume (m³) at once, so that its pressure (Pa absolute) stays.
    pub(super) fn keep_pressure(&self, pressure: f64, volume: f64, y: &mut [f64; STATES]) {
        match &self.chamber.filling {
            // The content is what goes beyond the vessel, whatever that holds.
            Filling::Liquid { .. } => {}
            Filling::Gas(gas) => [y[CHAMBER], y[CHAMBER_ENERGY]] = gas.fill(pressure, volume),
        }
    }

    /// Flows, bulge, travel and chamber of a steady flow.
    pub fn fill(&self, stage: &Stage, p_1: f64, steady: &ControlFlow, travel: f64, y: &mut [f64; STATES]) {
        y[TRAVEL] = travel;
        self.fill_over(stage, p_1, steady, self.tip_volume(y), y);
    }

    /// Flows, bulge and chamber of a steady flow, the armature taking a volume (m³) from the chamber.
    pub(super) fn fill_over(&self, stage: &Stage, p_1: f64, steady: &ControlFlow, by_tip: f64, y: &mut [f64; STATES]) {
        let p_c = steady.chamber_pressure;
        (y[PILOT_FLOW], y[BLEED_FLOW], y[RING_LEAK_FLOW]) = (steady.flow, steady.flow - steady.leak, steady.leak);
        y[BULGE] = stage.part.kind.bulge().map_or(0.0, |bulge| bulge.steady_volume(p_1 - p_c));
        [y[CHAMBER], y[CHAMBER_ENERGY]] = self.chamber.filling.fill(p_c, self.volume_less(stage, y, by_tip));
    }

    /// Energies of a liquid in the chamber and in the columns of pilot, bleed and leak against the datum pressure, J; none of a gas,
    /// whose own is a state.
    pub fn energies(&self, near: &Near, y: &[f64; STATES], datum: f64) -> [f64; 4] {
        match &self.chamber.filling {
            Filling::Gas(_) => [0.0; 4],
            Filling::Liquid { cell, density } => {
                let kinetic = |passage: &Passage, flow: f64| 0.5 * passage.inertance * flow * flow / density;
                [
                    cell.energy(cell.pressure_near(y[CHAMBER], near), datum),
                    kinetic(&self.pilot.passage, y[PILOT_FLOW]),
                    kinetic(&self.bleed.passage, y[BLEED_FLOW]),
                    self.leak.as_ref().map_or(0.0, |leak| kinetic(&leak.passage, y[RING_LEAK_FLOW])),
                ]
            }
        }
    }
}
