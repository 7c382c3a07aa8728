//! Absurd values: on every path, by hand and out of a study, they are refused or understood; no infinite number and none that is
//! not a number is ever shown.

use crate::demo;
use crate::program::{quietseat, text};
use quietseat::scenario::{Document, echo};
use quietseat::units::{Dimension, UnitSystem, accepted_units, parse, show};

/// A word for a number that is none. What was typed is repeated between quotation marks and does not count.
fn shows_no_number(text: &str) -> bool {
    let ours: String = text.split(['"', '`']).step_by(2).collect();
    ours.split(|c: char| !c.is_alphanumeric())
        .any(|word| ["inf", "nan", "infinite"].contains(&word.to_lowercase().as_str()))
}

const DEMOS: [&str; 5] = ["water-bang", "air-low-differential", "ac-ring", "liquid-refrigerant", "hot-gas"];

fn documents() -> impl Iterator<Item = Document> {
    DEMOS.iter().map(|name| demo::open(name))
}

const ABSURD: [&str; 14] = [
    "1e308", "-1e308", "1e-320", "-1e-320", "0", "-0", "nan", "inf", "-inf", "1e999", "1e29", "1e-29", "1e15", "1e-15",
];

/// Every text that a reading of the document may show.
fn told(document: &Document) -> String {
    match (document.scenario(), echo(document)) {
        (Ok((_, warnings)), Ok(rows)) => {
            let rows = rows.iter().map(|row| format!("{} {} {}", row.path, row.si, row.us));
            warnings.iter().map(ToString::to_string).chain(rows).collect::<Vec<_>>().join("\n")
        }
        (Err(problems), _) | (_, Err(problems)) => problems.to_string(),
    }
}

#[test]
fn no_path_shows_a_number_that_is_none() {
    let mut bad = Vec::new();
    for document in documents() {
        for path in document.paths() {
            let units = document.dimension(path).map_or(Vec::new(), accepted_units);
            let unit = units.first().map_or("", String::as_str);
            for value in ABSURD {
                let setting = format!("{path}={value} {unit}");
                let shown = document.with_setting(&setting).map_or_else(|e| e.message, |changed| told(&changed));
                let shown = shown.replace(&setting, "as typed");
                if shows_no_number(&shown) {
                    bad.push(format!("{setting}: {shown}"));
                }
                let number: f64 = value.parse().expect("a number");
                let shown = document.with_number(path, number).map_or_else(|e| e.to_string(), |changed| told(&changed));
                if shows_no_number(&shown) {
                    bad.push(format!("{path} = {value}: {shown}"));
                }
            }
        }
    }
    assert!(bad.is_empty(), "{} times, such as\n{}", bad.len(), bad[..bad.len().min(12)].join("\n"));
}

/// The values by hand as well, through the command; the least and the largest sizes that no range forbids are the hardest.
#[test]
fn the_command_shows_no_number_that_is_none() {
    let (mut bad, mut runs) = (Vec::new(), 0);
    for document in documents() {
        for path in document.paths() {
            let units = document.dimension(path).map_or(Vec::new(), accepted_units);
            let unit = units.first().map_or("", String::as_str);
            for value in ["1e30", "1e22", "1e-30", "1e-22", "0"] {
                let setting = format!("{path}={value} {unit}");
                if document.with_setting(&setting).is_ok_and(|changed| changed.scenario().is_ok()) {
                    runs += 1;
                    let done = quietseat(&["check", &format!("scenarios/{}.toml", document.name()), "--set", &setting]);
                    let shown = format!("{}{}", text(&done.stdout), text(&done.stderr));
                    if shows_no_number(&shown) || shown.contains("panicked") {
                        let lines = shown.lines().filter(|line| shows_no_number(line) || line.contains("panicked"));
                        bad.push(format!(
                            "{} {setting}: {}",
                            document.name(),
                            lines.collect::<Vec<_>>().join("\n    ")
                        ));
                    }
                }
            }
        }
    }
    assert!(runs > 100, "{runs}");
    assert!(bad.is_empty(), "{} of {runs} times, such as\n{}", bad.len(), bad[..bad.len().min(12)].join("\n"));
}

#[test]
fn units_neither_take_nor_make_numbers_that_are_none() {
    for &dimension in Dimension::ALL {
        for unit in accepted_units(dimension) {
            for value in ["1e308", "-1e308", "1.7e308", "1e999", "nan", "inf", "1e-320", "-0"] {
                if let Ok(si) = parse(&format!("{value} {unit}"), dimension, 101_325.0) {
                    assert!(si.is_finite(), "{value} {unit}");
                }
            }
        }
        for value in [1e300, -1e300, 1e-320, 1.7e308, -1.7e308, 0.0, -0.0] {
            for system in [UnitSystem::Si, UnitSystem::Us] {
                let (number, unit) = show(value, dimension, system);
                assert!(!shows_no_number(&number), "{dimension:?} {value:e}: {number} {unit}");
                assert!(number != "-0", "{dimension:?} {value:e}: {number} {unit}");
            }
        }
    }
}

/// Phrases of the fluids and the options of `surge` as well.
#[test]
fn fluids_and_surge_refuse_what_is_absurd_at_its_place() {
    let told = |arguments: &[&str]| {
        let done = quietseat(arguments);
        let (out, errors) = (text(&done.stdout), text(&done.stderr));
        assert!(!shows_no_number(&out) && !shows_no_number(&errors), "{arguments:?}: {out}{errors}");
        assert!(!errors.contains("panicked"), "{arguments:?}: {errors}");
        (done.status.code(), errors)
    };
    for fluid in ["water", "air", "R134a", "R410A gas", "30 % by mass ethylene glycol", "mineral oil ISO VG 46"] {
        for value in ["1e308", "1e22", "-1e22", "1e-320", "0", "-0"] {
            for state in [
                format!("{value} °C"),
                format!("{value} °F"),
                format!("20 °C, {value} bar(a)"),
                format!("20 °C, {value} bar(g)"),
                format!("20 °C, {value} K subcooled"),
                format!("10 bar(a), {value} K superheated"),
                format!("10 bar(a), {value} K subcooled"),
                format!("{value} °C saturated, {value} K subcooled"),
            ] {
                told(&["fluid", &format!("{fluid}, {state}")]);
            }
        }
    }
    for (option, good) in [
        ("--length", "1 m"),
        ("--kv", "1 Kv"),
        ("--differential", "1 bar"),
        ("--velocity", "1 m/s"),
        ("--atmosphere", "1 bar(a)"),
        ("--pipe", "22 x 1 copper"),
    ] {
        let unit = good.trim_start_matches(['1', '2', ' ']);
        let absurd =
            ["1e308", "1e20", "1e-20", "1e-320", "0", "-1", "nan", "inf", "1e999"].map(|n| format!("{n} {unit}"));
        let absurd = absurd.into_iter().chain(["", "text", "5", "5 furlong", "5 kg", "\u{1b}[2J"].map(str::to_owned));
        for value in absurd {
            // One string with "=", so that a sign in front is the value's.
            let (code, errors) = told(&["surge", &format!("{option}={value}"), "--out", env!("CARGO_TARGET_TMPDIR")]);
            assert_eq!(code, Some(2), "{option} {value}");
            assert!(errors.starts_with(&format!("quietseat: {option}: ")), "{option} {value}: {errors}");
        }
    }
}
