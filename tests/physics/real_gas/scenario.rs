//! A scenario with a gas by numbers: what follows from what, what is refused, and a ledger that closes.

use super::vapour::{R134A, R290, State};
use crate::baseline::ready;
use crate::demo;
use quietseat::physics::fluid::{Gas, Phase};
use quietseat::scenario::{Document, Scenario, echo};
use quietseat::simulate::{Integrator, Phases, simulate};

/// The air demonstration with another fluid, and more keys in `valve.main` taken out.
fn text(fluid: &str) -> String {
    let air = demo::text("air-low-differential");
    let named = "[fluid.named]\nname = \"air\"\ntemperature = \"20 °C\"\n";
    assert!(air.contains(named));
    air.replacen(named, fluid, 1)
}

fn document(fluid: &str) -> Document {
    Document::from_text("scenarios/gas.toml", text(fluid))
}

/// A gas by all its numbers.
fn stated(state: &State) -> String {
    let gas = state.gas();
    format!(
        "[fluid.gas]\nname = \"{}\"\ngas_constant = \"{} J/(kg·K)\"\nisentropic_exponent = {}\nheat_capacity_ratio = {}\n\
         isobaric_heat_capacity = \"{} J/(kg·K)\"\ncritical_pressure_ratio = {}\ncritical_flow_factor = {}\n\
         temperature = \"{} K\"\nviscosity = \"{} Pa·s\"\n",
        state.name,
        gas.gas_constant,
        gas.isentropic_exponent,
        gas.heat_capacity_ratio,
        gas.isobaric_heat_capacity,
        gas.critical_pressure_ratio,
        gas.critical_flow_factor,
        gas.temperature,
        gas.viscosity
    )
}

fn gas_of(scenario: &Scenario) -> &Gas {
    match &scenario.fluid.phase {
        Phase::Gas(gas) => gas,
        Phase::Liquid(_) => panic!("a liquid"),
    }
}

/// A perfect gas by four numbers: the rest is derived and echoed; all numbers of a real gas stand as stated.
#[test]
fn unstated_numbers_are_those_of_a_perfect_gas() {
    let air = document(
        "[fluid.gas]\ngas_constant = \"287.05 J/(kg·K)\"\nisentropic_exponent = 1.4\ntemperature = \"20 °C\"\n\
         viscosity = \"1.82e-5 Pa·s\"\n",
    );
    let (scenario, _) = air.scenario().expect("a perfect gas");
    assert_eq!(*gas_of(&scenario), Gas::perfect(287.05, 1.4, 293.15, 1.82e-5));
    let rows = echo(&air).expect("a perfect gas");
    for (name, value) in [
        ("heat_capacity_ratio", 1.4),
        ("isobaric_heat_capacity", 1004.675),
        ("critical_pressure_ratio", 0.528_281_787_717),
        ("critical_flow_factor", 0.684_731_5),
    ] {
        let row = rows.iter().find(|row| row.path == format!("fluid.gas.{name}")).expect("it is echoed");
        assert!((row.value / value - 1.0).abs() < 1e-6, "{name}: {}", row.value);
    }
    for state in [R134A, R290] {
        let (scenario, _) = document(&stated(&state)).scenario().unwrap_or_else(|problems| panic!("{problems}"));
        let (ours, given) = (gas_of(&scenario), state.gas());
        assert!((ours.critical_flow_factor / given.critical_flow_factor - 1.0).abs() < 1e-12);
        assert!((ours.isobaric_heat_capacity / given.isobaric_heat_capacity - 1.0).abs() < 1e-12);
    }
}

/// Where no critical pressure ratio of the main seat was measured it follows from the gas; a measured one stands.
#[test]
fn seat_chokes_as_an_ideal_nozzle_unless_it_was_measured() {
    let measured = text(&stated(&R134A));
    let key = "critical_pressure_ratio = 0.5\n";
    assert_eq!(measured.matches(key).count(), 1);
    let ratio = |text: String| {
        let document = Document::from_text("scenarios/gas.toml", text);
        let (scenario, _) = document.scenario().unwrap_or_else(|problems| panic!("{problems}"));
        let rows = echo(&document).expect("it has been read");
        let row = rows.iter().find(|row| row.path == "valve.main.critical_pressure_ratio").expect("it is echoed");
        assert_eq!(row.value, scenario.valve.main.critical_pressure_ratio);
        (row.value, row.typed.clone())
    };
    assert_eq!(ratio(measured.clone()).0, 0.5);
    let (derived, from) = ratio(measured.replacen(key, "", 1));
    assert!((derived - 0.624_759_8).abs() < 1e-6 && from.starts_with("from the gas"), "{derived} {from}");
    let air = demo::text("air-low-differential");
    assert!((ratio(air.replacen(key, "", 1)).0 - 0.531_143).abs() < 2e-3);
}

