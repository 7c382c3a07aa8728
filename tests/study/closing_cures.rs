//! Every cure that `closing` prints for a demonstration is set as printed and run as `run` does: it keeps the target by the
//! first closure and by later peaks, and so it does at 1.25 times the change.

use crate::demo;
use quietseat::indicator::Indicators;
use quietseat::scenario::Document;
use quietseat::simulate::coil_heat::winding_temperature;
use quietseat::simulate::throttle::prepare;
use quietseat::study::closing::{
    BLEED, Change, ClosingError, ClosingJob, ClosingStudy, Cure, Goal, INLET_GAS, closing,
};
use quietseat::study::examine::{Examined, examine, examine_heated, phases};
use quietseat::verdict::Behaviour;

/// All that is solved for; what is only shown is left out, to save time.
const CHANGES: &[&str] = &[
    "flow.mass_flow",
    INLET_GAS,
    "supply.differential",
    "upstream.bore",
    "upstream.length",
    "valve.chamber.volume",
    "valve.main.diaphragm.bulge_compliance",
];

fn studied(document: &Document, only: &[&str]) -> Result<ClosingStudy, ClosingError> {
    closing(document, &ClosingJob { only: Some(only), ..ClosingJob::default() })
}

/// As `run` does it.
fn run(document: &Document) -> Examined {
    let (scenario, _) = document.scenario().expect("a scenario");
    examine(&scenario).expect("a run")
}

/// The same without the knock at the open valve, which no peak depends on.
fn run_alone(document: &Document) -> Examined {
    let (scenario, _) = document.scenario().expect("a scenario");
    let ready = prepare(&scenario).expect("a throttle");
    let (phases, temperature) = (phases(&ready), winding_temperature(&ready));
    examine_heated(ready, phases, temperature).expect("a run")
}

/// The peaks of a run by their definitions, against the target and the limits of the scenario: what is broken.
fn broken(study: &ClosingStudy, examined: &Examined) -> Vec<String> {
    let found: &Indicators = &examined.indicators;
    let known = |value: Option<f64>| value.expect("the run shows it");
    let (supply, sink) = (examined.scenario.supply.pressure, examined.scenario.sink.pressure);
    let outlet_base = sink.max(known(found.outlet_pressure_open));
    let inlet = [("first", found.inlet_peak_closing), ("later", found.inlet_peak_later)];
    let outlet = [("outlet", found.outlet_peak_closing), ("outlet later", found.outlet_peak_later)];
    let mut broken = Vec::new();
    let mut judge = |goal: Goal, behind: bool| {
        let behind = if behind { &outlet[..] } else { &[] };
        let bases = inlet.iter().map(|p| (p, supply)).chain(behind.iter().map(|p| (p, outlet_base)));
        for ((name, peak), base) in bases {
            let peak = known(*peak);
            let kept = match goal {
                Goal::Peak(limit) => peak <= limit,
                Goal::Surge(limit) => peak - base <= limit,
            };
            if !kept {
                broken.push(format!("{name} {peak:.0} above {goal:?} from {base:.0}"));
            }
        }
    };
    judge(study.target.goal, study.target.both_sides);
    for goal in &study.target.beside {
        judge(*goal, true);
    }
    if examined.verdict.has(Behaviour::Hammers) {
        broken.push("verdict: hammers".into());
    }
    broken
}

fn with(document: &Document, path: &str, value: f64) -> Document {
    document.with_number(path, value).expect("a number")
}

