//! One part of an installation moving while all others are held: the balances are those of the product.

use crate::dual::Real;
use crate::physics::installation::{Installation, Nearby};
use crate::physics::state::*;
use crate::scenario::Scenario;
use crate::simulate::surroundings;
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// A scenario's valve on the test stand, its winding at `temperature` (K): no duty is asked of it, so that no throttle need be solved.
pub(super) fn mounted(scenario: &Scenario, temperature: f64) -> Installation {
    Installation::assemble(&scenario.valve, &surroundings(scenario), temperature)
}

/// An installation of which only some states move, under constant forcing.
pub struct PartAlone<'a> {
    installation: &'a Installation,
    near: Nearby,
    moving: [bool; STATES],
    /// Coil voltage and what arrives from the lines.
    pub forcing: [f64; FORCINGS],
    /// End of each accepted step and the state there, of the last call.
    pub trail: Vec<(f64, [f64; STATES])>,
    /// Running integrals at the end of the last call, counted from its start.
    pub integrals: [f64; INTEGRALS],
    /// Longest step, s.
    pub longest: f64,
}

impl<'a> PartAlone<'a> {
    /// Only the named states move.
    pub fn new(installation: &'a Installation, states: &[usize]) -> Self {
        let moving = std::array::from_fn(|i| states.contains(&i));
        PartAlone {
            installation,
            near: installation.nearby(),
            moving,
            forcing: [0.0; FORCINGS],
            trail: Vec::new(),
            integrals: [0.0; INTEGRALS],
            longest: f64::INFINITY,
        }
    }

    /// Integrate from `from` to `to` at a relative tolerance.
    pub fn advance(&mut self, y: &mut [f64; STATES], from: f64, to: f64, tolerance: f64) -> Result<(), String> {
        let settings = Settings {
            method: Method::Rodas5P,
            relative_tolerance: tolerance,
            absolute_tolerance: self.installation.scales.map(|scale| scale * tolerance),
            most_steps: 2_000_000,
        };
        let mut state = State::at_start(*y);
        self.trail.clear();
        let first = StepSize::Controlled { first: None };
        integrate::<20, STATES, FORCINGS, INTEGRALS, _>(
            self,
            Interval { from, to },
            &mut state,
            first,
            &settings,
            &mut Counters::default(),
        )
        .map_err(|e| format!("a part alone: {e}"))?;
        *y = state.y;
        self.integrals = state.integrals;
        Ok(())
    }
}

impl System<STATES, FORCINGS, INTEGRALS> for PartAlone<'_> {
    fn forcing(&self, _: f64) -> ([f64; FORCINGS], [f64; FORCINGS]) {
        (self.forcing, [0.0; FORCINGS])
    }

    fn rates<T: Real>(
        &self,
        forcing: &[T; FORCINGS],
        y: &[T; STATES],
        rate: &mut [T; STATES],
        integrand: &mut [T; INTEGRALS],
    ) {
        self.installation.evaluate(&self.near, forcing, y, rate, integrand);
        for (rate, moving) in rate.iter_mut().zip(self.moving) {
            if !moving {
                *rate = T::constant(0.0);
            }
        }
    }

    fn longest_step(&self, _: f64) -> f64 {
        self.longest
    }

    fn accepted(&mut self, step: &Step<'_, STATES, INTEGRALS>) -> Then {
        self.trail.push((step.to, *step.new_y));
        Then::Continue
    }
}
