//! Cells of a map: what is reused equals what is simulated; a failure is a cell with its reason.

use crate::demo;
use quietseat::scenario::{Document, Duty};
use quietseat::simulate::throttle::prepare;
use quietseat::simulate::{Integrator, Phases};
use quietseat::study::column::{covers, long_phases, temperature_class};
use quietseat::study::examine::examine_at;
use quietseat::study::examine::examine_disturbed;
use quietseat::study::kept::Known;
use quietseat::study::map::Cell;
use quietseat::study::map_job::{MapError, MapJob};
use quietseat::study::stability_map::stability_map;

fn air(settings: &[&str]) -> Document {
    demo::with("air-low-differential", settings)
}

fn job<'a>(known: &'a Known, stop: &'a (dyn Fn() -> bool + Sync)) -> MapJob<'a> {
    MapJob { known, stop, told: &|_| {} }
}

/// At a rate that the transient just covers, the second of two cycles run in full shows the same behaviour, and numbers
/// within 3 %: what is left of the first cycle's waves is all that differs.
#[test]
fn a_reused_cell_equals_the_simulated_one() {
    for differential in ["0.12 bar", "0.4 bar"] {
        let (scenario, _) = air(&[&format!("supply.differential={differential}")]).scenario().expect("sound");
        let ready = prepare(&scenario).expect("it can be run");
        let temperature = temperature_class(&ready);
        let transient = examine_disturbed(ready.clone(), long_phases(&ready), temperature, None).expect("runs");
        let seen = (transient.indicators.open_time.expect("on"), transient.indicators.shut_time.expect("off"));
        let rate = 1.0 / (2.0 * seen.0.max(seen.1) * 1.05);
        let at_rate = ready.at_duty(Duty { cycle_rate: rate, ..ready.duty });
        assert!(covers(&transient, &at_rate));
        let half = 0.5 / at_rate.duty.cycle_rate;
        let phases = Phases { open: half, shut: half, cycles: 2, early_open: false, early_shut: false, watch: 0.0 };
        let full = examine_at(at_rate, phases, temperature, Integrator::Stiff).expect("runs");
        let leading = |v: &quietseat::verdict::Verdict| v.leading().map(|f| f.behaviour);
        assert_eq!(leading(&full.verdict), leading(&transient.verdict));
        for (name, a, b) in [
            ("mean lift", full.indicators.mean_lift, transient.indicators.mean_lift),
            ("closing time", full.indicators.closing_time, transient.indicators.closing_time),
            ("inlet peak", full.indicators.inlet_peak_closing, transient.indicators.inlet_peak_closing),
            ("seat speed", full.indicators.first_seat_speed, transient.indicators.first_seat_speed),
        ] {
            let (a, b) = (a.expect(name), b.expect(name));
            assert!((a / b - 1.0).abs() < 0.03, "{differential} {name}: {a} in full, {b} reused");
        }
    }
}

#[test]
fn rows_that_do_not_overlap_share_one_transient() {
    let document = air(&["map.x.points=3", "map.y.points=6", "map.x.from=0.1 bar", "map.x.to=0.4 bar"]);
    let map = stability_map(&document, &job(&Known::default(), &|| false)).expect("a map");
    let reused =
        map.cells.iter().filter(|c| matches!(c, Cell::Done(result) if result.reused_from_row.is_some())).count();
    assert!(reused >= 9, "{reused} of 18 cells are reused");
}

/// Beyond what lines and valve can pass, the cell fails and says so; the rest of the map stands.
#[test]
fn a_failed_cell_keeps_its_reason_and_spares_the_others() {
    let document = air(&["map.x.points=2", "map.y.points=2", "map.x.from=0.1 bar", "map.x.to=0.4 bar"])
        .with_setting("flow.mass_flow=12 g/s")
        .expect("a flow that only the higher differential passes");
    let map = stability_map(&document, &job(&Known::default(), &|| false)).expect("a map");
    let failed: Vec<&String> =
        map.cells.iter().filter_map(|c| if let Cell::Failed(reason) = c { Some(reason) } else { None }).collect();
    assert_eq!(failed.len(), 2, "{:?}", map.cells.iter().map(|c| matches!(c, Cell::Done(_))).collect::<Vec<_>>());
    assert!(failed[0].contains("flow"));
    assert!(map.cells.iter().filter(|c| matches!(c, Cell::Done(_))).count() == 2);
}

