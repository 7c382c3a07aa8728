//! The armature of an installation under a constant force, all else held still.

use super::case::{Case, Check, Obtained, Tolerance};
use super::held_magnet::COLD;
use super::part_alone::{PartAlone, mounted};
use super::water_valve::water_valve;
use super::worst::Worst;
use crate::physics::state::{TRAVEL, TRAVEL_RATE};
use crate::portable::Portable;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "armature_flight",
        name: "flight of the armature under a constant force, free and against a spring",
        source: "uniform acceleration and the harmonic oscillator, closed form",
        obtained: Obtained::Exact,
        reason: "the solver works to 1e-11 per step; 1e-8 covers the steps and the given digits of the instants",
        misfit: None,
        checks: flight,
    }]
}

/// 10 g over 2 mm: by 2 N, and by 3 N against 500 N/m.
fn flight() -> Result<Vec<Check>, String> {
    const STROKE: f64 = 2e-3;
    const MASS: f64 = 0.010;
    let share = Tolerance::Relative(1e-8);
    let mut travelled = Worst::new("travel at the instant of 2 mm, m", share);
    let mut fast = Worst::new("speed there, m/s", share);
    let mut energy = Worst::new("kinetic and spring energy there, J", share);
    for (force, spring_rate, time, speed) in
        [(2.0, 0.0, 4.47213595500e-3, 0.8944271909999159), (3.0, 500.0, 3.76137344227e-3, 1.0)]
    {
        let mut scenario = water_valve()?;
        // Lying, so that no weight pulls along the axis; a negative preload is the constant force.
        scenario.valve.attitude = std::f64::consts::FRAC_PI_2;
        let armature = &mut scenario.valve.armature;
        (armature.mass, armature.preload, armature.spring_rate) = (MASS, -force, spring_rate);
        (armature.damping, armature.stroke) = (0.0, 5e-3);
        let installation = mounted(&scenario, COLD);
        let mut y = installation.at_rest(2e5, 2e5);
        y[TRAVEL] = 0.0;
        let mut alone = PartAlone::new(&installation, &[TRAVEL, TRAVEL_RATE]);
        alone.advance(&mut y, 0.0, time, 1e-11)?;
        let place = format!("{force} N, {spring_rate} N/m");
        travelled.note(y[TRAVEL], STROKE, || place.clone());
        fast.note(y[TRAVEL_RATE], speed, || place.clone());
        let stored = 0.5 * MASS * y[TRAVEL_RATE].to_the(2) + 0.5 * spring_rate * y[TRAVEL].to_the(2);
        energy.note(stored, force * STROKE, || place.clone());
    }
    Ok(vec![travelled.check()?, fast.check()?, energy.check()?])
}
