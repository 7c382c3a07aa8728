//! Cells of a map: what is reused equals what is simulated; a failure is a cell with its reason.

use quietseat::scenario::Document;
use quietseat::simulate::{Integrator, Phases};
use quietseat::study::column::{covers, long_phases, temperature_class};
use quietseat::study::examine::examine_at;
use quietseat::study::examine::examine_disturbed;
use quietseat::study::map::Cell;
use quietseat::study::stability_map::{MapJob, stability_map};
use std::collections::BTreeMap;

fn demo(settings: &[&str]) -> Document {
    let path = format!("{}/scenarios/air-low-differential.toml", env!("CARGO_MANIFEST_DIR"));
    let document = Document::open(path).expect("the demo");
    settings.iter().fold(document, |d, s| d.with_setting(s).expect("a good setting"))
}

fn job<'a>(stop: &'a (dyn Fn() -> bool + Sync)) -> MapJob<'a> {
    MapJob { known: BTreeMap::new(), stop, finished: &|_, _| {}, refined: &|_| {} }
}

/// At a rate that the transient just covers, the second of two cycles run in full shows the same behaviour, and numbers
/// within 3 %: what is left of the first cycle's waves is all that differs.
#[test]
fn a_reused_cell_equals_the_simulated_one() {
    for differential in ["0.12 bar", "0.4 bar"] {
        let (scenario, _) = demo(&[&format!("supply.differential={differential}")]).scenario().expect("sound");
        let temperature = temperature_class(&scenario);
        let transient = examine_disturbed(scenario.clone(), long_phases(&scenario), temperature, None).expect("runs");
        let seen = (transient.indicators.energised_time.expect("on"), transient.indicators.off_time.expect("off"));
        let mut at_rate = scenario.clone();
        at_rate.duty.cycle_rate = 1.0 / (2.0 * seen.0.max(seen.1) * 1.05);
        assert!(covers(&transient, &at_rate));
        let half = 0.5 / at_rate.duty.cycle_rate;
        let phases = Phases { on: half, off: half, cycles: 2, early_on: false, early_off: false };
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
    let document = demo(&["map.x.points=3", "map.y.points=6", "map.x.from=0.1 bar", "map.x.to=0.4 bar"]);
    let map = stability_map(&document, &job(&|| false)).expect("a map");
    let reused =
        map.cells.iter().filter(|c| matches!(c, Cell::Done(result) if result.reused_from_row.is_some())).count();
    assert!(reused >= 9, "{reused} of 18 cells are reused");
}

/// Beyond what lines and valve can pass, the cell fails and says so; the rest of the map stands.
#[test]
fn a_failed_cell_keeps_its_reason_and_spares_the_others() {
    let document = demo(&["map.x.points=2", "map.y.points=2", "map.x.from=0.1 bar", "map.x.to=0.4 bar"])
        .with_setting("flow.mass_flow=12 g/s")
        .expect("a flow that only the higher differential passes");
    let map = stability_map(&document, &job(&|| false)).expect("a map");
    let failed: Vec<&String> =
        map.cells.iter().filter_map(|c| if let Cell::Failed(reason) = c { Some(reason) } else { None }).collect();
    assert_eq!(failed.len(), 2, "{:?}", map.cells.iter().map(|c| matches!(c, Cell::Done(_))).collect::<Vec<_>>());
    assert!(failed[0].contains("flow"));
    assert!(map.cells.iter().filter(|c| matches!(c, Cell::Done(_))).count() == 2);
}

#[test]
fn a_cancelled_map_has_missing_cells_and_no_invented_ones() {
    let document = demo(&["map.x.points=3", "map.y.points=3"]);
    let map = stability_map(&document, &job(&|| true)).expect("a map");
    assert!(map.cells.iter().all(|c| *c == Cell::Missing));
}
