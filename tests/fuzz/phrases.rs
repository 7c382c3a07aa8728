//! Fluids and their states in words, down to the sheet of properties.

use crate::generator::{number, once_in, one_of, torn};
use crate::plausible::Numbers;
use crate::target::{Answer, Judged, Target, reason, whole};
use quietseat::fluid::{
    Medium, Phrase, RequestError, State, distance_from_saturation, names, read_phrase, sheet, unsaturated,
};
use quietseat::output::text::fluid_state_text;
use quietseat::scenario::fluid_label;
use std::sync::LazyLock;
use std::time::Duration;

pub(crate) const PHRASES: Target = Target { name: "phrases", share: 178, limit: Duration::from_secs(2), make, check };

const ATMOSPHERE: f64 = 101_325.0;

/// Names of all fluids, and what people write instead.
static NAMES: LazyLock<Vec<&'static str>> = LazyLock::new(|| {
    let tried = [
        "propane",
        "R-410a",
        "r134A",
        "ammonia",
        "CO2",
        "carbon dioxide",
        "steam",
        "saturated steam",
        "glycol",
        "ethylene glycol",
        "propylene glycol in water",
        "mineral oil ISO VG 46",
        "R12",
        "R507",
        "butter",
        "liquid",
        "",
    ];
    names().into_iter().chain(tried).collect()
});

const PHASES: &[&str] = &[
    "liquid",
    "gas",
    "hot gas",
    "suction gas",
    "vapour",
    "vapor",
    "saturated liquid",
    "saturated vapour",
    "dew point",
    "bubble point",
    "discharge gas",
    "saturated",
    "steam",
    "subcooled",
    "superheated",
    "subcooling",
    "superheat",
    "at",
    "of",
    "in water",
    "solution",
];

fn make(numbers: &mut Numbers) -> String {
    let text = phrase(numbers);
    if once_in(5, numbers) { torn(&text, numbers) } else { text }
}

/// A fluid and its state as people write it, or a name and up to four things said of it in any order.
pub(crate) fn phrase(numbers: &mut Numbers) -> String {
    let name = *one_of(&NAMES, numbers);
    let mut said = vec![name.to_owned()];
    if once_in(3, numbers) {
        for _ in 0..=numbers.below(4) {
            let place = if once_in(4, numbers) { 0 } else { said.len() };
            said.insert(place, part(numbers));
        }
    } else {
        if name.contains("glycol") {
            said.insert(0, format!("{:.0} % by {}", 60.0 * numbers.share(), one_of(&["mass", "volume"], numbers)));
        }
        said.extend(usual(numbers));
    }
    said.join(*one_of(&[", ", ", ", " ", "; ", ","], numbers))
}

/// A state of the trade.
fn usual(numbers: &mut Numbers) -> Vec<String> {
    let celsius = (90.0 * numbers.share() - 25.0, *one_of(&["°C", "°C", "C"], numbers));
    let temperature = format!("{} {}", form(celsius.0, numbers), celsius.1);
    let size = if once_in(4, numbers) { 10f64.powf(-10.0 * numbers.share()) } else { 20.0 * numbers.share() };
    let kelvin = form(size, numbers);
    let pressure = format!(
        "{} {}",
        form(10f64.powf(2.0 * numbers.share()), numbers),
        one_of(&["bar(a)", "bar(g)", "barg"], numbers)
    );
    match numbers.below(7) {
        0 => vec![temperature],
        1 => vec![temperature, pressure],
        2 => vec!["liquid".to_owned(), temperature, format!("{kelvin} K subcooled")],
        3 => vec![pressure, format!("{kelvin} K superheated")],
        4 => vec![(*one_of(&["saturated liquid", "saturated vapour"], numbers)).to_owned(), temperature],
        5 => vec![format!("{temperature} saturated"), format!("{kelvin} K superheat")],
        _ => vec!["hot gas".to_owned(), temperature, pressure],
    }
}

fn part(numbers: &mut Numbers) -> String {
    let between = *one_of(&[" ", " ", " ", ""], numbers);
    match numbers.below(8) {
        0 | 1 => temperature(between, numbers),
        2 => format!("{} saturated", temperature(between, numbers)),
        3 | 4 => {
            let unit =
                *one_of(&["bar(a)", "bar(g)", "bara", "barg", "psia", "psig", "kPa(a)", "MPa(a)", "bar"], numbers);
            format!("{}{between}{unit}", sized(10f64.powf(4.0 * numbers.share() - 2.0), numbers))
        }
        5 => {
            let kelvin = if once_in(6, numbers) { 10f64.powf(-12.0 * numbers.share()) } else { 40.0 * numbers.share() };
            let words =
                one_of(&["K subcooled", "K superheated", "K subcooling", "°F superheat", "F subcooled"], numbers);
            format!("{}{between}{words}", sized(kelvin, numbers))
        }
        6 => (*one_of(PHASES, numbers)).to_owned(),
        _ => format!(
            "{} % by {}",
            sized(100.0 * numbers.share(), numbers),
            one_of(&["mass", "volume", "weight", ""], numbers)
        ),
    }
}

