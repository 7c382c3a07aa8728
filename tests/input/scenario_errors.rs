//! Every kind of error in a scenario file has its message at its place, and all come at once.

use crate::demo;
use crate::replaced::{WATER, changed, messages, problems};
use quietseat::scenario::Document;

/// The only message after one replacement.
fn message(from: &str, to: &str) -> String {
    let found = messages(&changed(from, to));
    assert_eq!(found.len(), 1, "{found:?}");
    found[0].clone()
}

#[test]
fn an_unknown_key_is_shown_at_its_place_with_the_nearest_word() {
    let text = problems(&changed("diameter = \"1.0 mm\"", "diametr = \"1.0 mm\"")).to_string();
    let line = demo::text(WATER).lines().position(|line| line == "diameter = \"1.0 mm\"").expect("it is there") + 1;
    let heading = demo::text(WATER).lines().position(|line| line == "[valve.bleed]").expect("it is there") + 1;
    assert_eq!(
        text,
        format!(
            "scenarios/changed.toml:{heading}:8: [valve.bleed] lacks `diameter`, the bore of the bleed orifice: wanted a \
             length as text with its unit, such as \"0.8 mm\"\n  {heading} | [valve.bleed]\n     |        ^^^^^\n\
             scenarios/changed.toml:{line}:1: unknown key `diametr` in [valve.bleed]; did you mean `diameter`?\n  \
             {line} | diametr = \"1.0 mm\"\n     | ^^^^^^^"
        )
    );
}

#[test]
fn each_kind_of_error_has_its_message() {
    for (from, to, wanted) in [
        (
            "lift = \"3 mm\"",
            "lift = \"3 kg\"",
            "valve.main.lift: \"kg\" is a unit for a mass; wanted a length in one of m, cm, mm, µm, in, ft",
        ),
        (
            "lift = \"3 mm\"",
            "lift = 3",
            "valve.main.lift: found 3 without a unit, wanted a length as text with its unit, such as \"0.8 mm\"",
        ),
        (
            "lift = \"3 mm\"",
            "lift = \"3\"",
            "valve.main.lift: \"3\" has no unit; wanted a length in one of m, cm, mm, µm, in, ft, such as \"0.8 mm\"",
        ),
        (
            "lift = \"3 mm\"",
            "lift = [3]",
            "valve.main.lift: found a list, wanted a length as text with its unit, such as \"0.8 mm\"",
        ),
        (
            "lift = \"3 mm\"",
            "lift = \"-3 mm\"",
            "valve.main.lift: found \"-3 mm\", but the full lift must be above zero",
        ),
        (
            "on_fraction = \"50 %\"",
            "on_fraction = 50",
            "duty.on_fraction: found 50, but the share of a cycle for which the coil is energised must be above 0 and \
             below 1 (100 %)",
        ),
        (
            "attitude = \"upright\"",
            "attitude = \"uprigth\"",
            "valve.attitude: \"uprigth\" is not one of \"upright\", \"lying\", \"hanging\" or an angle such as \"30 °\"; \
             did you mean \"upright\"?",
        ),
        (
            "pressure = \"1 bar(g)\"",
            "pressure = \"1 bar\"",
            "sink.pressure: \"1 bar\" does not say whether it is absolute or gauge; write \"1 bar(a)\" if it is counted \
             from vacuum, \"1 bar(g)\" if it is what a gauge shows",
        ),
        (
            "differential = \"5 bar\"",
            "differential = \"5 bar(g)\"",
            "supply.differential: \"5 bar(g)\" is an absolute or gauge pressure, wanted a pressure difference; a difference \
             is counted from neither vacuum nor the atmosphere: write it in bar",
        ),
        (
            "differential = \"5 bar\"",
            "differential = \"5 bar\"\npressure = \"6 bar(a)\"",
            "`supply.pressure` and `supply.differential` both state the supply pressure; keep one of them",
        ),
        (
            "differential = \"5 bar\"",
            "",
            "[supply] does not state the supply pressure: write `supply.pressure`, or `supply.differential`",
        ),
        (
            "temperature = \"60 °C\"",
            "",
            "[valve.coil] does not state the winding temperature: write `valve.coil.temperature`, or `valve.coil.ambient` \
             with `valve.coil.thermal_resistance`, or `valve.coil.network`",
        ),
        (
            "path = \"duty.cycle_rate\"",
            "path = \"duty.cycle_ratio\"",
            "map.y.path: `duty.cycle_ratio` is not a path; nearest known: `duty.cycle_rate`, `duty.on_fraction`",
        ),
        (
            "name = \"water\"",
            "name = \"watr\"",
            "\"watr\" is not a known fluid: did you mean \"water\"? Known are water, air, nitrogen, R744, R717, R290, R600a, R134a, R32, R22, R1234yf, \
             R1234ze(E), R410A, R407C, R404A, R507A, R448A, R449A, R454B, R513A, ethylene glycol, propylene glycol, mineral oil ISO \
             VG 22, mineral oil ISO VG 32, mineral oil ISO VG 46, mineral oil ISO VG 68, naphthenic oil ISO VG 32; state \
             others by numbers under [fluid.liquid] or [fluid.gas]",
        ),
        (
            "temperature = \"20 °C\"",
            "temperature = \"250 °C\"",
            "water is known from 0.01 °C to 200 °C only, not at 250 °C",
        ),
        (
            "seat_diameter = \"12 mm\"",
            "seat_diameter = \"36 mm\"",
            "the main seat (36 mm) is not narrower than the effective diameter (36 mm): no pressure could open it",
        ),
        (
            "volume = \"9 cm³\"",
            "volume = \"3 cm³\"",
            "the chamber (3 cm³) is not larger than what the main stage sweeps at full lift (3.054 cm³)",
        ),
        (
            "path = \"duty.cycle_rate\"\nfrom = \"1 1/h\"\nto = \"1 1/s\"",
            "path = \"duty.on_fraction\"\nfrom = \"10 %\"\nto = \"150 %\"",
            "`duty.on_fraction` must be above 0 and below 1 (100 %) along the whole axis",
        ),
        ("points = 32", "points = 3.5", "map.x.points: found 3.5, wanted a whole number"),
        (
            "[limits]",
            "[limts]\nx = 1\n[limits]",
            "unknown table `limts` at the head of the file; did you mean `limits`?",
        ),
        ("[limits]", "[limits]\nattitude = 1", "unknown key `attitude` in [limits]; it belongs in [valve]"),
    ] {
        assert_eq!(message(from, to), wanted);
    }
}

