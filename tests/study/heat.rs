//! How hot the coil gets over cycle rate and on-share: the study, its sentences, the verdict of a run, and the command.

use crate::demo;
use crate::program::{self, folder, text};
use quietseat::physics::parts::CoilTemperature;
use quietseat::physics::valve::copper::winding_resistance;
use quietseat::scenario::{Document, Scenario};
use quietseat::simulate::coil_heat::{held, winding_temperature};
use quietseat::simulate::install;
use quietseat::simulate::throttle::prepare;
use quietseat::study::by_hand::{by_hand, low_voltage_objection, objection};
use quietseat::study::coil_heat::{Armature, CoilHeat};
use quietseat::study::examine::examine;
use quietseat::study::examined::Examined;
use quietseat::study::heat::{HeatJob, HeatStudy, heat};
use quietseat::verdict::{Behaviour, Finding};
use serde_json::Value;
use std::path::Path;
use std::process::Output;

const HOT: &str = "ac-hot-coil";
const FREE: &str = "faults.stuck_armature=none";
const JOB: HeatJob = HeatJob { from: 1.0 / 3600.0, to: 5.0, points: 9 };

fn document(settings: &[&str]) -> Document {
    demo::with(HOT, settings)
}

fn study(settings: &[&str]) -> HeatStudy {
    heat(&document(settings), &JOB).expect("a study")
}

fn run(settings: &[&str]) -> Examined {
    examine(&demo::scenario(HOT, settings)).expect("a run")
}

fn overheats(run: &Examined) -> Option<&Finding> {
    run.verdict.findings.iter().find(|finding| finding.behaviour == Behaviour::Overheats)
}

fn near(found: f64, wanted: f64, within: f64, what: &str) {
    assert!((found - wanted).abs() <= within, "{what}: {found} instead of {wanted} (±{within})");
}

/// What the demo's opening comment says.
#[test]
fn a_jammed_armature_burns_its_coil_and_a_free_one_does_not() {
    let (jammed, free) = (study(&[]), study(&[FREE]));
    assert!(jammed.adverse() && !free.adverse());
    assert_eq!((jammed.own.armature, free.own.armature), (Armature::StaysOut, Armature::ComesIn));
    let first = &jammed.findings[0];
    for words in
        ["its armature out", "class F bears 155 °C", "150 °C as a mean", "too much", "Its insulation will fail early"]
    {
        assert!(first.contains(words), "{first}");
    }
    let told = jammed.findings.join(" ");
    assert!(told.contains("With its armature in it would reach") && told.contains(": it survives."), "{told}");
    let told = free.findings.join(" ");
    for words in
        ["which leaves", "Were its armature to stay out", "would fail early", "as simulated", "(MOPD)", "To check it"]
    {
        assert!(told.contains(words), "{told}");
    }
    assert!(free.pull_in_simulated && free.pull_in > 1e-3 && free.pull_in < 0.02, "{}", free.pull_in);
    // Both are the same coil: what each says of the other state is what that one finds.
    near(jammed.own.inside.mean, free.own.inside.mean, 0.1, "armature in, K");
    near(jammed.own.outside.expect("out").mean, free.own.outside.expect("out").mean, 1e-6, "armature out, K");
}

/// The run is made at the temperature of the map, and its verdict says the same.
#[test]
fn run_and_map_agree_and_the_verdict_tells_what_it_hangs_on() {
    let (jammed, free) = (run(&[]), run(&[FREE]));
    let [map, lives] = [study(&[]), study(&[FREE])].map(|study| study.own.found());
    near(jammed.indicators.coil_temperature.expect("K"), map.mean, 1e-6, "jammed: mean, K");
    near(jammed.indicators.highest_coil_temperature.expect("K"), map.highest, 1e-6, "jammed: highest, K");
    near(free.indicators.coil_temperature.expect("K"), lives.mean, 0.1, "free: mean, K");
    near(free.indicators.coil_temperature_armature_out.expect("K"), map.mean, 1e-6, "free: were it out, K");
    near(free.indicators.coil_body_temperature.expect("K"), lives.body.expect("a body"), 0.1, "body, K");
    assert!(overheats(&free).is_none(), "{:?}", free.verdict);
    let finding = overheats(&jammed).expect("too hot");
    for words in
        ["class F bears 155 °C", "Its armature stays out", "times the heat of holding", "is likely to burn out"]
    {
        assert!(finding.reason.contains(words), "{}", finding.reason);
    }
    for words in ["above the de-energised coil", "between body and surroundings", "passes the limit after about"] {
        assert!(finding.reason.contains(words), "{}", finding.reason);
    }
    // The heat of the simulated pull-in, transients and all, is of the size that the map takes for it.
    let coil = CoilHeat::of(&free.scenario, free.indicators.armature_opening_time).expect("a network");
    let each = coil.found(1.0, 0.5, Armature::ComesIn).winding_power
        - coil.with_pull_in(0.0).found(1.0, 0.5, Armature::ComesIn).winding_power;
    let simulated = free.indicators.pull_in_energy.expect("J");
    assert!((0.3..3.0).contains(&(simulated / each)), "{simulated} J simulated, {each} J taken");
}

