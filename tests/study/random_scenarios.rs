//! Random plausible scenarios from end to end: each gives a verdict, or is refused for a stated physical cause.

use crate::demo;
use crate::mixed::mixed;
use crate::plausible::{Numbers, plausible};
use quietseat::scenario::Scenario;
use quietseat::simulate::RunError;
use quietseat::study::examine::examine;
use quietseat::study::examined::Examined;
use quietseat::verdict::{Behaviour, Finding};
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

/// Of three scenarios one is of the demonstration's own kind; the others are changed in kind first.
const PLAIN: u64 = 3;

fn outcome(name: &str, seed: u64) -> Outcome {
    let mut numbers = Numbers::new(seed * 1000 + name.len() as u64);
    let base = demo::open(name);
    let (base, changes) = if seed.is_multiple_of(PLAIN) { (base, name.to_owned()) } else { mixed(&base, &mut numbers) };
    let Some((mut scenario, spread)) = plausible(&base, &mut numbers) else { return Outcome::NoScenario };
    let said = format!("{changes}, then {spread}");
    scenario.run.longest_on = scenario.run.longest_on.min(3.0);
    scenario.run.longest_off = scenario.run.longest_off.min(3.0);
    match std::panic::catch_unwind(|| examine(&scenario)) {
        Ok(Ok(told)) => match unsound(&scenario, &told) {
            Some(what) => Outcome::Wrong(format!("{said}: {what}")),
            None => {
                for finding in &told.verdict.findings {
                    println!("{said}: {}: {}", finding.behaviour.words(), finding.reason);
                }
                Outcome::Told
            }
        },
        Ok(Err(RunError::WouldBoil(reason) | RunError::Impossible(reason))) if reason.contains(' ') => {
            println!("{said}: refused: {reason}");
            Outcome::Refused
        }
        Ok(Err(error)) => Outcome::Wrong(format!("{said}: {error}")),
        Err(_) => Outcome::Wrong(format!("{said}: a panic")),
    }
}

/// What is wrong with an answer: no verdict, a number or a word that is none, the wrong half of the coil's cycle.
fn unsound(scenario: &Scenario, told: &Examined) -> Option<String> {
    let Some(leading) = told.verdict.leading() else { return Some("no verdict".into()) };
    if let Some(no) = told.indicators.list().iter().find(|indicator| indicator.value.is_some_and(|v| !v.is_finite())) {
        return Some(format!("{} is {:?}", no.name, no.value));
    }
    let open = scenario.valve.normally_open();
    let wrong_half = if open { "energised valve is open" } else { "without current the valve is open" };
    let bad = |f: &&Finding| {
        !f.margin.is_finite() || ["NaN", "inf ", "  ", wrong_half].iter().any(|word| f.reason.contains(word))
    };
    let behaviours = told.verdict.findings.iter().map(|f| f.behaviour);
    let of_the_other = |b| match b {
        Behaviour::FailsShut => !open,
        Behaviour::WillNotOpen => open,
        Behaviour::HangsFromLink => scenario.valve.link().is_none(),
        _ => false,
    };
    if let Some(stray) = behaviours.into_iter().find(|b| of_the_other(*b)) {
        return Some(format!("{stray:?} is no finding of this kind: {leading:?}"));
    }
    told.verdict.findings.iter().find(bad).map(|f| format!("{f:?}"))
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
