//! The main stage: the forces on diaphragm or piston, and the flow past its seat.

use super::friction::Rub;
use crate::dual::Real;
use crate::physics::fluid::{Fluid, Phase};
use crate::physics::parts::MainStage;
use crate::physics::restriction::{LiquidChoking, Series, Throughflow, critical_ratio_factor, gas, liquid};
use crate::portable::Portable;

/// The fluid as the main seat meets it.
#[derive(Clone, Debug)]
pub enum SeatFluid {
    /// A liquid of constant density, kg/m³.
    Liquid {
        /// Density, kg/m³.
        density: f64,
        /// Choking.
        choking: LiquidChoking,
    },
    /// A gas: density at inlet and outlet temperature per pascal, kg/(m³·Pa).
    Gas {
        /// 1/(R·T), kg/(m³·Pa).
        density_per_pressure: f64,
    },
}

impl SeatFluid {
    /// The fluid at a seat of that pressure recovery factor.
    pub fn of(fluid: &Fluid, recovery_factor: f64) -> Self {
        match &fluid.phase {
            Phase::Liquid(l) => SeatFluid::Liquid {
                density: l.density,
                choking: LiquidChoking {
                    recovery_factor,
                    critical_vapour_pressure: critical_ratio_factor(l.vapour_pressure, l.critical_pressure)
                        * l.vapour_pressure,
                },
            },
            Phase::Gas(g) => SeatFluid::Gas { density_per_pressure: 1.0 / (g.gas_constant * g.temperature) },
        }
    }
}

/// Pressures around the main stage, Pa absolute.
#[derive(Clone, Copy, Debug)]
pub struct StagePressures<T> {
    /// Inlet p_1.
    pub inlet: T,
    /// Outlet p_2.
    pub outlet: T,
    /// Control chamber p_c.
    pub chamber: T,
}

/// Motion of the main stage.
#[derive(Clone, Copy, Debug)]
pub struct StageMotion<T> {
    /// Lift x, m.
    pub lift: T,
    /// Speed v, m/s.
    pub speed: T,
    /// Elastic deflection z of dry friction, m.
    pub deflection: T,
}

/// What the main stage feels and lets pass.
#[derive(Clone, Copy, Debug)]
pub struct StageState<T> {
    /// Mass flow past the seat, kg/s.
    pub mass_flow: T,
    /// Acceleration, m/s².
    pub acceleration: T,
    /// dz/dt, m/s.
    pub deflection_rate: T,
    /// Force of inlet and outlet streams on the stage, flow force included, N (opening).
    pub stream_force: T,
    /// Pressure under the seat p_s, Pa absolute.
    pub under_seat: T,
    /// Loss of damping, dry friction and contacts, W.
    pub loss: T,
    /// Loss of the throttled stream (liquid), W.
    pub throttle_loss: T,
}

/// The main stage with its derived areas.
#[derive(Clone, Debug)]
pub struct Stage {
    /// The part.
    pub part: MainStage,
    /// Effective area A_d, m².
    pub effective_area: f64,
    /// Seat area A_s, m².
    pub seat_area: f64,
    /// Fluid.
    pub fluid: SeatFluid,
    /// Differential below which the flow is laminar-like, Pa.
    pub blend: f64,
}

impl Stage {
    /// The stage in a fluid, its flow laminar-like below the differential `blend` (Pa).
    pub fn new(part: &MainStage, fluid: &Fluid, blend: f64) -> Self {
        let quarter = std::f64::consts::FRAC_PI_4;
        Stage {
            part: part.clone(),
            effective_area: quarter * part.effective_diameter.to_the(2),
            seat_area: quarter * part.seat_diameter.to_the(2),
            fluid: SeatFluid::of(fluid, part.pressure_recovery_factor),
            blend,
        }
    }

    /// Lift of a flat seat with the same free area, m: x, or x_max·(x/x_max)^n of a shaped plug. Source: definition of the exponent.
    #[inline(always)]
    fn opened<T: Real>(&self, lift: T) -> T {
        match self.part.plug_exponent {
            Some(exponent) if exponent != 1.0 && lift.value() > 0.0 => {
                (lift * (1.0 / self.part.lift)).raised(exponent) * self.part.lift
            }
            Some(_) | None => lift,
        }
    }

    /// C·A of the curtain at lift x (m) and of the bore, m². Recovery and flow force follow from it, whatever shapes it.
    /// Source: definition of the discharge coefficient.
    #[inline(always)]
    pub fn restrictions<T: Real>(&self, lift: T) -> Series<T> {
        let circumference = std::f64::consts::PI * self.part.seat_diameter;
        Series {
            curtain: self.opened(lift.positive_part()) * (self.part.curtain_coefficient * circumference),
            bore: self.part.bore_coefficient * self.seat_area,
        }
    }

