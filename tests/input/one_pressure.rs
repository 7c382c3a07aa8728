//! One pressure at the valve: a file that states two which disagree is refused, whichever of its keys say so; settings and axes
//! move the one with the other; and a text taken over from another file says whose it is.

use crate::demo::{self, read, set};
use quietseat::scenario::Document;
use quietseat::simulate::RunError;
use quietseat::simulate::throttle::prepare;
use quietseat::study::mappable::unmappable;
use quietseat::study::stability_map::grid;

/// A file beside the demos.
fn file(text: &str) -> Document {
    Document::from_text(&demo::path("trial"), text)
}

fn refused(document: &Document) -> String {
    document.scenario().expect_err("refused").to_string()
}

const HEAD: &str = "question = \"?\"\ndata = \"Invented.\"\n";

fn like(base: &str, rest: &str) -> Document {
    file(&format!("like = \"{base}.toml\"\n{HEAD}{rest}"))
}

#[test]
fn another_fluid_does_not_keep_the_supply_pressure_of_the_first() {
    let state = "[fluid]\nstate = \"R448A liquid, 5 K subcooled\"\n";
    let said = refused(&like("liquid-refrigerant", state));
    for needed in ["trial.toml:5:9", "24.3 bar(a)", "liquid-refrigerant.toml:20:12", "[supply]"] {
        assert!(said.contains(needed), "{needed} is missing in\n{said}");
    }
    let own = read(&like("liquid-refrigerant", &format!("{state}[supply]\npressure = \"15 bar(a)\"\n")));
    assert!((own.supply.pressure - 15e5).abs() < 1.0 && (own.named.expect("named").state.pressure - 15e5).abs() < 1.0);
    // The same pressure may be meant, and is then stated.
    read(&like("liquid-refrigerant", &format!("{state}[supply]\npressure = \"24.3 bar(a)\"\n")));
    // By keys, counted from the sink, and by numbers.
    let by_keys = refused(&like("water-bang", "[fluid.named]\nname = \"R134a\"\ntemperature = \"15 °C\"\n"));
    assert!(by_keys.contains("water-bang.toml:18:16") && by_keys.contains("another fluid"), "{by_keys}");
    let numbers = "[fluid.liquid]\ndensity = \"1000 kg/m³\"\nsound_speed = \"1450 m/s\"\nviscosity = \"1 mPa·s\"\n\
                   vapour_pressure = \"0.02 bar(a)\"\ncritical_pressure = \"220 bar(a)\"\n";
    assert!(refused(&like("water-bang", numbers)).contains("another fluid"));
    read(&like("water-bang", &format!("{numbers}[sink]\npressure = \"1 bar(g)\"\n")));
    // One number of the state at the pressure that is kept is the same fluid.
    let warmer = read(&like("liquid-refrigerant", "[fluid.named]\nsubcooling = \"6 K\"\n"));
    assert!((warmer.supply.pressure - 24.3e5).abs() < 1.0);
    // A setting states the pressure as well.
    let set_after = set(&like("liquid-refrigerant", state), &["supply.pressure=15 bar(a)"]);
    assert!((read(&set_after).supply.pressure - 15e5).abs() < 1.0);
}

#[test]
fn two_pressures_that_disagree_are_named_with_both_places_and_the_mend() {
    let stated = "[fluid]\nstate = \"R448A liquid, 30 °C, 3 K subcooled\"\n";
    let own = format!("{stated}[supply]\npressure = \"24.3 bar(a)\"\n");
    let said = refused(&like("liquid-refrigerant", &own));
    for needed in ["15.86", "24.3 bar(a)", "trial.toml:5:9", "trial.toml:7:12", "restate `supply.pressure`"] {
        assert!(said.contains(needed), "{needed} is missing in\n{said}");
    }
    let kept = refused(&like("liquid-refrigerant", stated));
    assert!(kept.contains("liquid-refrigerant.toml:20:12") && kept.contains("15.86"), "{kept}");
    let keys = "[fluid.named]\npressure = \"20 bar(a)\"\n";
    let keys = refused(&like("liquid-refrigerant", keys));
    assert!(keys.contains("Take `fluid.named.pressure` away") && keys.contains("20 bar(a)"), "{keys}");
    let words = refused(&set(&like("liquid-refrigerant", ""), &["fluid.state=R410A liquid, 30 °C, 20 bar(a)"]));
    assert!(words.contains("setting fluid.state=R410A") && words.contains("liquid-refrigerant.toml:20:12"), "{words}");
    // The same pressure twice is no fault, and rounding is none.
    read(&like("liquid-refrigerant", "[fluid.named]\npressure = \"24.3 bar(a)\"\n"));
    read(&like("liquid-refrigerant", "[fluid]\nstate = \"R410A liquid, 37 °C, 24.2 bar(a)\"\n"));
}

#[test]
fn settings_and_axes_move_both_pressures() {
    let twice = like("liquid-refrigerant", "[fluid.named]\npressure = \"24.3 bar(a)\"\n");
    let words = like("liquid-refrigerant", "[fluid]\nstate = \"R410A liquid, 30 °C, 24.3 bar(a)\"\n");
    for base in [twice, words] {
        let settings = ["supply.pressure=26 bar(a)", "fluid.named.pressure=26 bar(a)", "supply.differential=18 bar"];
        for setting in settings {
            let moved = read(&set(&base.clone(), &[setting]));
            let state = moved.named.expect("named").state.pressure;
            assert!((moved.supply.pressure - 26e5).abs() < 1.0 && (state - 26e5).abs() < 1.0, "{setting}: {state}");
        }
        for path in ["supply.pressure", "fluid.named.pressure"] {
            let moved = read(&base.with_number(path, 26e5).expect("a number"));
            assert!((moved.supply.pressure - moved.named.expect("named").state.pressure).abs() < 1.0);
        }
    }
    let both = ["map.x.path=supply.pressure", "map.x.from=20 bar(a)", "map.x.to=30 bar(a)"];
    let state = ["map.y.path=fluid.named.pressure", "map.y.from=20 bar(a)", "map.y.to=30 bar(a)"];
    assert!(refused(&set(&like("liquid-refrigerant", ""), &[both, state].concat())).contains("exclude each other"));
}

