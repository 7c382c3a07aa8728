//! Resonances: the quarter wave of a shut line, and a vessel of gas behind a neck.

use super::case::{Case, Check, Obtained, Tolerance};
use super::plain_pipe::{Pipe, Prescribed, run};
use super::sudden_stop::ten_metres;
use super::table::table;
use crate::dual::Real;
use crate::physics::fluid::Gas;
use crate::physics::line::LUMPED_SHARE;
use crate::physics::valve::chamber::{ChamberRates, Filling};
use crate::physics::valve::confined_gas::ConfinedGas;
use crate::physics::valve::passage::{Passage, Upstream};
use crate::portable::Portable;
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "acoustic_resonance",
        name: "Quarter wave of a line; vessel and neck",
        source: "acoustics of pipes and vessels, textbook: a/(4L); c/(2π)·√(A/(V·l))",
        obtained: Obtained::Exact,
        reason: "crossings of the wave line to 1e-9; the lumped line has the frequency by construction; the vessel's table has \
                 eight digits and its crossings are read off straight chords of 1/400 period",
        misfit: None,
        checks,
    }]
}

fn listed(resonator: &str) -> Result<f64, String> {
    let table = table!("acoustic_resonance/frequencies.csv")?;
    let row = table.rows().find(|row| row.text("resonator").is_ok_and(|name| name == resonator));
    row.ok_or_else(|| format!("no resonator {resonator}"))?.number("frequency_hz")
}

fn checks() -> Result<Vec<Check>, String> {
    let pipe = Pipe { length: 1.5, wave_speed: 1350.0, ..ten_metres(1) };
    let (quarter, vessel) = (listed("quarter wave")?, listed("vessel and neck")?);
    let check = |quantity: &str, ours: f64, reference: f64, allowed: f64| Check {
        quantity: quantity.into(),
        ours,
        reference,
        tolerance: Tolerance::Relative(allowed),
    };
    Ok(vec![
        check("quarter wave, wave line, Hz", wave_line(&pipe)?, quarter, 1e-9),
        check("quarter wave, lumped line, Hz", lumped_line(&pipe), quarter, 1e-12),
        check("vessel and neck, Hz", vessel_and_neck()?, vessel, 1e-6),
    ])
}

/// Rising crossings of nothing, by straight chords between samples.
#[derive(Default)]
struct Crossings {
    last: Option<(f64, f64)>,
    seen: Vec<f64>,
}

impl Crossings {
    fn note(&mut self, time: f64, value: f64) {
        if let Some((before, last)) = self.last
            && last < 0.0
            && value >= 0.0
        {
            self.seen.push(before - last * (time - before) / (value - last));
        }
        self.last = Some((time, value));
    }

    fn frequency(&self) -> Result<f64, String> {
        match self.seen.as_slice() {
            [first, .., last] if self.seen.len() > 15 => Ok((self.seen.len() - 1) as f64 / (last - first)),
            _ => Err("too few crossings".into()),
        }
    }
}

/// A line shut within less than one return of the wave, by the instants of its crossings.
fn wave_line(pipe: &Pipe) -> Result<f64, String> {
    let (flow, phase, p_0) = (pipe.mass_flow(0.1), pipe.phase(), 5e5);
    let law = Prescribed(vec![(0.0, flow), (0.4 * phase, 0.0)]);
    let mut line = pipe.wave_line(p_0, flow);
    let mut crossings = Crossings::default();
    run(pipe, &mut line, &law, 40.0 * phase, 400, &[0.0, 0.4 * phase], |_, s| crossings.note(s.time, s.pressure - p_0));
    crossings.frequency()
}

/// The lumped line by its capacity and column. Per mass flow: inertance L/A, capacity over density.
fn lumped_line(pipe: &Pipe) -> f64 {
    let state = pipe.state();
    let capacity = LUMPED_SHARE * state.compliance() / state.density;
    1.0 / (std::f64::consts::TAU * (state.inertance() * capacity * state.density.to_the(2)).sqrt())
}

/// A chamber of gas whose passage leads to its own pressure.
struct Vessel {
    filling: Filling,
    volume: f64,
    neck: Passage,
    outside: f64,
    crossings: Crossings,
    step: f64,
}

impl System<3, 0, 0> for Vessel {
    fn forcing(&self, _: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }
    fn rates<T: Real>(&self, _: &[T; 0], y: &[T; 3], rate: &mut [T; 3], _: &mut [T; 0]) {
        let now = self.filling.state(y[0], y[1], T::constant(self.volume));
        let zero = T::constant(0.0);
        let rates = ChamberRates { inflow: zero, leak: zero, outflow: y[2], growth: zero };
        let balance = self.filling.balance(rates, now);
        let upstream = Upstream { density: now.density, nozzle: None };
        // A bore without contraction of the jet or walls: its column alone.
        let loss = self.neck.loss(y[2], T::constant(0.0), upstream);
        let acceleration = self.neck.acceleration(now.pressure - T::constant(self.outside), loss);
        *rate = [balance.content_rate, balance.energy_rate, acceleration];
    }
    fn longest_step(&self, _: f64) -> f64 {
        self.step
    }
    fn accepted(&mut self, step: &Step<'_, 3, 0>) -> Then {
        self.crossings.note(step.to, step.new_y[2]);
        Then::Continue
    }
}

/// Air at 343 m/s, a ten-thousandth above the outside.
fn vessel_and_neck() -> Result<f64, String> {
    let (exponent, gas_constant, volume, outside) = (1.4, 287.05, 1e-5, 1e5);
    let temperature = 343.0_f64.to_the(2) / (exponent * gas_constant);
    let density = outside / (gas_constant * temperature);
    let excess = 1e-4;
    let gas = ConfinedGas::new(&Gas::perfect(gas_constant, exponent, temperature, 0.0), outside, 0.0);
    let content = density * volume * (1.0 + excess / exponent);
    let energy = gas.energy_density(outside * (1.0 + excess), content / volume) * volume;
    let mut vessel = Vessel {
        filling: Filling::Gas(gas),
        volume,
        neck: Passage::new(5e-3, 2e-3, density, 0.0),
        outside,
        crossings: Crossings::default(),
        step: 1.0 / (400.0 * 432.7),
    };
    let settings = Settings {
        method: Method::Rodas5P,
        relative_tolerance: 1e-12,
        absolute_tolerance: [1e-12 * content, 1e-12 * energy, 1e-14],
        most_steps: 100_000,
    };
    let mut state = State::at_start([content, energy, 0.0]);
    let (interval, first) = (Interval { from: 0.0, to: 0.05 }, StepSize::Controlled { first: None });
    integrate::<6, 3, 0, 0, _>(&mut vessel, interval, &mut state, first, &settings, &mut Counters::default())
        .map_err(|e| format!("vessel and neck: {e}"))?;
    vessel.crossings.frequency()
}
