//! The validation book holds, is documented, and would notice a broken reference.

use crate::program::{self, quietseat, text};
use quietseat::output::book;
use quietseat::output::figure::overlay::overlay as figure;
use quietseat::validation::case::{Check, Tolerance};
use quietseat::validation::{Outcome, book as cases, run};
use quietseat::validation::{overlay::Overlay, overlays};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

static OUTCOMES: LazyLock<Vec<Outcome>> = LazyLock::new(|| run(&cases(), &|_| {}));

/// Folders under `validation/` that hold no case: times, and data of tests that are not in the book.
const NO_CASES: [&str; 2] = ["speed", "regenerate"];

fn validation() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("validation")
}

#[test]
fn every_case_holds() {
    for outcome in OUTCOMES.iter() {
        assert!(outcome.holds(), "{}: {:#?}", outcome.case.name, outcome.checks);
    }
}

/// A reference moved by three tolerances (by one, where a count or a yes must be exact) is a broken case, whatever the number.
#[test]
fn planted_broken_reference_is_found() {
    let moved = |check: &Check| match check.tolerance {
        Tolerance::Relative(share) => check.reference * (1.0 + 3.0 * share),
        Tolerance::Absolute(0.0) => check.reference + 1.0,
        Tolerance::Absolute(size) => check.reference + 3.0 * size,
    };
    for outcome in OUTCOMES.iter() {
        let checks = outcome.checks.as_ref().expect("computed");
        for place in 0..checks.len() {
            let mut planted = checks.clone();
            planted[place].reference = moved(&planted[place]);
            let planted = Outcome { case: outcome.case, checks: Ok(planted) };
            assert!(!planted.holds(), "{}: {}", outcome.case.name, checks[place].quantity);
            assert!(book::markdown(&[planted]).contains("| broken |"));
        }
    }
}

fn folders() -> BTreeSet<String> {
    let entries = fs::read_dir(validation()).expect("a folder").flatten().filter(|entry| entry.path().is_dir());
    entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect()
}

#[test]
fn every_folder_has_its_case_and_every_case_its_folder() {
    let mut with_cases: BTreeSet<String> = OUTCOMES.iter().map(|outcome| outcome.case.folder.to_owned()).collect();
    with_cases.extend(NO_CASES.map(str::to_owned));
    assert_eq!(with_cases, folders());
}

#[test]
fn every_folder_says_what_it_claims_and_where_it_is_from() {
    for folder in folders().iter().filter(|folder| !NO_CASES.contains(&folder.as_str())) {
        let readme = fs::read_to_string(validation().join(folder).join("README.md")).unwrap_or_default().to_lowercase();
        for needed in ["claim", "inputs", "tolerance", "obtained"] {
            assert!(readme.contains(&format!("**{needed}")), "{folder}/README.md says nothing about {needed}");
        }
    }
}

/// A table that no case reads would look like evidence.
#[test]
fn every_table_is_read_by_a_case() {
    let sources = fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/validation")).expect("a folder");
    let text: String = sources.flatten().filter_map(|entry| fs::read_to_string(entry.path()).ok()).collect();
    for folder in folders().iter().filter(|folder| !NO_CASES.contains(&folder.as_str())) {
        for entry in fs::read_dir(validation().join(folder)).expect("a folder").flatten() {
            let name = entry.file_name().to_string_lossy().into_owned();
            let drawn = figures().iter().any(|file| *file == format!("{folder}/{name}"));
            let read = text.contains(&format!("{folder}/{name}"));
            assert!(name == "README.md" || drawn || read, "{folder}/{name} is never read");
        }
    }
}

fn drawings() -> Vec<Overlay> {
    overlays().expect("computed")
}

/// Files of the figures, below `validation/`.
fn figures() -> Vec<String> {
    let named = |o: Overlay| ["svg", "png"].map(|ending| format!("{}/{}.{ending}", o.folder, o.file));
    drawings().into_iter().flat_map(named).collect()
}

/// The lettering of a drawing, and how many dots of measured points and how many lines it has.
fn content(svg: &str) -> (Vec<&str>, usize, usize) {
    let letters = svg.split("</text>").filter_map(|part| part.rsplit('>').next()).map(str::trim).collect();
    (letters, svg.matches("<circle").count(), svg.matches("<polyline").count())
}

