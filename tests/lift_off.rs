//! The differential at which the main stage lifts off; sources in `validation/SOURCES.md`.

mod baseline;
mod orifice_pair;
mod reference;

use orifice_pair::{Bore, Medium, falling_root, pressure_between};
use quietseat::physics::chamber::Filling;
use quietseat::physics::fluid::Phase;
use quietseat::physics::installation::Installation;
use quietseat::physics::state::*;
use quietseat::scenario::Scenario;
use quietseat::simulate::{Integrator, Phases, install, simulate};
use reference::{Table, Worst, relative};

/// Net opening force on the stage just on its seat, N, at those pressures (Pa absolute), by the installation's balances.
fn opening_force(installation: &Installation, p_1: f64, p_c: f64, p_2: f64) -> f64 {
    let mut y = installation.at_rest(p_1, p_2);
    y[LIFT] = 0.0;
    match &installation.filling {
        Filling::Liquid { cell, .. } => y[CHAMBER] = cell.content(p_c),
        Filling::Gas { exponent, .. } => y[CHAMBER_ENERGY] = p_c * installation.chamber_volume(&y) / (exponent - 1.0),
    }
    let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
    installation.evaluate(&[0.0; FORCINGS], &y, &mut rate, &mut flux);
    rate[LIFT_RATE] * installation.stage.part.mass
}

/// Bleed and pilot of an installation at full armature stroke, or with the pilot's bore alone.
fn bores(installation: &Installation, with_curtain: bool) -> [Bore; 2] {
    let pilot = if with_curtain { installation.pilot_area() } else { installation.pilot_bore() };
    [
        Bore { passage: installation.bleed.clone(), inverse_square: installation.bleed_area().powi(-2) },
        Bore { passage: installation.pilot.clone(), inverse_square: pilot.powi(-2) },
    ]
}

fn medium(scenario: &Scenario) -> Medium {
    match &scenario.fluid.phase {
        Phase::Liquid(liquid) => Medium::Liquid(liquid.density),
        Phase::Gas(gas) => Medium::Gas(gas.isentropic_exponent, gas.gas_constant * gas.temperature),
    }
}

/// Differential at which the stage's forces balance on the seat, Pa.
fn lift_off(scenario: &Scenario, with_curtain: bool) -> f64 {
    let p_2 = scenario.sink.pressure;
    falling_root(10.0, 5e5, |differential| {
        let mut at = scenario.clone();
        at.supply.pressure = p_2 + differential;
        let installation = install(&at, 293.15);
        let [bleed, pilot] = bores(&installation, with_curtain);
        let p_c = pressure_between(&bleed, &pilot, medium(&at), p_2 + differential, p_2);
        -opening_force(&installation, p_2 + differential, p_c, p_2)
    })
}

/// The limit of bores alone, inviscid: F_0/[(A_d − A_s) − A_d/(1 + R²)]. Exact, and met to 1e-9 by the balances of the
/// installation with the chamber pressure of its passages (1e-7 for the table's twelve digits and the pressures' rounding at
/// differentials of some hundred pascals).
#[test]
fn lift_off_of_bores_alone_is_exact() {
    let (mut closed, mut worst) = (Worst::default(), Worst::default());
    for row in Table::read("servo_stage/least_opening_differential.csv").rows() {
        let (effective, seat) = (row.number("effective_area_m2"), row.number("seat_area_m2"));
        let (preload, share) = (row.number("preload_n"), row.number("pilot_over_bleed"));
        let formula = preload / ((effective - seat) - effective / (1.0 + share * share));
        closed.note(relative(formula, row.number("differential_pa")), || row.text("differential_pa").into());
        let mut scenario = baseline::water();
        let diameter = |area: f64| (area / std::f64::consts::FRAC_PI_4).sqrt();
        scenario.valve.main.effective_diameter = diameter(effective);
        scenario.valve.main.seat_diameter = diameter(seat);
        scenario.valve.main.preload = preload;
        scenario.valve.pilot.diameter = scenario.valve.bleed.diameter * share.sqrt();
        let Phase::Liquid(liquid) = &mut scenario.fluid.phase else { panic!("water") };
        liquid.viscosity = 0.0;
        let ours = lift_off(&scenario, false);
        worst.note(relative(ours, formula), || format!("preload {preload}, ratio {share}"));
    }
    closed.refuse_above(1e-9, "closed form against the table");
    worst.refuse_above(1e-7, "lift-off differential");
}

/// A pilot too narrow against the bleed never lifts the stage: R ≤ √(A_s/(A_d − A_s)). Exact.
#[test]
fn narrow_pilot_never_lifts() {
    let mut scenario = baseline::water();
    let Phase::Liquid(liquid) = &mut scenario.fluid.phase else { panic!("water") };
    liquid.viscosity = 0.0;
    let installation = install(&scenario, 293.15);
    let (a_d, a_s) = (installation.stage.effective_area, installation.stage.seat_area);
    let limit = (a_s / (a_d - a_s)).sqrt();
    for (share, lifts) in [(0.99 * limit, false), (1.1 * limit, true)] {
        scenario.valve.pilot.diameter = scenario.valve.bleed.diameter * share.sqrt();
        let at = install(&scenario, 293.15);
        let [bleed, pilot] = bores(&at, false);
        let forces = [1e4, 1e5, 1e6, 1e7].map(|differential| {
            let p_c = pressure_between(&bleed, &pilot, medium(&scenario), 1e5 + differential, 1e5);
            opening_force(&at, 1e5 + differential, p_c, 1e5)
        });
        assert_eq!(forces.iter().any(|&force| force > 0.0), lifts, "{forces:?}");
    }
}

/// Highest lift of an energised phase from rest, share of full lift.
fn highest_lift(scenario: &Scenario) -> f64 {
    let mut phases = Phases { on: 4.0, off: 0.01, cycles: 1, early_on: false, early_off: false };
    if matches!(scenario.fluid.phase, Phase::Gas(_)) {
        phases.on = 1.0;
    }
    let record = simulate(scenario, phases, 293.15, Integrator::Stiff).expect("a run from rest");
    let lift = record.trace.values("lift").iter().copied().fold(f64::MIN, f64::max);
    lift / scenario.valve.main.lift
}

/// From rest, energised: 5 % below the static lift-off (pilot curtain, viscosity and all) nothing lifts by more than 1 % of
/// full lift; 5 % above it lifts. Air: the opening transient may knock the stage open earlier, so 'below' is the harder claim.
#[test]
fn runs_from_rest_lift_where_statics_say() {
    let at_differential = |name: &str, differential: f64| match name {
        "water" => water_at(differential),
        _ => baseline::air(differential),
    };
    for name in ["water", "air"] {
        let scenario = |differential: f64| at_differential(name, differential);
        let exact = lift_off(&scenario(5e3), true);
        let (below, above) = (highest_lift(&scenario(0.95 * exact)), highest_lift(&scenario(1.05 * exact)));
        println!("{name}: lift-off at {exact:.1} Pa; highest lift {below:.4} at 0.95 and {above:.4} at 1.05 of it");
        assert!(below < 0.01, "{name}: {below}");
        assert!(above > 0.01, "{name}: {above}");
    }
}

fn water_at(differential: f64) -> Scenario {
    let mut scenario = baseline::water();
    scenario.supply.pressure = scenario.sink.pressure + differential;
    scenario
}
