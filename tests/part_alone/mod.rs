//! One part of an installation moving while all others are held: the balances are those of the product.
#![allow(dead_code)]

use quietseat::dual::Real;
use quietseat::physics::installation::Installation;
use quietseat::physics::state::*;
use quietseat::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// An installation of which only some states move, under constant forcing.
pub(crate) struct PartAlone<'a> {
    installation: &'a Installation,
    moving: [bool; STATES],
    /// Coil voltage and what arrives from the lines.
    pub(crate) forcing: [f64; FORCINGS],
    /// End of each accepted step and the state there, of the last call.
    pub(crate) trail: Vec<(f64, [f64; STATES])>,
    /// Running integrals at the end of the last call, counted from its start.
    pub(crate) integrals: [f64; INTEGRALS],
    /// Longest step, s.
    pub(crate) longest: f64,
}

impl<'a> PartAlone<'a> {
    /// Only the named states move.
    pub(crate) fn new(installation: &'a Installation, states: &[usize]) -> Self {
        let moving = std::array::from_fn(|i| states.contains(&i));
        PartAlone {
            installation,
            moving,
            forcing: [0.0; FORCINGS],
            trail: Vec::new(),
            integrals: [0.0; INTEGRALS],
            longest: f64::INFINITY,
        }
    }

    /// Integrate from `from` to `to` at a relative tolerance.
    pub(crate) fn advance(&mut self, y: &mut [f64; STATES], from: f64, to: f64, tolerance: f64) {
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
        .expect("a part alone can be integrated");
        *y = state.y;
        self.integrals = state.integrals;
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
        self.installation.evaluate(forcing, y, rate, integrand);
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
