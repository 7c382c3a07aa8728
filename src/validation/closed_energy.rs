//! Energy of a frictionless line, port, chamber and main stage that nothing leaves.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::held_magnet::COLD;
use super::part_alone::PartAlone;
use super::water_valve::{NO_SERVO, water_valve};
use crate::physics::fluid::Phase;
use crate::physics::installation::Installation;
use crate::physics::parts::{LineModel, StageKind};
use crate::physics::state::{CHAMBER, FROM_UPSTREAM, INLET, LIFT, LIFT_RATE, OUTLET, STATES, UPSTREAM_FLOW};
use crate::physics::valve::chamber::Filling;
use crate::scenario::Scenario;
use crate::simulate::install;

/// Pressure at which everything is at rest, Pa absolute.
const PRESSURE: f64 = 6e5;
/// Lift at rest, m.
const CENTRE: f64 = 1.5e-3;
/// Pressure by which the chamber is above it at the start, Pa.
const EXCESS: f64 = 0.5e5;
/// The stage must swing by more than this for the case to mean anything, m.
const LEAST_SWING: f64 = 5e-5;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "closed_energy",
        name: "energy of a frictionless line and main stage that swing against each other",
        source: "conservation of energy",
        obtained: Obtained::Exact,
        reason: "the solver works to 1e-10 per step; 1e-6 was asked for before the first run",
        misfit: None,
        checks,
    }]
}

/// A water valve with a lumped line and no friction anywhere.
fn frictionless() -> Result<Scenario, String> {
    let mut scenario = water_valve()?;
    scenario.upstream.model = LineModel::Lumped;
    (scenario.upstream.friction_factor, scenario.upstream.loss_coefficient) = (0.0, 0.0);
    let Phase::Liquid(liquid) = &mut scenario.fluid.phase else {
        return Err("the water valve does not hold a liquid".into());
    };
    liquid.viscosity = 0.0;
    scenario.valve.servo_mut().ok_or(NO_SERVO)?.chamber.trapped_gas = 1e-5;
    let main = &mut scenario.valve.main;
    main.kind = StageKind::Diaphragm { bulge_compliance: 0.0, bulge_resistance: 1.0 };
    main.damping = 0.0;
    main.preload = -main.spring_rate * CENTRE;
    Ok(scenario)
}

/// Energy of motion and all energy, J, counted from the supply's pressure, so that the supply's own work drops out.
fn energies(installation: &Installation, y: &[f64; STATES]) -> Result<(f64, f64), String> {
    let servo = installation.control.servo().ok_or(NO_SERVO)?;
    let Filling::Liquid { cell, .. } = &servo.chamber.filling else {
        return Err("the water valve's chamber does not hold a liquid".into());
    };
    let (lift, speed, flow) = (y[LIFT], y[LIFT_RATE], y[UPSTREAM_FLOW]);
    let (stage, line) = (&installation.stage, &installation.upstream.state);
    let column = 0.5 * line.inertance() * flow * flow / line.density;
    let inlet = installation.inlet.energy(installation.inlet.pressure(y[INLET]), PRESSURE);
    let chamber = cell.energy(cell.pressure(y[CHAMBER]), PRESSURE);
    // The outlet is held at its pressure and gives way to the stage.
    let outlet = -(installation.outlet.pressure(y[OUTLET]) - PRESSURE) * stage.seat_area * lift;
    let moving = 0.5 * stage.part.mass * speed * speed + column;
    Ok((moving, column + inlet + chamber + outlet + stage.energy(lift, speed, 0.0)))
}

fn checks() -> Result<Vec<Check>, String> {
    let mut installation = install(&frictionless()?, COLD);
    // No way past the main seat; only now, since the usual size of the flow comes from the open one.
    installation.stage.part.curtain_coefficient = 0.0;
    let mut y = installation.at_rest(PRESSURE, PRESSURE);
    let servo = installation.control.servo().ok_or(NO_SERVO)?;
    let Filling::Liquid { cell, .. } = &servo.chamber.filling else {
        return Err("the water valve's chamber does not hold a liquid".into());
    };
    (y[LIFT], y[CHAMBER]) = (CENTRE, cell.content(PRESSURE + EXCESS));
    let mut alone = PartAlone::new(&installation, &[UPSTREAM_FLOW, INLET, LIFT, LIFT_RATE, CHAMBER]);
    alone.forcing[FROM_UPSTREAM] = PRESSURE - installation.upstream.state.datum;
    let (_, start) = energies(&installation, &y)?;
    alone.advance(&mut y, 0.0, 1.0, 1e-10)?;
    let (mut furthest, mut exchanged) = (0.0_f64, 0.0_f64);
    let (mut lowest, mut highest) = (f64::INFINITY, f64::NEG_INFINITY);
    for (_, y) in &alone.trail {
        let (moving, all) = energies(&installation, y)?;
        furthest = furthest.max((all - start).abs());
        exchanged = exchanged.max(moving);
        (lowest, highest) = (lowest.min(y[LIFT]), highest.max(y[LIFT]));
    }
    let part = &installation.stage.part;
    if lowest <= 0.0 || highest >= part.lift {
        return Err(format!("the stage met its seat or stop: it swung from {lowest} to {highest} m"));
    }
    if highest - lowest < LEAST_SWING {
        return Err(format!("the stage hardly moved: from {lowest} to {highest} m"));
    }
    let quantity = "largest change of the energy in one second, over the largest energy of motion";
    Ok(vec![check(quantity, furthest / exchanged, 0.0, Tolerance::Absolute(1e-6))])
}