#[test]
fn a_missing_table_is_one_message() {
    let text = demo::text(WATER);
    let start = text.find("[valve.bleed]").expect("it is there");
    let end = text.find("[valve.chamber]").expect("it is there");
    let document = Document::from_text("x.toml", format!("{}{}", &text[..start], &text[end..]));
    assert_eq!(
        messages(&document),
        ["the table [valve.bleed] is missing; it holds: diameter, length, discharge_coefficient, pin"]
    );
}

#[test]
fn all_errors_come_at_once_in_the_order_of_the_lines() {
    let text = demo::text(WATER)
        .replace("bore = \"16 mm\"", "bore = \"16\"")
        .replace("mass = \"18 g\"", "mas = \"18 g\"")
        .replace("model", "modle")
        .replace("cycle_rate = \"60 1/h\"", "cycle_rate = \"60 bar\"");
    let found = problems(&Document::from_text("x.toml", text));
    let lines: Vec<usize> = found.0.iter().map(|problem| problem.position.expect("each has a line").0).collect();
    assert_eq!(found.0.len(), 5, "{found}");
    assert!(lines.is_sorted(), "{lines:?}");
}

#[test]
fn what_is_not_toml_is_reported_without_missing_values() {
    let found = messages(&changed("diameter = \"1.0 mm\"", "diameter = \"1.0 mm"));
    assert!(!found.is_empty());
    assert!(found.iter().all(|message| message.starts_with("this is not TOML")), "{found:?}");
}

#[test]
fn a_wrong_atmosphere_does_not_hide_in_gauge_pressures() {
    assert!(message("atmosphere = \"1.013 bar(a)\"", "atmosphere = \"1.013 bar\"").contains("absolute or gauge"));
    assert!(message("atmosphere = \"1.013 bar(a)\"", "atmosphere = \"0 bar(g)\"").contains("cannot be used here"));
}

