//! Commands that are stopped at any time: nothing is half written, and what they did is done again to the same bytes.

use crate::demo;
use crate::program;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::time::Duration;

const AIR: &str = "air-low-differential";
/// A coarse map of the air demo, with boundaries to refine and a line by theory.
const COARSE: [&str; 4] = ["--set", "map.x.points=6", "--set", "map.y.points=5"];

/// Kills in each phase, unless stated.
const FEW: u64 = 3;

/// Kills in each phase; by the environment variable many more.
fn kills() -> u64 {
    std::env::var("QUIETSEAT_KILLS").ok().and_then(|text| text.parse().ok()).unwrap_or(FEW)
}

fn folder(name: &str) -> PathBuf {
    let folder = program::folder(&format!("stopped-{name}"));
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn quietseat(arguments: &[&str]) -> Command {
    let mut command = program::command(arguments);
    command.stdin(Stdio::null()).stdout(Stdio::null());
    command
}

fn said(out: &Output) -> String {
    program::text(&out.stderr)
}

fn signal(child: &Child, name: &str) {
    let sent = Command::new("kill").args(["-s", name, &child.id().to_string()]).stderr(Stdio::null()).status();
    sent.expect("kill is there");
}

/// The command in a folder.
fn in_folder(command: &str, demo: &str, options: &[&str], out: &Path) -> Command {
    let (file, out) = (demo::path(demo), out.to_string_lossy().into_owned());
    let mut arguments = vec![command, &file, "--out", &out];
    arguments.extend(options);
    quietseat(&arguments)
}

/// Files of a folder by name, hidden ones too.
fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut all: Vec<(String, Vec<u8>)> = std::fs::read_dir(folder)
        .expect("a folder")
        .flatten()
        .map(|e| (e.file_name().to_string_lossy().into_owned(), std::fs::read(e.path()).expect("a file")))
        .collect();
    all.sort();
    all
}

/// Files in which interrupted maps keep what they have.
fn kept(folder: &Path) -> Vec<PathBuf> {
    let names = files(folder).into_iter().map(|(name, _)| name).filter(|name| name.ends_with(".partial"));
    names.map(|name| folder.join(name)).collect()
}

/// What stands in the folder under its own name is whole; what a kill leaves beside is hidden.
fn assert_nothing_half_written(out: &Path, whole: &[(String, Vec<u8>)], how: &str) {
    for (name, content) in files(out) {
        let hidden = name.starts_with('.') && name.ends_with(".part");
        let own = whole.iter().any(|(one, same)| *one == name && *same == content);
        assert!(own || name.ends_with(".partial") || (hidden && how.contains("KILL")), "{how}: {name} is there");
    }
}

/// Waits until the command says that a stage has begun.
fn wait_for(child: &mut Child, stage: &str) -> BufReader<std::process::ChildStderr> {
    let mut lines = BufReader::new(child.stderr.take().expect("piped"));
    let mut line = String::new();
    while lines.read_line(&mut line).is_ok_and(|read| read > 0) {
        if line.contains(stage) {
            break;
        }
        line.clear();
    }
    lines
}

#[test]
fn a_map_stopped_in_any_phase_goes_on_to_the_same_bytes() {
    let whole = folder("map-whole");
    assert!(in_folder("map", AIR, &COARSE, &whole).status().expect("started").success());
    let whole = files(&whole);
    assert_eq!(whole.len(), 3, "a finished map leaves its files only");
    // What is said as a phase begins, and how long it takes, ms.
    for (phase, stage, takes) in
        [("cells", "cells on", 500), ("boundaries", "boundaries", 1500), ("theory", "theory", 400)]
    {
        let (mut stopped, out) = (0, folder(&format!("map-{phase}")));
        for number in 0..kills() {
            let name = ["INT", "TERM", "KILL"][number as usize % 3];
            let wait = takes * number / kills();
            let how = format!("{phase} after {wait} ms by {name}");
            let mut child = in_folder("map", AIR, &COARSE, &out).stderr(Stdio::piped()).spawn().expect("started");
            let mut rest = wait_for(&mut child, stage);
            std::thread::sleep(Duration::from_millis(wait));
            signal(&child, name);
            let mut told = String::new();
            let _ = std::io::Read::read_to_string(&mut rest, &mut told);
            let code = child.wait().expect("ended").code();
            let done = told.contains("wrote ");
            assert_nothing_half_written(&out, &whole, &how);
            if !done && name != "KILL" {
                assert_eq!(code, Some(2), "{how}: {told}");
                assert!(told.contains("interrupted; no map is written") && told.contains("--resume"), "{how}: {told}");
                assert_eq!(kept(&out).len(), 1, "{how}");
                stopped += 1;
            }
            let again = in_folder("map", AIR, &[&COARSE[..], &["--resume"]].concat(), &out).output().expect("started");
            assert_eq!(again.status.code(), Some(0), "{how}: {}", said(&again));
            assert!(!said(&again).contains("damaged"), "{how}: {}", said(&again));
            assert!(files(&out) == whole, "{how}: other files than those of an uninterrupted map");
        }
        assert!(stopped > 0, "no kill fell into the phase of the {phase}");
    }
}

