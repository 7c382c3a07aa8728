//! The kind of a valve: what it asks for, and what it does without.

use crate::demo;
use crate::replaced::messages;
use quietseat::physics::parts::ControlParts;
use quietseat::scenario::Document;

const DIRECT: &str = "water-direct";

#[test]
fn a_servo_valve_unless_stated() {
    assert!(demo::scenario("water-bang", &[]).valve.servo().is_some());
    for word in ["pilot-operated", "servo-operated"] {
        assert!(demo::scenario("water-bang", &[&format!("valve.kind={word}")]).valve.servo().is_some(), "{word}");
    }
    assert_eq!(demo::scenario(DIRECT, &[]).valve.control, ControlParts::Direct);
}

/// A file of a servo valve is asked what a direct-operated one on its seat would do; what that does without is told once.
#[test]
fn the_kind_of_a_file_can_be_changed() {
    let document = demo::with("water-bang", &["valve.kind=direct-operated"]);
    let (scenario, warnings) = document.scenario().expect("a sound scenario");
    let (stage, armature) = (&scenario.valve.main, &scenario.valve.armature);
    assert_eq!((stage.lift, stage.mass, stage.preload), (armature.stroke, armature.mass, armature.preload));
    assert_eq!(stage.seat_diameter, 12e-3, "the seat stays");
    let unused: Vec<String> = warnings.iter().map(ToString::to_string).filter(|w| w.contains("is not used")).collect();
    assert_eq!(unused.len(), 1, "{unused:?}");
    assert!(unused[0].contains("`valve.pilot.diameter` and 18 more that belong to it is not used"), "{}", unused[0]);
}

#[test]
fn what_changes_nothing_cannot_be_set() {
    for setting in ["valve.bleed.diameter=1 mm", "valve.main.lift=2 mm", "valve.chamber.volume=1 cm³"] {
        let problems = demo::with(DIRECT, &[setting]).scenario().expect_err(setting);
        assert!(problems.to_string().contains("would change nothing"), "{problems}");
    }
    let problems = demo::open(DIRECT).with_number("valve.pilot.diameter", 1e-3).expect("a path").scenario();
    assert!(problems.expect_err("a direct valve has no pilot").to_string().contains("would change nothing"));
}

#[test]
fn a_kind_that_is_none_is_told_with_those_that_are() {
    let text = demo::text(DIRECT).replace("\"direct-operated\"", "\"direct\"");
    let found = messages(&Document::from_text("scenarios/changed.toml", text));
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].contains("\"pilot-operated\", \"servo-operated\", \"direct-operated\""), "{found:?}");
}
