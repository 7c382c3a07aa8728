//! Scenario files: every demonstration is read, and every value, setting and number comes out as it was stated.

use crate::demo;
use crate::replaced::{WATER, changed, messages};
use quietseat::physics::fluid::Phase;
use quietseat::physics::parts::{CoilTemperature, StageKind, Voltage};
use quietseat::scenario::{Origin, echo, parameters};
use quietseat::units::Dimension;

/// The water demonstration with one piece of text replaced.
/// Messages without their places.
/// The only message after one replacement.
#[test]
fn every_demonstration_is_read_without_a_warning() {
    let paths = demo::names();
    assert!(paths.len() >= 6, "{paths:?}");
    for path in paths {
        let (scenario, warnings) = demo::open(&path).scenario().unwrap_or_else(|problems| panic!("{problems}"));
        // But for a fault that it switches on, which is told with all that it changes.
        let odd = warnings.iter().map(ToString::to_string).find(|warning| !warning.contains("a fault is switched on"));
        assert!(odd.is_none(), "{path}: {odd:?}");
        assert!(scenario.question.ends_with('?'), "{path}");
        assert!(scenario.data.starts_with("Invented"), "{path}");
        assert!(path.contains(&scenario.name));
    }
}

#[test]
fn every_value_is_in_si() {
    let water = demo::read(&demo::open(WATER));
    assert_eq!(water.valve.servo().expect("a servo valve").bleed.diameter, 0.001);
    assert_eq!(water.sink.pressure, 1e5 + 101_300.0);
    assert_eq!(water.supply.pressure, water.sink.pressure + 5e5);
    assert_eq!(water.valve.coil.supply, Voltage::Direct { voltage: 24.0 });
    assert_eq!(water.valve.coil.temperature, CoilTemperature::Stated { temperature: 333.15 });
    assert_eq!(water.duty.cycle_rate, 60.0 / 3600.0);
    assert_eq!(water.map.x.path, "supply.differential");
    assert!(water.map.x.logarithmic);
    let StageKind::Diaphragm { bulge_compliance, .. } = water.valve.main.kind else { panic!("it is a diaphragm") };
    assert!((bulge_compliance / 5e-13 - 1.0).abs() < 1e-12);
}

#[test]
fn a_duty_becomes_a_mass_flow_and_a_wall_a_wave_speed() {
    let liquid = demo::read(&demo::open("liquid-refrigerant"));
    assert_eq!(liquid.flow, Some(20_000.0 / 160_000.0));
    assert_eq!(liquid.sink.throttle, 0.0);
    let Phase::Liquid(fluid) = &liquid.fluid.phase else { panic!("it is a liquid") };
    assert!(liquid.upstream.wave_speed < fluid.sound_speed);
}

#[test]
fn a_flow_coefficient_becomes_a_throttle() {
    let document = changed("pressure = \"1 bar(g)\"", "pressure = \"1 bar(g)\"\nthrottle_kv = \"3.6 Kv\"");
    let scenario = demo::read(&document);
    let Phase::Liquid(liquid) = &scenario.fluid.phase else { panic!("it is a liquid") };
    // Kv = 3.6 passes 3.6 m³/h = 1 L/s of a liquid of 1000 kg/m³ at 1 bar; the pressure goes with the density.
    let mass_flow = 1e-3 * liquid.density;
    let wanted = 1e5 * liquid.density / 1000.0;
    let found = scenario.sink.throttle * mass_flow * mass_flow;
    assert!((found / wanted - 1.0).abs() < 1e-12, "{found} {wanted}");
}

#[test]
fn a_pump_curve_becomes_a_droop() {
    let curve = "differential = \"5 bar\"\npressure_fall = \"0.4 bar\"\npressure_fall_mass_flow = \"0.2 kg/s\"";
    let found = demo::read(&changed("differential = \"5 bar\"", curve)).supply.droop;
    assert!((found / 1e6 - 1.0).abs() < 1e-12, "{found}");
}

#[test]
fn settings_change_one_value_and_replace_what_they_exclude() {
    let document = demo::open(WATER);
    let set = |setting: &str| document.with_setting(setting).unwrap_or_else(|problem| panic!("{problem}"));
    let bleed = |document: &quietseat::scenario::Document| {
        demo::read(document).valve.servo().expect("a servo valve").bleed.diameter
    };
    assert_eq!(bleed(&set("valve.bleed.diameter=0.6 mm")), 0.0006);
    assert_eq!(bleed(&set("valve.bleed.diameter = \"0.6 mm\"")), 0.0006);
    assert_eq!(demo::read(&set("supply.pressure=4 bar(g)")).supply.pressure, 501_300.0);
    assert_eq!(demo::read(&set("upstream.segments=8")).upstream.segments, 8);
    assert_eq!(demo::read(&set("valve.attitude=hanging")).valve.attitude, std::f64::consts::PI);
    assert_eq!(demo::read(&set("flow.volume_flow=20 L/min")).flow.map(|flow| (flow * 1e4).round()), Some(3328.0));
    let piston = set("valve.main.piston.friction=1 N").with_setting("valve.main.piston.presliding_stiffness=5 kN/m");
    let kind = demo::read(&piston.expect("both are known")).valve.main.kind;
    assert_eq!(kind, StageKind::Piston { friction: 1.0, presliding_stiffness: 5000.0 });
    assert_eq!(set("run.tolerance=1e-7").settings(), ["run.tolerance=1e-7"]);
    // The document itself stays as it was.
    assert_eq!(bleed(&document), 0.001);
}

