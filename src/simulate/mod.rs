//! From a scenario to a trace: the only place that sees both physics and solver.

pub mod coil_heat;
pub mod coupling;
pub mod recorder;
mod refusal;
pub mod running;
pub mod settling;
pub mod start;
mod swing;
pub mod throttle;

use self::coupling::{COUPLING, LANES, LEAVES};
use crate::physics::assembly::{Surroundings, line_states};
use crate::physics::fluid::Phase;
use crate::physics::installation::Installation;
use crate::physics::ledger::Balance;
use crate::physics::state::*;
use crate::scenario::Scenario;
use crate::solver::{
    Counters, Coupling, Interval, Method, Settings, SolveError, State, StepSize, Then, explicit, integrate,
};
use crate::trace::{EventKind, Trace};
use running::Running;
use start::{Start, installed, opening_state};
use std::fmt;

/// A phase that needs more steps than this is given up: some hundred times what a hard case takes.
const MOST_STEPS: usize = 20_000_000;
/// First step after a switching instant, s.
const FIRST_STEP: f64 = 1e-6;
/// One phase of operation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phases {
    /// Energised time, s.
    pub on: f64,
    /// De-energised time, s.
    pub off: f64,
    /// Cycles.
    pub cycles: usize,
    /// May the energised phase end early once nothing new is to be seen?
    pub early_on: bool,
    /// May the de-energised phase?
    pub early_off: bool,
    /// A stage that swings is watched at least this long after switching on, s, however steady its swing looks.
    pub watch: f64,
}

/// How a run is integrated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Integrator {
    /// The stiff method.
    #[default]
    Stiff,
    /// The stiff method on the installation of a cross-check: its pilot seat leaks a little more, see
    /// [`CROSS_CHECK_LEAK_SHARE`].
    StiffForCrossCheck,
    /// The explicit method on the same installation.
    Explicit,
}

/// In a cross-check a shut pilot leaks as if through this share of its stroke, for both methods alike: the column in an
/// all but shut pilot settles in nanoseconds, which no explicit method can follow for seconds.
pub const CROSS_CHECK_LEAK_SHARE: f64 = 2e-3;

/// A finished run.
#[derive(Clone, Debug)]
pub struct Record {
    /// Trace.
    pub trace: Trace,
    /// Balances of mass and energy over the run.
    pub balances: Vec<Balance>,
    /// Effort.
    pub counters: Counters,
    /// Winding temperature, K.
    pub coil_temperature: f64,
    /// Since when the last energised phase was at rest, if it came to rest.
    pub on_still_since: Option<f64>,
    /// The same for the last de-energised phase.
    pub off_still_since: Option<f64>,
    /// The installation that was run.
    pub installation: Installation,
    /// Tolerance at which it was integrated: the scenario's, or a tenth or a hundredth of it where the ledger asked for that.
    pub tolerance: f64,
    /// Simulated time, s.
    pub duration: f64,
}

/// Why a run gave no result.
#[derive(Clone, Debug, PartialEq)]
pub enum RunError {
    /// The integration failed.
    Solve {
        /// Name of the state that failed, where one is to blame.
        state: &'static str,
        /// Cause.
        cause: SolveError,
    },
    /// The ledger does not close.
    Ledger {
        /// Which balance.
        name: &'static str,
        /// Relative residue.
        residue: f64,
        /// Allowed residue.
        allowed: f64,
    },
    /// The scenario cannot be run, with the reason and the remedy.
    Impossible(String),
    /// The liquid would boil before the valve, in it or behind it, which is not computed; with the place and the remedy.
    WouldBoil(String),
}

impl fmt::Display for RunError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RunError::Solve { state: "", cause } => write!(f, "the integration failed: {cause}"),
            RunError::Solve { state, cause } => write!(f, "the integration failed at {state}: {cause}"),
            RunError::Ledger { name, residue, allowed } => write!(
                f,
                "the balance of {name} does not close: residue {residue:.1e} of the larger side, allowed {allowed:.1e}; \
                 lower run.tolerance"
            ),
            RunError::Impossible(reason) | RunError::WouldBoil(reason) => f.write_str(reason),
        }
    }
}

impl std::error::Error for RunError {}

impl Record {
    /// Largest relative residue of the balances.
    pub fn residue(&self) -> f64 {
        self.balances.iter().map(Balance::relative).fold(0.0, f64::max)
    }
}

