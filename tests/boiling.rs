//! Sentences on boiling and on the drained line, each against what a run with a little less or more of it does.

use quietseat::scenario::Document;
use quietseat::study::examine::{Examined, examine};
use quietseat::verdict::Behaviour::{BoilsAtClosing, OpensFully, WillNotOpen};
use quietseat::verdict::{BOILING_MARGIN, Behaviour};

fn document(name: &str, settings: &[&str]) -> Document {
    let document = Document::open(format!("scenarios/{name}.toml")).expect("a demonstration");
    settings.iter().fold(document, |d, s| d.with_setting(s).unwrap_or_else(|error| panic!("{s}: {error}")))
}

fn run(name: &str, settings: &[&str]) -> Examined {
    let (scenario, _) = document(name, settings).scenario().unwrap_or_else(|problems| panic!("{problems}"));
    examine(&scenario).unwrap_or_else(|error| panic!("{error}"))
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
    assert!(!told.contains("sudden") && !told.contains("subcooling"), "{told}");
    let colder = run("water-closing", &[&slow[..], &["fluid.named.temperature=150 °C"]].concat());
    assert!(!colder.verdict.has(BoilsAtClosing));
}

/// 60 bar, 2 K superheated, to 30 bar: 8.6 % of R744 would condense (isenthalpic, CoolProp 8.0.0).
#[test]
fn a_gas_that_would_condense_is_remarked_on() {
    let hot = |state: &str| {
        let no_pulsation = ["supply.pulsation=none", "supply.pulsation_frequency=none"];
        let ends = ["supply.differential=30 bar", "sink.pressure=30 bar(a)", state];
        let (_, warnings) = document("hot-gas", &[&no_pulsation[..], &ends].concat()).scenario().expect("a gas");
        warnings.iter().map(ToString::to_string).find(|warning| warning.contains("liquid by mass"))
    };
    let wet = hot("fluid.state=R744 hot gas, 2 K superheated").expect("a remark");
    assert!(wet.contains("8.6 % liquid by mass"), "{wet}");
    assert_eq!(hot("fluid.state=R744 hot gas, 40 K superheated"), None);
}