#[test]
fn a_stopped_map_is_none() {
    let document = air(&["map.x.points=3", "map.y.points=3"]);
    assert!(matches!(stability_map(&document, &job(&Known::default(), &|| true)), Err(MapError::Stopped)));
}

/// Both ways in which a liquid leaves the liquid: before the valve, as its supply is no liquid any more, and on its way at
/// the stated flow. A flow that is too large for the valve stays a failure, see above.
#[test]
fn a_liquid_that_would_boil_is_no_failed_cell() {
    let duties = ["map.x.points=2", "map.x.from=5 kW", "map.x.to=40 kW", "map.y.points=2"];
    let boils = |document: Document, settings: &[&str]| {
        let laid = duties.iter().chain(settings).fold(document, |d, s| d.with_setting(s).expect("a good setting"));
        let map = stability_map(&laid, &job(&Known::default(), &|| false)).expect("a map");
        let reason = |c: &Cell| if let Cell::WouldBoil(reason) = c { Some(reason.clone()) } else { None };
        assert!(!map.cells.iter().any(|c| matches!(c, Cell::Failed(_))));
        map.cells.iter().map(reason).collect::<Vec<_>>()
    };
    let subcooling = ["map.y.from=1 K", "map.y.to=8 K"];
    let blend = boils(demo::open("blend-liquid"), &subcooling);
    assert_eq!(blend.iter().map(Option::is_some).collect::<Vec<_>>(), [false, true, false, false]);
    assert!(blend[1].as_ref().is_some_and(|why| why.contains("the liquid would boil")), "{blend:?}");

    let temperature = ["map.y.path=fluid.named.temperature", "map.y.from=30 °C", "map.y.to=45 °C"];
    let hot = boils(demo::open("liquid-refrigerant"), &temperature);
    assert_eq!(hot.iter().map(Option::is_some).collect::<Vec<_>>(), [false, false, true, true]);
    assert!(hot[2].as_ref().is_some_and(|why| why.contains("is not a liquid: it boils below")), "{hot:?}");
    // A blend between its bubble and its dew point is no liquid either.
    let glide = ["map.y.path=fluid.named.temperature", "map.y.from=30 °C", "map.y.to=41 °C"];
    let blend = boils(demo::open("blend-liquid"), &glide);
    assert!(blend[3].as_ref().is_some_and(|why| why.contains("partly liquid and partly vapour")), "{blend:?}");
}

/// A throttle that flashes holds its line 0.05 bar above saturation. A liquid that is left with less behind the valve, but with
/// something, does not boil; it is refused in the same region, and no need of subcooling below what it has is told.
#[test]
fn a_liquid_that_all_but_boils_is_told_from_one_that_boils() {
    let refused = |kelvin: f64| {
        let document = demo::with("ammonia-liquid", &["flow.refrigerating_duty=33 kW"]);
        let (scenario, _) =
            document.with_number("fluid.named.subcooling", kelvin).expect("a number").scenario().expect("sound");
        match prepare(&scenario) {
            Err(quietseat::simulate::RunError::WouldBoil(reason)) => reason,
            other => panic!("{:?}", other.map(|_| "passes").map_err(|e| e.to_string())),
        }
    };
    let (near, boils) = (refused(0.15), refused(0.02));
    assert!(near.contains("would come within") && !near.contains("it needs"), "{near}");
    assert!(boils.contains("would boil before it reaches the valve") && boils.contains("it needs"), "{boils}");
}