#[test]
fn numbers_from_a_study_are_exact() {
    let document = demo::open(WATER);
    for value in [1.0 / 3.0 * 1e5, 123.456_789_012_345_67, 1.234e-3] {
        let scenario = demo::read(
            &document
                .with_number("supply.pulsation", value)
                .expect("it is a number")
                .with_number("supply.pulsation_frequency", value)
                .expect("it is a number"),
        );
        assert_eq!(scenario.supply.pulsation.to_bits(), value.to_bits());
        assert_eq!(scenario.supply.pulsation_frequency.to_bits(), value.to_bits());
    }
    let pressure = document.with_number("supply.pressure", 654_321.0).expect("it is a number");
    assert_eq!(demo::read(&pressure).supply.pressure, 654_321.0);
    assert!(document.with_number("question", 1.0).is_err());
    assert!(document.with_number("supply.presure", 1.0).expect_err("a slip").message.contains("`supply.pressure`"));
    let nothing = document.with_number("valve.bleed.diameter", f64::NAN).expect("refused on reading");
    assert_eq!(messages(&nothing).len(), 1);
    let narrow = document.with_number("valve.bleed.diameter", -0.0005).expect("refused on reading");
    assert_eq!(
        messages(&narrow),
        ["valve.bleed.diameter: found -0.5 mm, but the bore of the bleed orifice must be above zero"]
    );
}

#[test]
fn every_path_has_its_dimension() {
    let document = demo::open(WATER);
    assert_eq!(document.dimension("supply.differential"), Some(Dimension::PressureDifference));
    assert_eq!(document.dimension("duty.cycle_rate"), Some(Dimension::CycleRate));
    assert_eq!(document.dimension("map.x.from"), Some(Dimension::PressureDifference));
    assert_eq!(document.dimension("question"), None);
    assert_eq!(document.dimension("supply.presure"), None);
    let paths = document.paths();
    assert!(paths.contains(&"valve.coil.alternating.phase") && !paths.contains(&"upstream.model"));
    let mut all: Vec<&str> = parameters().iter().map(|parameter| parameter.path.as_str()).collect();
    let count = all.len();
    all.sort_unstable();
    all.dedup();
    assert_eq!(all.len(), count, "a path is declared twice");
}

#[test]
fn a_like_file_states_only_differences() {
    let (ring, broken) = (demo::read(&demo::open("ac-ring")), demo::read(&demo::open("ac-no-ring")));
    let base = demo::read(&demo::open(WATER));
    assert_eq!(ring.valve.coil.shading_ring, Some(150e-6));
    assert_eq!(broken.valve.coil.shading_ring, None);
    assert_eq!(ring.valve.coil.supply, Voltage::Alternating { voltage: 230.0, frequency: 50.0, phase: 0.0 });
    assert_eq!(broken.valve.coil.supply, ring.valve.coil.supply);
    assert_eq!(ring.valve.main, base.valve.main);
    assert_eq!(ring.map.x.path, "valve.coil.alternating.voltage");
    assert!(!ring.map.x.logarithmic);
}

#[test]
fn the_echo_shows_every_number_in_both_systems() {
    let rows = echo(&demo::open(WATER)).expect("it can run");
    let row = |path: &str| rows.iter().find(|row| row.path == path).unwrap_or_else(|| panic!("{path}"));
    let bleed = row("valve.bleed.diameter");
    assert_eq!((bleed.si.as_str(), bleed.us.as_str(), bleed.typed.as_str()), ("1 mm", "0.03937 in", "\"1.0 mm\""));
    assert_eq!(row("sink.pressure").us, "29.2 psia");
    assert_eq!(row("run.tolerance").origin, Origin::Default);
    assert!(matches!(row("supply.pressure").origin, Origin::Derived(_)));
    // Whatever number the file states is echoed: none is read past.
    let stated = demo::text(WATER).lines().filter(|line| !line.starts_with('#') && line.contains(" = ")).count();
    let texts = ["question", "data", "name", "attitude", "path", "spacing"];
    let worded = demo::text(WATER)
        .lines()
        .filter(|line| texts.iter().any(|text| line.starts_with(&format!("{text} = "))))
        .count();
    let typed = rows.iter().filter(|row| matches!(row.origin, Origin::Typed(_))).count();
    // The attitude is a word that stands for a number, and so it is echoed although it is counted as a word.
    assert_eq!(typed, stated - worded + 1);
}
