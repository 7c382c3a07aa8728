//! Digits: what is printed as firm does not move when one mass changes by the last bits of a number.

use crate::demo;
use quietseat::indicator::{Firmness, Indicators, noise};
use quietseat::output::text::{Extent, indicator_table};
use quietseat::study::examine::examine;

fn indicators(name: &str, change: f64) -> Indicators {
    let mut scenario = demo::scenario(name, &[]);
    scenario.valve.main.mass *= 1.0 + change;
    examine(&scenario).expect("a run").indicators
}

const DEMOS: [&str; 14] = [
    "ac-no-ring",
    "ac-rectified",
    "ac-ring",
    "air-low-differential",
    "ammonia-liquid",
    "blend-liquid",
    "glycol-plant",
    "hot-gas",
    "liquid-closing",
    "liquid-refrigerant",
    "suction-gas",
    "water-bang",
    "water-chatter",
    "water-closing",
];

/// The last bits of the stage's mass: nothing that anyone could measure, but other steps of the integration.
const CHANGES: [f64; 2] = [3e-15, -3e-15];

/// One unit of the last of three digits.
fn last_digit(value: f64) -> f64 {
    10_f64.powf(value.abs().log10().floor() - 2.0)
}

/// What is firm and yet moves by more than its last printed digit.
fn moved(name: &str) -> Vec<String> {
    let base = indicators(name, 0.0);
    let mut all = Vec::new();
    for change in CHANGES {
        for (a, b) in base.list().iter().zip(indicators(name, change).list()) {
            let firm = a.firmness == Firmness::Firm;
            match (a.value, b.value) {
                (None, None) => {}
                (Some(x), Some(y)) if x.abs().max(y.abs()) < noise(a.name) => {}
                (Some(x), Some(y)) if !firm || x == y || (x - y).abs() <= last_digit(x.abs().max(y.abs())) => {}
                (x, y) => all.push(format!("{name}, mass by {change:e}: {} from {x:?} to {y:?}", a.name)),
            }
        }
    }
    all
}

#[test]
fn what_is_printed_as_firm_does_not_move_with_the_last_bits_of_an_input() {
    let moved: Vec<String> = std::thread::scope(|scope| {
        let threads: Vec<_> = DEMOS.into_iter().map(|name| scope.spawn(move || moved(name))).collect();
        threads.into_iter().flat_map(|thread| thread.join().expect("a run")).collect()
    });
    assert!(moved.is_empty(), "{}", moved.join("\n"));
}

/// The numbers of a closing from rest are firm: what is told as about is what is so.
#[test]
fn a_quiet_closing_is_told_to_three_digits() {
    let found = indicators("water-bang", 0.0);
    for name in ["effective_closing_time", "closing_time", "steepest_stop", "first_seat_speed", "surge", "flow_open"] {
        assert_eq!(found.firmness(name), Firmness::Firm, "{name}");
    }
    for name in ["hardest_seat_speed", "inlet_peak_later", "pull_in_energy"] {
        assert_eq!(found.firmness(name), Firmness::About, "{name}");
    }
    let chatters = indicators("air-low-differential", 0.0);
    assert_eq!(chatters.firmness("closing_time"), Firmness::About);
    let text = indicator_table(&found, Extent::All, 100);
    let line = |name: &str| text.lines().find(|l| l.starts_with(name)).unwrap_or_default().to_owned();
    assert!(line("hardest seat speed").contains("about"), "{text}");
    assert!(line("oscillation ").contains("below 0.1 %"), "{text}");
}
