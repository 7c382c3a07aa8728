//! How long it runs and from which seed: environment variables, so that one target serves every `cargo test` and a night alike.

use quietseat::units::{Dimension, parse};
use std::time::{Duration, SystemTime};

/// What every `cargo test` spends.
const USUAL: Stop = Stop::After(Duration::from_secs(20));

/// The same inputs every time, so that nothing fails by chance: a fresh seed is asked for.
const USUAL_SEED: u64 = 1;

/// When it stops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Stop {
    /// After so long.
    After(Duration),
    /// After so many cases.
    Cases(u64),
}

/// What is to be done.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Budget {
    pub(crate) stop: Stop,
    pub(crate) seed: u64,
    /// One case only: its target and number.
    pub(crate) only: Option<(String, u64)>,
}

/// As the environment says.
pub(crate) fn budget() -> Budget {
    let said = |name: &str| std::env::var(name).ok();
    read(said("QUIETSEAT_FUZZ"), said("QUIETSEAT_FUZZ_SEED"), said("QUIETSEAT_FUZZ_CASE"))
}

fn read(stop: Option<String>, seed: Option<String>, case: Option<String>) -> Budget {
    Budget {
        stop: stop.map_or(USUAL, |text| {
            length(&text)
                .unwrap_or_else(|| panic!("QUIETSEAT_FUZZ={text}: wanted \"10 min\", \"3 h\" or \"2000000 cases\""))
        }),
        seed: seed.map_or(USUAL_SEED, |text| match text.as_str() {
            "fresh" => fresh(),
            number => number
                .parse()
                .unwrap_or_else(|_| panic!("QUIETSEAT_FUZZ_SEED={text}: wanted a whole number or \"fresh\"")),
        }),
        only: case.map(|text| {
            one_case(&text)
                .unwrap_or_else(|| panic!("QUIETSEAT_FUZZ_CASE={text}: wanted TARGET:NUMBER, such as phrases:12"))
        }),
    }
}

fn length(text: &str) -> Option<Stop> {
    if let Some(count) = text.trim().strip_suffix("cases") {
        return count.trim().replace('_', "").parse().ok().map(Stop::Cases);
    }
    let seconds = parse(text, Dimension::Time, f64::NAN).ok()?;
    Duration::try_from_secs_f64(seconds).ok().map(Stop::After)
}

fn one_case(text: &str) -> Option<(String, u64)> {
    let (target, number) = text.split_once(':')?;
    Some((target.to_owned(), number.parse().ok()?))
}

fn fresh() -> u64 {
    SystemTime::UNIX_EPOCH.elapsed().map_or(USUAL_SEED, |since| since.as_nanos() as u64)
}

#[test]
fn the_environment_is_understood() {
    let told = |stop: &str| read(Some(stop.to_owned()), None, None).stop;
    assert_eq!(told("10 min"), Stop::After(Duration::from_secs(600)));
    assert_eq!(told("2000000 cases"), Stop::Cases(2_000_000));
    let one = read(None, Some("7".to_owned()), Some("phrases:12".to_owned()));
    assert_eq!(one, Budget { stop: USUAL, seed: 7, only: Some(("phrases".to_owned(), 12)) });
}