    /// Flow past the seat and pressure recovered under it; see [`liquid`] and [`gas`].
    #[inline(always)]
    pub fn throughflow<T: Real>(&self, lift: T, p_1: T, p_2: T) -> Throughflow<T> {
        let restrictions = self.restrictions(lift);
        match self.fluid {
            SeatFluid::Liquid { density, choking } => liquid(restrictions, density, p_1, p_2, choking, self.blend),
            SeatFluid::Gas { density_per_pressure } => {
                let upstream = if p_1.value() >= p_2.value() { p_1 } else { p_2 };
                let density = upstream * density_per_pressure;
                gas(restrictions, density, p_1, p_2, self.part.critical_pressure_ratio, self.blend)
            }
        }
    }

    /// Forces, flow and losses of the main stage.
    ///
    /// ```text
    /// m·v̇ = p_1·(A_d − A_s) + p_s·A_s − p_c·A_d − F_0 − k·x − c·v
    ///        − 2·k_ff·C_c·(p_1 − p_s) − F_r + contacts          p_s = p_2 + φ·(p_1 − p_2)
    /// throttle loss = Δp·ṁ/ρ − φ·Δp·A_s·v + 2·k_ff·C_c·(1 − φ)·Δp·v
    /// ```
    ///
    /// with the force of a cushion, see [`super::cushion`], where there is one.
    /// Validity: quasi-steady flow; flow force from the momentum of the curtain's jet with the factor k_ff. F_r: see [`super::friction`].
    /// Source: momentum balance, own derivation.
    #[inline(always)]
    pub fn state<T: Real>(&self, p: StagePressures<T>, motion: StageMotion<T>) -> StageState<T> {
        let part = &self.part;
        let (x, v) = (motion.lift, motion.speed);
        let through = self.throughflow(x, p.inlet, p.outlet);
        let differential = p.inlet - p.outlet;
        let under_seat = p.outlet + through.recovery * differential;
        let curtain = self.restrictions(x).curtain;
        let flow_force = curtain * (p.inlet - under_seat) * (2.0 * part.flow_force_factor);
        let stream_force = p.inlet * (self.effective_area - self.seat_area) + under_seat * self.seat_area - flow_force;
        let seat = part.seat.touch(-x, -v);
        let stop = part.stop.touch(x - part.lift, v);
        let cushion = self.cushion(x, v);
        let rub = part.kind.friction().map_or(Rub::none(), |friction| friction.rub(v, motion.deflection));
        let damping = v * part.damping;
        let force = stream_force - p.chamber * self.effective_area - x * part.spring_rate - damping - rub.force
            + seat.force
            - stop.force
            - part.preload;
        let force = cushion.map_or(force, |cushion| force + cushion);
        let throttle_loss = match self.fluid {
            SeatFluid::Liquid { density, .. } => {
                differential * (through.mass_flow * (1.0 / density) - through.recovery * v * self.seat_area)
                    + flow_force * v
            }
            SeatFluid::Gas { .. } => T::constant(0.0),
        };
        let loss = damping * v + rub.loss + seat.loss + stop.loss;
        StageState {
            mass_flow: through.mass_flow,
            acceleration: force * (1.0 / part.mass),
            deflection_rate: rub.deflection_rate,
            stream_force,
            under_seat,
            loss: cushion.map_or(loss, |cushion| loss - cushion * v),
            throttle_loss,
        }
    }

    /// Force of the cushion, N; none without one, or in a gas.
    #[inline(always)]
    fn cushion<T: Real>(&self, lift: T, speed: T) -> Option<T> {
        let cushion = self.part.cushion.as_ref()?;
        match self.fluid {
            SeatFluid::Liquid { density, .. } => Some(cushion.force(density, lift, speed)),
            SeatFluid::Gas { .. } => None,
        }
    }

    /// Energy of motion, springs, weight and contacts, J. Source: integrals of the forces of [`Stage::state`].
    pub fn energy(&self, lift: f64, speed: f64, deflection: f64) -> f64 {
        let part = &self.part;
        let stuck = part.kind.friction().map_or(0.0, |friction| friction.energy(deflection));
        0.5 * part.mass * speed * speed
            + part.preload * lift
            + 0.5 * part.spring_rate * lift * lift
            + part.seat.energy(-lift)
            + part.stop.energy(lift - part.lift)
            + stuck
    }

    /// Lift at which the shut stage rests in its seat under equal pressures on both of its faces, the outlet's under the seat, with
    /// something else pressing it down as well (N), m. Source: balance of forces of [`Stage::state`] at no motion.
    pub fn pressed_lift(&self, differential: f64, pressing: f64) -> f64 {
        -self.part.seat.indentation(self.part.preload + differential * self.seat_area + pressing)
    }
}