/// Residue of the ledger up to which a run is shown, relative to the larger side. At the default tolerance usual runs stay
/// a hundred times below.
pub const ALLOWED_RESIDUE: f64 = 1e-4;

/// Residue allowed at a tolerance: [`ALLOWED_RESIDUE`] up to the default one, in proportion at coarser ones.
pub fn allowed_residue(tolerance: f64) -> f64 {
    ALLOWED_RESIDUE * (tolerance / 1e-5).max(1.0)
}

fn surroundings(scenario: &Scenario) -> Surroundings<'_> {
    Surroundings {
        fluid: &scenario.fluid,
        supply: &scenario.supply,
        upstream: &scenario.upstream,
        downstream: &scenario.downstream,
        sink: &scenario.sink,
    }
}

/// Assemble a scenario's valve with its winding at `temperature` (K).
pub fn install(scenario: &Scenario, temperature: f64) -> Installation {
    Installation::assemble(&scenario.valve, &surroundings(scenario), temperature)
}

/// Transit times L/a of the upstream and the downstream line, s.
pub fn transits(scenario: &Scenario) -> (f64, f64) {
    let (up, down) = line_states(&surroundings(scenario));
    (up.transit(), down.transit())
}

/// Shares of the scenario's tolerance at which a run is repeated, one after the other, while its ledger does not close.
const TIGHTER: [f64; 2] = [0.1, 0.01];

/// Run a scenario through its phases. Where the ledger does not close at the scenario's tolerance, the run is repeated
/// at a tenth of it, and at a hundredth.
pub fn simulate(
    scenario: &Scenario,
    phases: Phases,
    temperature: f64,
    integrator: Integrator,
) -> Result<Record, RunError> {
    simulate_from(scenario, Start::AtRest, phases, temperature, integrator)
}

/// The same from another start than rest.
pub fn simulate_from(
    scenario: &Scenario,
    start: Start<'_>,
    phases: Phases,
    temperature: f64,
    integrator: Integrator,
) -> Result<Record, RunError> {
    let attempt = |tolerance| simulate_at(scenario, start, phases, temperature, integrator, tolerance);
    let mut outcome = attempt(scenario.run.tolerance);
    for share in TIGHTER {
        if !matches!(outcome, Err(RunError::Ledger { .. })) {
            break;
        }
        outcome = attempt(share * scenario.run.tolerance);
    }
    outcome
}

fn simulate_at(
    scenario: &Scenario,
    start: Start<'_>,
    phases: Phases,
    temperature: f64,
    integrator: Integrator,
    tolerance: f64,
) -> Result<Record, RunError> {
    refuse_impossible(scenario)?;
    let mut installation = install(scenario, temperature);
    if integrator != Integrator::Stiff {
        installation.control.leak_through(CROSS_CHECK_LEAK_SHARE * scenario.valve.armature.stroke);
    }
    let mut running = installed(scenario, installation, start, tolerance);
    let y = opening_state(scenario, &running, start);
    let mut state = State::at_start(y);
    let settings = Settings {
        method: Method::Rodas5P,
        relative_tolerance: tolerance,
        absolute_tolerance: running.installation.scales.map(|s| s * tolerance),
        most_steps: MOST_STEPS,
    };
    let mut counters = Counters::default();
    let opening = running.account(0.0, &state.y, &state.integrals);
    let first = running.instant(0.0, &state.y);
    running.recorder.record(0.0, &y, &y, &first, 0.0, &running.installation);
    let mut time = 0.0;
    let mut still_since = [None; 2];
    for _ in 0..phases.cycles {
        for (i, (length, on, early)) in
            [(phases.on, true, phases.early_on), (phases.off, false, phases.early_off)].into_iter().enumerate()
        {
            switch(&mut running, time, on, &state.y);
            running.settling.watch_until(time + phases.watch);
            let interval = Interval { from: time, to: time + length };
            let mut system = Ending { inner: &mut running, early };
            let finish = match integrator {
                Integrator::Stiff | Integrator::StiffForCrossCheck => {
                    integrate::<LANES, STATES, FORCINGS, INTEGRALS, _>(
                        &mut system,
                        interval,
                        &mut state,
                        StepSize::Controlled { first: (time > 0.0).then_some(FIRST_STEP) },
                        &settings,
                        &mut counters,
                    )
                }
                Integrator::Explicit => {
                    explicit::integrate_explicitly(&mut system, interval, &mut state, &settings, &mut counters)
                }
            };
            time = finish.map_err(solve_error)?.time;
            still_since[i] = running.settling.still_since();
        }
    }
    let closing = running.account(time, &state.y, &state.integrals);
    let record = Record {
        balances: running.installation.balances(&running.near, &opening, &closing),
        trace: running.recorder.trace,
        counters,
        coil_temperature: temperature,
        on_still_since: still_since[0],
        off_still_since: still_since[1],
        installation: running.installation,
        tolerance,
        duration: time,
    };
    closed(record)
}

