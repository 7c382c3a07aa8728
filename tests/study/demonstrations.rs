//! What each refrigeration and glycol demonstration shows at its own point, and what its opening comment claims beside it.
//!
//! Numbers are the program's own, of November 2026; the tolerances are those within which the comments stay true.

use crate::demo;
use quietseat::study::examine::examine;
use quietseat::study::examined::Examined;
use quietseat::verdict::Behaviour::{self, BoilsAtClosing, FloatsSteadily, Hammers, OpensFully, RattlesWithSupply};

fn run(name: &str, settings: &[&str]) -> Examined {
    examine(&demo::scenario(name, settings)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The findings, the gravest first, but for the boiling at closing, which is no fault by itself.
fn behaviours(found: &Examined) -> Vec<Behaviour> {
    let all = found.verdict.findings.iter().map(|finding| finding.behaviour);
    all.filter(|behaviour| *behaviour != BoilsAtClosing).collect()
}

fn near(found: Option<f64>, wanted: f64, share: f64) {
    let found = found.expect("the run shows it");
    assert!((found / wanted - 1.0).abs() < share, "{found}, wanted {wanted}");
}

#[test]
fn ammonia_bangs_and_a_narrower_bleed_cures_it() {
    let today = run("ammonia-liquid", &[]);
    assert_eq!(behaviours(&today), [OpensFully, Hammers]);
    near(today.indicators.surge, 5.33e5, 0.02);
    assert!(today.verdict.has(BoilsAtClosing) && today.indicators.closing_margin < Some(1e3));
    let narrow = run("ammonia-liquid", &["valve.bleed.diameter=0.42 mm"]);
    assert_eq!(behaviours(&narrow), [OpensFully]);
    // The better the subcooling, the harder the bang.
    let cold = run("ammonia-liquid", &["fluid.state=R717 liquid, 10 K subcooled"]);
    assert!(cold.indicators.surge > Some(6.5e5), "{:?}", cold.indicators.surge);
}

#[test]
fn glycol_bangs_harder_than_water_at_the_same_flow() {
    let glycol = run("glycol-plant", &[]);
    assert_eq!(behaviours(&glycol), [OpensFully, Hammers]);
    near(glycol.indicators.surge, 9.98e5, 0.02);
    let water = run("glycol-plant", &["fluid.state=water, 20 °C"]);
    let ratio = glycol.indicators.surge.expect("a bang") / water.indicators.surge.expect("a bang");
    assert!((1.06..1.12).contains(&ratio), "{ratio}");
    assert!(glycol.indicators.closing_time > water.indicators.closing_time);
}

#[test]
fn hot_gas_rattles_with_the_compressor_and_floats_quietly_without() {
    let rattling = run("hot-gas", &[]);
    assert_eq!(behaviours(&rattling), [RattlesWithSupply]);
    near(rattling.indicators.oscillation_rate, 24.0, 0.02);
    assert!(rattling.indicators.seat_contact_rate > Some(20.0), "{:?}", rattling.indicators.seat_contact_rate);
    let still = run("hot-gas", &["supply.pulsation=none", "supply.pulsation_frequency=none"]);
    assert_eq!(behaviours(&still), [FloatsSteadily]);
    assert_eq!(behaviours(&run("hot-gas", &["supply.differential=0.3 bar"])), [OpensFully]);
}

#[test]
fn suction_valve_floats_and_costs_flow_at_part_load() {
    let full = run("suction-gas", &[]);
    assert_eq!(behaviours(&full), [FloatsSteadily]);
    near(full.indicators.mean_lift, 0.746, 0.02);
    let weak = ["valve.main.preload=0.5 N", "valve.main.spring_rate=50 N/m"];
    let part = "supply.differential=0.05 bar";
    let (floating, open) = (run("suction-gas", &[part]), run("suction-gas", &[part, weak[0], weak[1]]));
    assert_eq!(behaviours(&open), [OpensFully]);
    near(floating.indicators.flow_open, 28.2e-3, 0.02);
    near(open.indicators.flow_open, 40.6e-3, 0.02);
}

/// The least subcooling that a sudden stop needs: with less it boils, and with more than the first waves need and no strong
/// throttle behind it does not.
#[test]
fn hot_water_boils_where_it_has_less_than_a_sudden_stop_needs() {
    let sudden = ["valve.bleed.diameter=2 mm", "valve.pilot.diameter=3 mm", "sink.pressure=3 bar(a)"];
    let run = |temperature: &str, flow: &str| run("water-bang", &[sudden[0], sudden[1], sudden[2], temperature, flow]);
    let slow = run("fluid.named.temperature=115 °C", "flow.volume_flow=4 L/min");
    assert!(slow.indicators.surge_ratio > Some(1.0) && !slow.verdict.has(BoilsAtClosing));
    assert!(slow.indicators.subcooling_needed_closing < slow.indicators.supply_subcooling);
    let fast = run("fluid.named.temperature=110 °C", "flow.volume_flow=8 L/min");
    assert!(fast.indicators.subcooling_needed_closing > fast.indicators.supply_subcooling);
    let finding = fast.verdict.findings.iter().find(|finding| finding.behaviour == BoilsAtClosing).expect("it boils");
    assert!(finding.reason.contains("by hand a stop at once, without friction, would need"), "{}", finding.reason);
}

#[test]
fn blend_needs_subcooling_from_the_bubble_point() {
    let found = run("blend-liquid", &[]);
    assert_eq!(behaviours(&found), [OpensFully]);
    near(found.indicators.surge, 2.66e5, 0.02);
    assert_eq!(behaviours(&run("blend-liquid", &["fluid.named.subcooling=1 K"])), [OpensFully]);
    // The expansion device draws the shut line down to saturation however cold the liquid is: no number of kelvins is promised.
    for subcooling in ["4 K", "16 K", "25 K"] {
        let shut = run("blend-liquid", &[&format!("fluid.named.subcooling={subcooling}")]);
        let finding =
            shut.verdict.findings.iter().find(|finding| finding.behaviour == BoilsAtClosing).expect("it boils");
        assert!(finding.reason.contains("behind the valve more subcooling does not help"), "{}", finding.reason);
        assert!(!finding.reason.contains("would need"), "{}", finding.reason);
        assert_eq!(shut.indicators.subcooling_needed_closing, None);
    }
    // With 0.1 K the liquid would boil in the line: this flow is refused.
    let document = demo::open("blend-liquid");
    let document = document.with_setting("fluid.named.subcooling=0.1 K").expect("a subcooling");
    let (scenario, _) = document.scenario().unwrap_or_else(|problems| panic!("{problems}"));
    let Err(refused) = examine(&scenario) else { panic!("the duty is above what stays liquid") };
    assert!(refused.to_string().contains("the liquid would boil"), "{refused}");
}