/// Each impossible number is refused at its place and with its mend.
#[test]
fn impossible_gases_are_refused() {
    let good = stated(&R134A);
    let gas = R134A.gas();
    let replaced = |key: &str, value: f64, by: &str| {
        let line = format!("{key} = {value}\n");
        assert!(good.contains(&line), "{line}");
        good.replacen(&line, by, 1)
    };
    let exponent = |by: &str| replaced("isentropic_exponent", gas.isentropic_exponent, by);
    let without_heats = {
        let start = good.find("heat_capacity_ratio").expect("stated");
        let end = good.find("critical_pressure_ratio").expect("stated");
        format!("{}{}", &good[..start], &good[end..])
    };
    let capacity = {
        let start = good.find("isobaric_heat_capacity").expect("stated");
        let end = good.find("critical_pressure_ratio").expect("stated");
        format!("{}{}", &good[..start], &good[end..])
    };
    for (fluid, wanted) in [
        (exponent("isentropic_exponent = 0.3\n"), "found 0.3, but the isentropic exponent"),
        (exponent("isentropic_exponent = 0.3\n"), "must be above 0.5 (perfect gases lie from 1.05 to 1.67"),
        (
            replaced("critical_pressure_ratio", gas.critical_pressure_ratio, "critical_pressure_ratio = 1.0\n"),
            "must be above 0 and below 1",
        ),
        (
            replaced("critical_pressure_ratio", gas.critical_pressure_ratio, "critical_pressure_ratio = 0.9\n"),
            "lies outside 0.15 to 0.75: gases choke between 0.45 and 0.65; left out, it follows from the exponent",
        ),
        (
            replaced("critical_flow_factor", gas.critical_flow_factor, "critical_flow_factor = 0.9\n"),
            "0.9 is far from 0.617, that of a gas which chokes at a ratio of 0.596423811: left out, it follows",
        ),
        (
            replaced("heat_capacity_ratio", gas.heat_capacity_ratio, "heat_capacity_ratio = 4\n"),
            "give both at one state of one gas",
        ),
        (without_heats, "state `heat_capacity_ratio` and `isobaric_heat_capacity` in [fluid.gas] too"),
        (capacity, "[fluid.gas] lacks `isobaric_heat_capacity`"),
    ] {
        let problems = document(&fluid).scenario().expect_err("there is something wrong with it").to_string();
        assert!(problems.contains(wanted), "{wanted}\n{problems}");
        assert_eq!(problems.matches("scenarios/gas.toml:").count(), 1, "{problems}");
    }
}

/// The demonstration's valve with real vapours: mass and energy close at each tolerance as they do for air.
#[test]
fn real_gases_keep_the_ledger() {
    for (state, sink) in [(R134A, "7.9 bar(a)"), (R290, "11.9 bar(a)"), (R290, "2 bar(a)")] {
        let whole = text(&stated(&state)).replacen("\"2 bar(a)\"", &format!("\"{sink}\""), 1);
        let differential =
            format!("\"{:.3} bar\"", state.at[1] / 1e5 - sink.split(' ').next().unwrap().parse::<f64>().unwrap());
        let whole = whole.replacen("\"0.055 bar\"", &differential, 1);
        let document = Document::from_text("scenarios/gas.toml", whole);
        let (mut scenario, _) = document.scenario().unwrap_or_else(|problems| panic!("{problems}"));
        let phases = Phases { open: 0.3, shut: 0.2, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
        for tolerance in [1e-4, 1e-5, 1e-6, 1e-7] {
            scenario.run.tolerance = tolerance;
            let record = simulate(&ready(&scenario), phases, 293.15, Integrator::Stiff).expect("a real gas can be run");
            println!("{} to {sink}, tolerance {tolerance:.0e}: residue {:.1e}", state.name, record.residue());
            assert!(record.residue() <= 10.0 * tolerance);
        }
    }
}