/// The record, if its ledger closes.
fn closed(record: Record) -> Result<Record, RunError> {
    let allowed = allowed_residue(record.tolerance);
    match record.balances.iter().find(|b| b.relative().is_nan() || b.relative() > allowed) {
        Some(b) => Err(RunError::Ledger { name: b.name, residue: b.relative(), allowed }),
        None => Ok(record),
    }
}

fn solve_error(cause: SolveError) -> RunError {
    if let SolveError::TooManySteps { time, .. } = cause {
        return RunError::Impossible(format!(
            "given up after {MOST_STEPS} steps, at {time:.3} s of the run; shorten run.longest_on and run.longest_off, or raise \
             run.tolerance"
        ));
    }
    let component = match cause {
        SolveError::NotFinite { component, .. } | SolveError::StepUnderflow { component, .. } => Some(component),
        _ => None,
    };
    let state = component.and_then(|i| STATE_TABLE.get(i)).map_or("", |(quantity, _)| quantity.name);
    RunError::Solve { state, cause }
}

fn switch(running: &mut Running, time: f64, on: bool, y: &[f64; STATES]) {
    running.installation.magnet.switch(on);
    running.energised_since = on.then_some(time);
    let kind = if on { EventKind::CoilOn } else { EventKind::CoilOff };
    running.recorder.event(time, kind, 0.0);
    // All kinds so far are normally closed: the coil asks them to open.
    let asked = if on { EventKind::AskedOpen } else { EventKind::AskedShut };
    running.recorder.event(time, asked, 0.0);
    let instant = running.instant(time, y);
    running.settling.begin(time, on, y, &instant);
}

/// Refuse what the model cannot tell, with the reason.
fn refuse_impossible(scenario: &Scenario) -> Result<(), RunError> {
    let Phase::Liquid(liquid) = &scenario.fluid.phase else { return Ok(()) };
    if scenario.supply.pressure <= liquid.vapour_pressure {
        return Err(RunError::WouldBoil(
            "the supply is below the liquid's vapour pressure: there is no liquid at the inlet; raise supply.pressure, or \
             lower the liquid's temperature"
                .into(),
        ));
    }
    if scenario.sink.pressure > liquid.vapour_pressure {
        return Ok(());
    }
    if scenario.sink.throttle <= 0.0 {
        return Err(RunError::WouldBoil(
            "the sink is below the liquid's vapour pressure, so the downstream line would be filled with vapour, which is \
             not computed; put the throttle (expansion device) at its far end with [flow] or sink.throttle_kv, so that the \
             line itself stays above saturation"
                .into(),
        ));
    }
    Ok(())
}

/// Lets a phase run its full length where it must not end early.
struct Ending<'a> {
    inner: &'a mut Running,
    early: bool,
}

impl crate::solver::System<STATES, FORCINGS, INTEGRALS> for Ending<'_> {
    const LEAVES: usize = LEAVES;
    const COUPLING: Coupling<STATES> = COUPLING;

    #[inline]
    fn forcing(&self, time: f64) -> ([f64; FORCINGS], [f64; FORCINGS]) {
        self.inner.forcing(time)
    }
    #[inline]
    fn rates<T: crate::dual::Real>(
        &self,
        forcing: &[T; FORCINGS],
        y: &[T; STATES],
        rate: &mut [T; STATES],
        integrand: &mut [T; INTEGRALS],
    ) {
        self.inner.rates(forcing, y, rate, integrand);
    }
    fn longest_step(&self, time: f64) -> f64 {
        self.inner.longest_step(time)
    }
    fn accepted(&mut self, step: &crate::solver::Step<'_, STATES, INTEGRALS>) -> Then {
        let then = self.inner.accepted(step);
        if self.early { then } else { Then::Continue }
    }
}
