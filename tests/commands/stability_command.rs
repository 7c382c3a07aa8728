//! `quietseat stability` as a user meets it: explanation, numbers, files, exit codes, messages, figure.

use crate::demo;
use crate::program::{self, folder, text};
use quietseat::output::figure::Figure;
use quietseat::output::figure::stability::stability as figure;
use quietseat::output::text::{Colouring, stability_text};
use quietseat::output::{csv, json};
use quietseat::study::stability::curve::CurvePoint;
use quietseat::study::stability::point::Answer;
use quietseat::study::stability::{StabilityJob, StabilityStudy, stability};
use serde_json::Value;
use std::path::Path;
use std::process::{Command, Output};
use std::sync::OnceLock;

const CAUTION: &str = "A model, not a measurement.";

/// Two that cure the air demo, one in a window only and one in no way.
const LEVERS: [&str; 4] = ["supply.differential", "valve.main.preload", "downstream.length", "valve.bleed.diameter"];

fn quietseat(name: &str, out: &Path, more: &[&str]) -> Output {
    let (file, out) = (demo::path(name), out.to_string_lossy().into_owned());
    let arguments = ["stability", &file, "--points", "12", "--out", &out];
    program::command(&arguments).args(more).env("COLUMNS", "80").output().expect("the program starts")
}

/// The study of the air demo, made once.
fn air() -> &'static StabilityStudy {
    static STUDY: OnceLock<StabilityStudy> = OnceLock::new();
    STUDY.get_or_init(|| {
        let document = demo::open("air-low-differential");
        let job = StabilityJob { points: 24, only: Some(&LEVERS), ..StabilityJob::default() };
        stability(&document, &job).expect("a study")
    })
}

/// The first number that stands before a unit in a text.
fn number_before(text: &str, unit: &str) -> f64 {
    let words: Vec<&str> = text.split_whitespace().collect();
    let at = words.iter().position(|w| w.trim_end_matches([',', '.', ')', ':']) == unit).expect("the unit is written");
    words[at - 1].trim_start_matches('(').parse().expect("a number before its unit")
}

#[test]
fn the_air_demo_is_explained_and_adverse() {
    let out = folder("stability-air");
    let run = quietseat("air-low-differential", &out, &["--strict"]);
    let shown = text(&run.stdout);
    assert_eq!(run.status.code(), Some(1), "{}", text(&run.stderr));
    // The demo's own text says that it strikes its seat some fifty times a second.
    let frequency = number_before(&shown, "Hz");
    assert!((45.0..70.0).contains(&frequency), "{frequency}\n{shown}");
    for needed in [
        "oscillation grows",
        "lags the differential across it by",
        "feeds",
        "Each of these alone is quiet in simulated runs",
        "Simulated, it chatters",
        "What quiets it, on site",
        "What quiets it, by the valve's maker only",
        "valve.main.preload=1.9",
        "Quiet only in a narrow window",
        "The onset is hard",
        "Equilibria at 0.055 bar",
        "by hand",
        "preload on the main seat",
        "Estimate for diagnosis",
    ] {
        assert!(shown.replace('\n', " ").contains(needed), "{needed} is missing in\n{shown}");
    }
    assert!(!shown.contains('\u{1b}'), "colour only on terminals");
    let said = text(&run.stderr);
    for ending in ["csv", "svg", "png"] {
        let name = format!("air-low-differential.stability.{ending}");
        assert!(said.contains(&name), "{said}");
        assert!(out.join(&name).metadata().expect("written").len() > 1000, "{name}");
    }
}

