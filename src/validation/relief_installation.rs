//! The same relief valve in SI units, made of the product's own main stage and vessel: where it becomes unstable, how fast
//! it then swings, and where it begins to touch its seat.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::relief_valve::SOURCE;
use super::restitution::{Accuracy, Body, Watch};
use super::trail::{Point, growth, turns};
use crate::dual::Real;
use crate::physics::parts::{Contact, MainStage, StageKind};
use crate::physics::restriction::LiquidChoking;
use crate::physics::valve::cell::Cell;
use crate::physics::valve::main_stage::{SeatFluid, Stage, StageMotion, StagePressures};
use crate::solver::{Method, Settings, Step, System, Then};

/// Flow at the Hopf point, m³/s, its lift, m, and gauge pressure, Pa, and the frequency there, Hz.
const HOPF_FLOW: f64 = 1.332593913e-3;
const HOPF_LIFT: f64 = 2.410313e-3;
const HOPF_PRESSURE: f64 = 248_206.26;
const HOPF_FREQUENCY: f64 = 155.552941;
/// Flow below which the limit cycle touches the seat, m³/s.
const GRAZING_FLOW: f64 = 1.186027e-3;
/// Unit of time √(m/k) of the dimensionless equations, s.
const UNIT: f64 = 3.162_277_660_168_379e-3;
/// Pressure behind the seat, Pa absolute; any would do.
const BEHIND: f64 = 1e5;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "licsko_champneys_hos_2009_relief_valve",
        name: "a relief valve of the product's own main stage and vessel",
        source: SOURCE,
        obtained: Obtained::Library("mpmath 1.4.1"),
        reason: "the rate of growth is read off at 1 % on either side and interpolated, which bends the result by \
                 some 1e-4; the grazing flow is carried on in a straight line from two cycles 0.5 and 1 % above it",
        misfit: None,
        checks,
    }]
}

/// A vessel fed at a constant rate, emptied past a sprung main stage. States: lift, speed, content of the vessel.
struct FedStage {
    stage: Stage,
    vessel: Cell,
    density: f64,
    /// Feed, m³/s.
    feed: f64,
}

impl FedStage {
    /// κ = 1.25, β = 20, δ = 10 at a millimetre of lift and 20 kPa. The poppet's ring-shaped face A_d − A_s takes the inlet
    /// pressure; the bore under its seat is so wide that it takes no part.
    fn new(feed: f64) -> Self {
        let (face, density) = (1e-4, 1000.0);
        let diameter = |area: f64| (4.0 * area / std::f64::consts::PI).sqrt();
        let contact = Contact { stiffness: 1.5e8, dissipation: 2.5 };
        let part = MainStage {
            kind: StageKind::Diaphragm { bulge_compliance: 0.0, bulge_resistance: 1.0 },
            effective_diameter: diameter(2.0 * face),
            seat_diameter: diameter(face),
            lift: 1.0,
            mass: 0.02,
            preload: 2000.0 * 0.010,
            spring_rate: 2000.0,
            damping: 7.905694150421,
            curtain_coefficient: 0.7,
            bore_coefficient: 1e9,
            flow_force_factor: 0.0,
            pressure_recovery_factor: 1.0,
            critical_pressure_ratio: 0.5,
            plug_exponent: None,
            cushion: None,
            seat: contact.clone(),
            stop: contact,
        };
        let choking = LiquidChoking { recovery_factor: 1.0, critical_vapour_pressure: 0.0 };
        FedStage {
            stage: Stage {
                part,
                effective_area: 2.0 * face,
                seat_area: face,
                fluid: SeatFluid::Liquid { density, choking },
                blend: 1e-3,
            },
            vessel: Cell::new(1.861076553451e-3 / 1.5e9, BEHIND, 0.0, 1e-18, BEHIND, 1.0),
            density,
            feed,
        }
    }

    /// Open and at rest: the lift at which the pressure that the spring asks for drives the whole feed.
    fn at_rest(&self) -> [f64; 3] {
        let part = &self.stage.part;
        let face = self.stage.effective_area - self.stage.seat_area;
        let pressure = |lift: f64| BEHIND + (part.preload + part.spring_rate * lift) / face;
        let (mut low, mut high) = (0.0, part.lift);
        for _ in 0..100 {
            let middle = 0.5 * (low + high);
            let flow = self.stage.throughflow(middle, pressure(middle), BEHIND).mass_flow;
            if flow < self.feed * self.density { low = middle } else { high = middle }
        }
        [low, 0.0, self.vessel.content(pressure(low))]
    }