#[test]
fn a_map_of_which_no_cell_can_be_computed_says_why_before_it_starts() {
    let reason = |document: &Document| {
        let (grid, scenario) = grid(document).expect("a grid");
        unmappable(document, &scenario, &grid)
    };
    // What a state of two numbers fixes cannot follow the supply.
    let fixed = "[fluid]\nstate = \"R410A liquid, 37 °C, 3 K subcooled\"\n[supply]\npressure = \"24.2 bar(a)\"\n";
    let over = ["map.x.path=supply.pressure", "map.x.from=26 bar(a)", "map.x.to=30 bar(a)"];
    let said = reason(&set(&like("liquid-refrigerant", fixed), &over)).expect("no cell agrees");
    assert!(said.contains("supply.pressure") && said.contains("one pressure"), "{said}");
    // The axes of a duty, over a flow stated otherwise.
    let duty = reason(&like("liquid-refrigerant", "[flow]\nmass_flow = \"0.1 kg/s\"\n")).expect("no effect");
    assert!(duty.contains("refrigerating_effect") && duty.contains("[map.x]"), "{duty}");
    for name in demo::names() {
        let document = demo::open(&name);
        assert_eq!(reason(&document), None, "{name}");
    }
}

/// Every cell of the demos' maps can be set up, be it that its liquid boils: none is a failure of its axes.
#[test]
fn the_closing_demos_have_axes_that_they_can_follow() {
    for name in ["water-closing", "liquid-closing"] {
        let document = demo::open(name);
        let (grid, scenario) = grid(&document).expect("a grid");
        for &x in &grid.x.values {
            for &y in [grid.y.values[0], grid.y.values[grid.y.values.len() - 1]].iter() {
                let cell = document.with_number(&grid.x.path, x).and_then(|d| d.with_number(&grid.y.path, y));
                let cell = read(&cell.expect("numbers"));
                let refused = prepare(&cell).err().filter(|error| !matches!(error, RunError::WouldBoil(_)));
                assert!(refused.is_none(), "{} at {x}, {y}: {refused:?}", scenario.name);
            }
        }
    }
}

#[test]
fn a_question_from_another_file_says_whose_it_is() {
    let bare = read(&file("like = \"water-bang.toml\"\n[valve.bleed]\ndiameter = \"0.8 mm\"\n"));
    assert!(bare.question.ends_with("help? (question of water-bang.toml)"), "{}", bare.question);
    assert!(bare.data.ends_with("(data of water-bang.toml)"), "{}", bare.data);
    let own = read(&like("water-bang", ""));
    assert_eq!((own.question.as_str(), own.data.as_str()), ("?", "Invented."));
}

#[test]
fn a_full_state_gives_the_supply_its_pressure_where_that_says_none() {
    let state = "[fluid]\nstate = \"R134a liquid, 40 °C, 15 bar(a)\"\n";
    let taken = like("liquid-refrigerant", &format!("{state}[supply]\npressure = \"none\"\n"));
    assert!((read(&taken).supply.pressure - 15e5).abs() < 1.0);
    let keys = "[fluid.named]\nname = \"R134a\"\ntemperature = \"40 °C\"\nsubcooling = \"5 K\"\n";
    let fixed = read(&like("liquid-refrigerant", &format!("{keys}[supply]\npressure = \"none\"\n")));
    assert!((fixed.supply.pressure / 11.6e5 - 1.0).abs() < 0.01, "{}", fixed.supply.pressure);
    // Half a state gives none.
    let half = "[fluid.named]\nname = \"R134a\"\ntemperature = \"40 °C\"\n[supply]\npressure = \"none\"\n";
    assert!(refused(&like("liquid-refrigerant", half)).contains("does not state the supply pressure"));
    // The one way of stating it takes the place of the other, which may be said.
    let both = "[supply]\ndifferential = \"none\"\npressure = \"6 bar(a)\"\n";
    assert!((read(&like("water-bang", both)).supply.pressure - 6e5).abs() < 1.0);
}

#[test]
fn a_sink_pressure_left_from_another_fluid_is_remarked_on() {
    let said = |rest: &str| -> String {
        let (_, warnings) = like("liquid-refrigerant", rest).scenario().unwrap_or_else(|p| panic!("{p}"));
        warnings.iter().map(ToString::to_string).collect()
    };
    let other = "[fluid]\nstate = \"R134a liquid, 40 °C\"\n[supply]\npressure = \"15 bar(a)\"\n";
    let left = said(other);
    assert!(left.contains("8 bar(a) is that of the file") && left.contains("boils at 31"), "{left}");
    assert!(left.contains("160 kJ/kg is that"), "{left}");
    let own = said(&format!(
        "{other}[sink]\npressure = \"2.9 bar(a)\"\n[flow]\nrefrigerating_duty = \"10 kW\"\nrefrigerating_effect = \"150 kJ/kg\"\n"
    ));
    assert!(!own.contains("is that of the file"), "{own}");
    // The same fluid in another state.
    let same = said("[fluid]\nstate = \"R410A liquid, 5 K subcooled\"\n[supply]\npressure = \"24.3 bar(a)\"\n");
    assert!(!same.contains("is that of the file"), "{same}");
}