#[test]
fn more_differential_is_quiet_by_the_exit_code() {
    let run = quietseat(
        "air-low-differential",
        &folder("stability-quiet"),
        &["--set", "supply.differential=0.1 bar", "-q", "--strict"],
    );
    let shown = text(&run.stdout);
    assert_eq!(run.status.code(), Some(0), "{shown}\n{}", text(&run.stderr));
    assert!(
        shown.contains("changed: supply.differential=0.1 bar") && shown.contains("Small disturbances die."),
        "{shown}"
    );
    assert!(
        !shown.contains("What quiets it") && shown.contains("Simulated, it floats steadily"),
        "nothing grows, nothing is to be damped:\n{shown}"
    );
    assert!(text(&run.stderr).is_empty());
}

/// Beyond a hard boundary small motions die and yet the opened valve flutters: the run is told, and it decides.
#[test]
fn a_quiet_point_close_to_a_hard_boundary_is_not_trusted() {
    let at = ["--set", "supply.differential=0.068 bar", "-q", "--strict"];
    let theory = quietseat("air-low-differential", &folder("stability-near"), &[&at[..], &["--no-cures"]].concat());
    assert_eq!(theory.status.code(), Some(0));
    let said = text(&theory.stdout).replace('\n', " ");
    assert!(said.contains("0.068 bar may be near enough for that") && !said.contains("Simulated"), "{said}");
    let document = demo::open("air-low-differential");
    let near = document.with_setting("supply.differential=0.068 bar").expect("a setting");
    let job = StabilityJob { points: 12, only: Some(&["supply.differential"]), ..StabilityJob::default() };
    let study = stability(&near, &job).expect("a study");
    assert!(!study.here.adverse() && study.adverse(), "{:?}", study.sentences);
    let said = study.sentences.join(" ");
    assert!(said.contains("Simulated, it ") && !said.contains("may be near enough"), "{said}");
    let (attempt, cure) = study.cures().next().expect("a little more differential cures it");
    assert!(attempt.theory.is_none() && cure.value > 6.8e3 && cure.value < 7.5e3, "{cure:?}");
}

#[test]
fn a_sink_above_the_supply_is_refused_with_the_remedy() {
    let out = folder("stability-backwards");
    let file = out.join("backwards.toml");
    std::fs::create_dir_all(&out).expect("a folder");
    let good = demo::text("air-low-differential");
    std::fs::write(&file, good.replace("differential = \"0.055 bar\"", "pressure = \"1.5 bar(a)\"")).expect("writable");
    let run = Command::new(env!("CARGO_BIN_EXE_quietseat"))
        .args(["stability", &file.to_string_lossy(), "--out", &out.to_string_lossy()])
        .output()
        .expect("the program starts");
    assert_eq!(run.status.code(), Some(2), "{}", text(&run.stdout));
    let said = text(&run.stderr);
    assert!(said.contains("supply.pressure") && said.contains("sink.pressure"), "{said}");
}

#[test]
fn a_range_is_read_with_its_units_and_checked() {
    let out = folder("stability-range");
    let run = quietseat("air-low-differential", &out, &["--from", "1 psi", "--to", "100 mbar", "-q", "--no-cures"]);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    let table = std::fs::read_to_string(out.join("air-low-differential.stability.csv")).expect("written");
    let first = |line: &str| line.split(',').next().and_then(|n| n.parse::<f64>().ok()).expect("a number");
    let lines: Vec<&str> = table.lines().skip(1).collect();
    assert!((first(lines[0]) - 0.068_947_6).abs() < 1e-6, "{}", lines[0]);
    assert!((first(lines[lines.len() - 1]) - 0.1).abs() < 1e-9);
    for (from, to, remedy) in
        [("0.1", "1 bar", "no unit"), ("1 bar", "0.1 bar", "--from '0.03 bar'"), ("1 K", "1 bar", "--from")]
    {
        let run = quietseat("air-low-differential", &out, &["--from", from, "--to", to]);
        assert_eq!(run.status.code(), Some(2));
        assert!(text(&run.stderr).contains(remedy), "{}", text(&run.stderr));
    }
}