#[test]
fn odd_values_are_warnings() {
    let (_, warnings) =
        changed("wave_speed = \"1300 m/s\"", "wave_speed = \"1600 m/s\"").scenario().expect("it can run");
    assert_eq!(warnings.len(), 1);
    let line = demo::text(WATER).lines().position(|line| line.starts_with("wave_speed")).expect("it is there") + 1;
    let text = warnings[0].to_string();
    assert!(text.starts_with(&format!("scenarios/changed.toml:{line}:14: warning: faster than sound")), "{text}");
    let ringed = demo::with(WATER, &["valve.coil.shading_ring=150 µohm"]);
    let (_, warnings) = ringed.scenario().expect("it can run");
    assert_eq!(warnings.len(), 1);
    assert!(warnings[0].to_string().contains("does not help to hold the armature"), "{}", warnings[0]);
}

#[test]
fn wrong_settings_are_refused_at_once() {
    let refused = |setting: &str| demo::open(WATER).with_setting(setting).expect_err(setting).to_string();
    assert_eq!(
        refused("valve.bleed.diametr=0.6 mm"),
        "setting valve.bleed.diametr=0.6 mm: `valve.bleed.diametr` is not a path; nearest known: `valve.bleed.diameter`, \
         `valve.pilot.diameter`, `valve.bleed.pin.diameter`"
    );
    assert!(refused("valve.bleed.diameter=0.6").contains("has no unit"));
    assert!(refused("valve.bleed.diameter=0 mm").contains("must be above zero"));
    assert!(refused("sink.pressure=2 bar").contains("absolute or gauge"));
    assert!(refused("just text").contains("not of the form PATH=VALUE"));
    assert!(refused("valve.bleed=none").contains("is not a path"));
}

#[test]
fn errors_of_a_like_file_point_to_the_right_file() {
    let folder = std::env::temp_dir().join(format!("quietseat-like-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let write = |name: &str, text: &str| std::fs::write(folder.join(name), text).expect("a file can be written");
    write("base.toml", &demo::text(WATER).replace("lift = \"3 mm\"", "lift = \"3 kg\""));
    write("top.toml", "like = \"base.toml\"\n[valve.bleed]\nlenght = \"1 mm\"\n");
    write("circle.toml", "like = \"circle.toml\"\n");
    write("lost.toml", "like = \"nowhere.toml\"\n");
    let found = |name: &str| {
        problems(&Document::open(folder.join(name)).expect("it is read"))
            .0
            .into_iter()
            .map(|problem| (problem.origin.rsplit(['/', '\\']).next().unwrap_or("").to_owned(), problem))
            .collect::<Vec<_>>()
    };
    let both = found("top.toml");
    assert_eq!(both.len(), 2);
    assert_eq!(both[0].0, "base.toml");
    assert!(both[0].1.message.contains("\"kg\" is a unit for a mass"));
    assert_eq!((both[1].0.as_str(), both[1].1.position), ("top.toml", Some((3, 1))));
    let circle = found("circle.toml");
    assert!(circle.len() == 1 && circle[0].1.message.contains("runs in a circle"), "{circle:?}");
    let lost = found("lost.toml");
    assert!(lost.len() == 1 && lost[0].1.message.starts_with("cannot read "), "{lost:?}");
    assert_eq!(lost[0].1.position, Some((1, 8)));
    std::fs::remove_dir_all(&folder).expect("the folder can be removed");
    assert!(Document::open(folder.join("gone.toml")).is_err());
}

/// Parts that cannot be: a pilot wider than the stage, a pole that the magnet presses through its residual gap, a fluid so thin
/// that it is none.
#[test]
fn parts_that_cannot_be_are_refused_with_what_would_mend_it() {
    let document = demo::open(WATER);
    for (setting, words) in [
        ("valve.pilot.seat_diameter=60 mm", ["is not narrower than the stage", "effective diameter"]),
        (
            "valve.armature.pole.stiffness=2e7 N/m^1.5",
            ["more than half of the residual gap (0.1 mm)", "state at least"],
        ),
        ("fluid.state=R22 vapour, 10 °C, 1e-6 bar(a)", ["is a vacuum", "state a higher one"]),
    ] {
        let told = match document.with_setting(setting).map(|changed| changed.scenario()) {
            Ok(Ok(_)) => panic!("{setting} is taken"),
            Ok(Err(problems)) => problems.to_string(),
            Err(problem) => problem.to_string(),
        };
        assert!(words.iter().all(|word| told.contains(word)), "{setting}: {told}");
    }
    assert!(document.with_setting("valve.armature.pole.stiffness=1e9 N/m^1.5").expect("a setting").scenario().is_ok());
}