#[test]
fn of_two_limits_the_stricter_counts() {
    let told = |settings: &[&str]| {
        let run = run(&[&[FREE], settings].concat());
        overheats(&run).map(|finding| finding.reason.clone())
    };
    let stated = told(&["limits.coil_temperature=100 °C"]).expect("120 °C is too much");
    assert!(stated.contains("the limit is 100 °C") && !stated.contains("class"), "{stated}");
    let class = told(&["limits.coil_temperature=200 °C", "limits.insulation_class=A"]).expect("120 °C is too much");
    assert!(class.contains("the limit is 100 °C: insulation of class A bears 105 °C"), "{class}");
    assert_eq!(told(&["limits.coil_temperature=200 °C", "limits.insulation_class=B"]), None);
    let said = demo::open(HOT).with_setting("limits.insulation_class=Z").expect_err("no such class").to_string();
    assert!(said.contains("limits.insulation_class") && said.contains("\"F\""), "{said}");
}

/// The map rises with the on-share, on alternating voltage with the rate of pull-ins as well; more is too much only beyond what is
/// allowed.
#[test]
fn the_map_rises_and_what_is_allowed_is_its_limit() {
    let study = study(&["limits.insulation_class=E", FREE]);
    assert_eq!(study.panels.len(), 2);
    for panel in &study.panels {
        for (low, high) in panel.cells.iter().zip(&panel.cells[1..]) {
            assert!(
                low.iter().zip(high).all(|(a, b)| b.mean > a.mean && b.highest > a.highest),
                "{:?}",
                panel.armature
            );
        }
        for row in &panel.cells {
            assert!(
                row.iter().all(|c| c.lowest <= c.mean + 1e-6 && c.mean <= c.highest + 1e-6),
                "{:?}",
                panel.armature
            );
            let swings: Vec<f64> = row.iter().map(|c| c.highest - c.lowest).collect();
            assert!(swings.windows(2).all(|pair| pair[1] <= pair[0] + 1e-6), "slow cycles swing more: {swings:?}");
        }
    }
    // (P_out − P_in)·t·f of the pull-ins over some 6 K/W, at five a second against one in some seconds.
    let quick: Vec<f64> = study.panels[0].cells.iter().map(|row| row[8].mean - row[5].mean).collect();
    assert!(quick[..8].iter().all(|more| *more > 1.0), "pull-ins heat: {quick:?}");
    near(quick[8], 0.0, 1e-3, "a coil that is never switched off has none, K");
    let coil = CoilHeat::of(&demo::scenario(HOT, &[FREE]), Some(study.pull_in)).expect("a network");
    let limit = study.limit.expect("class E").temperature;
    assert!(study.allowed.len() == 5);
    for row in &study.allowed {
        for (share, armature) in row.shares.iter().zip([Armature::ComesIn, Armature::StaysOut]) {
            assert!(*share < 1.0, "class E does not bear it for ever");
            near(coil.found(row.rate, *share, armature).highest, limit, 1e-3, "at the allowed share, K");
        }
        assert!(row.shares[1] < row.shares[0], "out is worse than in: {row:?}");
    }
}

/// With one thermal resistance the map is that of [`winding_temperature`], which finds it by another way.
#[test]
fn one_thermal_resistance_has_its_map_too() {
    let settings = ["valve.coil.ambient=40 °C", "valve.coil.thermal_resistance=9 K/W", FREE];
    let scenario = demo::scenario(HOT, &settings);
    assert!(matches!(scenario.valve.coil.temperature, CoilTemperature::FromHeat { .. }));
    let coil = CoilHeat::of(&scenario, None).expect("a resistance");
    let (rate, share) = (scenario.duty.cycle_rate, scenario.duty.on_fraction);
    near(coil.found(rate, share, Armature::ComesIn).mean, winding_temperature(&scenario), 0.1, "K");
    let told = study(&settings).remarks.join(" ");
    assert!(told.contains("[valve.coil.network] includes all three"), "{told}");
}

