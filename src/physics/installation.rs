//! The valve as installed between its lines: all balances of one instant, in the order of the flow of cause.
//!
//! ```text
//! arriving waves ─► port pressures ─► flows through main seat, bleed and pilot ─► forces ─► rates of all states
//! ```

use super::line::LineEnd;
use super::state::*;
use super::valve::answer::Given;
use super::valve::armature::InstalledArmature;
use super::valve::cell::{Cell, Near};
use super::valve::control::Control;
use super::valve::magnet::Magnet;
use super::valve::main_stage::{SeatFluid, Stage};
use crate::dual::Real;

/// The valve between its lines, ready to be integrated.
#[derive(Clone, Debug)]
pub struct Installation {
    /// Magnet.
    pub magnet: Magnet,
    /// Armature.
    pub armature: InstalledArmature,
    /// Main stage.
    pub stage: Stage,
    /// What stands between armature and stage.
    pub control: Control,
    /// Inlet port.
    pub inlet: Cell,
    /// Outlet port.
    pub outlet: Cell,
    /// Upstream line.
    pub upstream: LineEnd,
    /// Downstream line.
    pub downstream: LineEnd,
    /// Pressure whose share `tolerance` is the allowed error, Pa.
    pub pressure_scale: f64,
    /// Usual size of each state.
    pub scales: [f64; STATES],
}

/// Where the pressures of the three vessels are looked for. An installation never changes by being asked, so that threads may
/// share it; each of those who ask it again and again keeps one of these.
#[derive(Clone, Debug)]
pub struct Nearby {
    /// Inlet port.
    pub inlet: Near,
    /// Outlet port.
    pub outlet: Near,
    /// Control chamber.
    pub chamber: Near,
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
    /// Voltage at the coil, V.
    pub coil_voltage: T,
    /// Current out of the source, A.
    pub drawn: T,
    /// Pull of the magnet, N.
    pub pull: T,
    /// Spring, weight and pilot pressure against the pull, N.
    pub armature_load: T,
}

impl Installation {
    /// Where pressures are looked for at first.
    pub fn nearby(&self) -> Nearby {
        Nearby { inlet: self.inlet.near(), outlet: self.outlet.near(), chamber: self.control.near() }
    }

