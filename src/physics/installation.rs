//! The valve as installed between its lines: all balances of one instant, in the order of the flow of cause.
//!
//! ```text
//! arriving waves ─► port pressures ─► flows through main seat, bleed and pilot ─► forces ─► rates of all states
//! ```

use super::cell::Cell;
use super::chamber::{ChamberRates, Filling};
use super::line::LineEnd;
use super::magnet::Magnet;
use super::main_stage::{Stage, StageMotion, StagePressures};
use super::parts::{StageKind, Valve};
use super::passage::{Nozzle, Passage, Upstream};
use super::state::*;
use crate::dual::Real;

/// The valve between its lines, ready to be integrated.
#[derive(Clone, Debug)]
pub struct Installation {
    /// The valve's parts.
    pub valve: Valve,
    /// Magnet.
    pub magnet: Magnet,
    /// Main stage.
    pub stage: Stage,
    /// Filling of the control chamber.
    pub filling: Filling,
    /// Inlet port.
    pub inlet: Cell,
    /// Outlet port.
    pub outlet: Cell,
    /// Pilot bore.
    pub pilot: Passage,
    /// Bleed bore.
    pub bleed: Passage,
    /// Upstream line.
    pub upstream: LineEnd,
    /// Downstream line.
    pub downstream: LineEnd,
    /// Area of the pilot seat A_ps, m².
    pub pilot_seat_area: f64,
    /// Weight of the armature along its axis, N, closing.
    pub armature_weight: f64,
    /// Gap to which a shut pilot seat still leaks, m.
    pub pilot_leak_gap: f64,
    /// Pressure whose share `tolerance` is the allowed error, Pa.
    pub pressure_scale: f64,
    /// Usual size of each state.
    pub scales: [f64; STATES],
}

/// Everything that is known at one instant, for the record.
#[derive(Clone, Copy, Debug)]
pub struct Instant<T> {
    /// Inlet pressure p_1, Pa absolute.
    pub inlet_pressure: T,
    /// Outlet pressure p_2, Pa absolute.
    pub outlet_pressure: T,
    /// Chamber pressure p_c, Pa absolute.
    pub chamber_pressure: T,
    /// Flow past the main seat, kg/s.
    pub main_flow: T,
    /// Flow from the upstream line, kg/s.
    pub inlet_flow: T,
    /// Flow into the downstream line, kg/s.
    pub outlet_flow: T,
    /// Coil current, A.
    pub current: T,
    /// Pull of the magnet, N.
    pub pull: T,
    /// Spring, weight and pilot pressure against the pull, N.
    pub armature_load: T,
}

