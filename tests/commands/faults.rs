//! `quietseat faults` as a user meets it.

use crate::demo;
use crate::program::{self, text};
use serde_json::Value;

#[test]
fn faults_are_told_with_what_they_do_here() {
    let run =
        program::command(&["faults", &demo::path("water-direct")]).env("COLUMNS", "80").output().expect("it starts");
    let shown = text(&run.stdout);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    for needed in [
        "As stated: opens fully",
        "as a rule: the coil gets warm",
        "here: will not open (magnet)",
        "instead of",
        "--set \"faults.pole_dirt=0.25 mm\"",
        "Not on this valve:",
        "Estimate for diagnosis",
    ] {
        assert!(shown.replace('\n', " ").contains(needed), "{needed} is missing in\n{shown}");
    }
    assert!(shown.lines().all(|line| line.chars().count() <= 80), "{shown}");
}

#[test]
fn the_same_as_a_document() {
    let run = program::command(&["faults", &demo::path("water-direct"), "--json", "-q"]).output().expect("it starts");
    let document: Value = serde_json::from_slice(&run.stdout).expect("JSON");
    assert_eq!(document["command"], "faults");
    let faults = document["faults"]["faults"].as_array().expect("a list");
    let stuck = faults.iter().find(|f| f["path"] == "faults.stuck_armature").expect("it is there");
    assert_eq!(stuck["verdict"]["findings"][0]["behaviour"], "will_not_open");
    let torn = faults.iter().find(|f| f["path"] == "faults.torn_diaphragm").expect("it is there");
    assert!(torn["verdict"].is_null() && torn["not_seen"].as_str().is_some_and(|why| why.contains("diaphragm")));
    assert!(text(&run.stderr).is_empty(), "{}", text(&run.stderr));
}

/// A fault that is switched on is told with every answer, and what it changes.
#[test]
fn a_fault_is_remarked_on() {
    let run = program::command(&["check", &demo::path("ac-ring"), "--set", "faults.pole_dirt=0.2 mm"]).output();
    let said = text(&run.expect("it starts").stderr);
    assert!(said.contains("a fault is switched on: residual air gap") && said.contains("armature stroke"), "{said}");
}
