//! A run: a scenario through its phases, switched on and off, its ledger closed.

use super::contact::{Stretch, lasting, stretches};
use super::coupling::{COUPLING, LANES, LEAVES};
use super::record::{Record, allowed_residue};
use super::refusal::refuse_impossible;
use super::run_error::RunError;
use super::running::Running;
use super::start::{Start, install, installed, opening_state};
use super::throttle::Ready;
use crate::physics::state::*;
use crate::solver::{
    Counters, Coupling, Interval, Method, Settings, SolveError, State, StepSize, Then, explicit, integrate,
};
use crate::trace::EventKind;

/// A phase that needs more steps than this is given up: some hundred times what a hard case takes.
const MOST_STEPS: usize = 20_000_000;
/// First step after a switching instant, s.
const FIRST_STEP: f64 = 1e-6;
/// Shares of the scenario's tolerance at which a run is repeated, one after the other, while its ledger does not close.
const TIGHTER: [f64; 2] = [0.1, 0.01];

/// One phase of operation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phases {
    /// Time for which the valve is asked to be open, s.
    pub open: f64,
    /// Time for which it is asked to be shut, s.
    pub shut: f64,
    /// Cycles.
    pub cycles: usize,
    /// May the first end early once nothing new is to be seen?
    pub early_open: bool,
    /// May the second?
    pub early_shut: bool,
    /// A stage that swings is watched at least this long after it is asked to open, s, however steady its swing looks.
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

/// Run a scenario through its phases. Where the ledger does not close at the scenario's tolerance, the run is repeated
/// at a tenth of it, and at a hundredth.
pub fn simulate(
    scenario: &Ready,
    phases: Phases,
    temperature: f64,
    integrator: Integrator,
) -> Result<Record, RunError> {
    simulate_from(scenario, Start::AtRest, phases, temperature, integrator)
}

/// The same from another start than rest.
pub fn simulate_from(
    scenario: &Ready,
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
    scenario: &Ready,
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
    let y = opening_state(scenario, &running, start, temperature);
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
    running.recorder.record(0.0, &y, &y, &first, &running.installation);
    let mut time = 0.0;
    let mut still_since = [None; 2];
    for _ in 0..phases.cycles {
        for (i, (length, open, early)) in
            [(phases.open, true, phases.early_open), (phases.shut, false, phases.early_shut)].into_iter().enumerate()
        {
            let begun = time;
            let stretches = ask(&mut running, begun, open, &state.y, start);
            running.settling.watch_until(begun + phases.watch);
            for (k, stretch) in stretches.iter().enumerate() {
                let next = stretches.get(k + 1).map(|next| begun + next.from);
                let last = next.is_none_or(|next| next >= begun + length);
                let to = next.filter(|_| !last).unwrap_or(begun + length);
                feed(&mut running, time, stretch, open, &state.y, k > 0);
                let interval = Interval { from: time, to };
                let mut system = Ending { inner: &mut running, early: early && last };
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
                if last {
                    break;
                }
            }
            still_since[i] = running.settling.still_since();
        }
    }
    let closing = running.account(time, &state.y, &state.integrals);
    let record = Record {
        balances: running.installation.balances(&running.near, &opening, &closing),
        trace: running.recorder.trace,
        counters,
        coil_temperature: temperature,
        open_still_since: still_since[0],
        shut_still_since: still_since[1],
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

/// Ask the valve to open or to shut: what its contact then does.
fn ask(running: &mut Running, time: f64, open: bool, y: &[f64; STATES], start: Start<'_>) -> Vec<Stretch> {
    let on = open != running.installation.armature.function.is_open();
    let coil = &running.installation.magnet.coil;
    let stretches = match start {
        Start::AtRest => stretches(coil, on),
        // It begins as it has been for long.
        Start::Knocked { .. } => vec![lasting(coil, on)],
    };
    running.installation.magnet.feed(stretches[0].closed, stretches[0].share);
    running.energised_since = on.then_some(time);
    let kind = if on { EventKind::CoilOn } else { EventKind::CoilOff };
    running.recorder.event(time, kind, 0.0);
    let asked = if open { EventKind::AskedOpen } else { EventKind::AskedShut };
    running.recorder.event(time, asked, 0.0);
    let instant = running.instant(time, y);
    running.settling.begin(time, open, y, &instant);
    stretches
}

/// Begin a stretch of a phase; after the first, what was seen before tells no rest.
fn feed(running: &mut Running, time: f64, stretch: &Stretch, open: bool, y: &[f64; STATES], again: bool) {
    if again {
        running.installation.magnet.feed(stretch.closed, stretch.share);
        let instant = running.instant(time, y);
        running.settling.begin(time, open, y, &instant);
    }
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
