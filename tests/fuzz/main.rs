//! Inputs that nobody would type, in numbers: whatever comes in, nothing panics, hangs, eats memory or answers with a number that is
//! none, and every refusal says where and why.
//!
//! Each input follows from a seed, a target and a number, so that a failing case is one line to run again. See DEVELOPERS.md for
//! how to run it for hours, and how to add to `corpus/` what it finds.

#![allow(clippy::disallowed_methods, reason = "references may be computed by the system's own functions")]

mod budget;
mod corpus;
#[path = "../demo/mod.rs"]
mod demo;
mod door;
mod generator;
mod hand;
mod kept;
mod phrases;
mod pipes;
#[path = "../study/plausible.rs"]
mod plausible;
mod quantities;
mod runner;
mod runs;
mod schedule;
mod settings;
mod target;

use budget::{Budget, Stop, budget};
use runner::{Found, fuzz, judge, printable, say};
use schedule::Schedule;
use std::sync::LazyLock;
use std::time::Duration;
use target::{Answer, Judged, Target};

const TARGETS: &[Target] = &[
    door::SCENARIOS,
    settings::SETTINGS,
    quantities::QUANTITIES,
    pipes::PIPES,
    phrases::PHRASES,
    hand::HAND,
    kept::KEPT,
    runs::RUNS,
    door::FILES,
];

/// What of the corpus breaks; known before anything new is tried.
static BROKEN_AGAIN: LazyLock<Vec<String>> = LazyLock::new(|| corpus::replayed(TARGETS));

#[test]
fn nothing_of_the_corpus_breaks_again() {
    assert!(BROKEN_AGAIN.is_empty(), "{} of the corpus:\n{}", BROKEN_AGAIN.len(), BROKEN_AGAIN.join("\n"));
}

#[test]
fn nothing_breaks() {
    let budget = budget();
    if let Some((name, number)) = &budget.only {
        return repeat(name, budget.seed, *number);
    }
    LazyLock::force(&BROKEN_AGAIN);
    let found = fuzz(TARGETS, &budget, say);
    say(&table(&found, &budget));
    let told: Vec<String> = found.breaches.values().map(|(first, count)| format!("{count} times: {first}")).collect();
    assert!(told.is_empty(), "{} kinds of breach\n{}", told.len(), told.join("\n\n"));
    let (cases, taken) = found.counts.iter().fold((0, 0), |sum, count| (sum.0 + count.0, sum.1 + count.1));
    assert!(cases > 0 && taken > cases / 10, "only {taken} of {cases} inputs got behind the door");
}

/// Just one case.
fn repeat(name: &str, seed: u64, number: u64) {
    let target = TARGETS.iter().find(|target| target.name == name).unwrap_or_else(|| panic!("no target \"{name}\""));
    let input = target.input(seed, number);
    say(&format!("{name} {number} with seed {seed}:\n{}\n", printable(&input)));
    match judge(target, &input) {
        Ok(answer) => say(&format!("{answer:?}")),
        Err(breach) => panic!("{breach}"),
    }
}

/// What was done, by target.
fn table(found: &Found, budget: &Budget) -> String {
    let total: u64 = found.counts.iter().map(|count| count.0).sum();
    let mut text =
        format!("fuzz: {total} cases with seed {}; of each target cases, taken, per second and core:", budget.seed);
    for (target, (cases, taken, time)) in TARGETS.iter().zip(&found.counts).filter(|(target, _)| target.share > 0) {
        let rate = *cases as f64 / time.as_secs_f64().max(1e-9);
        text.push_str(&format!("\n  {:<12} {cases:>9} {taken:>9} {rate:>9.0}", target.name));
    }
    text
}

/// An input of which one in fifty is a fault.
fn planted(text: &str) -> Judged {
    let number: u64 = text.parse().map_err(|_| "no number")?;
    match number % 50 {
        7 => panic!("planted"),
        8 => Err("broken".to_owned()),
        _ => Ok(Answer::Taken(text.to_owned())),
    }
}

const PLANTED: &[Target] = &[Target {
    name: "planted",
    share: 1,
    limit: Duration::from_secs(60),
    make: |numbers| numbers.below(1000).to_string(),
    check: planted,
}];

#[test]
fn planted_faults_are_found_and_told_so_that_they_can_be_repeated() {
    let budget = Budget { stop: Stop::Cases(2000), seed: 3, only: None };
    let found = fuzz(PLANTED, &budget, |_| {});
    assert_eq!(found.counts[0].0, 2000);
    assert_eq!(found.breaches.len(), 2, "{:?}", found.breaches.keys());
    for (first, count) in found.breaches.values() {
        assert!((10..100).contains(count), "{count} of one in fifty");
        let number = first.split("planted:").nth(1).and_then(|rest| rest.split(' ').next()).expect("its number");
        let input = PLANTED[0].input(3, number.parse().expect("a number"));
        assert!(first.contains(&format!("---- input\n{input}\n----")), "{first}");
        assert!(judge(&PLANTED[0], &input).is_err());
    }
}

#[test]
fn a_case_is_the_same_every_time_and_every_target_has_its_share() {
    let schedule = Schedule::new(TARGETS);
    let mut next = vec![0; TARGETS.len()];
    for number in 0..3 * schedule.cycle() {
        let (target, own) = schedule.case(number);
        assert_eq!(own, next[target], "the cases of a target are numbered without a gap");
        next[target] += 1;
    }
    for (target, count) in TARGETS.iter().zip(next) {
        assert_eq!(count, 3 * target.share as u64);
        assert_eq!(target.input(5, 77), target.input(5, 77));
        assert!(target.share == 0 || (0..20).any(|n| target.input(5, n) != target.input(6, n)));
    }
}
