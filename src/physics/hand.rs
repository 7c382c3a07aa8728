//! Formulas for a check by hand. They decide nothing; they stand beside the simulation.

use super::installation::Installation;
use super::line::Resistance;
use super::parts::Function;
use super::restriction::series;
use super::root::falling_root;
use super::valve::control::Control;
use super::valve::control::vented_pilot::VentedPilot;
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
    /// Chamber pressure share r = (p_c − p_2)/(p_1 − p_2) with the armature at `travel` and the stage at `lift` (m), under a
    /// differential p_1 − p_2 (Pa) that only a laminar leak past the piston asks for.
    ///
    /// ```text
    /// r = 1/(1 + (C_p/(C_b + C_l))²)        C_p: pilot curtain and bore in series, C_b: bleed, C_l: ring as an orifice, else 0
    /// gap:  C_b·√(2·ρ·d) + ṁ_l(d) = C_p·√(2·ρ·(Δp − d))        d = (1 − r)·Δp, across bleed and gap
    /// ```
    ///
    /// Valid for a liquid, or a gas at a small pressure ratio. Source: two restrictions in series (textbooks).
    pub fn chamber_share(&self, travel: f64, lift: f64, differential: f64) -> f64 {
        let (pilot, bleed) = (self.pilot.area(travel), self.bleed.area_at(lift));
        let orifices = |inflow: f64| 1.0 / (1.0 + (pilot / inflow).to_the(2));
        match &self.leak {
            None => orifices(bleed),
            Some(leak) if leak.gap == 0.0 => orifices(bleed + leak.area()),
            Some(leak) => {
                let root = (2.0 * leak.density).sqrt();
                let surplus = |d: f64| {
                    let inflow = bleed * root * d.sqrt() + leak.by_hand(d, leak.density);
                    pilot * root * (differential - d).sqrt() - inflow
                };
                if differential > 0.0 {
                    1.0 - falling_root(0.0, differential, surplus) / differential
                } else {
                    orifices(bleed)
                }
            }
        }
    }
}

/// Differential (Pa) at which a force (N) is overcome by that differential times an area (m²) that depends on it; none if it never is.
///
/// ```text
/// Δp = F/A(Δp)        A falls with Δp where a leak fills the chamber, else it is constant
/// ```
///
/// Inserted from below again and again it rises to the smallest root. Source: monotone iteration (textbooks).
pub(super) fn overcome(force: f64, area: impl Fn(f64) -> f64) -> Option<f64> {
    let mut found = 0.0;
    for _ in 0..ROUNDS {
        let net = area(found);
        if net <= 0.0 {
            return None;
        }
        let next = force / net;
        if next <= found * (1.0 + 1e-12) {
            return Some(next);
        }
        found = next;
    }
    None
}