/// A cure as printed, and at 1.25 times the change; for a bleed at its edge as well.
fn broken_cures(document: &Document, study: &ClosingStudy, change: &Change, cure: &Cure) -> Vec<String> {
    let mut broken_all = Vec::new();
    let mut check = |what: &str, examined: &Examined| {
        let found = broken(study, examined);
        broken_all.extend(found.into_iter().map(|fault| format!("{} {what}: {fault}", change.path)));
    };
    let printed = demo::set(document, &cure.settings);
    check(&cure.settings.join(", "), &run(&printed));
    let mut values = vec![cure.recommended().0];
    if cure.size.is_some() && cure.value != values[0] {
        check("edge", &run_alone(&with(&printed, change.path, cure.value)));
        values.push(cure.value);
    }
    for value in values {
        let further = change.today + 1.25 * (value - change.today);
        check("1.25 times", &run_alone(&with(&printed, change.path, further)));
    }
    if change.path == INLET_GAS {
        for exponent in [1.0, 1.4] {
            let gas = with(&printed, "valve.inlet.polytropic_exponent", exponent);
            check(&format!("exponent {exponent}"), &run_alone(&gas));
        }
    }
    broken_all
}

fn every_cure_cures(name: &str, only: &[&str], least: usize) -> ClosingStudy {
    let document = demo::open(name);
    let study = studied(&document, only).expect("a study");
    let cures: Vec<(&Change, &Cure)> = study.changes.iter().filter_map(|c| Some((c, c.answer.cure()?))).collect();
    let broken: Vec<String> =
        cures.iter().flat_map(|(change, cure)| broken_cures(&document, &study, change, cure)).collect();
    assert!(broken.is_empty(), "{name}: {broken:#?}");
    assert!(cures.len() >= least, "{name}: {}", study.quote);
    study
}

/// Here 0.824 mm kept the limit and 0.8 mm did not: what is quoted has to hold for every drill size below.
#[test]
fn the_cures_of_the_long_water_line() {
    let study = every_cure_cures("water-bang", CHANGES, 2);
    let change = study.change(BLEED).expect("a change");
    let cure = change.answer.cure().expect("a cure");
    let (size, _) = cure.recommended();
    assert!((size / 0.05e-3 - (size / 0.05e-3).round()).abs() < 1e-6, "{size} is a drill size");
    assert!(size <= cure.value && cure.value - size < 0.05e-3 && size >= study.least_bleed);
    // All drill sizes from there down are among the runs and keep the target.
    for n in 8..=(size / 0.05e-3).round() as u32 {
        let at = study.leading().at(f64::from(n) * 0.05e-3).expect("simulated");
        assert!(study.target.kept(at), "{n}");
    }
    assert!(study.quote.contains("the next drill size"), "{}", study.quote);
}

#[test]
fn the_cures_of_the_short_water_line() {
    every_cure_cures("water-closing", CHANGES, 3);
}

#[test]
fn the_cures_of_the_liquid_line() {
    let study = every_cure_cures("liquid-closing", CHANGES, 2);
    let gas = study.change(INLET_GAS).and_then(|change| change.answer.cure()).expect("a gas volume helps");
    assert_eq!(gas.exponents.iter().map(|(n, _)| *n).collect::<Vec<_>>(), [1.0, 1.4]);
    assert!(study.findings.iter().any(|f| f.contains("polytropic exponent of 1.2")), "{:?}", study.findings);
}

#[test]
fn the_cures_of_glycol() {
    every_cure_cures("glycol-plant", CHANGES, 1);
}

/// The slowest of these: of its cures, flow, bore and length of the line are left out, to save time.
#[test]
fn the_cures_of_ammonia() {
    every_cure_cures("ammonia-liquid", &[INLET_GAS], 1);
}

/// The other demonstrations have nothing to cure, by the first closure and by later peaks; should that change, they need a test
/// as those above.
#[test]
fn the_others_need_no_cure() {
    let others = ["ac-ring", "ac-no-ring", "air-low-differential", "blend-liquid", "liquid-refrigerant", "suction-gas"];
    for name in others.into_iter().chain(["water-chatter"]) {
        let examined = run_alone(&demo::open(name));
        let limits = &examined.scenario.limits;
        assert!(limits.peak_pressure.is_some() || limits.surge.is_some(), "{name}: no limit, so another target");
        assert!(!examined.verdict.has(Behaviour::Hammers), "{name}");
    }
    assert!(matches!(studied(&demo::open("hot-gas"), CHANGES), Err(ClosingError::Pulsates)));
}
