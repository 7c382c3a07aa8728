//! Formulas for a check by hand. They decide nothing; they stand beside the simulation.

use super::installation::Installation;
use super::line::Resistance;
use super::parts::Function;
use super::restriction::series;
use super::valve::servo::Servo;
use crate::portable::Portable;

/// Pulls that it takes to shut a normally open valve, N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClosingPulls {
    /// To start, over the full gap.
    pub pull_in: f64,
    /// To keep it shut, at the gap of the shut seat.
    pub holding: f64,
}

impl Servo {
    /// Chamber pressure share r = (p_c − p_2)/(p_1 − p_2) with the armature at `travel` (m) and the bleed running.
    ///
    /// ```text
    /// r = 1/(1 + (C_p/C_b)²)        C_p: pilot curtain and bore in series, C_b: bleed
    /// ```
    ///
    /// Valid for a liquid, or a gas at a small pressure ratio. Source: two restrictions in series (textbooks).
    pub fn chamber_share(&self, travel: f64) -> f64 {
        1.0 / (1.0 + (self.pilot.area(travel) / self.bleed.area()).to_the(2))
    }
}

impl Installation {
    /// Differential at which the energised main stage leaves its seat, Pa; none if it never does, zero where the magnet
    /// lifts it.
    ///
    /// ```text
    /// Δp_open = F_0/(A_d·h_0)        h_0 = 1 − A_s/A_d − r
    /// ```
    ///
    /// Valid as [`Servo::chamber_share`]. Source: balance of forces at the seat, own derivation.
    pub fn lift_off_differential(&self) -> Option<f64> {
        let Some(share) = self.control.chamber_share(self.armature.part.stroke) else { return Some(0.0) };
        let (a_d, a_s) = (self.stage.effective_area, self.stage.seat_area);
        let net = a_d * (1.0 - share) - a_s;
        (net > 0.0).then(|| self.stage.part.preload / net)
    }

    /// Differential across the valve at which the main stage just reaches its stop, Pa; none if it never does, zero
    /// where the magnet lifts it.
    ///
    /// ```text
    /// Δp_full = (F_0 + k·x_max)/(A_d·(1 − r) − A_s·(1 − φ) − 2·k_ff·C_c·(1 − φ))       φ at full lift
    /// ```
    ///
    /// Valid as [`Servo::chamber_share`]. Source: balance of forces at the stop, own derivation.
    pub fn full_lift_differential(&self) -> Option<f64> {
        let Some(share) = self.control.chamber_share(self.armature.part.stroke) else { return Some(0.0) };
        let stage = &self.stage;
        let part = &stage.part;
        let r = stage.restrictions(part.lift);
        let not_recovered = r.bore * r.bore / (r.curtain * r.curtain + r.bore * r.bore);
        let flow_force = 2.0 * part.flow_force_factor * r.curtain * not_recovered;
        let net = stage.effective_area * (1.0 - share) - stage.seat_area * not_recovered - flow_force;
        (net > 0.0).then(|| (part.preload + part.spring_rate * part.lift) / net)
    }

    /// Circuit differential at which the differential across the fully open valve is `across` (Pa), Pa.
    ///
    /// ```text
    /// ṁ = C·√(2·ρ·Δp)        Δp_circuit = Δp + losses of both lines at ṁ
    /// ```
    ///
    /// Valid without choking. Source: losses in series.
    pub fn circuit_for(&self, across: f64) -> f64 {
        let c = series(self.stage.restrictions(self.stage.part.lift));
        let flow = c * (2.0 * self.upstream.state.density * across).sqrt();
        let line = |s: &super::line::LineState| -> Resistance { s.wall.with(s.end) };
        across + line(&self.upstream.state).loss(flow) + line(&self.downstream.state).loss(flow)
    }

    /// Λ: by how much the columns of pilot and bleed, geared by stage over bore, outweigh the stage's own damping by
    /// throttling; a floating stage can feed a line only well above 0.3.
    ///
    /// ```text
    /// Λ = m_e·C_c'·C_p²/(C_b·ρ·(A_d − A_s)·A_d²)        m_e = m + ρ·A_d²/(1/I_p + 1/I_b),  C_c' = C·π·D_s
    /// ```
    ///
    /// C with discharge coefficients, C_c' per lift. A grade for liquids, not a limit; gases chatter at any Λ.
    /// Source: own derivation of the stage's phase behind its differential.
    pub fn gearing_number(&self) -> Option<f64> {
        let servo = self.control.servo()?;
        let (a_d, a_s) = (self.stage.effective_area, self.stage.seat_area);
        let rho = self.upstream.state.density;
        let columns = rho * a_d * a_d / (1.0 / servo.pilot.passage.inertance + 1.0 / servo.bleed.passage.inertance);
        let m_e = self.stage.part.mass + columns;
        let curtain = self.stage.part.curtain_coefficient * std::f64::consts::PI * self.stage.part.seat_diameter;
        let pilot = servo.pilot.area(self.armature.part.stroke);
        Some(m_e * curtain * pilot * pilot / (servo.bleed.area() * rho * (a_d - a_s) * a_d * a_d))
    }

    /// Differential that the armature can just be lifted against with a pull (N) on it, Pa: (F − F_a0 − m_a·g·cos θ)/A.
    ///
    /// Of a normally open valve, whose spring lifts it, (F_a0 + k_a·s_a − m_a·g·cos θ − F)/A, with what pull remains without current (none
    /// is modelled). Beyond, the pressure holds the shut seat. Source: balance of forces on the armature at its seat, the area of which
    /// is A.
    pub fn opening_differential(&self, pull: f64) -> f64 {
        let armature = &self.armature;
        let lifting = armature.along_travel(pull) - armature.seat_preload - armature.weight;
        lifting / self.control.armature_seat_area(&self.stage)
    }

    /// Pulls that a normally open valve takes without a differential, N: to start from its upper stop, F_a0 − m_a·g·cos θ, and to keep the
    /// seat shut, F_a0 + k_a·s_a − m_a·g·cos θ. None of a normally closed one.
    ///
    /// Source: balance of forces on the armature at both ends of its way; a differential helps to shut.
    pub fn closing_pulls(&self) -> Option<ClosingPulls> {
        let against = |travel: f64| self.armature.along_travel(self.armature.load(travel, 0.0));
        match self.armature.function {
            Function::NormallyClosed => None,
            Function::NormallyOpen(_) => {
                Some(ClosingPulls { pull_in: against(self.armature.part.stroke), holding: against(0.0) })
            }
        }
    }

    /// Differential against its way, outlet over inlet, that the shut stage's spring and weight hold, with a pull (N) on it while it is
    /// shut, Pa: F_0/A_s, of a normally open valve (F − F_0 − k·s)/A_s.
    ///
    /// Valid where the magnet alone lifts the stage; none else, where the chamber has its part in it. Source: balance of forces at the
    /// seat.
    pub fn held_back_differential(&self, pull: f64) -> Option<f64> {
        let alone = self.control.chamber_share(0.0).is_none();
        alone.then(|| (self.stage.part.preload - self.armature.along_travel(pull)) / self.stage.seat_area)
    }

    /// Flow coefficient Kv of the fully open valve, m³/h: Kv = 3600·C·√(2·10⁵ Pa/1000 kg/m³).
    ///
    /// Source: IEC 60534-1 (definition of Kv, from memory): water of 1000 kg/m³ at 1 bar.
    pub fn flow_coefficient(&self) -> f64 {
        3600.0 * series(self.stage.restrictions(self.stage.part.lift)) * (2.0 * 1e5 / 1000.0_f64).sqrt()
    }
}
