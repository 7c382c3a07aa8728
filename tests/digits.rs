//! Digits: what is printed as firm does not move when one mass changes by the last bits of a number.

use quietseat::indicator::Indicators;
use quietseat::scenario::Document;
use quietseat::study::examine::examine;

fn indicators(name: &str, change: f64) -> Indicators {
    let path = format!("{}/scenarios/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let (mut scenario, _) = Document::open(path).expect("the demo").scenario().expect("sound");
    scenario.valve.main.mass *= 1.0 + change;
    examine(&scenario).expect("a run").indicators
}

const DEMOS: [&str; 13] = [
    "ac-no-ring",
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

#[test]
#[ignore]
fn survey() {
    for name in DEMOS {
        let base = indicators(name, 0.0);
        for change in [3e-15, -3e-15, 1e-13, 1e-12] {
            let moved = indicators(name, change);
            for (a, b) in base.list().iter().zip(moved.list()) {
                let (Some(a_v), Some(b_v)) = (a.value, b.value) else {
                    if a.value.is_some() != b.value.is_some() { println!("{name} {change:e} {} {:?} {:?}", a.name, a.value, b.value); }
                    continue };
                let off = (a_v - b_v).abs() / a_v.abs().max(b_v.abs()).max(1e-300);
                if off > 2e-4 { println!("{name} {change:e} {} {a_v:e} {b_v:e} {off:.1e}", a.name); }
            }
        }
    }
}