#[test]
fn on_direct_voltage_the_armature_does_not_matter() {
    let network = [
        "valve.coil.network.ambient=30 °C",
        "valve.coil.network.winding_capacity=60 J/K",
        "valve.coil.network.body_capacity=250 J/K",
        "valve.coil.network.winding_to_body=4 K/W",
        "valve.coil.network.body_to_ambient=8 K/W",
        "valve.coil.network.body_to_medium=25 K/W",
    ];
    let document = demo::with("water-direct", &network);
    let study = heat(&document, &JOB).expect("a study");
    assert_eq!((study.panels.len(), study.own.outside), (1, None));
    let told = study.findings.join(" ");
    assert!(
        told.contains("no limit is stated") && told.contains("On direct current the armature does not matter"),
        "{told}"
    );
    assert!(!study.adverse() && study.allowed.is_empty() && !told.contains("ring and eddies"), "{told}");
    // What an ohmmeter should show.
    let hot = winding_resistance(57.6, study.own.inside.mean);
    assert!(told.contains("57.6 Ω at 20 °C") && told.contains(&format!("{hot:.1} Ω")), "{hot} in {told}");
}

#[test]
fn a_stated_temperature_is_no_heat() {
    let refused = heat(&demo::open("water-bang"), &JOB).expect_err("its temperature is stated");
    assert!(refused.to_string().contains("[valve.coil.network]"), "{refused}");
}

/// A fluid by name knows its temperature; one by numbers must say what the body meets.
#[test]
fn the_medium_is_the_fluid_where_that_is_known() {
    let medium = |scenario: &Scenario| match scenario.valve.coil.temperature {
        CoilTemperature::Network { medium, .. } => medium,
        _ => panic!("a network"),
    };
    near(medium(&demo::scenario(HOT, &[])), 293.15, 1e-9, "water at 20 °C, K");
    near(medium(&demo::scenario(HOT, &["fluid.named.temperature=60 °C"])), 333.15, 1e-9, "at 60 °C, K");
    near(medium(&demo::scenario(HOT, &["valve.coil.network.medium=5 °C"])), 278.15, 1e-9, "as stated, K");
    let numbers = [
        "fluid.liquid.density=998 kg/m³",
        "fluid.liquid.sound_speed=1482 m/s",
        "fluid.liquid.viscosity=1 mPa·s",
        "fluid.liquid.vapour_pressure=23 mbar(a)",
        "fluid.liquid.critical_pressure=220 bar(a)",
    ];
    let said = demo::with(HOT, &numbers).scenario().expect_err("no temperature").to_string();
    assert!(said.contains("[valve.coil.network] lacks `medium`"), "{said}");
}

/// Unsaturated, the pull goes with the square of the voltage: Δp = (F − F_0)/A, so that at 85 % it is 0.7225·Δp less 0.2775·F_0/A
/// (own derivation; Maxwell's stress). And on its own voltage it is what the magnet lifts against there.
#[test]
fn the_hot_and_low_differential_follows_its_closed_form() {
    let settings = ["valve.coil.saturation_field=0 A/m", "valve.coil.temperature=90 °C"];
    let scenario = demo::scenario("water-direct", &settings);
    let found = by_hand(&scenario).expect("values by hand");
    let installation = install(&prepare(&scenario).expect("ready"), 363.15);
    let (whole, none) = (found.highest_opening_differential.expect("Pa"), installation.opening_differential(0.0));
    let low = found.hot_low_opening_differential.expect("Pa");
    near(low / (0.7225 * whole + 0.2775 * none), 1.0, 1e-6, "hot and low over its closed form");
    // The rated voltage counts, not the one that happens to be there.
    let rated = demo::scenario(
        "water-direct",
        &[&settings[..], &["valve.coil.rated=24 V", "valve.coil.direct.voltage=26 V"]].concat(),
    );
    let at_rated = by_hand(&rated).expect("values by hand");
    near(at_rated.hot_low_opening_differential.expect("Pa") / low, 1.0, 1e-9, "at the rated voltage");
    assert!(at_rated.highest_opening_differential > found.highest_opening_differential);
    let pull = held(&scenario.valve, 0.0, 363.15).mean_pull;
    near(installation.opening_differential(pull) / whole, 1.0, 1e-9, "at its own voltage");
    // In words, where the circuit lies between both.
    let between = format!("supply.differential={} bar", 0.5 * (low + whole) / 1e5);
    let scenario = demo::scenario("water-direct", &[&settings[..], &[&between]].concat());
    let found = by_hand(&scenario).expect("values by hand");
    assert_eq!(objection(&scenario, &found), None, "on its own voltage it opens");
    let said = low_voltage_objection(&scenario, &found).expect("hot and low it will not open");
    assert!(said.contains("maximum operating pressure differential (MOPD)") && said.contains("20.4 V"), "{said}");
}

