//! What checks a submission is itself checked: one toolchain, locked dependencies, licences, and plain words where one is missing.

use std::fs;
use std::io::Write;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// The one place where the toolchain's version stands is `rust-version` in Cargo.toml.
const PINNED: &str = env!("CARGO_PKG_RUST_VERSION");

fn file(name: &str) -> String {
    fs::read_to_string(root().join(name)).expect("a file of the project")
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr)
}

/// Commands of a text that begin with cargo, be it after an assignment.
fn cargo_commands(text: &str) -> Vec<&str> {
    let starts = |line: &&str| line.starts_with("cargo ") || line.contains("\" cargo ");
    text.lines().map(str::trim).filter(starts).collect()
}

fn shell_blocks(markdown: &str) -> String {
    markdown.split("```sh\n").skip(1).filter_map(|rest| rest.split("```").next()).collect()
}

#[test]
fn the_pin_is_exact_and_the_readme_names_it() {
    assert_eq!(PINNED.split('.').filter(|part| part.parse::<u32>().is_ok()).count(), 3, "rust-version is `{PINNED}`");
    assert!(file("README.md").contains(&format!("Rust {PINNED} or newer")), "README.md does not name Rust {PINNED}");
}

#[test]
fn every_build_is_of_the_locked_dependencies() {
    let (run, readme) = (file(".ci/run"), shell_blocks(&file("README.md")));
    let commands: Vec<&str> = cargo_commands(&run).into_iter().chain(cargo_commands(&readme)).collect();
    assert!(commands.len() >= 6, "{commands:?}");
    for command in commands {
        assert!(command.contains(" --locked") || command.starts_with("cargo fmt"), "`{command}` takes other crates");
    }
}

#[test]
fn the_last_step_is_the_readmes_test() {
    let run = file(".ci/run");
    let last = run.lines().last().expect("a step");
    assert!(last.starts_with("cargo test"), "`{last}`");
    assert!(shell_blocks(&file("README.md")).lines().any(|line| line == last), "README.md does not have `{last}`");
}

/// A feature that is new must be checked alone and told, and one that is gone must not.
#[test]
fn every_feature_is_checked_alone_and_told() {
    let manifest: toml::Table = file("Cargo.toml").parse().expect("Cargo.toml is TOML");
    let features = manifest["features"].as_table().expect("features").keys();
    let mut wanted: Vec<&str> = features.map(String::as_str).filter(|name| *name != "default").collect();
    wanted.sort_unstable();
    assert!(wanted.len() > 2, "{wanted:?}");

    let (run, developers) = (file(".ci/run"), file("DEVELOPERS.md"));
    let list = run.lines().find_map(|line| line.strip_prefix("for features in \"\" ")).expect("a loop over features");
    let checked: Vec<&str> = list.trim_end_matches("; do").split(' ').collect();
    assert_eq!(checked, wanted, "what .ci/run checks alone");

    let table = developers.split("| feature |").nth(1).and_then(|rest| rest.split("\n\n").next()).expect("a table");
    let mut told: Vec<&str> = table.lines().filter_map(|row| row.strip_prefix("| `")?.split('`').next()).collect();
    told.sort_unstable();
    assert_eq!(told, wanted, "the table in DEVELOPERS.md");
}

fn licences(rows: &str) -> Output {
    let mut script = Command::new("bash")
        .args([".ci/licences", "-"])
        .current_dir(root())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("bash");
    script.stdin.take().expect("an input").write_all(rows.as_bytes()).expect("rows are read");
    script.wait_with_output().expect("an end")
}

#[test]
fn what_the_program_ships_is_permissive() {
    let output = Command::new("bash").arg(".ci/licences").current_dir(root()).output().expect("bash");
    let told = told(&output);
    assert!(output.status.success(), "{told}");
    let row = |words: &[&str]| told.lines().any(|line| words.iter().all(|word| line.contains(word)));
    assert!(row(&["nalgebra ", "in the program", "Apache-2.0"]), "{told}");
    assert!(row(&["serde_derive ", "at build only", "MIT"]), "{told}");
    assert!(row(&["src/output/plot/font ", "embedded", "Bitstream-Vera"]), "{told}");
    assert!(!row(&["quietseat "]), "{told}");
}

