//! The magnet at rest and over a stroke: pull, field energy, and what becomes of the supply's work.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::held_magnet::{COLD, linear_coil};
use super::worst::Worst;
use crate::dual::Real;
use crate::physics::valve::magnet::{MU_0, Magnet};
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: "magnet_pull",
            name: "pull, current and energy of one gap with and without iron",
            source: "Maxwell's stress and Ampère's law, closed form with 4π·10⁻⁷ H/m",
            obtained: Obtained::Exact,
            reason: "formulas without integration: rounding of eleven given digits; 1e-8 where a slope is taken by differences",
            misfit: None,
            checks: one_gap,
        },
        Case {
            folder: "magnet_pull",
            name: "work of the supply over a stroke of the armature",
            source: "conservation of energy",
            obtained: Obtained::Exact,
            reason: "the solver works to 1e-10 per step; 1e-6 was asked for before the first run",
            misfit: None,
            checks: stroke,
        },
    ]
}

fn one_gap() -> Result<Vec<Check>, String> {
    let mut pull = Worst::new("pull of a flux, N", Tolerance::Relative(1e-10));
    let plunger = std::f64::consts::FRAC_PI_4 * 1e-4;
    for (flux_density, face, reference) in [(1.0, 1e-4, 39.788735773), (0.8, plunger, 20.0)] {
        let magnet = Magnet::new(&linear_coil(face, 1e-3, 1000.0, 10.0), 0.0, COLD);
        let ours = magnet.state(0.0, flux_density * face, 0.0, 0.0).pull;
        pull.note(ours, reference, || format!("{flux_density} T on {face:.3e} m²"));
    }
    let (area, gap, turns) = (1e-4, 1e-3, 1000.0);
    let mut current = Worst::new("current that drives a flux, A", Tolerance::Relative(1e-10));
    let mut energy = Worst::new("field energy, J", Tolerance::Relative(1e-10));
    let mut slope = Worst::new("fall of the field energy with travel, N", Tolerance::Relative(1e-8));
    let iron = 0.08 / (1000.0 * MU_0 * area);
    for (fixed, flux_density, reference, place) in
        [(0.0, 1.25663706144, 62.8318530718, "gap alone"), (iron, 1.16355283466, 53.8681867899, "gap and iron")]
    {
        let mut coil = linear_coil(area, gap, turns, 10.0);
        coil.fixed_reluctance = fixed;
        let magnet = Magnet::new(&coil, 0.0, COLD);
        let flux = flux_density * area;
        let state = magnet.state(0.0, flux, 0.0, 0.0);
        current.note(state.current, 1.0, || place.to_string());
        pull.note(state.pull, reference, || place.to_string());
        energy.note(magnet.energy(flux, 0.0, 0.0), 0.5 * turns * flux, || place.to_string());
        // Travel shortens the gap: at constant flux the energy falls by the work done.
        let step = 1e-6;
        let fall = (magnet.energy(flux, 0.0, -step) - magnet.energy(flux, 0.0, step)) / (2.0 * step);
        slope.note(fall, reference, || place.to_string());
    }
    let magnet = Magnet::new(&linear_coil(area, gap, turns, 10.0), 0.0, COLD);
    let flux = 1e-5;
    let inductance = turns * flux / magnet.state(0.0, flux, 0.0, 0.0).current;
    let inductance = check("inductance of the gap alone, H", inductance, 0.125663706144, Tolerance::Relative(1e-10));
    let field = magnet.energy(1.25663706144 * area, 0.0, 0.0);
    let field = check("field energy of the gap alone at 1 A, J", field, 0.0628318530718, Tolerance::Relative(1e-10));
    Ok(vec![pull.check()?, current.check()?, energy.check()?, slope.check()?, inductance, field])
}

/// An armature drawn in by a magnet from rest: flux, flux of the ring's face, travel, speed. Running integrals: work of the
/// supply, heat in the circuit, in the iron and ring, work on the armature.
struct Stroke {
    magnet: Magnet,
    voltage: f64,
    mass: f64,
    stroke: f64,
}

impl System<4, 0, 4> for Stroke {
    fn forcing(&self, _time: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }

    fn rates<T: Real>(&self, _forcing: &[T; 0], y: &[T; 4], rate: &mut [T; 4], integrand: &mut [T; 4]) {
        let state = self.magnet.state(T::constant(self.voltage), y[0], y[1], y[2]);
        *rate = [state.flux_rate, state.ring_flux_rate, y[3], state.pull * (1.0 / self.mass)];
        let heat = state.current.square() * self.magnet.circuit();
        *integrand = [state.current * self.voltage, heat, state.iron_loss, state.pull * y[3]];
    }

    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }

    fn accepted(&mut self, step: &Step<'_, 4, 4>) -> Then {
        if step.new_y[2] > self.stroke { Then::Stop } else { Then::Continue }
    }
}

/// With ring, leakage, saturation and eddy currents: all of the magnet's terms.
fn stroke() -> Result<Vec<Check>, String> {
    let mut coil = linear_coil(1e-4, 1e-4, 1650.0, 57.6);
    (coil.eddy_conductance, coil.fixed_reluctance, coil.leakage_reluctance) = (4000.0, 2e6, 1.2e7);
    (coil.iron_length, coil.shading_ring) = (0.1, Some(150e-6));
    let stroke = 0.8e-3;
    let mut system = Stroke { magnet: Magnet::new(&coil, stroke, COLD), voltage: 24.0, mass: 0.018, stroke };
    system.magnet.switch(true);
    let mut state = State::at_start([0.0; 4]);
    let settings = Settings {
        method: Method::Rodas5P,
        relative_tolerance: 1e-10,
        absolute_tolerance: [1e-16, 1e-16, 1e-13, 1e-10],
        most_steps: 100_000,
    };
    let (interval, first) = (Interval { from: 0.0, to: 1.0 }, StepSize::Controlled { first: Some(1e-7) });
    let mut counters = Counters::default();
    let finish = integrate::<8, 4, 0, 4, _>(&mut system, interval, &mut state, first, &settings, &mut counters)
        .map_err(|cause| cause.to_string())?;
    if finish.then != Then::Stop {
        return Err("the armature did not make its stroke within a second".into());
    }
    let [flux, ring_flux, travel, speed] = state.y;
    let [supplied, circuit_heat, iron_heat, work] = state.integrals;
    let field = system.magnet.energy(flux, ring_flux, travel);
    let relative = Tolerance::Relative(1e-6);
    Ok(vec![
        check(
            "heat, field energy and work of the pull, J",
            circuit_heat + iron_heat + field + work,
            supplied,
            relative,
        ),
        check("kinetic energy at the end of the stroke, J", 0.5 * system.mass * speed * speed, work, relative),
    ])
}
