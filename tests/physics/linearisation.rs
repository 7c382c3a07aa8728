//! The valve's derivatives in shared lanes, and the zeros that the linear algebra relies on, against one plain pass of dual
//! numbers with a lane for every state.

use crate::baseline::{self, ready};
use quietseat::dual::Real;
use quietseat::physics::installation::Installation;
use quietseat::physics::parts::{ControlParts, Function, LineModel, NormallyOpen, StageKind};
use quietseat::physics::state::*;
use quietseat::scenario::Scenario;
use quietseat::simulate::coupling::{COUPLING, LANES, LEAVES};
use quietseat::simulate::{Integrator, Phases, install, simulate};
use quietseat::solver::{Coupling, Linearisation, Step, System, Then};

/// The installation as the solver sees it, and without anything known about its zeros.
struct Known<'a>(&'a Installation);
struct Unknown<'a>(&'a Installation);

macro_rules! system {
    ($name:ident, $coupling:expr) => {
        impl System<STATES, FORCINGS, INTEGRALS> for $name<'_> {
            const COUPLING: Coupling<STATES> = $coupling;
            fn forcing(&self, _time: f64) -> ([f64; FORCINGS], [f64; FORCINGS]) {
                ([0.0; FORCINGS], [0.0; FORCINGS])
            }
            fn rates<T: Real>(
                &self,
                forcing: &[T; FORCINGS],
                y: &[T; STATES],
                rate: &mut [T; STATES],
                integrand: &mut [T; INTEGRALS],
            ) {
                self.0.evaluate(&self.0.nearby(), forcing, y, rate, integrand);
            }
            fn longest_step(&self, _time: f64) -> f64 {
                f64::INFINITY
            }
            fn accepted(&mut self, _step: &Step<'_, STATES, INTEGRALS>) -> Then {
                Then::Continue
            }
        }
    };
}
system!(Known, COUPLING);
system!(Unknown, Coupling::full());

/// Water and air, diaphragm with and without bulge and piston, waves and lumped lines, with and without a shading ring,
/// an armature with dry friction, one that carries the main seat's seal, both normally open, one that draws the stage by a
/// soft or a stiff link, one whose pilot vents elsewhere, and a leaking piston with all that softens.
fn installations() -> Vec<Installation> {
    let mut scenarios: Vec<Scenario> = vec![baseline::water(), baseline::air(6e3)];
    for kind in [
        StageKind::Diaphragm { bulge_compliance: 5e-13, bulge_resistance: 4e8 },
        StageKind::Piston { friction: 2.0, presliding_stiffness: 1e5 },
    ] {
        for mut s in [baseline::water(), baseline::air(2e4)] {
            s.valve.main.kind = kind.clone();
            s.valve.armature.friction = Some(3.0);
            s.valve.coil = baseline::alternating_coil();
            (s.upstream.model, s.downstream.model) = (LineModel::Lumped, LineModel::Lumped);
            scenarios.push(s);
        }
    }
    for mut s in [baseline::water(), baseline::air(2e4)] {
        s.valve.control = ControlParts::Direct;
        s.valve.armature.friction = Some(3.0);
        scenarios.push(s);
    }
    for s in [baseline::water(), baseline::air(2e4)] {
        for stiffness in [1e3, 1e6] {
            scenarios.push(baseline::forced(s.clone(), stiffness));
        }
    }
    for s in [baseline::water(), baseline::air(2e4)] {
        scenarios.push(crate::vented_pilot::vented(s, 1.5e5));
    }
    for leak in [crate::piston_leak::gap(5e-5), crate::piston_leak::ring(0.7e-3)] {
        scenarios.push(crate::soft_closing::softened(baseline::water(), leak.clone()));
        scenarios.push(crate::soft_closing::softened(baseline::air(2e4), leak));
    }
    for control in [baseline::water().valve.control, ControlParts::Direct] {
        for mut s in [baseline::water(), baseline::air(2e4)] {
            s.valve.control = control.clone();
            s.valve.coil = baseline::alternating_coil();
            // States are scattered over most of the stroke to either side of the seat: no gap may close.
            s.valve.coil.residual_gap = 1e-3;
            let stop = s.valve.main.stop.clone();
            s.valve.function = Function::NormallyOpen(NormallyOpen { pole_clearance: 1e-5, stop });
            scenarios.push(s);
        }
    }
    scenarios.iter().map(|s| install(&ready(s), 293.15)).collect()
}

/// A number between −1 and 1 without a pattern: fractional part of a square times the golden ratio.
fn scattered(k: usize) -> f64 {
    2.0 * ((k * k) as f64 * 0.618_033_988_749_894_9).fract() - 1.0
}

/// A state some way from rest, in contact or between the stops, flowing either way.
fn state(installation: &Installation, seed: usize) -> [f64; STATES] {
    let rest = installation.at_rest(2.1e5, 2.05e5);
    std::array::from_fn(|i| {
        let scale = if installation.scales[i].is_finite() { installation.scales[i] } else { 0.1 };
        rest[i] + scale * 0.8 * scattered(31 * seed + i + 1)
    })
}

#[test]
fn shared_lanes_give_the_same_derivatives_to_the_last_bit() {
    for (n, installation) in installations().iter().enumerate() {
        for seed in 0..200 {
            let y = state(installation, seed);
            let forcing = [200.0, 1e3, -500.0].map(|f| f * scattered(17 * seed + n));
            let slopes = [7e4, 3e5, -2e5];
            let (mut shared, mut plain) = (Linearisation::zero(), Linearisation::zero());
            Known(installation).linearise::<LANES>(&forcing, &slopes, &y, &mut shared);
            Unknown(installation).linearise::<20>(&forcing, &slopes, &y, &mut plain);
            assert_eq!(shared, plain, "installation {n}, state {seed}");
            for leaf in 0..LEAVES {
                assert!(plain.rate_by_state[leaf][leaf] <= 0.0, "leaf {leaf} does not damp itself");
                let others = (0..LEAVES).filter(|&other| other != leaf);
                assert!(others.into_iter().all(|other| plain.rate_by_state[leaf][other] == 0.0), "leaf {leaf}");
            }
        }
    }
}

/// Effort and ledger of one run, pinned: a change of either is meant or a mistake. The margin of two per cent is for the
/// last bits of the mathematical functions of other machines, which shift a step here and there.
#[test]
fn effort_of_an_energised_second_is_this() {
    let mut s = baseline::water();
    s.valve.coil = baseline::alternating_coil();
    s.valve.armature.preload = 1.5;
    let phases = Phases { open: 1.0, shut: 1e-3, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    let record = simulate(&ready(&s), phases, 293.15, Integrator::Stiff).expect("the run is an ordinary one");
    let steps = record.counters.accepted as f64;
    assert!((steps / PINNED - 1.0).abs() < 0.02, "{:?}", record.counters);
    assert!(record.counters.rejected < record.counters.accepted / 8, "{:?}", record.counters);
    assert!(record.residue() < 1e-6, "{:e}", record.residue());
}
/// Accepted steps of [`effort_of_an_energised_second_is_this`].
const PINNED: f64 = 4175.0;