/// The fluid of `state = "…"` stays when an axis takes up one of its keys.
#[test]
fn an_axis_along_the_state_keeps_the_fluid_that_is_stated_in_words() {
    let words = demo::open("ammonia-liquid");
    let (own, _) = words.scenario().expect("sound");
    let (same, _) = words.with_number("fluid.named.subcooling", 5.0).expect("a number").scenario().expect("sound");
    assert_eq!(own.fluid.phase, same.fluid.phase);
    let (colder, _) = words.with_setting("fluid.named.subcooling=9 K").expect("a setting").scenario().expect("sound");
    let temperature = |s: &quietseat::scenario::Scenario| s.named.as_ref().expect("named").state.temperature;
    assert!((temperature(&own) - temperature(&colder) - 4.0).abs() < 1e-6);
    // A saturation temperature stands for the pressure, which stays when the distance from it changes.
    for (name, state, supply, wanted) in [
        ("ammonia-liquid", "R717 liquid, 33 °C saturated, 3 K subcooled", "12.74 bar(a)", "fluid.named.subcooling"),
        ("hot-gas", "R134a hot gas, 40 °C saturated, 20 K superheated", "10.17 bar(a)", "fluid.named.superheat"),
    ] {
        let stated = demo::with(name, &[&format!("fluid.state={state}"), &format!("supply.pressure={supply}")]);
        let moved = stated.with_number(wanted, 7.0).expect("a number");
        let pressure = |d: &Document| d.scenario().expect(state).0.named.expect("named").state.pressure;
        assert!((pressure(&stated) / pressure(&moved) - 1.0).abs() < 1e-9, "{state}");
    }
}

/// By hand: 24.3 − 8 bar; 20 kW / 160 kJ/kg = 0.125 kg/s.
#[test]
fn the_own_point_follows_from_what_is_stated_in_another_way() {
    let own = |document: &Document, path: &str| {
        let (scenario, _) = document.scenario().expect("sound");
        quietseat::study::own_point::own_value(document, &scenario, path)
    };
    let near = |found: Option<f64>, wanted: f64| {
        let found = found.expect("a value");
        assert!((found / wanted - 1.0).abs() < 1e-6, "{found} instead of {wanted}");
    };
    let liquid = demo::open("liquid-refrigerant");
    let (scenario, _) = liquid.scenario().expect("sound");
    let quietseat::physics::fluid::Phase::Liquid(numbers) = &scenario.fluid.phase else { panic!("a liquid") };
    near(own(&liquid, "supply.pressure"), 24.3e5);
    near(own(&liquid, "supply.differential"), 16.3e5);
    near(own(&liquid, "flow.refrigerating_duty"), 20e3);
    near(own(&liquid, "flow.mass_flow"), 0.125);
    near(own(&liquid, "flow.volume_flow"), 0.125 / numbers.density);
    let bubble = scenario.named.as_ref().expect("named").medium.bubble_temperature(24.3e5).expect("known");
    near(own(&liquid, "fluid.named.subcooling"), bubble - 310.15);
    near(own(&demo::open("ammonia-liquid"), "fluid.named.subcooling"), 5.0);
    assert_eq!(own(&liquid, "fluid.named.superheat"), None);
    assert_eq!(own(&liquid, "valve.coil.alternating.voltage"), None);

    // The throttle that passes the flow, and the flow that it passes, give each other.
    let throttle = own(&liquid, "sink.throttle_kv").expect("solved from the flow");
    let by_throttle = liquid.with_number("sink.throttle_kv", throttle).expect("a number");
    let flow = own(&by_throttle, "flow.mass_flow").expect("a flow by hand");
    assert!((flow / 0.125 - 1.0).abs() < 1e-4, "{flow}");
}

#[test]
fn the_own_point_lies_in_its_cell_and_outside_is_outside() {
    let map = |settings: &[&str]| {
        let document = demo::with("liquid-refrigerant", &["map.x.points=3", "map.y.points=3"]);
        let document = settings.iter().fold(document, |d, s| d.with_setting(s).expect("a good setting"));
        let column = || vec![Cell::Failed("not asked".into()); 3];
        let known = Known { columns: (0..3).map(|i| (i, column())).collect(), ..Known::default() };
        stability_map(&document, &job(&known, &|| false)).expect("a map")
    };
    let over = ["map.y.path=supply.differential", "map.y.from=10 bar", "map.y.to=20 bar", "map.y.spacing=linear"];
    let found = map(&over);
    assert_eq!(found.own_cell(), Some((1, 2)));
    assert_eq!(found.y.title, "circuit differential pressure");
    let low = map(&["map.y.path=supply.differential", "map.y.from=1 bar", "map.y.to=2 bar"]);
    assert!(low.operating_point.1.is_some() && low.own_cell().is_none());
    let none = map(&["map.y.path=fluid.named.superheat", "map.y.from=1 K", "map.y.to=2 K"]);
    assert!(none.operating_point == (Some(20e3), None) && none.own_cell().is_none());
}
