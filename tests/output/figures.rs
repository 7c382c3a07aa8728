//! Draws the figures from invented data into `target/figures/` and checks their structure.

use crate::synthetic_map;
use crate::synthetic_trace;
use std::path::PathBuf;

use quietseat::output::figure::cycle::{Limit, RunFigure, cycle};
use quietseat::output::figure::stability_map::stability_map;
use quietseat::output::figure::{Figure, Origin};
use quietseat::output::text::{Colouring, map_summary};
use quietseat::output::{csv, json};
use quietseat::trace::Trace;
use quietseat::units::Dimension;

const CAUTION: &str = "A model, not a measurement: boundaries shift with wear, dirt and tolerance. Check on site before you change a plant.";

fn keep(name: &str, figure: &Figure) -> Vec<u8> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/figures");
    std::fs::create_dir_all(&folder).expect("the folder of the figures can be made");
    let png = figure.png(2.0).expect("the figure can be turned into pixels");
    std::fs::write(folder.join(format!("{name}.svg")), &figure.svg).expect("written");
    std::fs::write(folder.join(format!("{name}.png")), &png).expect("written");
    png
}

/// Every text of the drawing, in order.
fn texts(figure: &Figure) -> Vec<String> {
    let pieces = figure.svg.split("<text").skip(1);
    pieces
        .filter_map(|piece| piece.split_once('>')?.1.split_once("</text>"))
        .map(|(text, _)| text.trim().to_owned())
        .collect()
}

fn assert_says(figure: &Figure, wanted: &[&str]) {
    let texts = texts(figure);
    for words in wanted {
        assert!(texts.iter().any(|t| t == words), "{words:?} is not written; there is {texts:#?}");
    }
}

/// Width and height of a picture, from its header (PNG specification, IHDR chunk).
fn size(png: &[u8]) -> (u32, u32) {
    assert_eq!(&png[..8], b"\x89PNG\r\n\x1a\n");
    let number = |at: usize| u32::from_be_bytes([png[at], png[at + 1], png[at + 2], png[at + 3]]);
    (number(16), number(20))
}

fn smallest_text(figure: &Figure) -> f64 {
    let sizes = figure.svg.split("font-size=\"").skip(1);
    let read = |piece: &str| piece.split('"').next().and_then(|n| n.parse::<f64>().ok());
    // Four units of the drawing are one point.
    sizes.filter_map(read).fold(f64::INFINITY, f64::min) / 4.0
}

#[test]
fn the_map_names_regions_axes_units_and_the_point() {
    let figure = stability_map(&synthetic_map::usual(), CAUTION);
    let png = keep("map_usual", &figure);
    assert_says(
        &figure,
        &[
            "differential pressure [bar]",
            "differential pressure [psi]",
            "cycle rate [1/h]",
            "cycle rate [per minute, per second]",
            "1/min",
            "1/s",
            "chatters",
            "opens fully",
            "floats",
            "steadily",
            "also: hammers",
            "also: hums",
            "no result (see below)",
            "your point",
            "lift-off by hand 0.045 bar",
            "highest opening differential 14 bar",
            "coil temperature limit 155 °C",
            "of this across the valve itself, at its flow:",
            "Your point: 1.2 bar (17.4 psi), 60 1/h.",
            "2L/a of the upstream line is 18 ms: closing within it is sudden.",
            "Λ is 0.42: below 0.3 a floating stage is quiet.",
        ],
    );
    assert!(texts(&figure).iter().any(|t| t.starts_with("Hatched grey: 12 of 1408 cells failed")));
    assert!(smallest_text(&figure) >= 9.0 - 1e-9, "{}", smallest_text(&figure));
    assert_eq!(size(&png).0, 1360);
}

#[test]
fn a_map_over_other_axes_has_their_titles_and_tells_what_failed() {
    let figure = stability_map(&synthetic_map::other_axes(), CAUTION);
    keep("map_other_axes", &figure);
    assert_says(
        &figure,
        &["length of the upstream line [m]", "length of the upstream line [ft]", "failed", "lowest supply 85 %"],
    );
    let texts = texts(&figure);
    assert!(texts.iter().any(|t| t.starts_with("Hatched grey: 9 of 156 cells failed")));
    assert!(texts.iter().any(|t| t.contains("lies outside the figure")));
}

