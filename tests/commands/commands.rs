//! The program as a user meets it: files, exit codes, messages.

use crate::demo;
use crate::program::{folder, quietseat, text};
use serde_json::Value;
use std::process::Output;

/// A coarse map of the air demo.
const COARSE: [&str; 4] = ["--set", "map.x.points=6", "--set", "map.y.points=5"];

#[test]
fn check_echoes_both_unit_systems_and_values_by_hand() {
    let out = quietseat(&["check", &demo::path("air-low-differential")]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let shown = text(&out.stdout);
    for needed in
        ["0.055 bar", "0.7977 psi", "16 mm", "0.6299 in", "lift off differential", "Kv", "Estimate for diagnosis"]
    {
        assert!(shown.contains(needed), "{needed} is missing in\n{shown}");
    }
}

#[test]
fn run_writes_its_files_and_says_adverse_by_its_exit_code_where_asked() {
    let out = folder("commands-run");
    let run = quietseat(&["run", &demo::path("air-low-differential"), "--out", &out.to_string_lossy(), "--quiet"]);
    assert_eq!(run.status.code(), Some(0), "the work is done: {}", text(&run.stderr));
    assert!(text(&run.stdout).contains("chatters"));
    assert!(text(&run.stderr).is_empty());
    for ending in ["csv", "svg", "png"] {
        let size = out.join(format!("air-low-differential.run.{ending}")).metadata().expect("written").len();
        assert!(size > 1000, "{ending}: {size} bytes");
    }
    let (file, folder) = (demo::path("air-low-differential"), out.to_string_lossy());
    let strict = quietseat(&["run", &file, "--out", &folder, "--quiet", "--strict"]);
    assert_eq!(strict.status.code(), Some(1), "{}", text(&strict.stderr));
    let open = quietseat(&[
        "run",
        &demo::path("air-low-differential"),
        "--strict",
        "--set",
        "supply.differential=0.4 bar",
        "--out",
        &out.to_string_lossy(),
        "-q",
    ]);
    assert_eq!(open.status.code(), Some(0), "{}", text(&open.stdout));
}

#[test]
fn json_is_one_document_with_inputs_numbers_reasons_and_ledger() {
    let out = folder("commands-json");
    let run = quietseat(&[
        "run",
        &demo::path("air-low-differential"),
        "--json",
        "--set",
        "valve.bleed.diameter=0.9 mm",
        "--out",
        &out.to_string_lossy(),
    ]);
    let document: Value = serde_json::from_slice(&run.stdout).expect("stdout is JSON and nothing else");
    assert_eq!(document["overrides"][0], "valve.bleed.diameter=0.9 mm");
    assert!(document["inputs"].as_array().expect("inputs").len() > 40);
    assert!(document["remarks"].as_array().expect("remarks").is_empty(), "{}", document["remarks"]);
    let firm = |name: &str| {
        let rows = document["indicators"].as_array().expect("indicators");
        rows.iter().find(|row| row["name"] == name).expect("an indicator")["firm"].clone()
    };
    assert!(firm("coil_power") == true && firm("hardest_seat_speed") == false);
    assert!(document["verdict"]["not_judged"].as_array().expect("causes").is_empty());
    assert!(document["verdict"]["findings"][0]["reason"].as_str().expect("a reason").len() > 20);
    let residues: Vec<f64> = document["ledger"]
        .as_array()
        .expect("ledger")
        .iter()
        .filter(|row| row["name"].as_str().is_some_and(|n| n.contains("relative")))
        .filter_map(|row| row["value"].as_f64())
        .collect();
    assert!(residues.len() >= 4 && residues.iter().all(|r| *r < 1e-4), "{residues:?}");
    assert!(document["cautions"].as_array().expect("cautions").len() > 3);
}

#[test]
fn a_map_is_equal_for_any_number_of_threads() {
    let bytes = |threads: &str| {
        let out = folder(&format!("commands-threads{threads}"));
        let mut arguments = vec!["map".to_owned(), demo::path("air-low-differential")];
        arguments.extend(COARSE.iter().map(ToString::to_string));
        arguments.extend(["--out".into(), out.to_string_lossy().into_owned(), "-q".into()]);
        arguments.extend(["--threads".into(), threads.into()]);
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let run = quietseat(&arguments);
        assert!(matches!(run.status.code(), Some(0)), "{}", text(&run.stderr));
        let read =
            |ending: &str| std::fs::read(out.join(format!("air-low-differential.map.{ending}"))).expect("written");
        (read("csv"), read("svg"), read("png"))
    };
    let one = bytes("1");
    assert!(text(&one.0).lines().count() == 31, "a header and a row for each cell");
    for threads in ["2", "7"] {
        assert!(bytes(threads) == one, "{threads} threads differ from one");
    }
}

#[test]
fn mistakes_are_named_with_place_and_remedy() {
    let out = folder("commands-mistakes");
    let file = out.join("wrong.toml");
    std::fs::create_dir_all(&out).expect("a folder");
    let good = std::fs::read_to_string(demo::path("air-low-differential")).expect("the demo");
    let bad = good.replace("diameter = \"1.0 mm\"", "diametre = \"1.0 mm\"").replace("\"2 bar(a)\"", "\"2 bar\"");
    std::fs::write(&file, bad).expect("writable");
    let check = quietseat(&["check", &file.to_string_lossy()]);
    assert_eq!(check.status.code(), Some(2));
    let said = text(&check.stderr);
    for needed in ["diametre", "diameter", "bar(a)", "bar(g)", "wrong.toml:"] {
        assert!(said.contains(needed), "{needed} is missing in\n{said}");
    }
    let unknown = quietseat(&["check", &demo::path("air-low-differential"), "--set", "valve.bleed.diametr=1 mm"]);
    assert_eq!(unknown.status.code(), Some(2));
    assert!(text(&unknown.stderr).contains("valve.bleed.diameter"));
    let missing = quietseat(&["run", "no-such-file.toml"]);
    assert_eq!(missing.status.code(), Some(2));
    assert!(text(&missing.stderr).contains("no-such-file.toml"));
}

#[test]
fn a_sink_below_saturation_is_refused_with_the_reason() {
    let run = quietseat(&[
        "run",
        &demo::path("water-bang"),
        "--set",
        "sink.pressure=0.01 bar(a)",
        "--out",
        &folder("commands-flash").to_string_lossy(),
    ]);
    assert_eq!(run.status.code(), Some(2));
    let said = text(&run.stderr);
    assert!(said.contains("vapour pressure") && said.contains("throttle"), "{said}");
}

#[test]
fn an_output_that_cannot_be_written_is_found_before_the_work() {
    let blocked = folder("commands-blocked");
    std::fs::create_dir_all(&blocked).expect("a folder");
    let file = blocked.join("file");
    std::fs::write(&file, "in the way").expect("writable");
    let run = quietseat(&["run", &demo::path("air-low-differential"), "--out", &file.to_string_lossy()]);
    assert_eq!(run.status.code(), Some(2));
    assert!(text(&run.stderr).contains("file"), "{}", text(&run.stderr));
}

/// A map of the blend demo of two by two cells.
fn blend_map(out: &str, settings: &[&str], options: &[&str]) -> Output {
    let (file, out) = (demo::path("blend-liquid"), folder(&format!("commands-{out}")).to_string_lossy().into_owned());
    let mut arguments = vec!["map", &file, "--out", &out, "--set", "map.x.points=2", "--set", "map.y.points=2"];
    arguments.extend(settings.iter().flat_map(|setting| ["--set", *setting]));
    arguments.extend(options);
    quietseat(&arguments)
}

#[test]
fn a_map_on_which_every_cell_would_boil_is_an_error_with_the_first_reason() {
    let warm = ["map.x.from=30 kW", "map.y.from=0.3 K", "map.y.to=0.8 K"];
    let map = blend_map("all-boil", &warm, &[]);
    assert_eq!(map.status.code(), Some(2));
    let said = text(&map.stderr);
    assert!(said.contains("in all 4 cells the liquid would boil; the first: [flow]: at"), "{said}");
    assert!(!said.contains("failed"), "{said}");
}

#[test]
fn an_own_point_that_would_boil_is_adverse() {
    let over = ["map.x.from=5 kW", "map.y.from=1 K", "flow.refrigerating_duty=40 kW", "fluid.named.subcooling=1 K"];
    let map = blend_map("own-boil", &over, &["--strict"]);
    assert_eq!(map.status.code(), Some(1), "{}", text(&map.stderr));
    assert!(text(&map.stdout).contains("~@"), "{}", text(&map.stdout));
    let json = blend_map("own-boil-json", &over, &["--json"]);
    assert_eq!(json.status.code(), Some(0), "{}", text(&json.stderr));
    let document: Value = serde_json::from_slice(&json.stdout).expect("JSON");
    assert_eq!(document["map"]["adverse"], true);
    // The same duty over a limit that the scenario does not state: no own point, and so no verdict at it.
    let unknown = ["map.y.path=limits.coil_temperature", "map.y.from=100 °C", "map.y.to=150 °C"];
    let map = blend_map("no-own-point", &[&over[..1], &over[2..], &unknown].concat(), &["--strict"]);
    assert_eq!(map.status.code(), Some(0), "{}", text(&map.stderr));
    assert!(
        text(&map.stdout).contains("no value for the highest allowed winding temperature"),
        "{}",
        text(&map.stdout)
    );
}

#[test]
fn a_map_that_cannot_be_is_refused_before_it_writes_anything() {
    let (file, out) = (demo::path("liquid-refrigerant"), folder("commands-unmappable"));
    let flow = "flow.mass_flow=0.1 kg/s";
    let map = quietseat(&["map", &file, "--set", flow, "--out", &out.to_string_lossy()]);
    assert_eq!(map.status.code(), Some(2));
    let said = text(&map.stderr);
    assert!(said.contains("none of the 384 cells") && said.contains("refrigerating_effect"), "{said}");
    assert!(!out.exists(), "nothing is written");
}

/// A run that could bang on opening says so in text, figure and JSON; a coil on the wrong voltage is remarked on.
#[test]
fn what_is_not_judged_and_odd_reaches_every_output() {
    let (file, out) = (demo::path("liquid-refrigerant"), folder("commands-reservation"));
    let voltage = "valve.coil.direct.voltage=48 V";
    let with = |option: &str| quietseat(&["run", &file, "--set", voltage, "--out", &out.to_string_lossy(), option]);
    let run = with("--all");
    let shown = text(&run.stdout);
    assert!(shown.contains("opens fully (margin") && shown.contains("; a bang on opening is not judged"), "{shown}");
    assert!(text(&run.stderr).contains("this winding draws"), "{}", text(&run.stderr));
    let figure = std::fs::read_to_string(out.join("liquid-refrigerant.run.svg")).expect("written");
    assert!(figure.contains("A bang on opening is not judged") && figure.contains("Verdict: opens fully"));
    let document: Value = serde_json::from_slice(&with("--json").stdout).expect("JSON");
    assert!(document["verdict"]["not_judged"][0].as_str().expect("a cause").contains("drains the line"));
    assert!(document["remarks"][0].as_str().expect("a remark").contains("is for about 23 V"));
}

/// The commands of a newcomer and of a script: done is 0, whatever the verdict, unless the script asks for it.
#[test]
fn help_says_what_the_exit_codes_mean() {
    let said = text(&quietseat(&["--help"]).stdout);
    assert!(said.contains("0 done, whatever the verdict") && said.contains("--strict"), "{said}");
    for command in ["run", "map", "stability", "closing"] {
        assert!(text(&quietseat(&[command, "--help"]).stdout).contains("--strict"), "{command}");
    }
}

/// A remark is a sentence, and the excerpt of the file stays beside the place on stderr.
#[test]
fn a_remark_does_not_run_into_the_excerpt_of_its_file() {
    let (file, out) = (demo::path("air-low-differential"), folder("commands-remark"));
    let wrong = out.join("wrong.toml");
    std::fs::create_dir_all(&out).expect("a folder");
    std::fs::write(&wrong, format!("like = '{file}'\n[supply]\ndifferential = '-0.06 bar'\n")).expect("writable");
    let run = quietseat(&["run", &*wrong.to_string_lossy(), "--out", &*out.to_string_lossy()]);
    let (shown, said) = (text(&run.stdout), text(&run.stderr));
    let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(shown.contains("the supply is not above the sink") && !shown.contains("^^^"), "{shown}");
    assert!(said.contains("   3 | differential = '-0.06 bar'") && said.contains("^^^"), "{said}");
}