#[test]
fn a_licence_that_binds_is_refused() {
    for good in ["MIT", "Unlicense/MIT", "GPL-3.0 OR MIT", "(MIT OR GPL-3.0) AND Unicode-3.0"] {
        assert!(licences(&format!("crate v1.0.0|{good}|in the program\n")).status.success(), "{good}");
    }
    let bad = [
        "",
        "GPL-3.0",
        "MIT AND GPL-3.0",
        "GPL-3.0 OR MIT AND LGPL-2.1",
        "(MIT OR ISC) AND GPL-3.0",
        "MIT-like",
        "(MIT",
    ];
    for bad in bad {
        let output = licences(&format!("good v2|MIT|in the program\nbad v1.0.0|{bad}|in the program\n"));
        let told = told(&output);
        assert!(!output.status.success() && told.contains("licences: bad 1.0.0: "), "{bad}: {told}");
    }
    assert!(!licences("").status.success(), "a program of nothing");
}

/// A machine with nothing but what is put there: a folder of programs, which is all of its path, and a home.
struct Machine {
    folder: PathBuf,
}

impl Machine {
    fn new(name: &str) -> Machine {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("machines").join(name);
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(folder.join("bin")).expect("a folder");
        let machine = Machine { folder };
        let path = std::env::var_os("PATH").expect("a path");
        for tool in ["bash", "sh", "sed", "dirname", "cat", "cp", "chmod"] {
            let real = std::env::split_paths(&path).map(|p| p.join(tool)).find(|p| p.is_file()).expect("a tool");
            symlink(real, machine.folder.join("bin").join(tool)).expect("a link");
        }
        machine
    }

    fn put(&self, program: &str, script: &str) -> &Machine {
        let path = self.folder.join(program);
        fs::write(&path, format!("#!/bin/sh\ncd \"{}\"\n{script}\n", self.folder.display())).expect("a program");
        fs::set_permissions(&path, fs::Permissions::from_mode(0o755)).expect("a program");
        self
    }

    /// A compiler of the version that the file `version` names, with all its parts.
    fn rust(&self, version: &str) -> &Machine {
        fs::write(self.folder.join("version"), version).expect("a version");
        self.put("bin/rustc", "echo \"rustc $(cat version) (0123abc 2026-01-01)\"").put("bin/cargo", "echo cargo")
    }

    fn run(&self, step: &str) -> Output {
        let mut bash = Command::new("bash");
        bash.args(["-c", step]).current_dir(root()).env_clear();
        bash.env("PATH", self.folder.join("bin")).env("HOME", &self.folder).output().expect("bash")
    }

    /// Runs the set-up as `.ci/run` does, and then tells what the next step would see.
    fn set_up(&self) -> Output {
        self.run("set -eu; . .ci/toolchain; echo \"next step: ${RUSTUP_TOOLCHAIN:-as it was}\"")
    }

    fn asked(&self) -> String {
        fs::read_to_string(self.folder.join("asked")).unwrap_or_default()
    }
}

/// A rustup that fetches what it is asked for.
const RUSTUP: &str = "[ \"$1\" = --version ] && exec echo rustup; echo \"$@\" >>asked; echo \"$3\" >version";

#[test]
fn a_machine_without_rust_is_told_what_to_get() {
    let output = Machine::new("bare").set_up();
    let told = told(&output);
    assert_eq!(output.status.code(), Some(1), "{told}");
    for words in [
        "no rustc; no cargo; no cargo fmt; no cargo clippy; no rustup",
        &format!("wanted: rustc {PINNED} "),
        &format!("rustup toolchain install {PINNED} --profile minimal --component rustfmt,clippy"),
        "Debian 12 has none",
    ] {
        assert!(told.contains(words), "`{words}` is not in {told}");
    }
    assert!(!told.contains("next step"), "{told}");
}

#[test]
fn another_version_or_a_missing_part_is_named() {
    let machine = Machine::new("old");
    let told_of_old = told(&machine.rust("1.63.0").set_up());
    assert!(told_of_old.contains("found:  rustc 1.63.0 (0123abc 2026-01-01); cargo; "), "{told_of_old}");
    machine.rust(PINNED).put("bin/cargo", "[ \"$1\" = clippy ] && exit 101; echo cargo");
    let output = machine.set_up();
    assert!(!output.status.success() && told(&output).contains("no cargo clippy"), "{}", told(&output));
}

#[test]
fn what_is_here_is_not_asked_for() {
    let machine = Machine::new("complete");
    let output = machine.rust(PINNED).put("bin/rustup", RUSTUP).set_up();
    assert!(output.status.success() && told(&output).contains("next step: as it was"), "{}", told(&output));
    assert_eq!(machine.asked(), "");
}