#[test]
fn cells_that_would_boil_are_a_region_apart_from_the_failed_ones() {
    let map = synthetic_map::boiling();
    let figure = stability_map(&map, CAUTION);
    keep("map_boiling", &figure);
    // Once in the legend, and in the region as letters on their rim.
    assert_eq!(texts(&figure).iter().filter(|t| *t == "would boil").count(), 3);
    assert_says(&figure, &["no result (see below)", "volume flow [L/min]", "edge, by the grid"]);
    let boil = map.cells.iter().filter(|c| matches!(c, quietseat::study::map::Cell::WouldBoil(_))).count();
    let said = texts(&figure).join(" ");
    for sentence in [
        format!("Bubbles: in {boil} of 288 cells the liquid would boil on its way"),
        "invented reason 0 13".into(),
        "Hatched grey: 3 of 288 cells failed; the first at".into(),
        "Your scenario has no value for the length of the upstream line, so your point is not on the map.".into(),
    ] {
        assert!(said.contains(&sentence), "{sentence} in {said}");
    }
    assert!(!said.contains("outside"), "{said}");
}

fn run_figure(trace: &Trace) -> Figure {
    let limits = [
        Limit { label: "highest allowed pressure".into(), dimension: Dimension::AbsolutePressure, value: 11e5 },
        Limit { label: "test pressure".into(), dimension: Dimension::AbsolutePressure, value: 90e5 },
        Limit { label: "no number".into(), dimension: Dimension::AbsolutePressure, value: f64::NAN },
    ];
    let overrides = ["duty.on_fraction=0.6".to_owned()];
    cycle(&RunFigure {
        told: &[],
        trace,
        origin: Origin {
            question: "Why does the valve of the hot-water loop bang when it shuts?",
            scenario: "hot-water-loop",
            data: "invented for this figure; no valve stands behind it",
            overrides: &overrides,
        },
        limits: &limits,
        vapour_pressure: Some(0.2e5),
        caution: CAUTION,
    })
}

#[test]
fn the_run_names_curves_limits_events_and_units() {
    let figure = run_figure(&synthetic_trace::usual());
    let png = keep("cycle_usual", &figure);
    assert_says(
        &figure,
        &[
            "whole run",
            "opening",
            "closing",
            "pressure [bar(a)]",
            "pressure [psia]",
            "time [s]",
            "ms after switching off",
            "inlet pressure",
            "chamber pressure",
            "magnet force",
            "bleed flow",
            "highest allowed pressure",
            "vapour pressure",
            "Dashed lines: highest allowed pressure 11 bar(a) (160 psia); vapour pressure 0.2 bar(a) (2.9 psia).",
            "coil energised",
            "main stage meets its seat",
            "outlet cavity collapses",
        ],
    );
    let contacts =
        "2 contacts of the main stage with its seat; the hardest 52 ms after switching off, with about 0.83 m/s";
    assert!(texts(&figure).iter().any(|t| t.starts_with(contacts)));
    assert!(smallest_text(&figure) >= 9.0 - 1e-9);
    assert_eq!(size(&png).0, 1360);
}

/// Numbers along the left side of the panels: texts that end at the frame and are numbers.
fn numbers_in(texts: &[String]) -> Vec<f64> {
    texts.iter().filter_map(|t| t.replace('−', "-").parse().ok()).collect()
}

#[test]
fn pressures_far_from_nought_fill_their_panel() {
    let mut trace = synthetic_trace::usual();
    trace.channels.retain(|c| c.quantity.name == "inlet_pressure");
    for value in &mut trace.channels[0].values {
        *value = 2e5 + 0.01 * (*value - 6e5);
    }
    let figure = run_figure(&trace);
    keep("cycle_narrow", &figure);
    let texts = texts(&figure);
    // 5.3 to 11.7 bar, shrunk a hundredfold about 2 bar.
    assert!(numbers_in(&texts).contains(&1.98), "{texts:#?}");
    let beyond = "Too far from the curves to be drawn: highest allowed pressure 11 bar(a) (160 psia);";
    assert!(texts.iter().any(|t| t.starts_with(beyond)), "{texts:#?}");
}

#[test]
fn panels_in_which_nothing_happens_are_left_out() {
    let mut trace = synthetic_trace::usual();
    for channel in &mut trace.channels {
        match channel.quantity.name {
            "outlet_gas_volume" => channel.values.fill(3e-15),
            "coil_current" => channel.values.fill(0.36),
            _ => {}
        }
    }
    let figure = run_figure(&trace);
    keep("cycle_quiet_panels", &figure);
    let texts = texts(&figure);
    assert!(!texts.iter().any(|t| t == "outlet cavity" || t == "coil current"), "{texts:#?}");
    assert_says(&figure, &["Constant, not drawn: coil current 0.36 A."]);
}

