//! How hot the winding gets at a duty, and what the magnet then pulls with its armature held still.

use super::contact::lasting;
use crate::dual::Real;
use crate::physics::coil_heat::{CoilCycle, HeldHeat, HeldPoint, ThermalNetwork};
use crate::physics::parts::{CoilTemperature, Valve};
use crate::physics::valve::magnet::{Magnet, next_turn};
use crate::scenario::{Duty, Scenario};
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// Share of a second for which the gap of an alternating-current magnet is open at pull-in, s: some 10 ms are
/// common practice (no source); the simulated run gives the true figure.
pub const PULL_IN_TIME: f64 = 0.010;
/// Winding temperature is found to this, K.
const TEMPERATURE_STEP: f64 = 0.05;

/// What a magnet does with its armature held still, periodic or steady state.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HeldMagnet {
    /// Mean heat in the winding, W.
    pub winding_power: f64,
    /// Effective current, A.
    pub current: f64,
    /// Effective voltage at the coil, V.
    pub voltage: f64,
    /// Power into the coil at its terminals, W.
    pub power: f64,
    /// Least pull, N.
    pub least_pull: f64,
    /// Mean pull, N.
    pub mean_pull: f64,
    /// Mean heat in shading ring and eddy currents, W.
    pub iron_power: f64,
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

impl System<2, 1, 6> for Held<'_> {
    fn forcing(&self, time: f64) -> ([f64; 1], [f64; 1]) {
        let (value, slope) = self.magnet.source(time);
        ([value], [slope])
    }
    fn rates<T: Real>(&self, forcing: &[T; 1], y: &[T; 2], rate: &mut [T; 2], integrand: &mut [T; 6]) {
        let state = self.magnet.state(forcing[0], y[0], y[1], T::constant(self.travel));
        *rate = [state.flux_rate, state.ring_flux_rate];
        let squared = state.current.square();
        let power = state.voltage * state.current;
        *integrand =
            [squared * self.magnet.winding, squared, state.pull, state.voltage.square(), power, state.iron_loss];
    }
    fn longest_step(&self, time: f64) -> f64 {
        self.longest.min(next_turn(&self.magnet.coil.supply, time))
    }
    fn accepted(&mut self, step: &Step<'_, 2, 6>) -> Then {
        let (forcing, _) = self.forcing(step.to);
        let pull = self.magnet.state(forcing[0], step.new_y[0], step.new_y[1], self.travel).pull;
        self.least_pull = self.least_pull.min(pull);
        Then::Continue
    }
}

/// The magnet on its whole voltage with its armature held at `travel` (m) towards the pole from where the coil finds it, and its winding at
/// `temperature` (K), after all transients. At its full stroke the armature of a normally open valve is on its seat, short of the pole.
pub fn held(valve: &Valve, travel: f64, temperature: f64) -> HeldMagnet {
    held_on(valve, travel, temperature, 1.0)
}

/// The same with the armature at the end of its stroke, on the share of the voltage that lasts.
pub fn holding(valve: &Valve, temperature: f64) -> HeldMagnet {
    held_on(valve, valve.armature.stroke, temperature, lasting(&valve.coil, true).share)
}

/// What a current that does not alternate needs for its transients, s; whole periods of a mains of whole hertz.
const SETTLE: f64 = 2.0;

fn held_on(valve: &Valve, travel: f64, temperature: f64, share: f64) -> HeldMagnet {
    let mut magnet = Magnet::new(&valve.coil, valve.way_to_pole(), temperature);
    magnet.feed(true, share);
    let supply = &valve.coil.supply;
    let (settle, measure, longest) = match supply.mains_frequency() {
        None => (SETTLE, 0.1, 0.05),
        Some(f) if supply.alternates() => (30.0 / f, 4.0 / f, 0.02 / f),
        Some(f) => ((SETTLE * f).ceil() / f, 4.0 / f, 0.02 / f),
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
            state.integrals = [0.0; 6];
        }
        let interval = Interval { from: at, to: at + length };
        let first = StepSize::Controlled { first: Some(1e-5) };
        if integrate::<4, 2, 1, 6, _>(&mut system, interval, &mut state, first, &settings, &mut counters).is_err() {
            return HeldMagnet {
                winding_power: f64::NAN,
                current: f64::NAN,
                voltage: f64::NAN,
                power: f64::NAN,
                least_pull: f64::NAN,
                mean_pull: f64::NAN,
                iron_power: f64::NAN,
                fluxes: [f64::NAN; 2],
            };
        }
        at += length;
    }
    HeldMagnet {
        winding_power: state.integrals[0] / measure,
        current: (state.integrals[1] / measure).sqrt(),
        voltage: (state.integrals[3] / measure).sqrt(),
        power: state.integrals[4] / measure,
        least_pull: system.least_pull,
        mean_pull: state.integrals[2] / measure,
        iron_power: state.integrals[5] / measure,
        // Both spans are whole periods.
        fluxes: state.y,
    }
}

