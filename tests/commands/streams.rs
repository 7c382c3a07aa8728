//! Where words and data go: nobody who does not listen stops the work, and data that are lost are a failure.

use crate::demo;
use crate::program::{command, folder, text};
use std::fs::OpenOptions;
use std::process::{Command, Output, Stdio};

fn out(name: &str) -> String {
    folder(&format!("streams-{name}")).to_string_lossy().into_owned()
}

/// A device on which nothing can be written: every write fails for want of space.
fn full() -> Stdio {
    OpenOptions::new().write(true).open("/dev/full").expect("the device is there").into()
}

/// The line of a shell, with the program as $Q and the air demo as $AIR.
fn shell(line: &str) -> Output {
    let mut command = Command::new("bash");
    command.args(["-c", line]).env("Q", env!("CARGO_BIN_EXE_quietseat")).env("AIR", demo::path("air-low-differential"));
    command.output().expect("bash is there")
}

/// Every command that is quick, with where it writes.
fn commands() -> Vec<Vec<String>> {
    let air = demo::path("air-low-differential");
    let lines: [&[&str]; 8] = [
        &["check", &air],
        &["check", "--paths", &air],
        &["run", &air, "--out", &out("quick")],
        &["surge", "--out", &out("quick")],
        &["fluids"],
        &["fluid", "water 20 °C"],
        &["validate", "--only", "impact"],
        &["stability", &air, "--no-cures", "--points", "4", "--out", &out("quick")],
    ];
    lines.iter().map(|line| line.iter().map(ToString::to_string).collect()).collect()
}

fn borrowed(line: &[String]) -> Vec<&str> {
    line.iter().map(String::as_str).collect()
}

#[test]
fn talk_that_nobody_hears_stops_nothing() {
    for line in commands() {
        let done = command(&borrowed(&line)).stderr(full()).stdout(Stdio::null()).status().expect("started");
        assert_eq!(done.code(), Some(0), "{line:?}");
    }
    let wrong = command(&["check", "/nonexist"]).stderr(full()).status().expect("started");
    assert_eq!(wrong.code(), Some(2));
    let unknown = command(&["chekc"]).stderr(full()).status().expect("started");
    assert_eq!(unknown.code(), Some(2));
    let closed = shell("\"$Q\" check \"$AIR\" 2>&- >/dev/null; echo $?; \"$Q\" check /nonexist 2>&-; echo $?");
    assert_eq!(text(&closed.stdout), "0\n2\n");
}

#[test]
fn data_that_cannot_be_written_are_a_failure_and_say_so() {
    for line in commands().iter().chain([&vec!["--help".to_owned()], &vec!["--version".to_owned()]]) {
        let lost = command(&borrowed(line)).stdout(full()).output().expect("started");
        assert_eq!(lost.status.code(), Some(2), "{line:?}");
        assert!(text(&lost.stderr).contains("cannot write to standard output"), "{line:?}: {}", text(&lost.stderr));
    }
}

#[test]
fn a_reader_that_has_enough_ends_the_work_quietly() {
    for command in ["check \"$AIR\"", "run \"$AIR\" --out \"$OUT\"", "check --paths \"$AIR\"", "--help", "fluids"] {
        let line = format!("OUT={}; \"$Q\" {command} | head -c 1 >/dev/null; echo ${{PIPESTATUS[0]}}", out("pipe"));
        let done = shell(&line);
        assert_eq!((text(&done.stdout).as_str(), done.status.code()), ("0\n", Some(0)), "{command}");
        assert!(!text(&done.stderr).contains("panicked"), "{command}: {}", text(&done.stderr));
        let both = shell(&line.replace(" | head", " 2>&1 | head"));
        assert_eq!(text(&both.stdout), "0\n", "{command}, both streams");
    }
}

/// Files are limited to 5 KiB each: nothing half written stays, what is kept of a map is told at once, and the words come.
#[test]
fn a_limit_on_the_size_of_a_file_is_told_and_leaves_nothing() {
    let folder = out("limit");
    for command in ["run", "map --set map.x.points=3 --set map.y.points=2"] {
        let done = shell(&format!("ulimit -f 5; \"$Q\" {command} \"$AIR\" -q --out {folder}; echo $? >&2"));
        let said = text(&done.stderr);
        assert!(said.ends_with("2\n") && said.contains("raise the limit on the size of a file"), "{command}: {said}");
        assert!(text(&done.stdout).contains("Estimate for diagnosis"), "{command}: {}", text(&done.stdout));
        assert_eq!(said.contains("what is done cannot be kept"), command != "run", "{command}: {said}");
        let left: Vec<_> = std::fs::read_dir(&folder).expect("made").flatten().map(|e| e.file_name()).collect();
        assert!(left.iter().all(|name| name.to_string_lossy().ends_with(".partial")), "{command}: {left:?}");
    }
}

#[test]
fn more_than_ten_threads_a_core_are_refused() {
    let folder = out("threads");
    let air = demo::path("air-low-differential");
    for name in ["map", "stability", "closing"] {
        let many = command(&[name, &air, "--threads", "100000", "--out", &folder]).output().expect("started");
        assert_eq!(many.status.code(), Some(2));
        assert!(text(&many.stderr).contains("takes at most"), "{}", text(&many.stderr));
    }
}

#[test]
fn a_large_map_says_what_it_takes_before_it_takes_it() {
    let folder = out("large");
    let air = demo::path("air-low-differential");
    let points = ["--set", "map.x.points=1000", "--set", "map.y.points=1000", "--out", &folder];
    let mut child = command(&[&["map", &air], &points[..]].concat()).stderr(Stdio::piped()).spawn().expect("started");
    let mut said = std::io::BufReader::new(child.stderr.take().expect("piped"));
    let mut line = String::new();
    std::io::BufRead::read_line(&mut said, &mut line).expect("said");
    child.kill().expect("running");
    child.wait().expect("ended");
    assert!(line.contains("1000 × 1000 = 1000000 cells") && line.contains("GB of memory"), "{line}");
}