    /// The motion over `time` (s) after the lift at rest was multiplied by `start`.
    fn run(&self, start: f64, time: f64, tolerance: f64) -> Result<Vec<Point<3>>, String> {
        let mut y = self.at_rest();
        let scales = [1e-3, 1.0, 2e4 * self.vessel.compliance];
        let settings = Settings {
            method: Method::Rodas5P,
            relative_tolerance: tolerance,
            absolute_tolerance: scales.map(|scale| scale * tolerance),
            most_steps: 10_000_000,
        };
        let accuracy = Accuracy { settings, longest_step: 0.1 * UNIT };
        y[0] *= start;
        let mut trail = Vec::new();
        Body { system: self, accuracy: &accuracy }.until(Watch::Nothing, 0.0, time, y, None, &mut trail)?;
        Ok(trail)
    }
}

impl System<3, 0, 0> for FedStage {
    fn forcing(&self, _time: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }

    fn rates<T: Real>(&self, _forcing: &[T; 0], y: &[T; 3], rate: &mut [T; 3], _integrand: &mut [T; 0]) {
        let behind = T::constant(BEHIND);
        let pressures = StagePressures { inlet: self.vessel.pressure(y[2]), outlet: behind, chamber: behind };
        let motion = StageMotion { lift: y[0], speed: y[1], deflection: T::constant(0.0) };
        let stage = self.stage.state(pressures, motion);
        *rate = [y[1], stage.acceleration, -(stage.mass_flow * (1.0 / self.density)) + self.feed];
    }

    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }

    fn accepted(&mut self, _step: &Step<'_, 3, 0>) -> Then {
        Then::Continue
    }
}

/// Growth rate (1/s) and frequency (Hz) of a small disturbance at a feed.
fn small_oscillation(feed: f64) -> Result<[f64; 2], String> {
    let trail = FedStage::new(feed).run(1.0 + 1e-4, 100.0 * UNIT, 1e-11)?;
    let (rate, omega) = growth(&turns(&trail, 0, 2.0 * UNIT))?;
    Ok([rate, omega / std::f64::consts::TAU])
}

/// Least lift of the limit cycle at a feed, m.
fn least_lift(feed: f64) -> Result<f64, String> {
    let trail = FedStage::new(feed).run(1.5, 230.0 * UNIT, 1e-8)?;
    let turns = turns(&trail, 0, 200.0 * UNIT);
    Ok(turns.iter().map(|turn| turn.value).fold(f64::INFINITY, f64::min))
}

fn checks() -> Result<Vec<Check>, String> {
    let rest = FedStage::new(HOPF_FLOW);
    let [lift, _, content] = rest.at_rest();
    let (below, above) = (0.99 * HOPF_FLOW, 1.01 * HOPF_FLOW);
    let ([grows, slow], [decays, fast]) = (small_oscillation(below)?, small_oscillation(above)?);
    if grows <= 0.0 || decays >= 0.0 {
        return Err(format!("growth of {grows} 1/s below and {decays} 1/s above the Hopf flow"));
    }
    let share = grows / (grows - decays);
    let (near, far) = (1.005 * GRAZING_FLOW, 1.01 * GRAZING_FLOW);
    let (near_lift, far_lift) = (least_lift(near)?, least_lift(far)?);
    let grazing = near - near_lift * (far - near) / (far_lift - near_lift);
    let least_below = least_lift(0.99 * GRAZING_FLOW)?;
    let touches = if near_lift > 0.0 && least_below < 0.0 { 1.0 } else { 0.0 };
    let relative = Tolerance::Relative;
    Ok(vec![
        check("lift at rest at the Hopf flow, m", lift, HOPF_LIFT, relative(1e-6)),
        check(
            "pressure there above that behind, Pa",
            rest.vessel.pressure(content) - BEHIND,
            HOPF_PRESSURE,
            relative(1e-6),
        ),
        check(
            "flow at which oscillations neither grow nor decay, m³/s",
            below + share * (above - below),
            HOPF_FLOW,
            relative(5e-4),
        ),
        check("frequency there, Hz", slow + share * (fast - slow), HOPF_FREQUENCY, relative(5e-4)),
        check("flow at which the limit cycle grazes the seat, m³/s", grazing, GRAZING_FLOW, relative(1e-3)),
        check("seat touched 1 % below and free 0.5 % above that flow (1: yes)", touches, 1.0, Tolerance::Absolute(0.0)),
    ])
}