fn quietseat(out: &Path, more: &[&str]) -> Output {
    let (file, out) = (demo::path(HOT), out.to_string_lossy().into_owned());
    program::command(&["heat", &file, "--points", "12", "--out", &out]).args(more).output().expect("the program starts")
}

#[test]
fn the_command_says_it_draws_it_and_exits_accordingly() {
    let out = folder("heat_command");
    let done = quietseat(&out, &["--strict"]);
    assert_eq!(done.status.code(), Some(1), "{}", text(&done.stderr));
    let shown = text(&done.stdout);
    for needed in
        ["! The winding reaches", "armature in", "armature out", "continuously", "IEC 60085", "Estimate for diagnosis"]
    {
        assert!(shown.contains(needed), "{needed} is missing in\n{shown}");
    }
    for ending in ["csv", "svg", "png"] {
        let size = out.join(format!("{HOT}.heat.{ending}")).metadata().expect("written").len();
        assert!(size > 1000, "{ending}: {size} bytes");
    }
    let table = std::fs::read_to_string(out.join(format!("{HOT}.heat.csv"))).expect("written");
    assert_eq!(table.lines().count(), 1 + 2 * 12 * 12, "a heading and two maps");
    assert!(table.starts_with("armature,cycle_rate [1/h],on_share [%],winding_mean [°C]"), "{:.120}", table);
    let drawing = std::fs::read_to_string(out.join(format!("{HOT}.heat.svg"))).expect("written");
    for needed in ["class F: 150 °C", "your duty", "armature stays out", "100 °C (212 °F)", "beyond the limit"] {
        assert!(drawing.contains(needed), "{needed} is missing in the figure");
    }
    let free = quietseat(&out, &["--strict", "--set", FREE]);
    assert_eq!(free.status.code(), Some(0), "{}", text(&free.stderr));
}

#[test]
fn lines_keep_within_the_width() {
    let (out, file) = (folder("heat_width"), demo::path(HOT));
    for width in ["60", "80", "110"] {
        let arguments = ["heat", &file, "--points", "4", "--quiet", "--out"];
        let run = program::command(&arguments).arg(&out).env("COLUMNS", width).output().expect("it starts");
        let shown = text(&run.stdout);
        let widest = shown.lines().map(|line| line.chars().count()).max();
        assert!(widest <= width.parse().ok(), "{width}: {widest:?}\n{shown}");
    }
}

#[test]
fn json_is_one_document_in_base_units() {
    let out = folder("heat_json");
    let run = quietseat(&out, &["--json", "--quiet"]);
    let document: Value = serde_json::from_slice(&run.stdout).expect("stdout is JSON and nothing else");
    assert_eq!((document["command"].as_str(), document["own"]["armature"].as_str()), (Some("heat"), Some("out")));
    near(document["limit"]["winding"].as_f64().expect("K"), 423.15, 1e-9, "class F by resistance, K");
    let (rates, shares) = (&document["cycle_rates"], &document["on_shares"]);
    assert_eq!((rates.as_array().map(Vec::len), shares.as_array().map(Vec::len)), (Some(12), Some(12)));
    let cell = &document["panels"][1]["cells"][11][0];
    assert!(cell["winding_highest"].as_f64() > cell["body_mean"].as_f64(), "{cell}");
    assert_eq!(document["own"]["adverse"], true);
    assert!(document["cautions"].as_array().expect("cautions").len() > 3);
}

#[test]
fn mistakes_are_named_with_their_mend() {
    let out = folder("heat_mistakes");
    for (arguments, needed) in [
        (&["--from", "10"][..], &["--from", "no unit"][..]),
        (&["--from", "1 1/s", "--to", "1 1/min"], &["--from", "is not below --to"]),
        (&["--to", "1e6 1/s"], &["--to", "beyond what coils are switched at"]),
        (&["--set", "valve.coil.network.winding_capacity=60"], &["winding_capacity", "J/K"]),
        (&["--set", "valve.coil.temperature=60 °C"], &["[valve.coil.network]"]),
        (&["--points", "1"], &["--points"]),
    ] {
        let run = quietseat(&out, arguments);
        assert_eq!(run.status.code(), Some(2), "{arguments:?}");
        let said = text(&run.stderr);
        for word in needed {
            assert!(said.contains(word), "{arguments:?}: {word} is missing in\n{said}");
        }
    }
}
