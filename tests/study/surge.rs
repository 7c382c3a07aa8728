//! Fluids side by side: against numbers by hand, and the command as a user meets it.

use crate::program::{self, folder, text};
use quietseat::fluid::{Aggregation, find};
use quietseat::physics::line::wave_speed::Support;
use quietseat::pipe;
use quietseat::study::surge::{
    Flow, FluidRow, Line, Outcome, Remedy, SurgeComparison, SurgeError, USUAL_STATES, compare,
};
use serde_json::Value;
use std::path::Path;
use std::process::Output;

const ATMOSPHERE: f64 = 101_325.0;

fn line(name: &str, length: f64) -> Line {
    Line { pipe: pipe::parse(name).expect("a listed pipe"), length, support: Support::Throughout }
}

/// 2 Kv at 0.1 bar.
fn valve() -> Flow {
    Flow::Valve { coefficient: 2.0 / 36_000.0, differential: 1e4 }
}

fn compared(states: &[&str], flow: Flow) -> SurgeComparison {
    let states: Vec<String> = states.iter().map(ToString::to_string).collect();
    compare(&states, line("22 x 1 copper", 10.0), flow, ATMOSPHERE).unwrap_or_else(|error| panic!("{error}"))
}

fn one(state: &str, flow: Flow) -> FluidRow {
    compared(&[state], flow).rows.remove(0)
}

fn near(found: f64, wanted: f64, tolerance: f64, what: &str) {
    assert!((found / wanted - 1.0).abs() < tolerance, "{what}: found {found}, wanted {wanted}");
}

/// Korteweg's line with a wall of any thickness, held throughout, from bare numbers.
fn by_hand(density: f64, sound_speed: f64) -> f64 {
    let (bore, wall, modulus, poisson) = (0.020, 0.001, 117e9, 0.34);
    let factor = 2.0 * wall / bore * (1.0 + poisson) + bore / (bore + wall) * (1.0 - poisson * poisson);
    let bulk = density * sound_speed * sound_speed;
    sound_speed / (1.0 + bulk / modulus * bore / wall * factor).sqrt()
}

/// Water of 20 °C has 998.2 kg/m³ and 1482 m/s at 1 bar (common tables, from memory); 7 bar more make it 0.03 % denser and
/// sound 0.08 % faster, and the tables' last digits are worth 0.03 %.
#[test]
fn water_in_copper_is_as_by_hand() {
    let row = one("water 20 °C, 7 bar(g)", Flow::Velocity(1.0));
    let speed = by_hand(998.2, 1482.0);
    near(row.wave_speed, speed, 2e-3, "wave speed");
    near(row.surge_per_velocity, 998.2 * speed, 2e-3, "ρ·a");
    near(row.return_time, 2.0 * 10.0 / speed, 2e-3, "2L/a");
    assert_eq!(row.surge, row.surge_per_velocity, "of 1 m/s");
}

/// "About 65 psi per ft/s of water in a rigid pipe": common practice, no source; "about" is taken as one in the last digit.
#[test]
fn the_rule_of_thumb_of_the_trade_holds_in_a_rigid_pipe() {
    let row = one("water 20 °C, 7 bar(g)", Flow::Velocity(1.0));
    let psi_per_foot = row.rigid_surge_per_velocity / 6894.757 * 0.3048;
    assert!((psi_per_foot - 65.0).abs() < 1.0, "{psi_per_foot}");
    assert!(row.surge_per_velocity < row.rigid_surge_per_velocity, "the wall gives way");
}

