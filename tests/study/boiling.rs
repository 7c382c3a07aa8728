//! Sentences on boiling and on the drained line, each against what a run with a little less or more of it does.

use crate::demo;
use quietseat::study::examine::examine;
use quietseat::study::examined::Examined;
use quietseat::verdict::Behaviour::{BoilsAtClosing, OpensFully, WillNotOpen};
use quietseat::verdict::{BOILING_MARGIN, Behaviour};

fn run(name: &str, settings: &[&str]) -> Examined {
    examine(&demo::scenario(name, settings)).unwrap_or_else(|error| panic!("{error}"))
}

fn reason(found: &Examined, behaviour: Behaviour) -> &str {
    let finding = found.verdict.findings.iter().find(|finding| finding.behaviour == behaviour);
    &finding.unwrap_or_else(|| panic!("{behaviour:?} is not among {:?}", found.verdict)).reason
}

/// A flashing expansion device drains the shut line: a magnet that opens in the run, against a line full of liquid, may not
/// open after a standstill. Colder liquid, which does not flash there, must not change that.
#[test]
fn the_magnet_is_judged_against_the_drained_line() {
    let wide = ["valve.pilot.diameter=4 mm", "valve.pilot.seat_diameter=5.5 mm"];
    let warm = run("liquid-refrigerant", &wide);
    assert_eq!(warm.verdict.leading().expect("a finding").behaviour, WillNotOpen);
    assert!(warm.verdict.has(OpensFully));
    let limit = warm.indicators.highest_opening_differential.expect("a magnet");
    assert!((3e5..5e5).contains(&limit));
    assert!(reason(&warm, WillNotOpen).contains("rises to 16.3 bar"), "{}", reason(&warm, WillNotOpen));
    let cold = run("liquid-refrigerant", &[&wide[..], &["fluid.named.temperature=-5 °C"]].concat());
    assert_eq!(cold.verdict.leading().expect("a finding").behaviour, WillNotOpen);
    assert!(!run("liquid-refrigerant", &[]).verdict.has(WillNotOpen));
}

/// A port whose pressure stays well above the vapour pressure does not boil, however much its trace of gas has grown.
#[test]
fn what_boils_is_at_the_vapour_pressure() {
    let ammonia = ["sink.pressure=11 bar(a)", "valve.bleed.diameter=0.5 mm", "flow.refrigerating_duty=100 kW"];
    for subcooling in ["fluid.state=R717 liquid, 11 K subcooled", "fluid.state=R717 liquid, 6 K subcooled"] {
        let found = run("ammonia-liquid", &[&ammonia[..], &[subcooling]].concat());
        let margin = found.indicators.closing_margin.expect("a liquid");
        assert_eq!(found.verdict.has(BoilsAtClosing), margin < BOILING_MARGIN, "{subcooling}: {margin} Pa");
    }
}

/// What a sudden stop would do is not told of a slow one.
#[test]
fn a_slow_stop_is_not_told_what_a_sudden_one_needs() {
    let slow = ["valve.bleed.diameter=0.6 mm", "sink.pressure=6 bar(g)", "supply.differential=2 bar"];
    let found = run("water-closing", &[&slow[..], &["fluid.named.temperature=163 °C"]].concat());
    assert!(found.indicators.effective_closing_time > found.indicators.wave_return_time);
    let told = reason(&found, BoilsAtClosing);
    assert!(!told.contains("would need") && !told.contains("subcooling"), "{told}");
    let colder = run("water-closing", &[&slow[..], &["fluid.named.temperature=150 °C"]].concat());
    assert!(!colder.verdict.has(BoilsAtClosing));
}

/// 60 bar, 2 K superheated, to 30 bar: 8.6 % of R744 would condense (isenthalpic, CoolProp 8.0.0).
#[test]
fn a_gas_that_would_condense_is_remarked_on() {
    let hot = |state: &str| {
        let no_pulsation = ["supply.pulsation=none", "supply.pulsation_frequency=none"];
        let ends = ["supply.differential=30 bar", "sink.pressure=30 bar(a)", state];
        let (_, warnings) = demo::with("hot-gas", &[&no_pulsation[..], &ends].concat()).scenario().expect("a gas");
        warnings.iter().map(ToString::to_string).find(|warning| warning.contains("liquid by mass"))
    };
    let wet = hot("fluid.state=R744 hot gas, 2 K superheated").expect("a remark");
    assert!(wet.contains("8.6 % liquid by mass"), "{wet}");
    assert_eq!(hot("fluid.state=R744 hot gas, 40 K superheated"), None);
}

