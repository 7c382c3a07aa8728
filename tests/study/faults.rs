//! A valve with one fault after the other.

use crate::demo;
use quietseat::physics::parts::Faults;
use quietseat::study::faults::{FaultRow, FaultStudy, Outcome, faults, runs};
use quietseat::verdict::Behaviour::{self, Hums, OpensFully, Overheats, StillSettling, WillNotOpen};
use std::sync::atomic::{AtomicUsize, Ordering};

fn study(name: &str) -> FaultStudy {
    let done = AtomicUsize::new(0);
    let study = faults(&demo::open(name), &|| {
        done.fetch_add(1, Ordering::Relaxed);
    });
    assert_eq!(done.into_inner(), runs());
    study.unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn rows<'s>(study: &'s FaultStudy, fault: &str) -> Vec<&'s FaultRow> {
    study.rows.iter().filter(|row| row.path == format!("faults.{fault}")).collect()
}

fn seen(row: &FaultRow) -> Vec<Behaviour> {
    match &row.outcome {
        Outcome::Seen { verdict, .. } => verdict.findings.iter().map(|finding| finding.behaviour).collect(),
        Outcome::NotSeen(why) => panic!("{}: {why}", row.path),
    }
}

#[test]
fn every_fault_that_can_be_stated_is_tried() {
    let study = study("water-direct");
    for key in Faults::KEYS {
        assert!(!rows(&study, key.name).is_empty(), "{}", key.name);
    }
}

/// What hums, what burns and what sticks on a coil of alternating current, as the trade says (common practice, no source).
#[test]
fn an_alternating_coil_shows_what_the_trade_says() {
    let study = study("ac-ring");
    assert!(!study.sound.adverse(), "{:?}", study.sound);
    assert!(seen(rows(&study, "cracked_ring")[0]).contains(&Hums));
    let [high, low] = rows(&study, "wrong_coil")[..] else { panic!("a coil for more and one for less") };
    assert!(seen(high).contains(&Hums) || seen(high).contains(&WillNotOpen), "{high:?}");
    assert!(seen(low).contains(&Overheats), "{low:?}");
    assert_eq!(seen(rows(&study, "stuck_armature")[0])[0], WillNotOpen);
    assert_eq!(seen(rows(&study, "leaking_pilot")[0])[..2], [OpensFully, StillSettling]);
}

/// What a valve cannot have is said, and why.
#[test]
fn a_fault_that_the_valve_cannot_have_is_named() {
    let study = study("water-direct");
    for (fault, word) in
        [("torn_diaphragm", "no diaphragm"), ("leaking_pilot", "no pilot"), ("cracked_ring", "no shading ring")]
    {
        match &rows(&study, fault)[0].outcome {
            Outcome::NotSeen(why) => assert!(why.contains(word), "{fault}: {why}"),
            Outcome::Seen { .. } => panic!("{fault} was run"),
        }
    }
    let problems = demo::with("water-direct", &["faults.torn_diaphragm=1 mm"]).scenario().expect_err("none to tear");
    assert!(problems.to_string().contains("faults.torn_diaphragm: this kind of valve has no diaphragm"), "{problems}");
    let problems = demo::with("ac-ring", &["faults.pole_dirt=3 mm"]).scenario().expect_err("thicker than the stroke");
    assert!(problems.to_string().contains("whole stroke"), "{problems}");
}

/// The numbers told of a fault are those that a run with it shows.
#[test]
fn differences_are_those_of_a_run_with_the_fault() {
    let study = study("water-bang");
    let row = rows(&study, "clogged_bleed")[0];
    let Outcome::Seen { differences, .. } = &row.outcome else { panic!("it was not run") };
    let setting = format!("{}={}", row.path, row.shown);
    let again = quietseat::study::examine::examine(&demo::scenario("water-bang", &[&setting])).expect("a run");
    assert!(!differences.is_empty());
    for difference in differences {
        let found = again.indicators.list().into_iter().find(|i| i.name == difference.faulty.name).expect("listed");
        assert_eq!(found.value, difference.faulty.value, "{}", found.name);
        assert_ne!(difference.sound.value, difference.faulty.value, "{}", found.name);
    }
}