/// Every liquid of the usual set from its own density and sound speed, with the valve by the definition of Kv: so many m³/h
/// of 1000 kg/m³ at 1 bar.
#[test]
fn the_usual_fluids_are_as_by_hand() {
    let comparison = compared(&USUAL_STATES, valve());
    assert_eq!(comparison.rows.len(), 6);
    assert_eq!(comparison.reference.row, Some(0));
    for row in &comparison.rows {
        let (density, name) = (row.state.density, &row.name);
        let speed = by_hand(density, row.state.sound_speed);
        near(row.wave_speed, speed, 1e-12, name);
        near(row.surge_per_velocity, density * speed, 1e-12, name);
        near(row.return_time, 20.0 / speed, 1e-12, name);
        let cubic_metres_per_hour = 2.0 * (0.1 * 1000.0 / density).sqrt();
        let velocity = cubic_metres_per_hour / 3600.0 / (std::f64::consts::PI * 0.010 * 0.010);
        near(row.velocity, velocity, 1e-12, name);
        near(row.surge, density * speed * velocity, 1e-12, name);
        let boiling = row.boiling.expect("a liquid");
        near(boiling.upstream.pulled_to, row.state.pressure - row.surge, 1e-9, name);
        near(boiling.behind.pulled_to, row.state.pressure - row.surge - 1e4, 1e-9, name);
        for trough in [boiling.behind, boiling.upstream] {
            let below = trough.pulled_to < boiling.vapour_pressure;
            assert_eq!(matches!(trough.outcome, Outcome::Cavity(_)), below, "{name}");
        }
    }
    let some =
        |boils: bool| comparison.rows.iter().any(|r| r.boiling.is_some_and(|b| b.upstream.outcome.boils()) == boils);
    assert!(some(true) && some(false), "the usual set shows both");
}

/// The refrigerants are softer than water and their waves slower: the lesson of the table.
#[test]
fn refrigerants_surge_less_per_velocity_and_return_later() {
    let comparison = compared(&USUAL_STATES, valve());
    for row in &comparison.rows[1..] {
        assert!(row.surge_per_velocity < comparison.reference.surge_per_velocity, "{}", row.name);
        assert!(row.return_time > comparison.reference.return_time, "{}", row.name);
    }
}

/// With the subcooling that is told the wave just meets the vapour pressure, with less it goes below. All is recomputed from
/// the fluid's table and the formulas above.
#[test]
fn the_subcooling_that_is_told_is_the_least() {
    for (name, state) in [("R134a", USUAL_STATES[1]), ("R290", USUAL_STATES[3]), ("R717", USUAL_STATES[4])] {
        let boiling = one(state, valve()).boiling.expect("a liquid");
        let pressure = one(state, valve()).state.pressure;
        let fluid = find(name).expect("a known fluid");
        for (trough, differential) in [(boiling.behind, 1e4), (boiling.upstream, 0.0)] {
            let Outcome::Cavity(Remedy::Subcooling(told)) = trough.outcome else {
                panic!("{name}: {:?}", trough.outcome)
            };
            let left = |subcooling: f64| {
                let temperature = fluid.bubble_temperature(pressure).expect("tabulated") - subcooling;
                let liquid = fluid.liquid(temperature, pressure).expect("tabulated");
                let velocity = 2.0 / 3600.0 * (0.1 * 1000.0 / liquid.density).sqrt() / (std::f64::consts::PI * 1e-4);
                let surge = liquid.density * by_hand(liquid.density, liquid.sound_speed) * velocity;
                pressure - differential - surge - fluid.bubble_pressure(temperature).expect("tabulated")
            };
            assert!(told > 5.0, "{name}: 5 K were not enough");
            assert!(left(told) >= 0.0 && left(told - 1e-5) < 0.0, "{name}: {told} K leave {}", left(told));
        }
        assert!(
            matches!((boiling.behind.outcome, boiling.upstream.outcome),
            (Outcome::Cavity(Remedy::Subcooling(behind)), Outcome::Cavity(Remedy::Subcooling(upstream)))
            if behind > upstream),
            "the valve's differential asks for more"
        );
    }
}