/// A stop that is sudden for the long line before the valve is slow for the short one behind it, whose pull then does not
/// count: what is said to be needed is about what colder water shows to be enough.
#[test]
fn each_line_counts_by_its_own_return() {
    let long = ["upstream.length=300 m", "upstream.bore=65 mm", "downstream.length=0.5 m", "downstream.bore=40 mm"];
    let hot = run("water-bang", &[&long[..], &["fluid.named.temperature=100 °C"]].concat());
    assert!(hot.indicators.effective_closing_time < hot.indicators.wave_return_time);
    let told = reason(&hot, BoilsAtClosing);
    assert!(told.contains("by hand a stop at once, without friction, would need"), "{told}");
    let cold = run("water-bang", &[&long[..], &["fluid.named.temperature=58 °C"]].concat());
    assert!(!cold.verdict.has(BoilsAtClosing));
    // By hand, without friction and for a stop at once, it is a little more than what the run shows to be enough.
    let needed = hot.indicators.subcooling_needed_closing.expect("the long line counts");
    let has = cold.indicators.supply_subcooling.expect("a liquid");
    assert!((0.9..1.1).contains(&(needed / has)), "{needed} {has}");
}

/// No throttle is blamed where the line ends open, nor above the vapour pressure.
#[test]
fn only_a_flashing_throttle_drains_the_line() {
    let open_end = ["fluid.named.temperature=99 °C", "sink.pressure=1.013 bar(a)"];
    let found = run("water-bang", &open_end);
    assert!(!reason(&found, BoilsAtClosing).contains("throttle"), "{}", reason(&found, BoilsAtClosing));
    let above = run("water-closing", &["sink.pressure=0.053 bar(a)"]);
    assert!(above.verdict.findings.iter().all(|finding| !finding.reason.contains("throttle at the line's end")));
}

/// The subcooling that a refusal names is enough.
#[test]
fn the_subcooling_that_is_asked_for_does() {
    let at = |subcooling: f64| {
        let subcooling = format!("fluid.named.subcooling={subcooling} K");
        let (scenario, _) =
            demo::with("blend-liquid", &[&subcooling, "flow.refrigerating_duty=30 kW"]).scenario().expect("a liquid");
        quietseat::simulate::throttle::prepare(&scenario).map_err(|error| error.to_string())
    };
    let refused = at(1.0).expect_err("it boils");
    let (_, after) = refused.split_once("it needs ").expect("what it needs");
    let needed: f64 = after.split(' ').next().and_then(|number| number.parse().ok()).expect("a number");
    assert!(at(needed + 0.02).is_ok() && at(needed - 0.05).is_err(), "{refused}");
}

/// At a duty whose off-times are too short to drain the line, what it does there leads; the start after a standstill follows.
#[test]
fn a_short_off_time_does_not_drain_the_line() {
    let wide = [
        "valve.pilot.diameter=4 mm",
        "valve.pilot.seat_diameter=5.5 mm",
        "duty.cycle_rate=2 1/s",
        "duty.on_fraction=90 %",
    ];
    let found = run("liquid-refrigerant", &wide);
    assert!(found.verdict.has(WillNotOpen));
    assert_ne!(found.verdict.leading().expect("a finding").behaviour, WillNotOpen);
}

/// A gas line before a throttle is computed at the sink's state, which is remarked on.
#[test]
fn a_gas_line_before_a_throttle_is_remarked_on() {
    let settings = ["supply.pulsation=none", "supply.pulsation_frequency=none", "supply.pressure=20 bar(a)"];
    let said = |flow: &[&str]| {
        let (_, warnings) = demo::with("hot-gas", &[&settings[..], flow].concat()).scenario().expect("a gas");
        warnings.iter().map(ToString::to_string).collect::<Vec<_>>()
    };
    assert_eq!(said(&[]), Vec::<String>::new());
    assert!(said(&["flow.mass_flow=0.03 kg/s"])[0].contains("computed at the sink's state"));
}