    /// Rates of all states, integrands of the ledger, and the instant's quantities.
    ///
    /// The balances, with the equations of each part in its own file:
    ///
    /// ```text
    /// inlet port    ds_1/dt = (ṁ_u − ṁ_m − ṁ_b − ṁ_l)/ρ_u − (A_d − A_s)·v − ẇ
    /// outlet port   ds_2/dt = (ṁ_m + ṁ_p − ṁ_d)/ρ_d − A_s·v − A_ps·v_a
    /// chamber       dV_c/dt = −A_d·v − ẇ − A_ps·v_a
    /// ```
    ///
    /// `near` is where pressures are looked for, and decides effort only.
    ///
    /// The volumes that stage, bulge and armature sweep add to nothing over the three vessels, so a wrong sign shows in
    /// the ledger at once. Source: own derivation.
    #[inline(always)]
    pub fn evaluate<T: Real>(
        &self,
        near: &Nearby,
        forcing: &[T; FORCINGS],
        y: &[T; STATES],
        rate: &mut [T; STATES],
        flux: &mut [T; INTEGRALS],
    ) -> Instant<T> {
        let v = y[LIFT_RATE];
        let p_1 = self.inlet.pressure_near(y[INLET], &near.inlet);
        let p_2 = self.outlet.pressure_near(y[OUTLET], &near.outlet);
        let (p_1d, p_2d) = (p_1 - self.upstream.state.datum, p_2 - self.downstream.state.datum);

        // Lines.
        let (m_u, column_u) = self.upstream.flow(forcing[FROM_UPSTREAM], p_1d, y[UPSTREAM_FLOW], 1.0);
        let (m_d, column_d) = self.downstream.flow(forcing[FROM_DOWNSTREAM], p_2d, y[DOWNSTREAM_FLOW], -1.0);

        // The valve's parts.
        let magnet = self.magnet.state(forcing[VOLTAGE], y[FLUX], y[RING_FLUX], self.approach(y));
        let (armature, pull) = (&self.armature, magnet.pull);
        let given = Given { stage: &self.stage, armature, pull, inlet: p_1, outlet: p_2 };
        let control = self.control.evaluate(&given, &near.chamber, y, rate, flux);
        let stage = &control.stage;
        rate[FLUX] = magnet.flux_rate;
        rate[RING_FLUX] = magnet.ring_flux_rate;

        // Vessels at the ports.
        let (rho_u, rho_d) = (self.upstream.state.density, self.downstream.state.density);
        let swept_1 = v * (self.stage.effective_area - self.stage.seat_area) + control.inlet_swept;
        let swept_2 = v * self.stage.seat_area + control.outlet_swept;
        rate[INLET] = (m_u - stage.mass_flow - control.drawn) * (1.0 / rho_u) - swept_1;
        rate[OUTLET] = (stage.mass_flow + control.given - m_d) * (1.0 / rho_d) - swept_2;
        rate[UPSTREAM_FLOW] = column_u;
        rate[DOWNSTREAM_FLOW] = column_d;

        flux[INLET_MASS] = m_u;
        flux[OUTLET_MASS] = m_d;
        flux[ELECTRIC_WORK] = forcing[VOLTAGE] * magnet.drawn;
        flux[CIRCUIT_HEAT] = magnet.circuit_heat;
        flux[WINDING_HEAT] = magnet.current.square() * self.magnet.winding;
        flux[IRON_HEAT] = magnet.iron_loss;
        flux[UPSTREAM_LOSS] = self.upstream.resistance.loss(m_u) * m_u * (1.0 / rho_u);
        flux[DOWNSTREAM_LOSS] = self.downstream.resistance.loss(m_d) * m_d * (1.0 / rho_d);
        flux[END_WORK] = self.end_work(forcing, m_u, m_d);
        match self.stage.fluid {
            SeatFluid::Liquid { .. } => {
                flux[INLET_WORK] = p_1d * m_u * (1.0 / rho_u);
                flux[OUTLET_WORK] = p_2d * m_d * (1.0 / rho_d);
                flux[MAIN_LOSS] = stage.throttle_loss;
            }
            SeatFluid::Gas { .. } => {
                flux[INLET_WORK] = p_1d * ((stage.mass_flow + control.drawn) * (1.0 / rho_u) + swept_1);
                flux[OUTLET_WORK] = p_2d * ((stage.mass_flow + control.given) * (1.0 / rho_d) - swept_2);
                flux[MAIN_LOSS] = control.stream_work;
            }
        }
        Instant {
            inlet_pressure: p_1,
            outlet_pressure: p_2,
            chamber_pressure: control.chamber_pressure,
            main_flow: stage.mass_flow,
            inlet_flow: m_u,
            outlet_flow: m_d,
            current: magnet.current,
            coil_voltage: magnet.voltage,
            drawn: magnet.drawn,
            pull: magnet.pull,
            armature_load: control.armature_load,
        }
    }

    /// How far the armature has come towards the pole, m. Source: [`InstalledArmature::approach`].
    #[inline(always)]
    pub fn approach<T: Real>(&self, y: &[T; STATES]) -> T {
        self.armature.approach(self.control.travel(y))
    }

    /// Is the fluid a gas?
    pub fn is_gas(&self) -> bool {
        match self.stage.fluid {
            SeatFluid::Liquid { .. } => false,
            SeatFluid::Gas { .. } => true,
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

/// Threads may share an installation.
const _: fn() = || {
    fn shared<T: Send + Sync>() {}
    shared::<Installation>();
};
