//! What is told without a run: throttle, winding, values by hand and the open valve's margins, of demonstrations with odd settings.

use crate::generator::{demo_name, once_in, one_of};
use crate::plausible::{Numbers, plausible};
use crate::settings::base;
use crate::target::{Answer, Judged, Target, reason, whole};
use quietseat::indicator::{Hand, Indicators};
use quietseat::key::Kind;
use quietseat::output::text::{Extent, indicator_table};
use quietseat::scenario::{Document, Scenario, parameters};
use quietseat::simulate::coil_heat::winding_temperature;
use quietseat::simulate::throttle::prepare;
use quietseat::simulate::{RunError, install, transits};
use quietseat::study::boiling::open_margins;
use quietseat::study::coil_supply;
use quietseat::study::coil_voltage::far_from_rated;
use quietseat::study::judgement::hand;
use std::time::Duration;

/// The first line is a demonstration's name with its changed numbers in SI, each other one a setting.
pub(crate) const HAND: Target = Target { name: "hand", share: 40, limit: Duration::from_secs(2), make: odd, check };

/// A plausible scenario with up to three odd values laid over it.
pub(crate) fn odd(numbers: &mut Numbers) -> String {
    let name = demo_name(numbers);
    let Some((_, document, rows)) = base(name) else { return name.to_owned() };
    let mut text = plausible(document, numbers).map_or_else(|| name.to_owned(), |(_, said)| said);
    for _ in 0..numbers.below(4) {
        let row = one_of(rows, numbers);
        // Of three the first two stay near, so that some scenarios are still possible.
        let decades = *one_of(&[0.5, 1.0, 4.0], numbers);
        let value = row.value * 10f64.powf(decades * (2.0 * numbers.share() - 1.0));
        text.push_str(&format!(" {}={value:e}", row.path));
    }
    if once_in(3, numbers) {
        text.push_str(&word(numbers).map_or(String::new(), |setting| format!("\n{setting}")));
    }
    text
}

/// A setting that is a word.
fn word(numbers: &mut Numbers) -> Option<String> {
    let worded: Vec<(&str, &[&str])> = parameters()
        .iter()
        .filter_map(|parameter| match parameter.key.kind {
            Kind::Word(words) => Some((parameter.path.as_str(), words)),
            _ => None,
        })
        .collect();
    let (path, words) = *worded.get(numbers.below(worded.len()))?;
    Some(format!("{path}={}", one_of(words, numbers)))
}

/// The document that such a text means; the refusal where a value is refused.
pub(crate) fn document(input: &str) -> Result<Result<Document, String>, String> {
    let mut lines = input.lines();
    let mut words = lines.next().unwrap_or_default().split(' ');
    let name = words.next().unwrap_or_default();
    let mut document = base(name).ok_or_else(|| format!("no demonstration \"{name}\""))?.1.clone();
    for word in words {
        let (path, value) = word.split_once('=').ok_or_else(|| format!("no number in SI: {word}"))?;
        let value = value.parse().map_err(|_| format!("no number in SI: {word}"))?;
        document = match document.with_number(path, value) {
            Ok(changed) => changed,
            Err(problem) => return Ok(Err(problem.to_string())),
        };
    }
    for line in lines {
        document = match document.with_setting(line) {
            Ok(changed) => changed,
            Err(problem) => return Ok(Err(problem.to_string())),
        };
    }
    Ok(Ok(document))
}

/// The scenario that such a text means; the refusal where it is none.
pub(crate) fn scenario(input: &str) -> Result<Result<(Document, Scenario), String>, String> {
    let document = match document(input)? {
        Ok(document) => document,
        Err(refusal) => return Ok(Err(refusal)),
    };
    Ok(match document.scenario() {
        Ok((scenario, _)) => Ok((document, scenario)),
        Err(problems) => Err(problems.to_string()),
    })
}

/// A run is refused for a cause in the scenario and in words.
pub(crate) fn refused(error: &RunError, input: &str) -> Judged {
    let told = error.to_string();
    reason("a refusal", &told, input)?;
    match error {
        RunError::Impossible(_) | RunError::WouldBoil(_) => Ok(Answer::Refused(told)),
        RunError::Solve { .. } | RunError::Ledger { .. } => Err(format!("no result: {told}")),
    }
}

/// Every number that is stated is one.
pub(crate) fn finite(indicators: &Indicators) -> Result<(), String> {
    match indicators.list().iter().find(|row| row.value.is_some_and(|value| !value.is_finite())) {
        Some(row) => Err(format!("{} is {:?}", row.name, row.value)),
        None => Ok(()),
    }
}

fn check(input: &str) -> Judged {
    let (_, scenario) = match scenario(input)? {
        Ok(found) => found,
        Err(refusal) => return reason("a scenario", &refusal, input).map(|()| Answer::Refused(refusal)),
    };
    let ready = match prepare(&scenario) {
        Ok(ready) => ready,
        Err(error) => return refused(&error, input),
    };
    let temperature = winding_temperature(&ready);
    let installation = install(&ready, temperature);
    let Hand {
        lift_off_differential,
        full_lift_differential,
        highest_opening_differential,
        inrush_current,
        inrush_apparent_power,
        gearing_number,
        pull_in_margin,
        holding_margin,
    } = hand(&ready, &installation, temperature);
    let indicators = Indicators {
        lift_off_differential,
        full_lift_differential,
        highest_opening_differential,
        inrush_current,
        inrush_apparent_power,
        gearing_number,
        pull_in_margin,
        holding_margin,
        coil_temperature: Some(temperature),
        wave_return_time: Some(2.0 * transits(&ready).0),
        ..Indicators::default()
    };
    finite(&indicators)?;
    whole("the table", &indicator_table(&indicators, Extent::Shown, 100), "")?;
    let kv = installation.flow_coefficient();
    if !(kv.is_finite() && kv > 0.0) {
        return Err(format!("Kv {kv}"));
    }
    if let Some(margins) = open_margins(&ready, &installation) {
        whole("the open valve", &format!("{margins:?}"), "")?;
    }
    whole("the coil", &far_from_rated(&scenario).unwrap_or_default(), "")?;
    whole("its supply", &coil_supply::remarks(&scenario).join("\n"), "")?;
    Ok(Answer::Taken(String::new()))
}