#[test]
fn rustup_is_asked_for_what_is_missing() {
    let machine = Machine::new("rustup");
    let output = machine.rust("1.99.0").put("bin/rustup", RUSTUP).set_up();
    assert!(output.status.success(), "{}", told(&output));
    assert!(told(&output).contains(&format!("next step: {PINNED}")), "{}", told(&output));
    assert_eq!(machine.asked(), format!("toolchain install {PINNED} --profile minimal --component rustfmt,clippy\n"));
}

#[test]
fn debian_gives_rustup_where_it_has_it() {
    let machine = Machine::new("debian");
    let output = machine.rust("1.63.0").put("rustup", RUSTUP).put("bin/apt-get", "cp rustup bin/rustup").set_up();
    assert!(output.status.success(), "{}", told(&output));
    let without = Machine::new("older_debian");
    let output = without.rust("1.63.0").put("bin/apt-get", "exit 100").set_up();
    assert!(!output.status.success() && told(&output).contains("no rustup"), "{}", told(&output));
}

#[test]
fn advisories_are_checked_where_their_database_is() {
    let machine = Machine::new("advisories");
    let output = machine.put("bin/cargo", "exit 101").run("bash .ci/advisories");
    assert!(output.status.success() && told(&output).starts_with("advisories: not checked: no database here; "));
    assert_eq!(told(&output).lines().count(), 1, "{}", told(&output));

    fs::create_dir_all(machine.folder.join(".cargo/advisory-dbs/one/crates")).expect("a database");
    let output = machine.run("bash .ci/advisories");
    assert!(output.status.success() && told(&output).contains("but no cargo-audit"), "{}", told(&output));

    machine.put("bin/cargo", "echo \"$@\"; [ \"$2\" = --version ]");
    let output = machine.run("bash .ci/advisories");
    assert!(!output.status.success(), "what the check finds is no success: {}", told(&output));
    assert!(told(&output).contains("advisory-dbs/one --no-fetch"), "{}", told(&output));
    assert!(told(&output).contains("--ignore RUSTSEC-2024-0436"), "{}", told(&output));

    let output = machine.run("ADVISORY_DATABASE=/nowhere bash .ci/advisories");
    assert!(!output.status.success() && told(&output).contains("/nowhere is no advisory database"));
}

#[test]
fn a_page_is_checked_where_its_standard_library_is() {
    let machine = Machine::new("wasm");
    machine.put("bin/cargo", "echo \"$@ $RUSTC_BOOTSTRAP\" >>asked");
    machine.put("bin/rustc", "[ \"$1\" = --print ] && echo \"$PWD/part\" || echo rustc of the toolchain");
    let output = machine.run("bash .ci/wasm");
    assert!(output.status.success() && told(&output).starts_with("wasm: not checked: the toolchain has no standard"));
    assert_eq!((told(&output).lines().count(), machine.asked()), (1, String::new()), "{}", told(&output));

    fs::create_dir_all(machine.folder.join("part")).expect("a part of the toolchain");
    let output = machine.run("bash .ci/wasm");
    assert!(output.status.success() && told(&output).contains("with rustc of the toolchain"), "{}", told(&output));
    assert!(machine.asked().contains("--locked --lib --no-default-features --target wasm32-unknown-unknown"));

    let by_sources = "WASM_RUST=\"$HOME/debian\" bash .ci/wasm";
    let output = machine.run(by_sources);
    assert!(!output.status.success() && told(&output).contains("debian has no usr/bin/rustc"), "{}", told(&output));
    fs::create_dir_all(machine.folder.join("debian/usr/bin")).expect("a folder");
    fs::create_dir_all(machine.folder.join("debian/usr/lib/rustlib/src/rust/library")).expect("a folder");
    let output = machine.put("debian/usr/bin/rustc", "echo rustc of Debian").run(by_sources);
    assert!(output.status.success() && told(&output).contains("with rustc of Debian"), "{}", told(&output));
    assert!(machine.asked().trim_end().ends_with("-Zbuild-std=std,panic_abort 1"), "{}", machine.asked());

    // A fault and a mere warning are both no success, and both are shown.
    for script in ["echo a fault >&2; exit 101", "echo a warning >&2"] {
        let output = machine.put("bin/cargo", script).run("bash .ci/wasm");
        assert!(!output.status.success() && told(&output).starts_with("a "), "{}", told(&output));
    }
}