#[test]
fn json_holds_the_study_in_base_units() {
    let run = quietseat("air-low-differential", &folder("stability-json"), &["--json", "-q", "--no-cures"]);
    let document: Value = serde_json::from_slice(&run.stdout).expect("stdout is JSON and nothing else");
    assert_eq!(document["command"], "stability");
    let part = &document["stability"];
    assert_eq!(part["differential"].as_f64().map(f64::round), Some(5500.0));
    assert_eq!(part["units"]["differential"], "Pa");
    assert_eq!(part["adverse"], true);
    let mode = &part["equilibria"][0]["modes"][0];
    let shares: f64 = mode["shares"].as_object().expect("shares").values().filter_map(Value::as_f64).sum();
    assert!((shares - 1.0).abs() < 1e-9, "{shares}");
    // e^(σ/f) and ln 2/σ must tell the same growth.
    let (growth, frequency) =
        (mode["growth"].as_f64().expect("growth"), mode["frequency"].as_f64().expect("frequency"));
    let per_cycle = mode["growth_per_cycle"].as_f64().expect("a factor");
    assert!((per_cycle.ln() * frequency / growth - 1.0).abs() < 1e-9);
    assert!(part["simulated"].is_null() && part["cures"].as_array().is_some_and(Vec::is_empty));
    assert!(document["verdict"].is_null() && document["map"].is_null());
}

#[test]
fn json_holds_the_cures_and_what_is_none() {
    let part = serde_json::to_value(json::stability_part(air())).expect("JSON");
    assert_eq!(part["simulated"]["behaviour"], "chatters");
    let cures = part["cures"].as_array().expect("cures");
    let cure = cures.iter().find(|c| c["path"] == "valve.main.preload").expect("preload");
    assert_eq!((&cure["unit"], &cure["by"], &cure["direction"]), (&"N".into(), &"maker".into(), &"less".into()));
    let needed = cure["needed"].as_f64().expect("needed");
    let share = needed / cure["value"].as_f64().expect("today") - 1.0;
    assert!((cure["change_share"].as_f64().expect("a share") - share).abs() < 1e-12);
    // The runs ask for more than theory, and further out it stays quiet.
    let theory = cure["theory"].as_f64().expect("theory");
    let sure_to = cure["sure_to"].as_f64().expect("sure to");
    assert!(sure_to < needed && needed < theory && theory < 2.423, "{cure}");
    let order: Vec<&str> = cures.iter().filter_map(|c| c["by"].as_str()).collect();
    assert_eq!(order[0], "site");
    let uncured = part["uncured"].as_array().expect("uncured");
    let window = uncured.iter().find(|u| u["path"] == "downstream.length" && u["direction"] == "less");
    assert!(window.is_some_and(|w| w["windows"].as_array().is_some_and(|w| !w.is_empty())), "{uncured:?}");
}

/// Every text of a drawing, in order.
fn texts(figure: &Figure) -> Vec<String> {
    let pieces = figure.svg.split("<text").skip(1);
    pieces
        .filter_map(|piece| piece.split_once('>')?.1.split_once("</text>"))
        .map(|(text, _)| text.trim().to_owned())
        .collect()
}

#[test]
fn the_figure_names_axes_units_boundary_and_answers() {
    let drawn = figure(air(), CAUTION);
    let texts = texts(&drawn);
    let differential = quietseat::scenario::title("supply.differential").expect("a title");
    for words in [
        "growth rate [1/s]",
        "grows above",
        "dies below",
        "freq. [Hz]",
        "lift [%]",
        "lift [mm]",
        "across valve [bar]",
        "across valve [psi]",
        &format!("{differential} [bar]"),
        &format!("{differential} [psi]"),
        "stable",
        "oscillation grows",
        "boundary, hard onset",
        "your point",
        CAUTION,
    ] {
        assert!(texts.iter().any(|t| t == words), "{words:?} is not written; there is {texts:#?}");
    }
    for start in ["lift-off 0.05", "full lift 0.15"] {
        assert!(texts.iter().any(|t| t.starts_with(start)), "{start:?} is not written; there is {texts:#?}");
    }
    assert!(texts.iter().any(|t| t.contains(": hard onset, ") && t.ends_with(" Hz")), "{texts:#?}");
    let sizes = drawn.svg.split("font-size=\"").skip(1);
    // Four units of the drawing are one point.
    let smallest = sizes.filter_map(|p| p.split('"').next()?.parse::<f64>().ok()).fold(f64::INFINITY, f64::min) / 4.0;
    assert!(smallest >= 9.0 - 1e-9, "{smallest}");
    assert_eq!(drawn.svg, figure(air(), CAUTION).svg, "equal input gives equal bytes");
}

