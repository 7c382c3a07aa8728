//! A plain pipe from a place of constant pressure to a law of flow at its other end, made of the project's wave line.

use crate::physics::line::far_end::EndPressure;
use crate::physics::line::shear::Shear;
use crate::physics::line::waves::WaveLine;
use crate::physics::line::{LineState, Resistance};
use crate::physics::parts::{Fittings, Line, LineModel};
use crate::portable::Portable;

/// Friction of the wall beside the elastic wave.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WallFriction {
    /// None.
    None,
    /// Steady laminar resistance only; kinematic viscosity, m²/s.
    QuasiSteady(f64),
    /// With the shear's memory; kinematic viscosity, m²/s.
    WithMemory(f64),
}

/// A pipe.
#[derive(Clone, Copy, Debug)]
pub struct Pipe {
    /// Length L, m.
    pub length: f64,
    /// Bore D, m.
    pub bore: f64,
    /// Wave speed a, m/s.
    pub wave_speed: f64,
    /// Density ρ, kg/m³.
    pub density: f64,
    /// Friction.
    pub friction: WallFriction,
    /// Segments of the wave line.
    pub segments: usize,
}

impl Pipe {
    /// 2L/a, s.
    pub fn phase(&self) -> f64 {
        2.0 * self.length / self.wave_speed
    }

    /// Mass flow at a velocity, kg/s.
    pub fn mass_flow(&self, velocity: f64) -> f64 {
        velocity * self.density * std::f64::consts::FRAC_PI_4 * self.bore * self.bore
    }

    /// The state of the line, pressures counted from vacuum.
    pub fn state(&self) -> LineState {
        let line = Line {
            length: self.length,
            bore: self.bore,
            wave_speed: self.wave_speed,
            density: None,
            friction_factor: 0.0,
            loss_coefficient: 0.0,
            segments: self.segments,
            model: LineModel::Waves,
            fittings: Fittings::default(),
        };
        let filled = |viscosity: f64| LineState::new(&line, self.density, viscosity, 0.0, 0.0, None);
        match self.friction {
            WallFriction::None => filled(0.0),
            WallFriction::WithMemory(nu) => filled(nu * self.density),
            WallFriction::QuasiSteady(nu) => LineState { shear: Shear::NONE, ..filled(nu * self.density) },
        }
    }

    /// The line in steady flow (kg/s towards the valve) from `pressure` (Pa) at its far end; every knot is kept.
    pub fn wave_line(&self, pressure: f64, flow: f64) -> WaveLine {
        let end = EndPressure { mean: pressure, amplitude: 0.0, angular_frequency: 0.0 };
        WaveLine::steady(&self.state(), end, self.segments, 0.0, 0.0, flow)
    }
}

/// What the valve at the end does: flow towards it and its slope under an arriving characteristic and its slope.
pub trait FlowLaw {
    /// Flow (kg/s) and slope (kg/s²) at `time`; `after` says which side of a kink is meant.
    fn flow(&self, time: f64, after: bool, arriving: (f64, f64), impedance: f64) -> (f64, f64);
}

/// Flow prescribed as pieces of straight lines through (time, flow).
pub struct Prescribed(
    /// Times (s) in rising order with their flows (kg/s).
    pub Vec<(f64, f64)>,
);

impl FlowLaw for Prescribed {
    fn flow(&self, time: f64, after: bool, _: (f64, f64), _: f64) -> (f64, f64) {
        let points = &self.0;
        let Some(first) = points.first() else { return (0.0, 0.0) };
        let next = points.partition_point(|&(t, _)| if after { t <= time } else { t < time });
        let Some(&(t_0, q_0)) = next.checked_sub(1).and_then(|i| points.get(i)) else { return (first.1, 0.0) };
        let Some(&(t_1, q_1)) = points.get(next) else { return (q_0, 0.0) };
        let slope = (q_1 - q_0) / (t_1 - t_0);
        (q_0 + slope * (time - t_0), slope)
    }
}

/// A flow stopped within a short time, along a cubic with level ends: as steep as wanted, yet without a kink.
pub struct Stopped {
    /// Flow before the stop, kg/s.
    pub flow: f64,
    /// Time of the stop, s.
    pub within: f64,
}

