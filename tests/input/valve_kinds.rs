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

const FORCED: &str = "water-forced-lift";

/// A forced lift is a servo valve and a link: it asks for the link, and a file without its kind has no use for one.
#[test]
fn a_forced_lift_asks_for_its_link() {
    for word in ["forced-lift", "assisted-lift"] {
        let valve = demo::scenario(FORCED, &[&format!("valve.kind={word}")]).valve;
        assert!(valve.servo().is_some() && !valve.armature_is_stage(), "{word}");
        assert_eq!(valve.link().map(|link| (link.stiffness, link.dissipation)), Some((2e5, 2.5)), "{word}");
    }
    let found = messages(&demo::with("water-bang", &["valve.kind=forced-lift"]));
    assert!(found.iter().any(|m| m.contains("valve.link") && m.contains("free_play")), "{found:?}");
    let unused = |settings: &[&str]| {
        let (_, warnings) = demo::with(FORCED, settings).scenario().expect("a sound scenario");
        warnings.iter().map(ToString::to_string).filter(|w| w.contains("is not used")).collect::<Vec<_>>().concat()
    };
    let as_servo = unused(&["valve.kind=pilot-operated"]);
    assert!(
        as_servo.contains("`valve.link.stiffness` and 1 more") && as_servo.contains("only a forced lift"),
        "{as_servo}"
    );
    let problems = demo::with("water-bang", &["valve.link.stiffness=1 N/mm"]).scenario().expect_err("no link");
    assert!(problems.to_string().contains("would change nothing"), "{problems}");
}

/// Stroke, free play and stiffness of a link belong together: x_max + ℓ + (F_0 + k·x_max)/k_l = 3.5 + 0.8 + 0.0195 mm in the demo (own
/// derivation), and a free play of a quarter of the pilot's bore (the curtain is then as wide as the bore: geometry).
#[test]
fn a_link_that_does_not_reach_is_remarked_on() {
    let told = |settings: &[&str]| {
        let (_, warnings) = demo::with(FORCED, settings).scenario().expect("a sound scenario");
        warnings.iter().map(ToString::to_string).collect::<Vec<_>>().concat()
    };
    assert_eq!(told(&[]), "");
    assert_eq!(told(&["valve.armature.stroke=4.33 mm"]), "");
    let short = told(&["valve.armature.stroke=4.31 mm"]);
    assert!(
        short.contains("lifts the main stage by 3.491 mm only") && short.contains("an armature stroke of 4.32 mm"),
        "{short}"
    );
    assert!(told(&["valve.armature.stroke=6 mm"]).contains("enough for full lift"));
    assert!(told(&["valve.link.free_play=4.5 mm"]).contains("never draws on the main stage"));
    let narrow = told(&["valve.link.free_play=0.4 mm", "valve.armature.stroke=4 mm"]);
    assert!(narrow.contains("a quarter of the pilot's bore (0.5 mm)"), "{narrow}");
}

/// A vented pilot is a servo valve and the place that it vents to, below the supply and not below what makes the liquid boil.
#[test]
fn a_vented_pilot_asks_where_it_vents_to() {
    const VENTED: &str = "water-vented";
    for word in ["vented-pilot", "external-drain"] {
        let valve = demo::scenario(VENTED, &[&format!("valve.kind={word}")]).valve;
        let ControlParts::VentedPilot(parts) = &valve.control else { panic!("{word}") };
        assert!((parts.vent.pressure - 1.013e5).abs() < 1e-6 && valve.servo().is_some(), "{word}");
    }
    let found = messages(&demo::with("water-chatter", &["valve.kind=vented-pilot"]));
    assert!(found.iter().any(|m| m.contains("valve.vent") && m.contains("pressure")), "{found:?}");
    let problems = demo::with("water-chatter", &["valve.vent.pressure=1 bar(a)"]).scenario().expect_err("no vent");
    assert!(problems.to_string().contains("would change nothing"), "{problems}");
    // The supply has 2.013 + 0.12 bar.
    assert!(demo::with(VENTED, &["valve.vent.pressure=2.13 bar(a)"]).scenario().is_ok());
    let high = demo::with(VENTED, &["valve.vent.pressure=2.14 bar(a)"]).scenario().expect_err("nothing to vent to");
    assert!(high.to_string().contains("not below the supply (2.133 bar(a))"), "{high}");
    let told = |settings: &[&str]| {
        let (_, warnings) = demo::with(VENTED, settings).scenario().expect("a sound scenario");
        warnings.iter().map(ToString::to_string).collect::<Vec<_>>().concat()
    };
    assert_eq!(told(&[]), "");
    assert!(told(&["valve.vent.pressure=0.02 bar(a)"]).contains("it flashes in the pilot"));
    let as_servo = told(&["valve.kind=pilot-operated"]);
    assert!(as_servo.contains("`valve.vent.pressure` is not used"), "{as_servo}");
}

#[test]
fn a_kind_that_is_none_is_told_with_those_that_are() {
    let text = demo::text(DIRECT).replace("\"direct-operated\"", "\"direct\"");
    let found = messages(&Document::from_text("scenarios/changed.toml", text));
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(
        found[0].contains(
            "\"pilot-operated\", \"servo-operated\", \"direct-operated\", \"forced-lift\", \"assisted-lift\""
        ),
        "{found:?}"
    );
}

/// The function is a choice beside the kind: both kinds can be open without current, and what belongs to that is asked for there alone.
#[test]
fn either_kind_can_be_normally_open() {
    for name in ["water-normally-open", "water-drain"] {
        let scenario = demo::scenario(name, &[]);
        assert!(scenario.valve.normally_open(), "{name}");
        assert!((scenario.valve.way_to_pole() - scenario.valve.armature.stroke - 1e-4).abs() < 1e-12, "{name}");
    }
    let lacking = demo::with("water-bang", &["valve.function=normally-open"]).scenario().expect_err("no clearance");
    assert!(lacking.to_string().contains("`pole_clearance`"), "{lacking}");
    for setting in ["valve.armature.pole_clearance=0.1 mm", "valve.armature.stop.stiffness=1e8 N/m^1.5"] {
        let problems = demo::with("water-bang", &[setting]).scenario().expect_err(setting);
        assert!(problems.to_string().contains("would change nothing"), "{problems}");
    }
    let weak =
        demo::with("water-normally-open", &["valve.armature.preload=0.1 N", "valve.armature.pole_clearance=1 mm"]);
    let told: Vec<String> = weak.scenario().expect("a scenario").1.iter().map(ToString::to_string).collect();
    assert!(told.iter().any(|w| w.contains("does not carry the armature in this attitude")), "{told:?}");
    assert!(told.iter().any(|w| w.contains("more than the stroke")), "{told:?}");
}

/// The duty counts the energised share: of a normally open valve that in which it is asked to be shut, and so do the longest times.
#[test]
fn the_duty_of_a_normally_open_valve_shuts_it() {
    let settings = ["duty.on_fraction=20 %", "duty.cycle_rate=6 1/min", "run.longest_on=3 s", "run.longest_off=7 s"];
    let open = demo::scenario("water-normally-open", &settings).asked_times();
    assert_eq!([open.open, open.shut, open.longest_open, open.longest_shut], [8.0, 2.0, 7.0, 3.0]);
    let closed = demo::scenario("water-bang", &settings).asked_times();
    assert_eq!([closed.open, closed.shut, closed.longest_open, closed.longest_shut], [2.0, 8.0, 3.0, 7.0]);
}
