//! Random plausible scenarios from end to end: each gives a verdict, or is refused for a stated physical cause.

use crate::demo;
use crate::plausible::{Numbers, plausible};
use quietseat::simulate::RunError;
use quietseat::study::examine::examine;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Scenarios from each demonstration; by the environment variable many more (80 are some thousand in all, in four minutes).
fn per_demo() -> u64 {
    std::env::var("QUIETSEAT_RANDOM").ok().and_then(|text| text.parse().ok()).unwrap_or(5)
}

/// What came of one scenario.
enum Outcome {
    NoScenario,
    Told,
    Refused,
    Wrong(String),
}

fn outcome(name: &str, seed: u64) -> Outcome {
    let mut numbers = Numbers::new(seed * 1000 + name.len() as u64);
    let Some((mut scenario, said)) = plausible(&demo::open(name), &mut numbers) else { return Outcome::NoScenario };
    scenario.run.longest_on = scenario.run.longest_on.min(3.0);
    scenario.run.longest_off = scenario.run.longest_off.min(3.0);
    match examine(&scenario) {
        Ok(told) if told.verdict.leading().is_some_and(|f| f.margin.is_finite() && !f.reason.contains("NaN")) => {
            Outcome::Told
        }
        Ok(told) => Outcome::Wrong(format!("{said}: {:?}", told.verdict.leading())),
        Err(RunError::WouldBoil(reason) | RunError::Impossible(reason)) if reason.contains(' ') => Outcome::Refused,
        Err(error) => Outcome::Wrong(format!("{said}: {error}")),
    }
}

/// The gate of the ledger refuses nothing by itself: it is there for faults of the program, not for runs in which next to nothing
/// moves.
#[test]
fn every_plausible_scenario_is_told_or_refused_for_a_cause() {
    let jobs: Vec<(String, u64)> =
        demo::names().into_iter().flat_map(|name| (0..per_demo()).map(move |seed| (name.clone(), seed))).collect();
    let (next, told, refused) = (AtomicUsize::new(0), AtomicUsize::new(0), AtomicUsize::new(0));
    let wrong = std::sync::Mutex::new(Vec::new());
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                while let Some((name, seed)) = jobs.get(next.fetch_add(1, Ordering::Relaxed)) {
                    match outcome(name, *seed) {
                        Outcome::NoScenario => {}
                        Outcome::Told => drop(told.fetch_add(1, Ordering::Relaxed)),
                        Outcome::Refused => drop(refused.fetch_add(1, Ordering::Relaxed)),
                        Outcome::Wrong(what) => wrong.lock().expect("no panic before").push(what),
                    }
                }
            });
        }
    });
    let (told, refused) = (told.into_inner(), refused.into_inner());
    println!("{} scenarios: {told} told, {refused} refused", jobs.len());
    let wrong = wrong.into_inner().expect("no panic before");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(told > jobs.len() / 2, "only {told} of {} gave a verdict", jobs.len());
}