/// Studies that hold little, or nothing that can be drawn.
fn odd() -> Vec<(&'static str, StabilityStudy)> {
    let with = |name, change: &dyn Fn(&mut StabilityStudy)| {
        let mut study = air().clone();
        change(&mut study);
        (name, study)
    };
    vec![
        with("no_curve", &|s| s.curve.clear()),
        with("nothing_computed", &|s| {
            s.curve.iter_mut().for_each(|p| p.branches.clear());
            s.crossings.clear();
        }),
        with("one_point", &|s| s.curve.truncate(1)),
        with("no_bounds", &|s| s.limits = Default::default()),
        with("no_state", &|s| s.here.equilibria.clear()),
        with("not_numbers", &|s| {
            s.curve
                .iter_mut()
                .flat_map(|p| &mut p.branches)
                .for_each(|b| (b.growth, b.across) = (Some(f64::NAN), f64::NAN));
        }),
        with("own_point_outside", &|s| s.differential = 3e5),
        with("runs_away", &|s| {
            s.curve.iter_mut().flat_map(|p| &mut p.branches).for_each(|b| b.answer = Answer::RunsAway);
        }),
        with("soft", &|s| s.crossings.iter_mut().for_each(|c| c.hard = Some(false))),
        with("miscounted", &|s| s.here.equilibria[0].miscount = Some(1)),
    ]
}

#[test]
fn odd_studies_are_drawn_and_written() {
    for (name, study) in odd() {
        let drawn = figure(&study, CAUTION);
        assert!(drawn.png(1.0).is_ok(), "{name}");
        assert!(csv::stability(&study).starts_with(b"circuit_differential [bar],state"), "{name}");
        assert!(serde_json::to_string(&json::stability_part(&study)).is_ok(), "{name}");
        let shown = stability_text(&study, 80, Colouring::Plain);
        let warned = shown.contains("Do not trust the list of modes");
        assert_eq!(warned, name == "miscounted", "{name}:\n{shown}");
        let soft = texts(&drawn).iter().any(|t| t == "boundary, soft onset");
        assert_eq!(soft, name == "soft", "{name}");
    }
}

#[test]
fn the_text_keeps_within_its_width() {
    for width in [80, 100] {
        let shown = stability_text(air(), width, Colouring::Plain);
        let widest = shown.lines().max_by_key(|l| l.chars().count()).unwrap_or("");
        assert!(widest.chars().count() <= width, "{width}: {widest}");
    }
    assert!(stability_text(air(), 80, Colouring::Coloured).contains('\u{1b}'));
}

#[test]
fn the_table_has_a_row_for_each_equilibrium_of_each_differential() {
    let table = String::from_utf8(csv::stability(air())).expect("text");
    let rows: usize = air().curve.iter().map(|p: &CurvePoint| p.branches.len()).sum();
    assert_eq!(table.lines().count(), rows + 1);
    let fields = table.lines().next().map(|l| l.split(',').count());
    assert!(table.lines().all(|l| Some(l.split(',').count()) == fields));
    assert!(table.contains(",floating,") && table.contains(",oscillates,") && table.contains(",shut,"));
}