/// Mean heat in the winding at a duty, W: holding, and pull-in over the full gap; or all the time over the full gap where the armature
/// never makes its stroke. An economiser leaves its delay at full voltage.
fn mean_power(valve: &Valve, duty: &Duty, seated: bool, temperature: f64) -> f64 {
    let full = held(valve, valve.armature.stroke, temperature).winding_power;
    let open = held(valve, 0.0, temperature).winding_power;
    let on_time = duty.on_fraction / duty.cycle_rate;
    let Some(economiser) = &valve.coil.feed.economiser else {
        if !seated {
            return open * duty.on_fraction;
        }
        return full * duty.on_fraction + (open - full) * PULL_IN_TIME.min(on_time) * duty.cycle_rate;
    };
    let delay = economiser.delay.min(on_time);
    let (first, later) = if seated {
        (full * delay + (open - full) * PULL_IN_TIME.min(delay), holding(valve, temperature).winding_power)
    } else {
        (open * delay, held_on(valve, 0.0, temperature, economiser.share).winding_power)
    };
    (first + later * (on_time - delay)) * duty.cycle_rate
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

/// Winding temperatures between which the heat of a held magnet is interpolated, K: −20, 120 and 260 °C, from a cold store to
/// beyond what insulation bears.
const KNOWN_AT: [f64; 3] = [253.15, 393.15, 533.15];

/// Heat of the valve's magnet on its whole voltage with its armature held at a travel (m), at any winding temperature.
pub fn held_heat(valve: &Valve, travel: f64) -> HeldHeat {
    heat_on(valve, travel, 1.0)
}

/// The same on the share of the voltage that lasts.
pub fn lasting_heat(valve: &Valve, travel: f64) -> HeldHeat {
    heat_on(valve, travel, lasting(&valve.coil, true).share)
}

fn heat_on(valve: &Valve, travel: f64, share: f64) -> HeldHeat {
    let points = KNOWN_AT.map(|temperature| {
        let held = held_on(valve, travel, temperature, share);
        HeldPoint { temperature, winding: held.winding_power, iron: held.iron_power }
    });
    HeldHeat::through(valve.coil.resistance, points)
}

/// Time for which each switching on gives the coil its pull-in heat, s: while the armature is out, and while an economiser leaves it its whole
/// voltage, where the current does not depend on the gap.
pub fn pull_in_time(valve: &Valve, armature_out: f64) -> f64 {
    valve.coil.feed.economiser.as_ref().map_or(armature_out, |economiser| armature_out.max(economiser.delay))
}

/// The cycle of a valve's coil at a duty, with an armature that comes to the pole, or never does; of the latter an economiser's delay is left
/// out.
pub fn coil_cycle(valve: &Valve, duty: &Duty, seated: bool) -> CoilCycle {
    let period = 1.0 / duty.cycle_rate;
    CoilCycle {
        open: if seated { held_heat(valve, 0.0) } else { lasting_heat(valve, 0.0) },
        seated: lasting_heat(valve, valve.armature.stroke),
        period,
        on_share: duty.on_fraction,
        pull_in: if seated { pull_in_time(valve, PULL_IN_TIME) } else { period },
    }
}

fn temperature_at(scenario: &Scenario, seated: bool) -> f64 {
    let (ambient, resistance) = match scenario.valve.coil.temperature {
        CoilTemperature::Stated { temperature } => return temperature,
        CoilTemperature::FromHeat { ambient, thermal_resistance } => (ambient, thermal_resistance),
        CoilTemperature::Network { .. } => {
            let cycle = coil_cycle(&scenario.valve, &scenario.duty, seated);
            let network = ThermalNetwork::of(&scenario.valve.coil.temperature);
            return network.map_or(f64::NAN, |network| cycle.in_the_long_run(&network).mean.winding);
        }
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