fn temperature(between: &str, numbers: &mut Numbers) -> String {
    let celsius = 240.0 * numbers.share() - 80.0;
    let (value, unit) = *one_of(
        &[(celsius, "°C"), (celsius + 273.15, "K"), (1.8 * celsius + 32.0, "°F"), (celsius, "C"), (celsius, "F")],
        numbers,
    );
    format!("{}{between}{unit}", sized(value, numbers))
}

/// A number of that size, seldom any number.
fn sized(value: f64, numbers: &mut Numbers) -> String {
    if once_in(12, numbers) { number(numbers) } else { form(value, numbers) }
}

/// A number of that size in one of many forms.
fn form(value: f64, numbers: &mut Numbers) -> String {
    match numbers.below(12) {
        0 | 1 => format!("{value:e}"),
        2 => format!("{value:.1e}").replace('e', "e+").replace("e+-", "e-"),
        3 => format!("{value}"),
        4 => format!("+{value:.1}").replace("+-", "-"),
        5 => format!("{value:.1}").replace('-', "−"),
        6 | 7 => format!("{value:.1}"),
        _ => format!("{value:.0}"),
    }
}

fn check(text: &str) -> Judged {
    let phrase = match read_phrase(text, ATMOSPHERE) {
        Ok(phrase) => phrase,
        Err(error) => return refused("a phrase", &error.to_string(), text),
    };
    let medium = match Medium::find(&phrase.name, phrase.mass_fraction, phrase.volume_fraction) {
        Ok(medium) => medium,
        Err(error) => return refused("a fluid", &error.to_string(), text),
    };
    let request = phrase.request;
    let alone = resolved(request.resolve_alone(&medium, ATMOSPHERE), &phrase, &medium, text)?;
    for pressure in [None, Some(ATMOSPHERE), Some(20e5)] {
        resolved(request.resolve(&medium, pressure), &phrase, &medium, text)?;
    }
    Ok(alone)
}

/// A refusal quotes what was said, or names the fluid that was found.
fn refused(what: &str, told: &str, text: &str) -> Judged {
    reason(what, told, text)?;
    // Steam is read as water.
    let said = format!("{} water", text.to_lowercase());
    let quoted = told.split('"').skip(1).step_by(2).any(|piece| {
        // The words of a name need not have stood together; signs that cannot be shown are replaced, and what is long is cut.
        let words = piece.to_lowercase();
        words.split(|c: char| c.is_whitespace() || ['…', '\u{fffd}'].contains(&c)).all(|word| said.contains(word))
    });
    // A fluid that was found is told by its chief name.
    let named = names().iter().any(|name| told.trim_start_matches('"').starts_with(name));
    if !quoted && !named {
        return Err(format!("{what} is refused without its words: {told}"));
    }
    Ok(Answer::Refused(told.to_owned()))
}

fn resolved(found: Result<State, RequestError>, phrase: &Phrase, medium: &Medium, text: &str) -> Judged {
    match found {
        Ok(state) => sound(&state, phrase, medium).map(Answer::Taken),
        Err(error) => {
            let told = error.to_string();
            reason("a state", &told, text)?;
            Ok(Answer::Refused(told))
        }
    }
}

/// Every property is a number, what cannot be below zero is above it, and the state is the one that was said.
fn sound(state: &State, phrase: &Phrase, medium: &Medium) -> Result<String, String> {
    let rows = sheet(medium, state);
    for row in &rows {
        let signed = ["subcooling", "superheat", "margin to boiling", "glide"].contains(&row.name);
        if !row.value.is_finite() || (!signed && row.value <= 0.0) || row.value < -1e-3 {
            return Err(format!("{} of {} is {:e}", row.name, medium.name(), row.value));
        }
    }
    let said = [(phrase.request.temperature, state.temperature), (phrase.request.pressure, state.pressure)];
    for (said, found) in said {
        if said.is_some_and(|said| (said - found).abs() > 1e-9 * said) {
            return Err(format!("{said:?} was said and {found} found"));
        }
    }
    let (label, note) = (fluid_label(medium, state), unsaturated(medium, state));
    let sheet = fluid_state_text(&label, medium, &rows, note.as_deref(), 100);
    whole("the sheet", &sheet, "")?;
    whole("its distance from saturation", &distance_from_saturation(medium, state).unwrap_or_default(), "")?;
    Ok(label)
}
