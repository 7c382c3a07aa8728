//! How hot the winding gets at a duty, and what the magnet then pulls with its armature held still.

use crate::dual::Real;
use crate::physics::parts::{CoilTemperature, Valve, Voltage};
use crate::physics::valve::magnet::{Magnet, voltage};
use crate::scenario::{Duty, Scenario};
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// Share of a second for which the gap of an alternating-current magnet is open at pull-in, s: some 10 ms are
/// common practice (no source); the simulated run gives the true figure.
const PULL_IN_TIME: f64 = 0.010;
/// Winding temperature is found to this, K.
const TEMPERATURE_STEP: f64 = 0.05;

/// What a magnet does with its armature held still, periodic or steady state.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HeldMagnet {
    /// Mean heat in the winding, W.
    pub winding_power: f64,
    /// Effective current, A.
    pub current: f64,
    /// Least pull, N.
    pub least_pull: f64,
    /// Mean pull, N.
    pub mean_pull: f64,
    /// Fluxes φ_t and φ_2 at the phase of switching on, Wb.
    pub fluxes: [f64; 2],
}

/// The magnet with its armature held still, for the solver.
struct Held<'a> {
    magnet: &'a Magnet,
    travel: f64,
    least_pull: f64,
    longest: f64,
}

impl System<2, 1, 3> for Held<'_> {
    fn forcing(&self, time: f64) -> ([f64; 1], [f64; 1]) {
        let (value, slope) = voltage(&self.magnet.coil.supply, time);
        ([value], [slope])
    }
    fn rates<T: Real>(&self, forcing: &[T; 1], y: &[T; 2], rate: &mut [T; 2], integrand: &mut [T; 3]) {
        let state = self.magnet.state(forcing[0], y[0], y[1], T::constant(self.travel));
        *rate = [state.flux_rate, state.ring_flux_rate];
        let squared = state.current.square();
        *integrand = [squared * self.magnet.winding, squared, state.pull];
    }
    fn longest_step(&self, _time: f64) -> f64 {
        self.longest
    }
    fn accepted(&mut self, step: &Step<'_, 2, 3>) -> Then {
        let (forcing, _) = self.forcing(step.to);
        let pull = self.magnet.state(forcing[0], step.new_y[0], step.new_y[1], self.travel).pull;
        self.least_pull = self.least_pull.min(pull);
        Then::Continue
    }
}

/// The magnet with its armature held at `travel` (m) towards the pole from where the coil finds it, and its winding at `temperature` (K),
/// after all transients. At its full stroke the armature of a normally open valve is on its seat, short of the pole.
pub fn held(valve: &Valve, travel: f64, temperature: f64) -> HeldMagnet {
    let magnet = Magnet::new(&valve.coil, valve.way_to_pole(), temperature);
    let (settle, measure, longest) = match valve.coil.supply {
        Voltage::Direct { .. } => (2.0, 0.1, 0.05),
        Voltage::Alternating { frequency, .. } => (30.0 / frequency, 4.0 / frequency, 0.02 / frequency),
    };
    let flux = 0.1 * valve.coil.core_area * valve.coil.saturation_flux_density;
    let settings = Settings {
        method: Method::Rodas5P,
        relative_tolerance: 1e-6,
        absolute_tolerance: [flux * 1e-6; 2],
        most_steps: 100_000,
    };
    let mut state = State::at_start([0.0; 2]);
    let mut counters = Counters::default();
    let mut system = Held { magnet: &magnet, travel, least_pull: f64::INFINITY, longest };
    let mut at = 0.0;
    for (i, length) in [settle, measure].into_iter().enumerate() {
        system.least_pull = f64::INFINITY;
        if i == 1 {
            state.integrals = [0.0; 3];
        }
        let interval = Interval { from: at, to: at + length };
        let first = StepSize::Controlled { first: Some(1e-5) };
        if integrate::<4, 2, 1, 3, _>(&mut system, interval, &mut state, first, &settings, &mut counters).is_err() {
            return HeldMagnet {
                winding_power: f64::NAN,
                current: f64::NAN,
                least_pull: f64::NAN,
                mean_pull: f64::NAN,
                fluxes: [f64::NAN; 2],
            };
        }
        at += length;
    }
    HeldMagnet {
        winding_power: state.integrals[0] / measure,
        current: (state.integrals[1] / measure).sqrt(),
        least_pull: system.least_pull,
        mean_pull: state.integrals[2] / measure,
        // Both spans are whole periods.
        fluxes: state.y,
    }
}

/// Mean heat in the winding at a duty, W: holding, and pull-in over the full gap; or all the time over the full gap where the armature
/// never makes its stroke.
fn mean_power(valve: &Valve, duty: &Duty, seated: bool, temperature: f64) -> f64 {
    let holding = held(valve, valve.armature.stroke, temperature).winding_power;
    let open = held(valve, 0.0, temperature).winding_power;
    if !seated {
        return open * duty.on_fraction;
    }
    holding * duty.on_fraction
        + (open - holding) * PULL_IN_TIME.min(duty.on_fraction / duty.cycle_rate) * duty.cycle_rate
}

/// Winding temperature at the scenario's duty, K.
///
/// ```text
/// T = T_ambient + R_th·P(T)       P: mean heat at the duty, with the resistance at T
/// ```
///
/// One thermal resistance: a mean over the cycle, reached after the coil's thermal time (tens of minutes).
pub fn winding_temperature(scenario: &Scenario) -> f64 {
    temperature_at(scenario, true)
}

/// Winding temperature at the scenario's duty with an armature that is never pulled in, K: the inrush current stays.
pub fn unseated_temperature(scenario: &Scenario) -> f64 {
    temperature_at(scenario, false)
}

fn temperature_at(scenario: &Scenario, seated: bool) -> f64 {
    let (ambient, resistance) = match scenario.valve.coil.temperature {
        CoilTemperature::Stated { temperature } => return temperature,
        CoilTemperature::FromHeat { ambient, thermal_resistance } => (ambient, thermal_resistance),
    };
    let next = |t: f64| ambient + resistance * mean_power(&scenario.valve, &scenario.duty, seated, t);
    let mut temperature = ambient;
    for _ in 0..40 {
        // Resistance rises with temperature and power falls: averaging makes the iteration contract.
        let new = 0.5 * (temperature + next(temperature));
        let change = (new - temperature).abs();
        temperature = new;
        if change.is_nan() || change <= TEMPERATURE_STEP {
            break;
        }
    }
    temperature
}
