//! Pin, cushion, restrictor, leak past a piston, strainer and check valve as a file states them: what is refused, remarked on, taken away.

use crate::demo;
use quietseat::physics::parts::RingLeak;
use quietseat::scenario::{Document, echo};

fn refused(document: &Document) -> String {
    document.scenario().expect_err("it is refused").to_string()
}

fn remarks(document: &Document) -> String {
    let (_, warnings) = document.scenario().unwrap_or_else(|problems| panic!("{problems}"));
    warnings.iter().map(|warning| format!("{warning}\n")).collect()
}

#[test]
fn what_cannot_be_is_refused_with_what_would_mend_it() {
    let cushion = [
        "valve.main.cushion.area=1 cm²",
        "valve.main.cushion.depth=1 mm",
        "valve.main.cushion.passage_diameter=1 mm",
        "valve.main.cushion.discharge_coefficient=0.65",
    ];
    let large = ["valve.main.cushion.area=100 cm²", cushion[1], cushion[2], cushion[3]];
    let both = [
        "valve.main.piston.ring_orifice=1 mm",
        "valve.main.piston.radial_clearance=0.03 mm",
        "valve.main.piston.land_length=8 mm",
    ];
    for (name, settings, place, wanted) in [
        (
            "water-soft-closing",
            &["valve.bleed.pin.diameter=1.2 mm"][..],
            "valve.bleed.pin.diameter",
            "bleed's own bore (1 mm)",
        ),
        ("water-soft-closing", &["valve.bleed.pin.taper=2 mm"], "valve.bleed.pin.taper", "at most that"),
        (
            "water-piston",
            &["valve.main.piston.radial_clearance=0.9 mm"],
            "valve.main.piston.radial_clearance",
            "too wide to be computed as a thin gap",
        ),
        ("water-piston", &["valve.main.piston.ring_orifice=1 mm"], "[valve.main.piston]", "lacks `ring_height`"),
        ("air-low-differential", &cushion, "valve.main.cushion.area", "in liquids only"),
        ("water-bang", &large, "valve.main.cushion.area", "around its seat"),
        ("water-bang", &["upstream.check_valve_opening=0.05 bar"], "[upstream]", "lacks `check_valve_kv`"),
    ] {
        let told = refused(&demo::with(name, settings));
        assert!(told.contains(place) && told.contains(wanted), "{settings:?}: {told}");
    }
    for (setting, wanted) in [
        ("valve.main.piston.eccentricity=1.2", "from 0 to 1"),
        ("upstream.strainer_clogged=100 %", "below 1"),
        ("valve.main.plug_exponent=0.5", "1 or above"),
    ] {
        let told = demo::open("water-piston").with_setting(setting).expect_err("out of range").to_string();
        assert!(told.contains(wanted), "{told}");
    }
    // A setting replaces what it excludes, so that only the last of the two is left.
    let last = demo::read(&demo::with("water-piston", &both));
    let servo = last.valve.servo().expect("a servo valve");
    assert!(matches!(servo.leak, RingLeak::Clearance(_)));
}

#[test]
fn what_is_odd_or_not_computed_is_remarked_on() {
    let checked = ["downstream.check_valve_kv=5 Kv", "downstream.check_valve_opening=0.05 bar"];
    for (name, settings, wanted) in [
        ("water-bang", &checked[..], "Not computed: it stops reverse flow"),
        ("water-bang", &["upstream.check_valve_kv=5 Kv", "upstream.check_valve_opening=6 bar"], "never opens"),
        ("water-soft-closing", &["valve.bleed.pin.lift=4 mm"], "the narrow bleed at every lift"),
        ("water-bang", &["valve.pilot.restrictor_diameter=0.9 mm"], "empties only in part"),
        ("water-piston", &["valve.main.piston.radial_clearance=0.08 mm"], "Reynolds number"),
        ("water-piston", &["valve.main.piston.radial_clearance=none"], "`land_length` is not used"),
    ] {
        let told = remarks(&demo::with(name, settings));
        assert!(told.contains(wanted), "{settings:?}: {told}");
    }
    assert!(!remarks(&demo::with("water-bang", &["upstream.strainer_kv=4 Kv"])).contains("check valve"));
}

/// Each of them can be taken away, and leaves the valve that it stood in.
#[test]
fn what_is_taken_away_leaves_the_valve_without_it() {
    let today = demo::scenario("water-bang", &[]);
    let without = demo::scenario("water-soft-closing", &["valve.bleed.pin=none"]);
    assert_eq!(without.valve, today.valve);
    let removed = ["valve.main.piston.radial_clearance=none", "valve.main.piston.land_length=none"];
    let tight = demo::scenario("water-piston", &removed);
    assert_eq!(tight.valve.servo().map(|servo| servo.leak.clone()), Some(RingLeak::Tight));
}

/// A step or a taper: `check` shows which, and how long.
#[test]
fn check_reports_how_the_bleed_narrows() {
    let shown = |settings: &[&str]| {
        let rows = echo(&demo::with("water-soft-closing", settings)).expect("a sound scenario");
        let row = rows.into_iter().find(|row| row.path == "valve.bleed.pin.narrows_over").expect("it is told");
        (row.value, row.typed)
    };
    let (step, how) = shown(&[]);
    assert!((step - 5e-6).abs() < 1e-12 && how.contains("a step"), "{step} {how}");
    let (taper, how) = shown(&["valve.bleed.pin.taper=0.3 mm"]);
    assert!((taper - 0.3e-3).abs() < 1e-12 && how.contains("linear taper"), "{taper} {how}");
}
