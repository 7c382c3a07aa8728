//! Tables, texts and documents from invented data.

use crate::synthetic_map;
use quietseat::indicator::Indicators;
use quietseat::output::text::{Colouring, map_summary};
use quietseat::output::{csv, json};
use quietseat::verdict::{Behaviour, Finding, Verdict};

#[test]
fn the_table_of_a_map_has_a_row_for_each_cell_and_reads_back() {
    let map = synthetic_map::usual();
    let text = csv::map(&map);
    let mut reader = ::csv::Reader::from_reader(text.as_slice());
    let heading = reader.headers().expect("a heading").clone();
    let column = |name: &str| heading.iter().position(|h| h == name).unwrap_or_else(|| panic!("{name} in {heading:?}"));
    let (x, state, leading) = (column("supply.differential [bar]"), column("state"), column("leading_behaviour"));
    let (closing, failure, adverse) = (column("closing_time [s]"), column("failure"), column("adverse_findings"));
    assert_eq!(heading.len(), 9 + Indicators::default().list().len() + 11);
    let rows: Vec<::csv::StringRecord> = reader.records().map(|r| r.expect("a row")).collect();
    assert_eq!(rows.len(), map.cells.len());
    let columns = map.x.values.len();
    for (i, row) in rows.iter().enumerate() {
        let bar: f64 = row[x].parse().expect("a number");
        // One rounding on the way to bar, none on the way to text and back.
        assert_eq!(bar, map.x.values[i % columns] * 1e-5);
        match &row[state] {
            "failed" => {
                assert!(row[failure].starts_with("step size fell") && row[leading].is_empty())
            }
            "done" => assert!(&row[closing] == "0.0123" && !row[leading].is_empty()),
            other => panic!("{other}"),
        }
    }
    assert!(rows.iter().any(|r| &r[adverse] == "hammers; closes hard"));
    assert_eq!(rows.iter().filter(|r| &r[state] == "failed").count(), 12);
}

#[test]
fn a_liquid_that_would_boil_has_its_own_word_count_and_reason_everywhere() {
    let map = synthetic_map::boiling();
    let boil = map.cells.iter().filter(|c| matches!(c, quietseat::study::map::Cell::WouldBoil(_))).count();
    let table = csv::map(&map);
    let mut reader = ::csv::Reader::from_reader(table.as_slice());
    let heading = reader.headers().expect("a heading").clone();
    let column = |name: &str| heading.iter().position(|h| h == name).expect("a column");
    let (state, failure) = (column("state"), column("failure"));
    let rows: Vec<::csv::StringRecord> = reader.records().map(|r| r.expect("a row")).collect();
    let told: Vec<_> = rows.iter().filter(|r| &r[state] == "would_boil").collect();
    assert!(told.len() == boil && told.iter().all(|r| r[failure].starts_with("invented reason")));
    assert_eq!(rows.iter().filter(|r| &r[state] == "failed").count(), 3);

    let part = serde_json::to_value(json::map_part(&map)).expect("a document");
    let cells = part["cells"].as_array().expect("cells");
    let told =
        cells.iter().filter(|c| c["state"] == "would_boil" && c["failure"].is_string() && c["verdict"].is_null());
    assert_eq!(told.count(), boil);
    assert!(part["operating_point"][0].is_number() && part["operating_point"][1].is_null());

    let text = map_summary(&map, 400, Colouring::Plain);
    let signs = |sign: char| text.lines().filter(|l| l.contains('|')).map(|l| l.matches(sign).count()).sum::<usize>();
    assert_eq!((signs('~'), signs('?')), (boil, 3), "{text}");
    for wanted in [
        format!("~ would boil in {boil} of 288 cells; the first, at"),
        "invented reason 0 13".into(),
        "? failed in 3 of 288 cells; the first, at".into(),
        "Your scenario has no value for the length of the upstream line, so your point is not on the map.".into(),
    ] {
        assert!(text.contains(&wanted), "{wanted} in\n{text}");
    }
    assert!(!text.contains("outside") && !text.contains('@'), "{text}");
}

