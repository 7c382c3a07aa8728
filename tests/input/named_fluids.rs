//! A fluid by its name against the same fluid by its numbers, and what a tenth of a kelvin decides in a scenario.

use crate::demo;
use quietseat::physics::fluid::Phase;
use quietseat::scenario::Document;
use quietseat::simulate::throttle::prepare;
use quietseat::study::boiling::open_margins;
use quietseat::study::kept::Known;
use quietseat::study::map::Cell;
use quietseat::study::map_job::MapJob;
use quietseat::study::stability_map::stability_map;

/// The same document with the fluid stated by its numbers.
fn by_numbers(document: &Document) -> Document {
    let numbers: Vec<(&str, f64)> = match demo::read(document).fluid.phase {
        Phase::Liquid(liquid) => vec![
            ("fluid.liquid.density", liquid.density),
            ("fluid.liquid.sound_speed", liquid.sound_speed),
            ("fluid.liquid.viscosity", liquid.viscosity),
            ("fluid.liquid.vapour_pressure", liquid.vapour_pressure),
            ("fluid.liquid.critical_pressure", liquid.critical_pressure),
        ],
        Phase::Gas(gas) => vec![
            ("fluid.gas.gas_constant", gas.gas_constant),
            ("fluid.gas.isentropic_exponent", gas.isentropic_exponent),
            ("fluid.gas.temperature", gas.temperature),
            ("fluid.gas.viscosity", gas.viscosity),
            ("fluid.gas.heat_capacity_ratio", gas.heat_capacity_ratio),
            ("fluid.gas.isobaric_heat_capacity", gas.isobaric_heat_capacity),
            ("fluid.gas.critical_pressure_ratio", gas.critical_pressure_ratio),
            ("fluid.gas.critical_flow_factor", gas.critical_flow_factor),
        ],
    };
    let line = demo::read(document).downstream;
    let behind =
        line.density.map(|density| [("downstream.density", density), ("downstream.wave_speed", line.wave_speed)]);
    let numbers = numbers.into_iter().chain(behind.into_iter().flatten());
    numbers.fold(document.clone(), |d, (path, value)| d.with_number(path, value).expect(path))
}

fn cells(document: &Document) -> Vec<Cell> {
    let job = MapJob { known: &Known::default(), stop: &|| false, told: &|_| {} };
    stability_map(document, &job).expect("a map").cells
}

/// Numbers that only a named fluid can have are left out of the comparison.
fn compared(cell: &Cell) -> Option<String> {
    let Cell::Done(result) = cell else { return None };
    let mut indicators = result.indicators.clone();
    indicators.supply_subcooling = None;
    indicators.inlet_subcooling_open = None;
    indicators.outlet_subcooling_open = None;
    indicators.subcooling_needed_open = None;
    indicators.subcooling_needed_closing = None;
    let behaviours: Vec<_> =
        result.verdict.findings.iter().map(|finding| (finding.behaviour, finding.margin)).collect();
    Some(format!("{indicators:?} {behaviours:?}"))
}

#[test]
fn a_map_by_name_is_the_map_by_numbers() {
    let axes = ["map.x.points=2", "map.y.points=2"];
    let gas = demo::with("air-low-differential", &["fluid.state=R134a suction gas, 12 °C", axes[0], axes[1]]);
    let liquid = demo::with("liquid-refrigerant", &["fluid.state=R410A liquid, 6 K subcooled", axes[0], axes[1]]);
    // At one supply pressure the state by name is one by numbers.
    let one = ["sink.pressure=3 bar(a)", "supply.pressure=3.06 bar(a)", "map.x.path=valve.bleed.diameter"];
    let ends = ["map.x.from=0.8 mm", "map.x.to=1 mm"];
    let gas = one.iter().chain(&ends).try_fold(gas, |d, s| d.with_setting(s)).expect("good");
    for document in [gas, liquid] {
        let numbers = by_numbers(&document);
        assert!(demo::read(&document).named.is_some() && demo::read(&numbers).named.is_none());
        let (named, stated) = (cells(&document), cells(&numbers));
        assert_eq!(named.len(), 4);
        for (a, b) in named.iter().zip(&stated) {
            assert!(compared(a).is_some(), "a cell failed: {a:?}");
            assert_eq!(compared(a), compared(b));
        }
    }
}

/// Unless its pressure is stated, the state follows the supply's pressure.
#[test]
fn the_state_follows_the_supply() {
    let at = |pressure: &str| demo::read(&demo::with("water-bang", &[&format!("supply.pressure={pressure}")])).named;
    let (low, high) = (at("3 bar(a)").expect("named").state, at("30 bar(a)").expect("named").state);
    assert!((low.pressure - 3e5).abs() < 1e-6 && (high.pressure - 30e5).abs() < 1e-6);
    assert!(high.density > low.density && high.sound_speed > low.sound_speed);
}

