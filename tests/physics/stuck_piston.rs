//! A piston held by dry friction stays where it is. Impacts, friction and flight against closed forms are cases of the
//! validation book.

use crate::baseline::{self, ready};
use quietseat::physics::installation::Installation;
use quietseat::physics::parts::{MainStage, StageKind};
use quietseat::physics::state::*;
use quietseat::simulate::install;
use quietseat::validation::part_alone::PartAlone;

/// A water valve with its main stage free in equal pressures, spring-centred at `centre` (m), as a piston of that dry friction.
fn piston(spring_rate: f64, centre: f64, mass: f64, friction: f64, presliding_stiffness: f64) -> Installation {
    let mut scenario = baseline::water();
    scenario.valve.main = MainStage {
        kind: StageKind::Piston { friction, presliding_stiffness },
        preload: -spring_rate * centre,
        spring_rate,
        mass,
        damping: 0.0,
        lift: 10.0 * centre,
        ..scenario.valve.main
    };
    install(&ready(&scenario), 293.15)
}

/// Below break-away a piston gives elastically and then stays: at half, and at 95 % of the break-away force, it creeps by
/// less than 0.1 µm in two seconds (measured 0.02 µm, from speeds kept to 1 nm/s), where a smoothed sign function would let
/// it through by millimetres; above, it slides.
#[test]
fn stuck_piston_does_not_creep() {
    for (share, sticks) in [(0.5, true), (0.95, true), (1.05, false)] {
        let mut installation = piston(0.0, 1.0, 0.035, 4.0, 1e6);
        // No spring: the preload alone pushes, in the opening direction.
        installation.stage.part.preload = -share * 4.0;
        installation.stage.part.damping = 5.0;
        let mut y = installation.at_rest(2e5, 2e5);
        y[LIFT] = 1e-3;
        let mut alone = PartAlone::new(&installation, &[LIFT, LIFT_RATE, DEFLECTION]);
        alone.advance(&mut y, 0.0, 0.5, 1e-8).expect("a stage alone");
        let settled = y[LIFT];
        alone.advance(&mut y, 0.5, 2.5, 1e-8).expect("a stage alone");
        let moved = y[LIFT] - settled;
        println!("{share} of break-away: {:.2e} m in 2 s", moved);
        assert_eq!(moved.abs() < 1e-7, sticks, "{moved} m");
        assert!(sticks || moved > 1e-2);
    }
}