/// Rounds after which a differential that still rises is no root: near a double root, where the leak is about to hold the stage down.
const ROUNDS: usize = 1000;
/// No circuit has more, Pa: where nothing ends the lifting below, nothing does.
const GREATEST_DIFFERENTIAL: f64 = 1e8;

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
        match &self.control {
            Control::Servo(servo) => {
                overcome(self.stage.part.preload, |differential| self.lifting_area(servo, differential))
            }
            Control::Direct | Control::ForcedLift(_) => Some(0.0),
            Control::VentedPilot(vented) => {
                self.vented_differential(vented, 0.0, self.stage.part.preload, self.stage.seat_area, self.above_vent())
            }
        }
    }

    /// Sink over the place of its own to which the pilot vents, Pa; none where it vents to the outlet.
    fn above_vent(&self) -> f64 {
        self.control.own_vent().map_or(0.0, |vent| self.downstream.state.datum - vent)
    }

    /// Differential (Pa) at which a stage whose pilot vents to p_v is lifted against a force F (N) at `lift` (m), the outlet `above` =
    /// p_2 − p_v (Pa); none if it never is, zero where it needs none of its own.
    ///
    /// ```text
    /// D = (F − B·(p_2 − p_v))/(A_d·(1 − r(D)) − B)        D = p_1 − p_v,  Δp = D − (p_2 − p_v),  p_c = p_v + r·D
    /// ```
    ///
    /// B (m²) is what the differential presses shut: A_s on the seat. At lift-off that is
    /// Δp = (F_0 − A_d·(1 − r)·(p_2 − p_v))/(A_d·(1 − r) − A_s). Valid as [`Servo::chamber_share`], for p_1 > p_v.
    /// Source: p_1·A_d − p_c·A_d − B·Δp = F, own derivation.
    fn vented_differential(
        &self,
        vented: &VentedPilot,
        lift: f64,
        force: f64,
        shutting: f64,
        above: f64,
    ) -> Option<f64> {
        let area = |from_vent: f64| {
            let share = vented.servo.chamber_share(self.armature.part.stroke, lift, from_vent);
            self.stage.effective_area * (1.0 - share) - shutting
        };
        let left = force - shutting * above;
        if above > 0.0 && above * area(above) >= left {
            return Some(0.0);
        }
        overcome(left, area).map(|from_vent| (from_vent - above).max(0.0))
    }

    /// Full lift of a valve with a vented pilot, as [`Installation::vented_differential`]: the outlet is above the sink by what the line
    /// behind loses of the flow of the open valve, which helps.
    fn vented_full_lift(&self, vented: &VentedPilot, force: f64, shutting: f64) -> Option<f64> {
        let part = &self.stage.part;
        let needed = |above: f64| self.vented_differential(vented, part.lift, force, shutting, above);
        let most = needed(self.above_vent())?;
        let above = |across: f64| self.above_vent() + self.downstream.whole_loss(self.open_flow_at(across));
        Some(falling_root(0.0, most, |across| needed(above(across)).unwrap_or(most) - across))
    }

    /// What the differential (Pa) across the shut and energised stage works on to lift it, m²: A_d·(1 − r) − A_s.
    fn lifting_area(&self, servo: &Servo, differential: f64) -> f64 {
        let share = servo.chamber_share(self.armature.part.stroke, 0.0, differential);
        self.stage.effective_area * (1.0 - share) - self.stage.seat_area
    }

    /// Differential above which the energised main stage no longer leaves its seat, Pa, since the gap past its piston fills the chamber
    /// faster than the pilot empties it; none where there is no such end.
    ///
    /// ```text
    /// F_0 = Δp·(A_d·(1 − r(Δp)) − A_s), the root above the lift-off differential
    /// ```
    ///
    /// A laminar leak grows with the differential, pilot and bleed with its root. The surge by which a pilot opens on a long line may
    /// lift the stage all the same. Valid as [`Servo::chamber_share`].
    /// Source: balance of forces at the seat, own derivation.
    pub fn greatest_lift_off_differential(&self) -> Option<f64> {
        let Control::Servo(servo) = &self.control else { return None };
        let least = self.lift_off_differential()?;
        let lifted =
            |differential: f64| differential * self.lifting_area(servo, differential) - self.stage.part.preload;
        let (from, to) = (least * (1.0 + 1e-6), GREATEST_DIFFERENTIAL);
        (from < to && lifted(to) < 0.0).then(|| falling_root(from, to, lifted))
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
        let servo = match &self.control {
            Control::Servo(servo) => servo,
            Control::Direct => return Some(0.0),
            Control::ForcedLift(forced) => return self.forced_full_lift(forced),
            Control::VentedPilot(vented) => &vented.servo,
        };
        let stage = &self.stage;
        let part = &stage.part;
        let r = stage.restrictions(part.lift);
        let not_recovered = r.bore * r.bore / (r.curtain * r.curtain + r.bore * r.bore);
        let flow_force = 2.0 * part.flow_force_factor * r.curtain * not_recovered;
        let force = part.preload + part.spring_rate * part.lift;
        if let Control::VentedPilot(vented) = &self.control {
            return self.vented_full_lift(vented, force, stage.seat_area * not_recovered + flow_force);
        }
        overcome(force, |differential| {
            let share = servo.chamber_share(self.armature.part.stroke, part.lift, differential);
            stage.effective_area * (1.0 - share) - stage.seat_area * not_recovered - flow_force
        })
    }

    /// Circuit differential at which the differential across the fully open valve is `across` (Pa), Pa.
    ///
    /// ```text
    /// ṁ = C·√(2·ρ·Δp)        Δp_circuit = Δp + losses of both lines at ṁ
    /// ```
    ///
    /// Valid without choking. Source: losses in series.
    pub fn circuit_for(&self, across: f64) -> f64 {
        let flow = self.open_flow_at(across);
        let line = |s: &super::line::LineState| -> Resistance { s.wall.with(s.end) };
        across + line(&self.upstream.state).loss(flow) + line(&self.downstream.state).loss(flow)
    }

    /// Flow of the fully open valve at a differential across it (Pa), kg/s: C·√(2·ρ·Δp). Valid without choking. Source: textbooks.
    fn open_flow_at(&self, across: f64) -> f64 {
        series(self.stage.restrictions(self.stage.part.lift)) * (2.0 * self.upstream.state.density * across).sqrt()
    }

    /// Λ: by how much the columns of pilot and bleed, geared by stage over bore, outweigh the stage's own damping by
    /// throttling; a floating stage can feed a line only well above 0.3.
    ///
    /// ```text
    /// Λ = m_e·C_c'·C_p²/(C_b·ρ·(A_d − A_s)·A_d²)        m_e = m + ρ·A_d²/(1/I_p + 1/I_b),  C_c' = C·π·D_s
    /// ```
    ///
    /// C with discharge coefficients, C_c' per lift. C_b with the free bleed and the ends of a leak past the piston, whose column counts
    /// beside theirs; of a shaped plug C_c' is the mean over the lift. A grade for liquids, not a limit; gases chatter at any Λ.
    /// Source: own derivation of the stage's phase behind its differential.
    pub fn gearing_number(&self) -> Option<f64> {
        let servo = match &self.control {
            Control::Servo(servo) => servo,
            // The magnet carries the stage, or the pilot's gap follows it, or another differential than the valve's drives both columns.
            Control::Direct | Control::ForcedLift(_) | Control::VentedPilot(_) => return None,
        };
        let (a_d, a_s) = (self.stage.effective_area, self.stage.seat_area);
        let rho = self.upstream.state.density;
        let mut admittance = 1.0 / servo.pilot.passage.inertance + 1.0 / servo.bleed.passage.inertance;
        let mut inflow = servo.bleed.area();
        if let Some(leak) = &servo.leak {
            admittance += 1.0 / leak.passage.inertance;
            inflow += leak.area();
        }
        let columns = rho * a_d * a_d / admittance;
        let m_e = self.stage.part.mass + columns;
        let curtain = self.stage.part.curtain_coefficient * std::f64::consts::PI * self.stage.part.seat_diameter;
        let pilot = servo.pilot.area(self.armature.part.stroke);
        Some(m_e * curtain * pilot * pilot / (inflow * rho * (a_d - a_s) * a_d * a_d))
    }

    /// Differential that the armature can just be lifted against with a pull (N) on it, Pa: (F − F_a0 − m_a·g·cos θ − F_r)/A.
    ///
    /// Where the pilot vents to p_v that is counted in the valve's differential: less by P_k − p_v.
    /// Of a normally open valve, whose spring lifts it, (F_a0 + k_a·s_a − m_a·g·cos θ − F_r − F)/A, with what pull F remains without current
    /// ([`Installation::remanent_pull`]). Beyond, the pressure holds the shut seat. F_r: dry friction. Source: balance of forces on the armature at its seat, the area of which
    /// is A.
    pub fn opening_differential(&self, pull: f64) -> f64 {
        let armature = &self.armature;
        let friction = armature.part.friction.unwrap_or(0.0);
        let lifting = armature.along_travel(pull) - armature.seat_preload - armature.weight - friction;
        lifting / self.control.armature_seat_area(&self.stage) - self.above_vent()
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
    /// Valid where the magnet lifts the stage; none else, where the differential has its part in it. In a forced lift the armature's
    /// spring and weight F_a0 stand on the stage as well: (F_0 + F_a0)/A_s. Source: balance of forces at the seat.
    pub fn held_back_differential(&self, pull: f64) -> Option<f64> {
        let held = match self.control {
            Control::Servo(_) | Control::VentedPilot(_) => return None,
            Control::Direct => self.stage.part.preload - self.armature.along_travel(pull),
            Control::ForcedLift(_) => self.stage.part.preload + self.armature.part.preload + self.armature.weight,
        };
        Some(held / self.stage.seat_area)
    }

    /// Flow coefficient Kv of the fully open valve, m³/h: Kv = 3600·C·√(2·10⁵ Pa/1000 kg/m³).
    ///
    /// Source: IEC 60534-1 (definition of Kv, from memory): water of 1000 kg/m³ at 1 bar.
    pub fn flow_coefficient(&self) -> f64 {
        3600.0 * series(self.stage.restrictions(self.stage.part.lift)) * (2.0 * 1e5 / 1000.0_f64).sqrt()
    }
}