impl FlowLaw for Stopped {
    fn flow(&self, time: f64, _: bool, _: (f64, f64), _: f64) -> (f64, f64) {
        let u = (time / self.within).clamp(0.0, 1.0);
        let left = 1.0 - u * u * (3.0 - 2.0 * u);
        (self.flow * left, -self.flow * 6.0 * u * (1.0 - u) / self.within)
    }
}

/// An opening whose flow is η(t)·ṁ_0·√(p/p_0), with η falling linearly from 1 to 0.
pub struct ClosingOpening {
    /// Time of closing, s.
    pub closing_time: f64,
    /// ṁ_0, kg/s.
    pub full_flow: f64,
    /// p_0, Pa.
    pub pressure: f64,
}

impl FlowLaw for ClosingOpening {
    fn flow(&self, time: f64, after: bool, arriving: (f64, f64), impedance: f64) -> (f64, f64) {
        let eta = (1.0 - time.max(0.0) / self.closing_time).max(0.0);
        let moving =
            if after { time >= 0.0 && time < self.closing_time } else { time > 0.0 && time <= self.closing_time };
        let eta_slope = if moving { -1.0 / self.closing_time } else { 0.0 };
        // p = p_0·ṁ²/(η·ṁ_0)²: the project's junction with a quadratic resistance, p = A − Z·ṁ = R·ṁ².
        let full = self.pressure / self.full_flow.to_the(2);
        let flow = if eta > 0.0 {
            Resistance { local: full / (eta * eta), ..Resistance::default() }.flow(arriving.0, impedance)
        } else {
            0.0
        };
        // ṁ² = η²·(A − Z·ṁ)/full, differentiated; at η = 0 it tends to η'·√(A/full).
        let root = ((arriving.0 - impedance * flow) / full).max(0.0).sqrt();
        let by_flow = 1.0 + eta * impedance / (2.0 * full * root.max(1e-300));
        let slope = (eta_slope * root + eta * arriving.1 / (2.0 * full * root.max(1e-300))) / by_flow;
        (flow, if root > 0.0 { slope } else { 0.0 })
    }
}

/// A sample at the valve: time, pressure (Pa), flow (kg/s).
#[derive(Clone, Copy, Debug)]
pub struct Sample {
    /// Time, s.
    pub time: f64,
    /// Pressure, Pa.
    pub pressure: f64,
    /// Flow towards the valve, kg/s.
    pub flow: f64,
}

/// A kink is sent as two knots this share of 2L/a apart: some nanoseconds, far above the picosecond below which junctions
/// no longer tell two knots from one.
pub const KINK: f64 = 1e-7;

/// Run a law against a line up to `end`, with `per_phase` instants in each 2L/a and a double knot at every kink; `look` sees
/// line and sample at each.
pub fn run(
    pipe: &Pipe,
    line: &mut WaveLine,
    law: &dyn FlowLaw,
    end: f64,
    per_phase: usize,
    kinks: &[f64],
    mut look: impl FnMut(&WaveLine, Sample),
) {
    let phase = pipe.phase();
    let z = pipe.state().impedance();
    // Each kink of the law comes back after every phase.
    let mut instants: Vec<(f64, bool)> = Vec::new();
    let count = (end / phase * per_phase as f64).round() as usize;
    instants.extend((1..=count).map(|i| (i as f64 / per_phase as f64 * phase, false)));
    for &kink in kinks {
        for k in 0..=((end - kink) / phase).floor() as usize {
            let at = kink + k as f64 * phase;
            instants.push((at, false));
            instants.push((at + KINK * phase, true));
        }
    }
    instants.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut last = 0.0;
    for (time, after) in instants {
        if time - last < 0.3 * KINK * phase {
            continue;
        }
        // A front that arrives between two instants is met where it is, as the valve's own steps do.
        while last + line.longest_step(last) < time - KINK * phase {
            last += line.longest_step(last).max(KINK * phase);
            let (flow, slope) = law.flow(last, true, line.arriving(last), z);
            line.send(last, flow, slope);
        }
        last = time;
        let arriving = line.arriving(time);
        let (flow, slope) = law.flow(time, after, arriving, z);
        line.send(time, flow, slope);
        let pressure = arriving.0 - z * flow;
        look(line, Sample { time, pressure, flow });
    }
}