/// Water of 1 bar(g) stopped from 1 m/s: the wave is deeper than the whole pressure, and no cold helps.
#[test]
fn where_no_subcooling_helps_that_is_said() {
    let comparison = compared(&["water 20 °C, 1 bar(g)"], Flow::Velocity(1.0));
    let boiling = comparison.rows[0].boiling.expect("a liquid");
    assert!(boiling.upstream.pulled_to < 0.0);
    assert_eq!(boiling.upstream.outcome, Outcome::Cavity(Remedy::NoneWould));
    assert_eq!(boiling.behind, boiling.upstream, "no valve throttles");
    assert!(comparison.findings.iter().any(|sentence| sentence.contains("No subcooling")), "{:?}", comparison.findings);
    // The stated velocity just borne is the margin over ρ·a.
    let borne = one("water 20 °C, 1 bar(g)", Flow::Velocity(boiling.bearable_velocity));
    assert_eq!(borne.boiling.expect("a liquid").upstream.outcome, Outcome::StaysLiquid);
    let faster = one("water 20 °C, 1 bar(g)", Flow::Velocity(1.001 * boiling.bearable_velocity));
    assert!(faster.boiling.expect("a liquid").upstream.outcome.boils());
}

/// R134a stopped from 1 m/s: at rest the wave leaves nearly 5 bar, yet colder liquid is so much stiffer that the wave stays
/// below the vapour pressure at every temperature of the table.
#[test]
fn cold_liquid_is_too_stiff_to_be_helped_by_more_cold() {
    let row = one(USUAL_STATES[1], Flow::Velocity(1.0));
    let boiling = row.boiling.expect("a liquid");
    assert!(boiling.upstream.pulled_to > 4e5);
    assert_eq!(boiling.upstream.outcome, Outcome::Cavity(Remedy::NoneWould));
    let fluid = find("R134a").expect("a known fluid");
    let (coldest, _) = fluid.liquid_range().expect("a liquid");
    let bubble = fluid.bubble_temperature(row.state.pressure).expect("tabulated");
    let temperatures = (1..).map(|step| bubble - f64::from(step)).take_while(|t| *t > coldest);
    assert!(temperatures.clone().count() > 60, "down to {coldest} K");
    for temperature in temperatures {
        let liquid = fluid.liquid(temperature, row.state.pressure).expect("tabulated");
        let left = row.state.pressure - liquid.density * by_hand(liquid.density, liquid.sound_speed);
        assert!(left < fluid.bubble_pressure(temperature).expect("tabulated"), "{temperature} K leaves {left}");
    }
}

#[test]
fn a_liquid_at_its_bubble_point_boils_in_the_open_valve() {
    let comparison = compared(&["R134a saturated liquid 35 °C"], valve());
    let boiling = comparison.rows[0].boiling.expect("a liquid");
    assert!(matches!(boiling.behind.outcome, Outcome::BoilsOpen(Remedy::Subcooling(_))), "{boiling:?}");
    assert!(comparison.findings.iter().any(|s| s.contains("Flash gas")), "{:?}", comparison.findings);
}

/// A gas at a small differential flows as the definition of Kv says, less the expansion (1 − x/(2·Ψ²) under the root); beyond
/// choking as Ψ says, whatever the differential.
#[test]
fn a_gas_has_little_surge_and_nothing_to_boil() {
    let state = "R134a hot gas, 70 °C, 12 bar(a)";
    let comparison = compared(&[state, USUAL_STATES[0]], valve());
    let row = &comparison.rows[0];
    assert_eq!((row.state.aggregation, row.boiling), (Aggregation::Gas, None));
    near(row.surge_per_velocity, row.state.density * row.state.sound_speed, 1e-12, "ρ·a");
    assert!(row.surge_per_velocity < 0.01 * comparison.reference.surge_per_velocity);
    assert!(comparison.findings.iter().any(|s| s.contains("is a gas")), "{:?}", comparison.findings);
    let area = std::f64::consts::PI * 1e-4;
    let psi = row.state.gas.expect("a gas").flow_factor;
    let plain = 2.0 / 36_000.0 / area * (1e4 / row.state.density).sqrt();
    let expansion = (1.0 - 1e4 / 12e5 / (2.0 * psi * psi)).sqrt();
    near(row.velocity, plain * expansion, 1e-6, "velocity");
    let choked = one(state, Flow::Valve { coefficient: 2.0 / 36_000.0, differential: 9e5 });
    let by_factor = 2.0 / 36_000.0 / std::f64::consts::SQRT_2 * psi * (12e5 / choked.state.density).sqrt() / area;
    near(choked.velocity, by_factor, 1e-6, "choked velocity");
}

