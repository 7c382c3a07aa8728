//! Kinds, supplies and faults that meet: what is said of them together.

use crate::demo;
use quietseat::scenario::Scenario;
use quietseat::study::by_hand::by_hand;
use quietseat::study::coil_heat::{Armature, CoilHeat};
use quietseat::study::examine::examine;
use quietseat::verdict::{Behaviour, Finding};

fn found(scenario: &Scenario, behaviour: Behaviour) -> Finding {
    let verdict = examine(scenario).expect("a run").verdict;
    let findings = verdict.findings;
    findings
        .iter()
        .find(|f| f.behaviour == behaviour)
        .unwrap_or_else(|| panic!("no {behaviour:?}: {findings:?}"))
        .clone()
}

/// An armature that an economiser lets drop leaves its pilot shut: the magnet is at fault, not the main stage.
#[test]
fn an_armature_that_falls_back_is_the_magnets_fault() {
    let drops = ["valve.coil.economiser.delay=0.02 s", "valve.coil.economiser.share=3 %"];
    let mut scenario = demo::scenario("water-bang", &drops);
    scenario.run.longest_on = 3.0;
    let told = found(&scenario, Behaviour::WillNotOpen);
    assert!(told.reason.contains("does not hold it"), "{}", told.reason);
    assert!(told.adverse && told.margin > 1.0, "{told:?}");
}

/// A normally open valve is held shut by what its economiser leaves: the pull at the shut seat goes about with the square of the voltage, as
/// long as the iron is not saturated (own derivation), and where it falls short, that is said.
#[test]
fn an_economiser_that_lets_a_normally_open_valve_go_is_told() {
    let at = |percent: f64| {
        let share = format!("valve.coil.economiser.share={percent} %");
        demo::scenario(
            "water-normally-open",
            &["valve.coil.saturation_field=1e-3 A/m", "valve.coil.economiser.delay=0.1 s", &share],
        )
    };
    let margin = |percent: f64| by_hand(&at(percent)).expect("by hand").holding_margin.expect("a margin");
    let ratio = margin(20.0) / margin(10.0);
    assert!((ratio - 4.0).abs() < 0.01, "{ratio}");
    let mut weak = at(10.0);
    assert!(margin(10.0) < 1.0, "{}", margin(10.0));
    (weak.run.longest_on, weak.run.longest_off) = (3.0, 3.0);
    let told = found(&weak, Behaviour::DoesNotClose);
    assert!(told.reason.contains("has come down, but does not stay"), "{}", told.reason);
}

/// Heat of a direct-current coil that is always on behind an economiser is that of the share of its voltage, (D·U)²/R, by its network as by one
/// resistance; its armature in or out (Joule).
#[test]
fn an_economiser_cools_a_coil_with_a_network() {
    let coil = |more: &[&str]| {
        let network = [
            "valve.coil.network.ambient=40 °C",
            "valve.coil.network.medium=20 °C",
            "valve.coil.network.winding_capacity=90 J/K",
            "valve.coil.network.body_capacity=330 J/K",
            "valve.coil.network.winding_to_body=3 K/W",
            "valve.coil.network.body_to_ambient=6 K/W",
            "valve.coil.network.body_to_medium=20 K/W",
        ];
        demo::scenario("water-bang", &network.iter().chain(more).copied().collect::<Vec<_>>())
    };
    let economised = coil(&["valve.coil.economiser.delay=0.1 s", "valve.coil.economiser.share=50 %"]);
    // Half the voltage, from another supply: the same resistance at the same temperature.
    let half = coil(&["valve.coil.direct.voltage=12 V"]);
    for armature in [Armature::ComesIn, Armature::StaysOut] {
        let of = |scenario: &Scenario| CoilHeat::of(scenario, None).expect("a network").found(1e-4, 1.0, armature);
        let (ours, same) = (of(&economised), of(&half));
        assert!((ours.mean - same.mean).abs() < 0.05, "{armature:?}: {} K, {} K", ours.mean, same.mean);
    }
}

/// Stated together they are refused in words, not computed by rules that were made for either alone.
#[test]
fn a_normally_open_forced_lift_is_refused() {
    let open = ["valve.function=normally-open", "valve.armature.pole_clearance=0.1 mm"];
    let problems = demo::with("water-forced-lift", &open).scenario().expect_err("refused").to_string();
    assert!(problems.contains("normally closed only"), "{problems}");
}
