//! A valve on a pipe in motion: wave line, port and solver as in every run; growth and frequency read off its lift.

use super::piped_valve::PipedValve;
use crate::dual::Real;
use crate::physics::line::far_end::EndPressure;
use crate::physics::line::waves::WaveLine;
use crate::physics::valve::cell::Cell;
use crate::portable::Portable;
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};
use std::f64::consts::TAU;

/// Volume of liquid at the port, m³: small, since its limit is wanted.
const PORT_VOLUME: f64 = 1e-8;
/// First displacement, share of the lift.
const DISPLACED: f64 = 1e-4;
/// Periods that pass before the first look, between the looks, and in each look.
const BEFORE: f64 = 15.0;
const BETWEEN: f64 = 30.0;
const LOOK: f64 = 5.0;

/// Growth and frequency of a small motion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Motion {
    /// 1/s.
    pub(super) growth: f64,
    /// Hz.
    pub(super) frequency: f64,
}

struct Running<'a> {
    valve: &'a PipedValve,
    port: Cell,
    line: WaveLine,
    longest: f64,
    seen: Vec<(f64, f64)>,
}

/// States: lift, speed, content of the port.
impl System<3, 1, 0> for Running<'_> {
    fn forcing(&self, time: f64) -> ([f64; 1], [f64; 1]) {
        let (value, slope) = self.line.arriving(time);
        ([value], [slope])
    }
    fn rates<T: Real>(&self, forcing: &[T; 1], y: &[T; 3], rate: &mut [T; 3], _: &mut [T; 0]) {
        let pressure = self.port.pressure(y[2]);
        let fed = (forcing[0] - pressure) * (1.0 / self.valve.line.impedance());
        let drawn = y[0] * pressure.sqrt() * self.valve.flow_factor;
        rate[0] = y[1];
        rate[1] = self.valve.acceleration(y[0], y[1], pressure);
        rate[2] = (fed - drawn) * (1.0 / self.valve.line.density);
    }
    fn longest_step(&self, time: f64) -> f64 {
        self.line.longest_step(time).min(self.longest)
    }
    fn accepted(&mut self, step: &Step<'_, 3, 0>) -> Then {
        let (arriving, slope) = self.line.arriving(step.to);
        let pressure = self.port.pressure(step.new_y[2]);
        let pressure_rate = self.port.pressure_slope(step.new_y[2]) * step.new_rates[2];
        let z = self.valve.line.impedance();
        self.line.send(step.to, (arriving - pressure) / z, (slope - pressure_rate) / z);
        self.seen.push((step.to, step.new_y[0] / self.valve.lift - 1.0));
        Then::Continue
    }
}

/// Move a valve from its equilibrium and watch the mode near `frequency` (Hz).
pub(super) fn motion(valve: &PipedValve, frequency: f64) -> Result<Motion, String> {
    let line = &valve.line;
    let compliance = PORT_VOLUME / (line.density * line.wave_speed.to_the(2));
    let port = Cell::new(compliance, valve.pressure, 0.0, 1e-9 * PORT_VOLUME, valve.pressure, 1.0);
    let end = EndPressure { mean: valve.pressure, amplitude: 0.0, angular_frequency: 0.0 };
    let error = 1e-9 * valve.pressure;
    let longest = 1.0 / frequency / 60.0;
    let mut running = Running {
        line: WaveLine::steady(line, end, 1, 0.0, error, valve.flow()),
        longest,
        seen: Vec::new(),
        valve,
        port: port.clone(),
    };
    let tolerance = 1e-9;
    let settings = Settings {
        method: Method::Rodas5P,
        relative_tolerance: 0.1 * tolerance,
        absolute_tolerance: [
            valve.lift * tolerance,
            valve.lift * TAU * frequency * tolerance,
            valve.pressure * compliance * tolerance,
        ],
        most_steps: 2_000_000,
    };
    let mut state = State::at_start([valve.lift * (1.0 + DISPLACED), 0.0, port.content(valve.pressure)]);
    let interval = Interval { from: 0.0, to: (BEFORE + BETWEEN + 2.0 * LOOK) / frequency };
    let first = StepSize::Controlled { first: Some(1e-7) };
    integrate::<4, 3, 1, 0, _>(&mut running, interval, &mut state, first, &settings, &mut Counters::default())
        .map_err(|e| e.to_string())?;
    let early = phasor(&running.seen, BEFORE / frequency, frequency)?;
    let late = phasor(&running.seen, (BEFORE + BETWEEN) / frequency, frequency)?;
    let lapse = BETWEEN / frequency;
    // The phase gained over whole periods of the expected frequency tells the true one.
    let turned = (late.1.angle_over(late.0) - early.1.angle_over(early.0) + 3.0 * std::f64::consts::PI).rem_euclid(TAU)
        - std::f64::consts::PI;
    Ok(Motion {
        growth: (late.0.length_with(late.1) / early.0.length_with(early.1)).logarithm() / lapse,
        frequency: frequency - turned / TAU / lapse,
    })
}

/// Cosine and sine parts of the motion over [`LOOK`] periods from `from` on, weighted so that neighbouring frequencies do not
/// leak in (a raised cosine).
fn phasor(seen: &[(f64, f64)], from: f64, frequency: f64) -> Result<(f64, f64), String> {
    let span = LOOK / frequency;
    let part = |(time, value): (f64, f64)| {
        let u = time - from;
        let weight = 1.0 - (TAU * u / span).cosine();
        let (sine, cosine) = (TAU * frequency * (time)).sine_and_cosine();
        (weight * value * cosine, weight * value * sine)
    };
    let inside: Vec<_> = seen.iter().filter(|(t, _)| *t >= from && *t <= from + span).copied().collect();
    if inside.len() < 100 {
        return Err("too few instants".into());
    }
    Ok(inside.windows(2).fold((0.0, 0.0), |sum, pair| {
        let half = 0.5 * (pair[1].0 - pair[0].0);
        let (a, b) = (part(pair[0]), part(pair[1]));
        (sum.0 + half * (a.0 + b.0), sum.1 + half * (a.1 + b.1))
    }))
}