#[test]
fn without_water_the_usual_water_is_the_reference() {
    let with = compared(&USUAL_STATES, valve());
    let without = compared(&USUAL_STATES[1..3], valve());
    assert_eq!(without.reference.row, None);
    assert_eq!(without.reference.surge_per_velocity, with.reference.surge_per_velocity);
}

#[test]
fn rows_of_one_fluid_have_names_of_their_own() {
    let rows = compared(&[USUAL_STATES[1], USUAL_STATES[3], "R134a liquid, 20 °C, 5 K subcooled"], valve()).rows;
    let names: Vec<&str> = rows.iter().map(|row| row.name.as_str()).collect();
    assert_eq!(names, ["R134a (1)", "R290", "R134a (2)"]);
}

/// Water, brine and oil are at atmospheric pressure where none is stated; a refrigerant is not.
#[test]
fn what_is_met_at_atmospheric_pressure_needs_none() {
    for state in ["water 20 °C", "30 % by mass propylene glycol 0 °C", "mineral oil 40 °C"] {
        assert_eq!(one(state, valve()).state.pressure, ATMOSPHERE, "{state}");
    }
    for state in ["R134a 20 °C", "water 120 °C", "water 3 bar(a)"] {
        let refused = compare(&[state.to_owned()], line("22 x 1 copper", 10.0), valve(), ATMOSPHERE);
        assert!(refused.expect_err(state).to_string().contains("lacks one more value"), "{state}");
    }
}

#[test]
fn what_cannot_be_is_refused_by_the_library_too() {
    let asked = |length, flow| compare(&[USUAL_STATES[0].to_owned()], line("22 x 1 copper", length), flow, ATMOSPHERE);
    assert_eq!(asked(0.0, valve()).err(), Some(SurgeError::NotPositive("length")));
    assert_eq!(asked(f64::NAN, valve()).err(), Some(SurgeError::NotPositive("length")));
    assert_eq!(asked(1.0, Flow::Velocity(-1.0)).err(), Some(SurgeError::NotPositive("velocity")));
    let refused = |state: &str, flow| {
        compare(&[state.to_owned()], line("22 x 1 copper", 10.0), flow, ATMOSPHERE).expect_err(state).to_string()
    };
    let too_much = Flow::Valve { coefficient: 2.0 / 36_000.0, differential: 9e5 };
    let told = refused(USUAL_STATES[0], too_much);
    assert!(told.contains("9 bar across the open valve is more than its pressure, 8.013 bar(a), can give"), "{told}");
    let told = refused(USUAL_STATES[0], Flow::Velocity(1300.0));
    assert!(told.contains("1300 m/s in the line is not below its wave speed, 1269 m/s"), "{told}");
    assert_eq!(compare(&[], line("22 x 1 copper", 1.0), valve(), ATMOSPHERE).err(), Some(SurgeError::NoFluid));
}

fn quietseat(arguments: &[&str], out: &Path) -> Output {
    program::command(&["surge"]).args(arguments).arg("--out").arg(out).output().expect("the program starts")
}