#[test]
fn run_closing_and_stability_leave_whole_files_or_none() {
    let studies: [(&str, &str, &[&str], u64); 3] = [
        ("run", AIR, &[], 700),
        ("stability", AIR, &["--no-cures", "--points", "12"], 1200),
        ("closing", "water-closing", &[], 6000),
    ];
    // The study of a closing takes half a minute: it is stopped where many kills are asked for.
    let short = if kills() > FEW { studies.len() } else { 2 };
    for (command, demo, options, takes) in studies.into_iter().take(short) {
        let whole = folder(&format!("{command}-whole"));
        let begun = std::time::Instant::now();
        assert!(in_folder(command, demo, options, &whole).status().expect("started").success());
        let takes = begun.elapsed().as_millis().max(u128::from(takes) / 10) as u64;
        let (whole, out) = (files(&whole), folder(command));
        for number in 0..kills() {
            let name = ["INT", "TERM", "KILL"][number as usize % 3];
            // Mostly towards the end, where files are written.
            let wait = takes * (kills() + 3 * number) / (4 * kills());
            let how = format!("{command} after {wait} ms by {name}");
            let mut child = in_folder(command, demo, options, &out).stderr(Stdio::null()).spawn().expect("started");
            std::thread::sleep(Duration::from_millis(wait));
            signal(&child, name);
            child.wait().expect("ended");
            assert_nothing_half_written(&out, &whole, &how);
        }
        assert!(in_folder(command, demo, options, &out).status().expect("started").success());
        assert!(files(&out) == whole, "{command}: other files than those of an uninterrupted one");
    }
}

/// One column lost, one digit changed, one line exchanged: each is computed again and told, and the bytes are the same.
#[test]
fn damaged_lines_are_computed_again_and_told() {
    let (whole, out) = (folder("damage-whole"), folder("damage"));
    assert!(in_folder("map", AIR, &COARSE, &whole).status().expect("started").success());
    let mut child = in_folder("map", AIR, &COARSE, &out).stderr(Stdio::piped()).spawn().expect("started");
    let rest = wait_for(&mut child, "theory");
    signal(&child, "INT");
    child.wait().expect("ended");
    drop(rest);
    let partial = kept(&out).remove(0);
    let text = std::fs::read_to_string(&partial).expect("kept");
    let lines: Vec<&str> = text.lines().collect();
    assert!(lines.len() > 7, "{}", lines.len());
    let shortened =
        lines[1].rsplit_once(",{").map_or_else(|| lines[1][..40].to_owned(), |(head, _)| format!("{head}]}}}}"));
    let digit = lines[2].rfind(|c: char| c.is_ascii_digit()).expect("a number");
    let other = if lines[2].as_bytes()[digit] == b'7' { "8" } else { "7" };
    let changed = format!("{}{other}{}", &lines[2][..digit], &lines[2][digit + 1..]);
    let torn = &lines[3][..lines[3].len() / 2];
    let damaged =
        [lines[0], &shortened, &changed, torn].iter().chain(&lines[4..]).fold(String::new(), |all, l| all + l + "\n");
    let go_on = |text: &str, told: &[&str]| {
        std::fs::write(&partial, text).expect("writable");
        let again = in_folder("map", AIR, &[&COARSE[..], &["--resume"]].concat(), &out).output().expect("started");
        assert_eq!(again.status.code(), Some(0), "{}", said(&again));
        for words in told {
            assert!(said(&again).contains(words), "{words}: {}", said(&again));
        }
        assert!(files(&out) == files(&whole));
    };
    go_on(&damaged, &["kept from before: 3 columns", "lines 2, 3, 4 are damaged: what they kept is computed again"]);
    go_on(&text.replacen("\"inputs\":", "\"inputs\":1", 1), &["nothing is kept", "its first line is damaged"]);
    go_on("", &["nothing is kept"]);
    // By the same name, though of other inputs: none of it is used.
    let mut changed = vec!["--set", "valve.bleed.diameter=0.99 mm"];
    changed.extend(COARSE);
    let mut child = in_folder("map", AIR, &changed, &out).stderr(Stdio::piped()).spawn().expect("started");
    drop(wait_for(&mut child, "boundaries"));
    signal(&child, "INT");
    child.wait().expect("ended");
    std::fs::rename(kept(&out).remove(0), &partial).expect("moved");
    let again = in_folder("map", AIR, &[&COARSE[..], &["--resume"]].concat(), &out).output().expect("started");
    assert!(said(&again).contains("comes from other inputs"), "{}", said(&again));
    assert!(files(&out) == files(&whole));
}

