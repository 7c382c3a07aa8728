//! Runs from rest lift where statics say; the statics themselves are in the validation book
//! (`src/validation/servo_opening.rs`).

use crate::baseline::{self, ready};
use quietseat::physics::fluid::Phase;
use quietseat::scenario::Scenario;
use quietseat::simulate::{Integrator, Phases, simulate};
use quietseat::validation::servo_opening::{PilotArea, lift_off};

/// Highest lift of an energised phase from rest, share of full lift.
fn highest_lift(scenario: &Scenario) -> f64 {
    let mut phases = Phases { open: 4.0, shut: 0.01, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    if matches!(scenario.fluid.phase, Phase::Gas(_)) {
        phases.open = 1.0;
    }
    let record = simulate(&ready(scenario), phases, 293.15, Integrator::Stiff).expect("a run from rest");
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
        let exact = lift_off(&scenario(5e3), PilotArea::BoreAndCurtain);
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