#[test]
fn alone_the_command_teaches_and_writes_its_files() {
    let out = folder("surge_alone");
    let run = quietseat(&[], &out);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    let shown = text(&run.stdout);
    for needed in ["22 x 1 copper", "bar/(m/s)", "psi/(ft/s)", "2L/a", "R717", "cavity", "Estimate for diagnosis"] {
        assert!(shown.contains(needed), "{needed} is missing in\n{shown}");
    }
    for ending in ["csv", "svg", "png"] {
        let size = out.join(format!("surge.{ending}")).metadata().expect("written").len();
        assert!(size > 1000, "{ending}: {size} bytes");
    }
    let table = std::fs::read_to_string(out.join("surge.csv")).expect("written");
    assert_eq!(table.lines().count(), 7, "a heading and six fluids");
    let drawing = std::fs::read_to_string(out.join("surge.svg")).expect("written");
    for needed in ["R290", "12.7 (56", "15.8 ms", "reference", "× water"] {
        assert!(drawing.contains(needed), "{needed} is missing in the figure");
    }
}

#[test]
fn lines_keep_within_the_width() {
    for width in ["60", "80", "110"] {
        let out = folder("surge_width");
        let run = program::command(&["surge", "--out"]).arg(&out).env("COLUMNS", width).output().expect("it starts");
        let shown = text(&run.stdout);
        let widest = shown.lines().map(|line| line.chars().count()).max();
        assert!(widest <= width.parse().ok(), "{width}: {widest:?}\n{shown}");
    }
}

#[test]
fn json_is_one_document_in_base_units() {
    let out = folder("surge_json");
    let states = ["water 20 °C, 1 bar(g)", "R134a liquid, 35 °C, 5 K subcooled", "R134a hot gas, 70 °C, 12 bar(a)"];
    let run = quietseat(&[&states[..], &["--velocity", "0.5 m/s", "--json"]].concat(), &out);
    let document: Value = serde_json::from_slice(&run.stdout).expect("stdout is JSON and nothing else");
    let fluids = document["fluids"].as_array().expect("fluids");
    assert_eq!(fluids.len(), 3);
    near(fluids[0]["return_time"].as_f64().expect("a time"), 20.0 / by_hand(998.2, 1482.0), 2e-3, "2L/a, s");
    assert_eq!(fluids[0]["boiling"]["upstream"]["no_subcooling_avoids_it"], true, "0.5 m/s at 1 bar(g)");
    assert!(fluids[1]["boiling"]["behind_valve"]["subcooling_that_avoids_it"].as_f64() > Some(5.0));
    assert!(fluids[2]["boiling"].is_null());
    assert!(document["flow"]["flow_coefficient"].is_null());
    assert!(document["cautions"].as_array().expect("cautions").len() > 3);
}

#[test]
fn mistakes_are_named_with_their_mend() {
    let out = folder("surge_mistakes");
    for (arguments, needed) in [
        (&["R134a hot gas, 70 °C, 12 bar"][..], &["12 bar(a)", "12 bar(g)"][..]),
        (&["R134a liquid"], &["lacks its state", "35 °C", "subcooled"]),
        (&["water 120 °C"], &["lacks one more value", "bar(a)"]),
        (&["--differential", "9 bar"], &["water, 20 °C", "9 bar", "can give"]),
        (&["R999 35 °C, 5 K subcooled"], &["R999", "R134a"]),
        (&["--pipe", "22 copper"], &["--pipe", "22 x 1"]),
        (&["--pipe", "a hose of some kind"], &["--pipe", "copper", "steel"]),
        (&["--length", "0 m"], &["--length", "above zero", "10 m"]),
        (&["--length", "10"], &["--length", "no unit"]),
        (&["--kv", "0 Kv"], &["--kv", "above zero", "2 Kv"]),
        (&["--differential", "0.1 bar(g)"], &["--differential", "bar"]),
        (&["--velocity", "1 m/s", "--kv", "2 Kv"], &["--velocity", "--kv"]),
    ] {
        let run = quietseat(arguments, &out);
        assert_eq!(run.status.code(), Some(2), "{arguments:?}");
        let said = text(&run.stderr);
        for word in needed {
            assert!(said.contains(word), "{arguments:?}: {word} is missing in\n{said}");
        }
    }
    assert!(!out.exists(), "nothing is written");
}
