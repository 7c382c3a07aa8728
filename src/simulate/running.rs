//! An installation in operation, as the solver sees it: forcing from coil schedule and lines, rates from physics, history
//! and record on every accepted step.

use super::coupling::{COUPLING, LEAVES};
use super::recorder::Recorder;
use super::settling::Settling;
use crate::dual::Real;
use crate::physics::installation::{Installation, Instant, Nearby};
use crate::physics::ledger::{Account, LineAccount};
use crate::physics::line::far_end::EndPressure;
use crate::physics::line::waves::WaveLine;
use crate::physics::state::*;
use crate::physics::valve::magnet::next_turn;
use crate::solver::{Coupling, Step, System, Then};

/// What lies behind a port.
#[derive(Clone, Debug)]
pub enum FarSide {
    /// Travelling waves.
    Waves(Box<WaveLine>),
    /// A lumped line: only its end pressure.
    Lumped(EndPressure),
}

impl FarSide {
    #[inline]
    fn arriving(&self, time: f64) -> (f64, f64) {
        match self {
            FarSide::Waves(line) => line.arriving(time),
            FarSide::Lumped(end) => end.at(time),
        }
    }

    fn longest_step(&self, time: f64) -> f64 {
        match self {
            FarSide::Waves(line) => line.longest_step(time),
            FarSide::Lumped(end) if end.amplitude > 0.0 => std::f64::consts::TAU / end.angular_frequency / 8.0,
            FarSide::Lumped(_) => f64::INFINITY,
        }
    }

    fn account(&mut self, time: f64) -> LineAccount {
        match self {
            FarSide::Lumped(_) => LineAccount::default(),
            FarSide::Waves(line) => {
                line.settle();
                let (mass, energy) = line.stored(time);
                LineAccount { mass, energy, passed: line.passed(time) }
            }
        }
    }
}

/// The running installation.
#[derive(Clone, Debug)]
pub struct Running {
    /// Valve and lines.
    pub installation: Installation,
    /// Where its pressures are looked for.
    pub near: Nearby,
    /// Behind the inlet.
    pub upstream: FarSide,
    /// Behind the outlet.
    pub downstream: FarSide,
    /// Instant of switching on, while energised.
    pub energised_since: Option<f64>,
    /// Record.
    pub recorder: Recorder,
    /// Judge of rest.
    pub settling: Settling,
}

/// A quiet run is looked at no more seldom than this, s: so that figures and windows have points.
const LONGEST_LOOK: f64 = 0.02;

/// Points in a period of rectified voltage: by the trapezoidal rule its mean square is then known to 0.1 %.
const POINTS_PER_PERIOD: f64 = 64.0;

impl Running {
    /// All quantities of the instant.
    pub fn instant(&self, time: f64, y: &[f64; STATES]) -> Instant<f64> {
        self.instant_under(&self.forcing(time).0, y)
    }

    fn instant_under(&self, forcing: &[f64; FORCINGS], y: &[f64; STATES]) -> Instant<f64> {
        let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
        self.installation.evaluate(&self.near, forcing, y, &mut rate, &mut flux)
    }

    /// The account of mass and energy at `time`, which must be the last instant reached.
    pub fn account(&mut self, time: f64, state: &[f64; STATES], integrals: &[f64; INTEGRALS]) -> Account {
        Account {
            time,
            state: *state,
            integrals: *integrals,
            upstream: self.upstream.account(time),
            downstream: self.downstream.account(time),
        }
    }

    /// No step goes past the instant at which a rectified voltage turns, and a period has points enough for its power to be read off the
    /// trace: the flux behind a rectifier is so smooth that it asks for few.
    fn longest_on_rectified(&self, time: f64) -> f64 {
        let supply = &self.installation.magnet.coil.supply;
        let turn = self.energised_since.map_or(f64::INFINITY, |since| next_turn(supply, time - since));
        match supply.mains_frequency() {
            Some(frequency) if turn.is_finite() => turn.min(1.0 / (POINTS_PER_PERIOD * frequency)),
            Some(_) | None => turn,
        }
    }

    /// Tell the wave lines what the valve sent: flow towards the valve and its slope.
    fn send(&mut self, time: f64, y: &[f64; STATES], rates: &[f64; STATES], instant: &Instant<f64>) {
        let body = &self.installation;
        let ends = [
            (&mut self.upstream, &body.upstream, (&body.inlet, &self.near.inlet), INLET, instant.inlet_flow),
            (&mut self.downstream, &body.downstream, (&body.outlet, &self.near.outlet), OUTLET, -instant.outlet_flow),
        ];
        for (far, end, (cell, near), place, flow) in ends {
            if let FarSide::Waves(line) = far {
                let (_, slope) = line.arriving(time);
                let pressure_rate = cell.pressure_slope_near(y[place], near) * rates[place];
                line.send(time, flow, (slope - pressure_rate) / end.state.impedance());
            }
        }
    }
}

impl System<STATES, FORCINGS, INTEGRALS> for Running {
    const LEAVES: usize = LEAVES;
    const COUPLING: Coupling<STATES> = COUPLING;

    #[inline]
    fn forcing(&self, time: f64) -> ([f64; FORCINGS], [f64; FORCINGS]) {
        let coil = match self.energised_since {
            Some(since) => self.installation.magnet.source(time - since),
            None => (0.0, 0.0),
        };
        let up = self.upstream.arriving(time);
        let down = self.downstream.arriving(time);
        ([coil.0, up.0, down.0], [coil.1, up.1, down.1])
    }

    #[inline(always)]
    fn rates<T: Real>(
        &self,
        forcing: &[T; FORCINGS],
        y: &[T; STATES],
        rate: &mut [T; STATES],
        integrand: &mut [T; INTEGRALS],
    ) {
        self.installation.evaluate(&self.near, forcing, y, rate, integrand);
    }

    fn longest_step(&self, time: f64) -> f64 {
        self.upstream
            .longest_step(time)
            .min(self.downstream.longest_step(time))
            .min(LONGEST_LOOK)
            .min(self.longest_on_rectified(time))
    }

    fn accepted(&mut self, step: &Step<'_, STATES, INTEGRALS>) -> Then {
        let forcing = self.forcing(step.to).0;
        let instant = self.instant_under(&forcing, step.new_y);
        self.send(step.to, step.new_y, step.new_rates, &instant);
        self.recorder.record(step.to, step.old_y, step.new_y, &instant, &self.installation);
        self.settling.look(step.to, step.new_y, &instant)
    }
}
