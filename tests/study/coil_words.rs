//! What is said of a coil's supply: kinds that it was not wound for, what stands before it, and what does not go together.

use crate::demo;
use quietseat::study::asked::remarks;
use quietseat::study::examine::examine;
use quietseat::study::wrong_supply::wrong_supply;
use quietseat::verdict::Behaviour;

fn said(name: &str, settings: &[&str]) -> String {
    let document = demo::with(name, settings);
    remarks(&document, &demo::read(&document)).expect("remarks").join("\n")
}

fn refused(name: &str, settings: &[&str]) -> String {
    demo::with(name, settings).scenario().expect_err("refused").to_string()
}

/// Flux goes as U/f, and pull as its square, where the winding's resistance is small against its reactance: within 2 % at a quality above 10.
#[test]
fn a_coil_for_the_other_frequency_goes_by_voltage_over_frequency() {
    let settings =
        ["valve.coil.rated_frequency=60 Hz", "valve.coil.resistance=200 ohm", "valve.coil.saturation_field=0 A/m"];
    let settings = [&settings[..], &["valve.coil.eddy_conductance=0 S", "valve.coil.shading_ring=none"]].concat();
    let wrong = wrong_supply(&demo::scenario("ac-ring", &settings)).expect("50 Hz is not 60");
    println!("{wrong:?}");
    assert!((wrong.pull / (1.2 * 1.2) - 1.0).abs() < 0.02 && (wrong.current / 1.2 - 1.0).abs() < 0.02);
    assert_eq!(wrong_supply(&demo::scenario("ac-ring", &["valve.coil.rated_frequency=50 Hz"])), None);
    assert_eq!(wrong_supply(&demo::scenario("water-bang", &["valve.coil.rated_frequency=0 Hz"])), None);
}

#[test]
fn the_wrong_kind_of_supply_is_said_and_judged() {
    let direct = said("ac-no-ring", &["valve.coil.rated_frequency=0 Hz"]);
    assert!(
        direct.contains("wound for direct voltage and is on 50 Hz") && direct.contains("without a shading ring"),
        "{direct}"
    );
    let on_direct = ["valve.coil.rated_frequency=50 Hz", "valve.coil.direct.voltage=230 V"];
    assert!(
        said("ac-ring", &on_direct).contains("no inductance limits its current"),
        "{}",
        said("ac-ring", &on_direct)
    );
    let burns = examine(&demo::scenario("ac-ring", &on_direct)).expect("a run").verdict;
    let hot = burns.findings.iter().find(|f| f.behaviour == Behaviour::Overheats).expect("it burns");
    assert!(
        hot.reason.starts_with("the coil is wound for 50 Hz and is on direct voltage: the winding draws"),
        "{}",
        hot.reason
    );
    let behind = ["valve.coil.rated_frequency=50 Hz"];
    assert!(said("ac-rectified", &behind).contains("is on rectified voltage"));
}

#[test]
fn what_stands_before_the_coil_is_said() {
    assert_eq!(said("ac-ring", &[]), "");
    let weak = said("weak-transformer", &[]);
    assert!(weak.starts_with("transformer and cable: ") && weak.contains("85 % at least"), "{weak}");
    let plug = said("ac-rectified", &[]);
    assert!(plug.contains("a mean of 205.5 V, rippling at twice the mains") && plug.contains("mains side"), "{plug}");
    let saved = said("water-bang", &["valve.coil.economiser.delay=0.2 s", "valve.coil.economiser.share=25 %"]);
    assert!(saved.contains("25 % of the voltage") && saved.contains("6.2 % of the heat"), "{saved}");
    let arc = said("water-bang", &["valve.coil.arc_voltage=330 V"]);
    assert!(arc.contains("hold 330 V until the current has died"), "{arc}");
    assert!(said("water-bang", &["valve.coil.arc_voltage=20 V"]).contains("no gap in air breaks down below"));
}

#[test]
fn what_does_not_go_together_is_refused() {
    for (name, settings, words) in [
        ("ac-ring", &["valve.coil.suppressor_diode=0.8 V"][..], "shorts every other half wave"),
        ("ac-ring", &["valve.coil.coercive_force=20 A"], "magnetises the iron anew in each half wave"),
        ("ac-ring", &["valve.coil.clamp_voltage=300 V"], "below the 325.3 V that the supply itself reaches"),
        (
            "ac-ring",
            &["valve.coil.economiser.delay=0.1 s", "valve.coil.economiser.share=50 %"],
            "chops a direct or rectified",
        ),
        (
            "water-bang",
            &["valve.coil.transformer.rated_power=10 VA", "valve.coil.transformer.short_circuit_voltage=10 %"],
            "a transformer gives no direct voltage",
        ),
        ("water-bang", &["valve.coil.contact=mains side"], "without a rectifier there is only one side"),
        ("ac-rectified", &["valve.coil.suppressor_diode=0.8 V"], "through whose diodes the current runs on"),
        ("water-bang", &["valve.coil.clamp_resistance=none"], "does not state the switch-off path"),
    ] {
        let problems = refused(name, settings);
        assert!(problems.contains(words), "{name} {settings:?}: {problems}");
    }
}

/// An armature that the iron holds by itself does not close, however short the run was.
#[test]
fn sticking_is_judged_as_not_closing() {
    let settings = ["valve.coil.coercive_force=250 A", "run.longest_off=1 s"];
    let stuck = examine(&demo::scenario("water-bang", &settings)).expect("a run").verdict;
    let found = stuck.findings.iter().find(|f| f.behaviour == Behaviour::DoesNotClose).expect("it sticks");
    assert!(found.reason.contains("the iron stays magnetised and still pulls with"), "{}", found.reason);
}