impl Installation {
    /// Rates of all states, integrands of the ledger, and the instant's quantities.
    ///
    /// The balances, with the equations of each part in its own file:
    ///
    /// ```text
    /// inlet port    ds_1/dt = (ṁ_u − ṁ_m − ṁ_b)/ρ_u − (A_d − A_s)·v − ẇ
    /// outlet port   ds_2/dt = (ṁ_m + ṁ_p − ṁ_d)/ρ_d − A_s·v − A_ps·v_a
    /// chamber       V_c = V_c0 − A_d·x − w − A_ps·x_a
    /// bulge         ẇ = (p_1 − p_c − w/C_d)/R_d
    /// armature      m_a·v̇_a = F − F_a0 − m_a·g·cos θ − k_a·x_a − c_a·v_a − A_ps·(p_c − p_2)·(1 − φ_p) + contacts
    /// ```
    ///
    /// The volumes that stage, bulge and armature sweep add to nothing over the three vessels, so a wrong sign shows in
    /// the ledger at once. Source: own derivation.
    #[inline(always)]
    pub fn evaluate<T: Real>(
        &self,
        forcing: &[T; FORCINGS],
        y: &[T; STATES],
        rate: &mut [T; STATES],
        flux: &mut [T; INTEGRALS],
    ) -> Instant<T> {
        let valve = &self.valve;
        let zero = T::constant(0.0);
        let (x, v, x_a, v_a) = (y[LIFT], y[LIFT_RATE], y[TRAVEL], y[TRAVEL_RATE]);
        let p_1 = self.inlet.pressure(y[INLET]);
        let p_2 = self.outlet.pressure(y[OUTLET]);
        let (p_1d, p_2d) = (p_1 - self.upstream.state.datum, p_2 - self.downstream.state.datum);

        // Vessel of the chamber.
        let volume = -(x * self.stage.effective_area) - y[BULGE] - x_a * self.pilot_seat_area + valve.chamber.volume;
        let chamber = self.filling.state(y[CHAMBER], y[CHAMBER_ENERGY], volume);
        let p_c = chamber.pressure;

        // Bulge of the diaphragm.
        let (bulge_rate, bulge_loss) = match valve.main.kind {
            StageKind::Diaphragm { bulge_compliance, bulge_resistance } if bulge_compliance > 0.0 => {
                let rate = (p_1 - p_c - y[BULGE] * (1.0 / bulge_compliance)) * (1.0 / bulge_resistance);
                (rate, rate.square() * bulge_resistance)
            }
            _ => (zero, zero),
        };

        // Lines.
        let (m_u, column_u) = self.upstream.flow(forcing[FROM_UPSTREAM], p_1d, y[UPSTREAM_FLOW], 1.0);
        let (m_d, column_d) = self.downstream.flow(forcing[FROM_DOWNSTREAM], p_2d, y[DOWNSTREAM_FLOW], -1.0);

        // Main stage.
        let pressures = StagePressures { inlet: p_1, outlet: p_2, chamber: p_c };
        let stage = self.stage.state(pressures, StageMotion { lift: x, speed: v, deflection: y[DEFLECTION] });

        // Pilot and bleed.
        let curtain = self.pilot_curtain(x_a);
        let bore = self.pilot_bore();
        let inverse = curtain.square().recip() + 1.0 / (bore * bore);
        let recovery_p =
            (curtain.square() * (1.0 / (bore * bore)) + 1.0).recip() * curtain.square() * (1.0 / (bore * bore));
        let loss_p = self.pilot.loss(y[PILOT_FLOW], inverse, self.side(y[PILOT_FLOW], chamber.density, p_c, p_2));
        let bleed_inverse = T::constant(1.0 / self.bleed_area().powi(2));
        let loss_b =
            self.bleed.loss(y[BLEED_FLOW], bleed_inverse, self.bleed_side(y[BLEED_FLOW], chamber.density, p_1, p_c));

        // Magnet and armature.
        let magnet = self.magnet.state(forcing[VOLTAGE], y[FLUX], y[RING_FLUX], x_a);
        let arm = &valve.armature;
        let seat = arm.seat.touch(-x_a, -v_a);
        let pole = arm.pole.touch(x_a - arm.stroke, v_a);
        let pilot_force = (p_c - p_2) * (-recovery_p + 1.0) * self.pilot_seat_area;
        let load = x_a * arm.spring_rate + pilot_force + (arm.preload + self.armature_weight);
        let damping = v_a * arm.damping;
        let growth = -(v * self.stage.effective_area) - bulge_rate - v_a * self.pilot_seat_area;
        let balance =
            self.filling.balance(ChamberRates { inflow: y[BLEED_FLOW], outflow: y[PILOT_FLOW], growth }, chamber);

        rate[FLUX] = magnet.flux_rate;
        rate[RING_FLUX] = magnet.ring_flux_rate;
        rate[TRAVEL] = v_a;
        rate[TRAVEL_RATE] = (magnet.pull - load - damping + seat.force - pole.force) * (1.0 / arm.mass);
        rate[LIFT] = v;
        rate[LIFT_RATE] = stage.acceleration;
        rate[CHAMBER] = balance.content_rate;
        rate[CHAMBER_ENERGY] = balance.energy_rate;
        rate[BULGE] = bulge_rate;
        rate[PILOT_FLOW] = self.pilot.acceleration(p_c - p_2, loss_p);
        rate[BLEED_FLOW] = self.bleed.acceleration(p_1 - p_c, loss_b);
        let (rho_u, rho_d) = (self.upstream.state.density, self.downstream.state.density);
        let swept_1 = v * (self.stage.effective_area - self.stage.seat_area) + bulge_rate;
        let swept_2 = v * self.stage.seat_area + v_a * self.pilot_seat_area;
        rate[INLET] = (m_u - stage.mass_flow - y[BLEED_FLOW]) * (1.0 / rho_u) - swept_1;
        rate[OUTLET] = (stage.mass_flow + y[PILOT_FLOW] - m_d) * (1.0 / rho_d) - swept_2;
        rate[UPSTREAM_FLOW] = column_u;
        rate[DOWNSTREAM_FLOW] = column_d;
        rate[DEFLECTION] = stage.deflection_rate;

        flux[INLET_MASS] = m_u;
        flux[OUTLET_MASS] = m_d;
        flux[ELECTRIC_WORK] = forcing[VOLTAGE] * magnet.current;
        let heating = magnet.current.square();
        flux[CIRCUIT_HEAT] = heating * self.magnet.circuit;
        flux[WINDING_HEAT] = heating * self.magnet.winding;
        flux[IRON_HEAT] = magnet.iron_loss;
        flux[BULGE_LOSS] = bulge_loss;
        flux[STAGE_LOSS] = stage.loss;
        flux[ARMATURE_LOSS] = damping * v_a + seat.loss + pole.loss;
        flux[UPSTREAM_LOSS] = self.upstream.resistance.loss(m_u) * m_u * (1.0 / rho_u);
        flux[DOWNSTREAM_LOSS] = self.downstream.resistance.loss(m_d) * m_d * (1.0 / rho_d);
        flux[END_WORK] = self.end_work(forcing, m_u, m_d);
        flux[WALL_HEAT] = balance.heat;
        match self.filling {
            Filling::Liquid { density, .. } => {
                flux[INLET_WORK] = p_1d * m_u * (1.0 / rho_u);
                flux[OUTLET_WORK] = p_2d * m_d * (1.0 / rho_d);
                flux[MAIN_LOSS] = stage.throttle_loss;
                flux[PILOT_LOSS] =
                    loss_p * y[PILOT_FLOW] * (1.0 / density) - recovery_p * (p_c - p_2) * v_a * self.pilot_seat_area;
                flux[BLEED_LOSS] = loss_b * y[BLEED_FLOW] * (1.0 / density);
            }
            Filling::Gas(_) => {
                flux[INLET_WORK] = p_1d * ((stage.mass_flow + y[BLEED_FLOW]) * (1.0 / rho_u) + swept_1);
                flux[OUTLET_WORK] = p_2d * ((stage.mass_flow + y[PILOT_FLOW]) * (1.0 / rho_d) - swept_2);
                let behind_pilot_seat = p_2 + recovery_p * (p_c - p_2);
                flux[MAIN_LOSS] =
                    stage.stream_force * v + p_1 * bulge_rate + behind_pilot_seat * v_a * self.pilot_seat_area;
                flux[PILOT_LOSS] = balance.enthalpy_out;
                flux[BLEED_LOSS] = balance.enthalpy_in;
            }
        }
        Instant {
            inlet_pressure: p_1,
            outlet_pressure: p_2,
            chamber_pressure: p_c,
            main_flow: stage.mass_flow,
            inlet_flow: m_u,
            outlet_flow: m_d,
            current: magnet.current,
            pull: magnet.pull,
            armature_load: load,
        }
    }