/// A trial with another value leaves what is kept of a map alone, and says that it is there.
#[test]
fn maps_with_other_inputs_keep_apart() {
    let out = folder("apart");
    let start = |options: &[&str]| {
        let mut child = in_folder("map", AIR, options, &out).stderr(Stdio::piped()).spawn().expect("started");
        let rest = wait_for(&mut child, "boundaries");
        (child, rest)
    };
    let stop = |(child, rest): (Child, BufReader<std::process::ChildStderr>)| {
        signal(&child, "INT");
        let out = child.wait_with_output().expect("ended");
        drop(rest);
        assert_eq!(out.status.code(), Some(2));
    };
    let other = [&COARSE[..], &["--set", "supply.differential=0.06 bar"]].concat();
    let (one, two) = (start(&COARSE), start(&other));
    stop(one);
    stop(two);
    assert_eq!(kept(&out).len(), 2);
    for options in [&COARSE[..], &other] {
        let again = in_folder("map", AIR, &[options, &["--resume"]].concat(), &out).output().expect("started");
        assert!(said(&again).contains("kept from before: 6 columns"), "{}", said(&again));
    }
    assert!(kept(&out).is_empty());
    stop(start(&COARSE));
    let trial = in_folder("map", AIR, &other, &out).output().expect("started");
    assert!(
        said(&trial).contains("left alone in the same folder: 1 interrupted map of this scenario"),
        "{}",
        said(&trial)
    );
    assert_eq!(kept(&out).len(), 1, "it is left alone");
}

/// What is no regular file in the place of the kept part is neither read nor replaced.
#[test]
fn links_and_pipes_in_the_place_of_the_kept_part_are_refused() {
    let out = folder("in-the-way");
    let mut child = in_folder("map", AIR, &COARSE, &out).stderr(Stdio::piped()).spawn().expect("started");
    drop(wait_for(&mut child, "boundaries"));
    signal(&child, "KILL");
    child.wait().expect("ended");
    let partial = kept(&out).remove(0);
    std::fs::remove_file(&partial).expect("there");
    let precious = out.join("precious");
    std::fs::write(&precious, "mine").expect("writable");
    let refused = |what: &str| {
        let map = in_folder("map", AIR, &[&COARSE[..], &["--resume"]].concat(), &out).output().expect("started");
        assert_eq!(map.status.code(), Some(2), "{}", said(&map));
        assert!(said(&map).contains(what) && said(&map).contains("move what is there away"), "{}", said(&map));
        std::fs::remove_file(&partial).expect("still there");
    };
    std::os::unix::fs::symlink(&precious, &partial).expect("linked");
    refused("it is a link");
    assert!(Command::new("mkfifo").arg(&partial).status().expect("mkfifo is there").success());
    refused("a device, a pipe or a socket");
    assert_eq!(std::fs::read(&precious).expect("there"), b"mine");
}