/// Lines may differ in their last digits between machines; what is written and how much is drawn may not.
#[test]
fn committed_figures_show_what_is_computed() {
    for drawing in drawings() {
        let file = validation().join(drawing.folder).join(drawing.file);
        let committed = fs::read_to_string(file.with_extension("svg")).expect("a figure");
        let fresh = figure(&drawing).svg;
        assert_eq!(content(&committed), content(&fresh), "refresh it: quietseat validate --write validation");
        // Two discs make a dot; the legend has three dots of its own.
        assert_eq!(content(&fresh).1, 2 * (drawing.measured.len() + 3), "a measured point is not shown");
        assert!(file.with_extension("png").is_file());
    }
}

#[test]
fn names_of_cases_are_unique() {
    let names: BTreeSet<&str> = OUTCOMES.iter().map(|outcome| outcome.case.name).collect();
    assert_eq!(names.len(), OUTCOMES.len());
}

/// The written part with what may differ between machines taken out: our digits, deviations, and which of many numbers is
/// the furthest off.
fn structure(text: &str) -> Vec<String> {
    let line = |line: &str| {
        let mut cells: Vec<String> = line.split(" | ").map(str::to_owned).collect();
        if cells.len() == 9 {
            let quantity = cells[2].clone();
            if let Some((words, rest)) = quantity.split_once(" (worst of ") {
                let count = rest.split(':').next().unwrap_or_default();
                cells[2] = format!("{words} (worst of {count})");
                cells[4].clear();
            }
            cells[3].clear();
            cells[5].clear();
        }
        cells.join(" | ")
    };
    text.lines().map(line).collect()
}

#[test]
fn readme_is_up_to_date() {
    let readme = fs::read_to_string(validation().join("README.md")).expect("validation/README.md");
    let fresh = book::placed(Some(&readme), &book::markdown(&OUTCOMES)).expect("the README has a place for the table");
    let (committed, fresh) = (structure(&readme), structure(&fresh));
    for (ours, needed) in committed.iter().zip(&fresh) {
        assert_eq!(ours, needed, "refresh it: quietseat validate --write validation");
    }
    assert_eq!(committed.len(), fresh.len(), "refresh it: quietseat validate --write validation");
}

#[test]
fn the_command_shows_what_was_asked_for() {
    let out = quietseat(&["validate", "--only", "KORTEWEG"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let shown = text(&out.stdout);
    assert!(shown.contains("Wave speed in an elastic pipe") && !shown.contains("Sudden stop"), "{shown}");
    assert!(shown.lines().all(|line| line.chars().count() <= 100) && !shown.contains('\u{1b}'), "{shown}");
    let out = quietseat(&["validate", "--only", "allievi", "--json", "--quiet"]);
    let document: Value = serde_json::from_slice(&out.stdout).expect("one JSON document");
    assert_eq!((&document["command"], &document["holds"]), (&Value::from("validate"), &Value::from(true)));
    assert_eq!(document["cases"][0]["folder"], "allievi_1925_closure");
    assert!(document["cases"][0]["checks"][0]["deviation"].as_f64().is_some_and(|size| size < 1e-8));
    assert!(out.stderr.is_empty());
}

#[test]
fn what_cannot_be_done_is_said() {
    let out = quietseat(&["validate", "--only", "no such case"]);
    assert_eq!(out.status.code(), Some(2));
    assert!(text(&out.stderr).contains("leave --only out"), "{}", text(&out.stderr));
    let folder = program::folder("validation-book");
    let write = || quietseat(&["validate", "--quiet", "--write", &folder.to_string_lossy()]);
    assert_eq!(write().status.code(), Some(0));
    let written = fs::read_to_string(folder.join("README.md")).expect("written");
    assert!(written.starts_with("# Validation book") && written.contains("| holds |"));
    assert!(figures().iter().all(|figure| folder.join(figure).is_file()), "figures are written as well");
    fs::write(folder.join("README.md"), "by hand").expect("written");
    let out = write();
    assert_eq!(out.status.code(), Some(2));
    assert!(text(&out.stderr).contains("has no place for the table"), "{}", text(&out.stderr));
    assert_eq!(fs::read_to_string(folder.join("README.md")).expect("read"), "by hand");
}
