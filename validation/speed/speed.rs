//! How fast: real-time factor of a run, and a map of 60 × 40 cells. Times are only compared within one run of this program.
//!
//! `cargo bench` prints medians over repeats. The run is `scenarios/ac-ring.toml`: both lines as waves, a ringed coil on
//! alternating current.

use quietseat::scenario::Document;
use quietseat::simulate::coil_heat::winding_temperature;
use quietseat::simulate::throttle::prepare;
use quietseat::simulate::{Integrator, Phases, simulate};
use quietseat::study::examine::examine;
use quietseat::study::kept::Known;
use quietseat::study::map::Cell;
use quietseat::study::map_job::MapJob;
use quietseat::study::stability::curve::curve;
use quietseat::study::stability::point::Question;
use quietseat::study::stability_map::stability_map;
use std::time::Instant;

const REPEATS: usize = 7;

fn open(name: &str) -> Document {
    let path = format!("{}/scenarios/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    Document::open(path).expect("a demo")
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// Largest memory of this process so far, MB, where the system tells.
fn memory() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|l| l.starts_with("VmHWM"))?;
    line.split_whitespace().nth(1)?.parse::<f64>().ok().map(|kb| kb / 1024.0)
}

/// The curve of growth over the differential, 60 points.
fn stability() {
    let document = open("air-low-differential");
    let (scenario, _) = document.scenario().expect("sound");
    let question = Question::of(&document, &scenario).expect("runs");
    let times = (0..REPEATS).map(|_| {
        let begin = Instant::now();
        assert_eq!(curve(&question, (0.03e5, 0.3e5), 60).len(), 60);
        begin.elapsed().as_secs_f64()
    });
    println!("stability over the differential, 60 points:  {:.2} s", median(times.collect()));
}

fn run() {
    let (scenario, _) = open("ac-ring").scenario().expect("sound");
    let ready = prepare(&scenario).expect("runs");
    let temperature = winding_temperature(&ready);
    let simulated = |phases| {
        let mut record = None;
        let times = (0..REPEATS).map(|_| {
            let begin = Instant::now();
            record = Some(simulate(&ready, phases, temperature, Integrator::Stiff).expect("runs"));
            begin.elapsed().as_secs_f64()
        });
        let wall = median(times.collect());
        (wall, record.expect("at least one repeat"))
    };
    let steady = Phases { open: 2.0, shut: 1e-3, cycles: 1, early_open: false, early_shut: true, watch: 0.0 };
    let (wall, record) = simulated(steady);
    let steps = record.counters.accepted + record.counters.rejected;
    println!(
        "energised, every instant simulated:  {:6.0} × real time  ({:.2} µs a step, {steps} steps for {:.2} s)",
        record.duration / wall,
        1e6 * wall / steps as f64,
        record.duration
    );
    let begin: Vec<f64> = (0..REPEATS)
        .map(|_| {
            let begin = Instant::now();
            let _ = examine(&scenario).expect("runs");
            begin.elapsed().as_secs_f64()
        })
        .collect();
    let (wall, cycle) = (median(begin), 1.0 / scenario.duty.cycle_rate);
    println!(
        "whole cycle, quiet time skipped:     {:6.0} × real time  ({:.1} ms for a cycle of {cycle:.0} s)",
        cycle / wall,
        1e3 * wall
    );
}

fn map(name: &str) {
    let document = ["map.x.points=60", "map.y.points=40"]
        .iter()
        .fold(open(name), |d, s| d.with_setting(s).expect("a good setting"));
    let job = MapJob { known: &Known::default(), stop: &|| false, told: &|_| {} };
    let begin = Instant::now();
    let map = stability_map(&document, &job).expect("a map");
    let wall = begin.elapsed().as_secs_f64();
    let own = map.cells.iter().filter(|c| matches!(c, Cell::Done(r) if r.reused_from_row.is_none())).count();
    let failed = map.cells.iter().filter(|c| matches!(c, Cell::Failed(_))).count();
    let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    println!(
        "map {name}: 60 × 40 cells in {wall:.1} s on {threads} threads ({own} runs of their own, {} boundary points, {failed} failed)",
        map.boundaries.len()
    );
}

fn main() {
    run();
    stability();
    map("air-low-differential");
    map("water-bang");
    if let Some(memory) = memory() {
        println!("largest memory: {memory:.0} MB");
    }
}