#[test]
fn a_flat_window_has_a_scale_of_its_own_and_says_so() {
    let mut trace = synthetic_trace::usual();
    // A bang after closing, thirty times the steps before.
    let time = trace.time.clone();
    for channel in trace.channels.iter_mut().filter(|c| c.quantity.name.ends_with("pressure")) {
        for (value, &t) in channel.values.iter_mut().zip(&time) {
            *value += if t > 1.36 { 250e5 } else { 0.0 };
        }
    }
    let figure = run_figure(&trace);
    keep("cycle_own_scale", &figure);
    assert!(texts(&figure).iter().any(|t| t.starts_with("own scale")), "{:#?}", texts(&figure));
    assert!(!texts(&run_figure(&synthetic_trace::usual())).iter().any(|t| t.starts_with("own scale")));
}

#[test]
fn many_contacts_are_counted_not_blackened() {
    let (_, trace) =
        synthetic_trace::odd().into_iter().find(|(name, _)| *name == "many_events").expect("the run with many events");
    let figure = run_figure(&trace);
    let contacts = trace.events.iter().filter(|e| e.kind == quietseat::trace::EventKind::SeatContact).count();
    assert_says(&figure, &[&format!("{contacts}×")]);
    let shapes = figure.svg.matches("<polygon").count();
    assert!(shapes < 100, "{shapes}");
}

#[test]
fn a_region_narrower_than_its_word_is_named_upright() {
    let figure = stability_map(&synthetic_map::narrow(), CAUTION);
    keep("map_narrow", &figure);
    let upright = |words: &str| {
        let mut pieces = figure.svg.split("<text").skip(1);
        pieces.any(|p| {
            let (head, rest) = p.split_once('>').unwrap_or(("", ""));
            rest.trim_start().starts_with(words) && head.contains("rotate(")
        })
    };
    assert!(upright("chatters") && !upright("opens fully"));
    assert_says(&figure, &["refrigerating duty [kW]", "refrigerating duty [tons of refrigeration]"]);
}

#[test]
fn a_run_without_most_channels_says_so() {
    let mut trace = synthetic_trace::usual();
    trace.channels.retain(|c| c.quantity.name == "inlet_pressure" || c.quantity.name == "lift");
    let figure = run_figure(&trace);
    keep("cycle_two_channels", &figure);
    assert_says(&figure, &["Not recorded: outlet pressure, coil current, main flow."]);
}

#[test]
fn equal_input_gives_equal_bytes() {
    let map = synthetic_map::usual();
    let trace = synthetic_trace::usual();
    let (a, b) = (stability_map(&map, CAUTION), stability_map(&map, CAUTION));
    assert_eq!(a.svg, b.svg);
    assert!(a.png(2.0) == b.png(2.0));
    assert_eq!(run_figure(&trace).svg, run_figure(&trace).svg);
    assert_eq!(csv::map(&map), csv::map(&map));
}

#[test]
fn odd_maps_are_drawn_and_written() {
    for (name, map) in synthetic_map::odd() {
        let figure = stability_map(&map, CAUTION);
        keep(&format!("odd_map_{name}"), &figure);
        assert!(!csv::map(&map).is_empty());
        assert!(serde_json::to_string(&json::map_part(&map)).is_ok());
        for width in [0, 40, 80] {
            let text = map_summary(&map, width, Colouring::Plain);
            assert!(!text.is_empty(), "{name}");
        }
    }
}

#[test]
fn odd_runs_are_drawn_and_written() {
    for (name, trace) in synthetic_trace::odd() {
        let figure = run_figure(&trace);
        keep(&format!("odd_run_{name}"), &figure);
        assert!(csv::trace(&trace).starts_with(b"time [s]"));
    }
    assert_says(&run_figure(&Trace::default()), &["The run recorded nothing that could be drawn."]);
}

#[test]
fn a_picture_without_size_is_refused() {
    let figure = run_figure(&Trace::default());
    for scale in [0.0, f64::NAN, 1e9, -1.0] {
        assert!(figure.png(scale).is_err(), "{scale}");
    }
}