#[test]
fn the_map_of_characters_keeps_the_width_and_explains_its_letters() {
    let map = synthetic_map::usual();
    for width in [40, 60, 80, 140] {
        let text = map_summary(&map, width, Colouring::Plain);
        for line in text.lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
        // Once in the map, once in the key.
        assert_eq!(text.matches('@').count(), 2, "{width}:\n{text}");
        for words in ["C chatters", "O opens fully", "? failed", "@ your point", "cycle rate [1/h]"] {
            assert!(text.contains(words), "{words} in\n{text}");
        }
    }
    assert!(map_summary(&map, 80, Colouring::Coloured).contains("\u{1b}[38;5;166mC\u{1b}[0m"));
}

#[test]
fn the_map_of_characters_says_which_further_faults_and_scales_there_are() {
    let map = synthetic_map::usual();
    let text = map_summary(&map, 200, Colouring::Plain);
    let also = |behaviour: Behaviour| {
        let holds = |c: &&quietseat::study::map::Cell| match c {
            quietseat::study::map::Cell::Done(r) => {
                r.verdict.findings.iter().skip(1).any(|f| f.behaviour == behaviour && f.adverse)
            }
            _ => false,
        };
        map.cells.iter().filter(holds).count()
    };
    for behaviour in [Behaviour::Hums, Behaviour::Hammers, Behaviour::ClosesHard, Behaviour::Overheats] {
        assert!(also(behaviour) > 0);
        let told = format!("{} in {}", behaviour.words(), also(behaviour));
        assert!(text.contains(&told), "{told} in\n{text}");
    }
    for sentence in map.scales.iter().chain(&map.disagreements) {
        assert!(text.contains(sentence.as_str()), "{sentence} in\n{text}");
    }
    assert!(map_summary(&synthetic_map::narrow(), 80, Colouring::Plain).contains("refrigerating duty [kW]"));
}

fn document() -> json::Document {
    let finding = Finding {
        behaviour: Behaviour::RattlesWithSupply,
        adverse: true,
        margin: f64::INFINITY,
        reason: "It \"rattles\".".into(),
    };
    let indicators = Indicators { inlet_peak_closing: Some(2e5), mean_lift: Some(f64::NAN), ..Indicators::default() };
    json::Document {
        program: "quietseat".into(),
        version: "0".into(),
        command: json::Command::Run,
        scenario: "s".into(),
        question: "q?".into(),
        data: "invented".into(),
        overrides: vec!["a=1 bar".into()],
        inputs: vec![json::InputRow {
            path: "a".into(),
            si: "1 bar".into(),
            us: "14.5 psi".into(),
            typed: "1 bar".into(),
        }],
        remarks: Vec::new(),
        indicators: json::indicator_rows(&indicators),
        verdict: Some(json::verdict_part(&Verdict { findings: vec![finding], ..Verdict::default() })),
        map: Some(json::map_part(&synthetic_map::usual())),
        stability: None,
        closing: None,
        faults: None,
        ledger: vec![json::LedgerRow { name: "in".into(), value: 1.5, unit: "kg".into() }],
        counters: vec![json::CounterRow { name: "steps".into(), value: 12 }],
        cautions: vec!["c".into()],
    }
}

#[test]
fn the_document_has_all_parts_and_null_for_what_is_no_number() {
    let text = document().text();
    let read: serde_json::Value = serde_json::from_str(&text).expect("well formed");
    let listed = |name: &str| read["indicators"].as_array().and_then(|all| all.iter().find(|i| i["name"] == name));
    let peak = listed("inlet_peak_closing").expect("the indicator is listed");
    assert_eq!((&peak["value"], &peak["unit"], &peak["us_unit"]), (&2.0.into(), &"bar(a)".into(), &"psia".into()));
    assert!(listed("mean_lift").is_some_and(|i| i["value"].is_null()));
    assert_eq!(read["command"], "run");
    assert_eq!(read["verdict"]["findings"][0]["behaviour"], "rattles_with_supply");
    assert!(read["verdict"]["findings"][0]["margin"].is_null());
    assert_eq!(read["map"]["cells"].as_array().map(Vec::len), Some(1408));
    assert_eq!(read["map"]["cells"][45]["column"], 1);
    assert_eq!(read["map"]["cells"][45]["row"], 1);
    assert_eq!(read["inputs"][0]["us"], "14.5 psi");
    assert_eq!(read["ledger"][0]["unit"], "kg");
    assert!(text.ends_with("}\n"));
}