    /// C·A of the pilot seat's curtain, m²; a shut seat leaks through `pilot_leak_gap` so that the column stays defined.
    #[inline(always)]
    pub(super) fn pilot_curtain<T: Real>(&self, travel: T) -> T {
        let open = if travel.value() > self.pilot_leak_gap { travel } else { T::constant(self.pilot_leak_gap) };
        let pilot = &self.valve.pilot;
        open * (pilot.discharge_coefficient * std::f64::consts::PI * pilot.seat_diameter)
    }

    /// Is the fluid a gas?
    pub fn is_gas(&self) -> bool {
        matches!(self.filling, Filling::Gas(_))
    }

    /// C·A of the pilot bore, m².
    pub fn pilot_bore(&self) -> f64 {
        let pilot = &self.valve.pilot;
        pilot.discharge_coefficient * std::f64::consts::FRAC_PI_4 * pilot.diameter * pilot.diameter
    }

    /// C·A of the pilot at full armature stroke, m²: curtain and bore in series.
    pub fn pilot_area(&self) -> f64 {
        let curtain = self.pilot_curtain(self.valve.armature.stroke);
        let bore = self.pilot_bore();
        curtain * bore / (curtain * curtain + bore * bore).sqrt()
    }

    /// C·A of the bleed, m².
    pub fn bleed_area(&self) -> f64 {
        let bleed = &self.valve.bleed;
        bleed.discharge_coefficient * std::f64::consts::FRAC_PI_4 * bleed.diameter * bleed.diameter
    }

    #[inline(always)]
    pub(super) fn side<T: Real>(&self, flow: T, chamber_density: T, p_c: T, p_2: T) -> Upstream<T> {
        match &self.filling {
            Filling::Liquid { density, .. } => Upstream { density: T::constant(*density), nozzle: None },
            Filling::Gas(gas) => {
                let (density, pressure_ratio) = if flow.value() >= 0.0 {
                    (chamber_density, p_2 * p_c.recip())
                } else {
                    (p_2 * gas.density_per_pressure, p_c * p_2.recip())
                };
                Upstream { density, nozzle: Some(Nozzle { pressure_ratio, expansion: gas.expansion }) }
            }
        }
    }

    #[inline(always)]
    pub(super) fn bleed_side<T: Real>(&self, flow: T, chamber_density: T, p_1: T, p_c: T) -> Upstream<T> {
        match &self.filling {
            Filling::Liquid { .. } => self.side(flow, chamber_density, p_c, p_1),
            Filling::Gas(gas) => {
                let (density, pressure_ratio) = if flow.value() >= 0.0 {
                    (p_1 * gas.density_per_pressure, p_c * p_1.recip())
                } else {
                    (chamber_density, p_1 * p_c.recip())
                };
                Upstream { density, nozzle: Some(Nozzle { pressure_ratio, expansion: gas.expansion }) }
            }
        }
    }

    /// Work of the end pressures on lumped columns, W.
    #[inline(always)]
    fn end_work<T: Real>(&self, forcing: &[T; FORCINGS], m_u: T, m_d: T) -> T {
        let mut work = T::constant(0.0);
        if self.upstream.lumped {
            work = work + forcing[FROM_UPSTREAM] * m_u * (1.0 / self.upstream.state.density);
        }
        if self.downstream.lumped {
            work = work - forcing[FROM_DOWNSTREAM] * m_d * (1.0 / self.downstream.state.density);
        }
        work
    }
}
