//! Crates that nobody maintains any more: `.ci/unmaintained.toml` and `Cargo.lock` say the same.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use serde::Deserialize;

#[derive(Deserialize)]
struct Lock {
    package: Vec<Package>,
}

#[derive(Deserialize)]
struct Package {
    name: String,
    #[serde(default)]
    dependencies: Vec<String>,
}

impl Package {
    /// A dependency is told by its name, followed by its version where there are several.
    fn asks_for(&self, name: &str) -> bool {
        self.dependencies.iter().any(|d| d.split(' ').next() == Some(name))
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Unmaintained {
    reason: String,
    instead: String,
    accepted: Option<String>,
    #[serde(default)]
    path: Vec<String>,
}

fn file(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).expect("a file of the project")
}

/// What the list and the lock file disagree on.
fn faults(lock: &str, list: &str) -> Vec<String> {
    let lock: Lock = toml::from_str(lock).expect("a lock file");
    let list: BTreeMap<String, Unmaintained> = toml::from_str(list).expect("a list of crates");
    list.iter().filter_map(|(name, entry)| fault(&lock, name, entry)).collect()
}

fn fault(lock: &Lock, name: &str, entry: &Unmaintained) -> Option<String> {
    let dependants: BTreeSet<&str> =
        lock.package.iter().filter(|p| p.asks_for(name)).map(|p| p.name.as_str()).collect();
    let (reason, instead) = (&entry.reason, &entry.instead);
    let told = entry.accepted.is_some() || !entry.path.is_empty();
    if !lock.package.iter().any(|p| p.name == name) {
        return told.then(|| format!("{name} is no longer in Cargo.lock: delete its `accepted` and `path`"));
    }
    if entry.accepted.is_none() {
        return Some(format!(
            "{name} ({reason}) is in Cargo.lock through {dependants:?}: take {instead}, or state `accepted` and `path`"
        ));
    }
    if let Some(wrong) = entry.path.iter().find(|path| !holds(lock, path, name)) {
        return Some(format!("{name}: Cargo.lock has no path `{wrong}`; see cargo tree --invert {name}"));
    }
    let told: BTreeSet<&str> = entry.path.iter().filter_map(|path| path.rsplit(" > ").nth(1)).collect();
    (told != dependants).then(|| format!("{name}: paths through {told:?} are told, it comes through {dependants:?}"))
}

/// Does the path lead from the program to the crate?
fn holds(lock: &Lock, path: &str, name: &str) -> bool {
    let steps: Vec<&str> = path.split(" > ").collect();
    let asked = |pair: &[&str]| lock.package.iter().any(|p| p.name == pair[0] && p.asks_for(pair[1]));
    steps.first() == Some(&env!("CARGO_PKG_NAME")) && steps.last() == Some(&name) && steps.windows(2).all(asked)
}

#[test]
fn the_list_says_what_the_lock_file_has() {
    let found = faults(&file("Cargo.lock"), &file(".ci/unmaintained.toml"));
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn an_unmaintained_crate_that_comes_in_is_found() {
    let lock = file("Cargo.lock") + "\n[[package]]\nname = \"ttf-parser\"\nversion = \"0.25.1\"\n";
    let found = faults(&lock, &file(".ci/unmaintained.toml"));
    assert!(
        found.len() == 1 && found[0].starts_with("ttf-parser (given up") && found[0].contains("skrifa"),
        "{found:?}"
    );
}

const LOCK: &str = r#"
    package = [
        { name = "quietseat", dependencies = ["a", "b"] },
        { name = "a", dependencies = ["old 1.0.0"] },
        { name = "b", dependencies = ["older"] },
        { name = "old" },
        { name = "older" },
    ]"#;

fn entry(rest: &str) -> String {
    format!("[old]\nreason = \"no one left\"\ninstead = \"new\"\n{rest}")
}

#[test]
fn an_entry_must_be_true() {
    assert!(faults(LOCK, &entry("accepted = \"X\"\npath = [\"quietseat > a > old\"]")).is_empty());
    let untrue = [
        ("", "state `accepted`"),
        ("accepted = \"X\"\npath = [\"quietseat > b > old\"]", "has no path `quietseat > b > old`"),
        ("accepted = \"X\"\npath = [\"a > old\"]", "has no path `a > old`"),
        ("accepted = \"X\"\npath = [\"quietseat > a\"]", "has no path `quietseat > a`"),
        ("accepted = \"X\"", "it comes through {\"a\"}"),
    ];
    for (rest, complaint) in untrue {
        let found = faults(LOCK, &entry(rest));
        assert!(found.len() == 1 && found[0].contains(complaint), "{rest}: {found:?}");
    }
    let second = LOCK.replace("\"older\"]", "\"old\"]");
    let found = faults(&second, &entry("accepted = \"X\"\npath = [\"quietseat > a > old\"]"));
    assert!(found.len() == 1 && found[0].contains("it comes through {\"a\", \"b\"}"), "{found:?}");
}

#[test]
fn an_entry_for_a_crate_that_has_gone_must_go() {
    let gone = LOCK.replace("\"old 1.0.0\"", "").replace("{ name = \"old\" },", "");
    let found = faults(&gone, &entry("accepted = \"X\"\npath = [\"quietseat > a > old\"]"));
    assert!(found.len() == 1 && found[0].contains("no longer in Cargo.lock"), "{found:?}");
    assert!(faults(&gone, &entry("")).is_empty());
}