fn refusal(settings: &[&str]) -> String {
    let document = demo::with("liquid-refrigerant", settings);
    match document.scenario() {
        Err(problems) => problems.to_string(),
        Ok((scenario, _)) => prepare(&scenario).expect_err("refused").to_string(),
    }
}

/// 0.1 K below the bubble point it is a liquid that boils in the line; at the bubble point too; 0.1 K above the dew point it
/// is a gas, and the message says so.
#[test]
fn a_tenth_of_a_kelvin_is_told_clearly() {
    let subcooled = refusal(&["fluid.state=R410A, 0.1 K subcooled"]);
    assert!(subcooled.contains("boil before it reaches the valve"), "{subcooled}");
    assert!(subcooled.contains("has 0.1 K") && subcooled.contains("by volume would be vapour"), "{subcooled}");
    let saturated = refusal(&["fluid.state=R410A saturated liquid"]);
    assert!(saturated.contains("has 0 K") && saturated.contains("boil before it reaches the valve"), "{saturated}");
    let superheated = refusal(&["fluid.state=R410A, 0.1 K superheated"]);
    assert!(superheated.contains("needed because the fluid is a gas: R410A"), "{superheated}");
    let between = refusal(&["fluid.state=R410A, 39.95 °C", "supply.pressure=24.22 bar(a)"]);
    assert!(between.contains("partly liquid and partly vapour"), "{between}");
    let contradiction = refusal(&["fluid.state=R410A hot gas, 20 °C"]);
    assert!(contradiction.contains("not a gas: it condenses above"), "{contradiction}");
}

/// A setting or axis along subcooling counts at the supply's pressure, also over a file that states the temperature; a file
/// that states both fixes a pressure, which must be the supply's (`tests/input/one_pressure.rs`).
#[test]
fn subcooling_replaces_the_temperature() {
    let at = |document: Document| demo::read(&document).named.expect("named").state;
    let cold = at(demo::with("liquid-closing", &["fluid.named.subcooling=3 K"]));
    assert!((cold.pressure - 24.3e5).abs() < 1e-3 && (cold.temperature - 310.13).abs() < 0.2, "{cold:?}");
    let back = at(demo::with("liquid-closing", &["fluid.named.subcooling=3 K", "fluid.named.temperature=25 °C"]));
    assert_eq!(back, at(demo::open("liquid-closing")));
    let in_words =
        at(demo::with("hot-gas", &["fluid.state=R134a, 60 °C, 20 K superheated", "fluid.named.superheat=10 K"]));
    assert_eq!(in_words, at(demo::with("hot-gas", &["fluid.state=R134a, 10 K superheated"])));
}

/// A file that is like another may move one number of a state that the other has in words.
#[test]
fn a_file_takes_up_the_words_of_the_one_it_is_like() {
    let text = "like = \"suction-gas.toml\"\n[fluid.named]\nsuperheat = \"12 K\"\n";
    let child = demo::read(&Document::from_text("scenarios/changed.toml", text.to_owned())).named.expect("named");
    assert_eq!(
        child.state,
        demo::read(&demo::with("suction-gas", &["fluid.named.superheat=12 K"])).named.expect("named").state
    );
}

/// Two axes of which each takes the other away would leave one of them without effect.
#[test]
fn axes_that_exclude_each_other_are_refused() {
    let axes = ["map.x.path=fluid.named.superheat", "map.x.from=1 K", "map.x.to=9 K"];
    let more = ["map.y.path=fluid.named.subcooling", "map.y.from=1 K", "map.y.to=9 K"];
    let document = demo::with("blend-liquid", &[axes, more].concat());
    let problems = document.scenario().expect_err("refused").to_string();
    assert!(problems.contains("exclude each other"), "{problems}");
}

/// The margins by hand: pressures from losses in series, kelvin from the bubble point.
#[test]
fn margins_by_hand_are_those_of_the_bubble_point() {
    let ready = prepare(&demo::read(&demo::with("liquid-refrigerant", &["fluid.state=R410A liquid, 6 K subcooled"])))
        .expect("sound");
    let margins = open_margins(&ready, &quietseat::simulate::install(&ready, 300.0)).expect("a liquid");
    let named = ready.named.expect("named");
    let (inlet, outlet) = margins.subcooling.expect("a bubble point");
    for (pressure, subcooling) in [(margins.inlet, inlet), (margins.outlet, outlet)] {
        let bubble = named.medium.bubble_pressure(named.state.temperature + subcooling).expect("inside");
        assert!((bubble / pressure - 1.0).abs() < 1e-9);
    }
    assert!(outlet < inlet && inlet < 6.0 && outlet > 4.0, "{inlet} {outlet}");
    assert!((margins.flow / 0.125 - 1.0).abs() < 2e-3, "{}", margins.flow);
}
