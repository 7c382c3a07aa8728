//! A fluid and its state in words, such as "R410A liquid, 35 °C, 5 K subcooled".

use super::request::Request;
use super::state::Aggregation;
use crate::units::{self, Dimension};
use std::fmt;

/// What a phrase says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Phrase {
    /// Name of the fluid.
    pub name: String,
    /// Concentration of a solution, as a share by mass …
    pub mass_fraction: Option<f64>,
    /// … or by volume.
    pub volume_fraction: Option<f64>,
    /// Its state.
    pub request: Request,
}

/// Why a phrase is not understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhraseError(String);

impl fmt::Display for PhraseError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

impl std::error::Error for PhraseError {}

/// Words that say nothing about the state.
const FILLING: &[&str] = &["at", "of", "in", "with", "by", "and", "is", "the", "solution"];

/// Reads a phrase; gauge pressures count from `atmosphere`, Pa absolute.
///
/// Numbers with their units may stand in any order: a temperature ("35 °C"; "40 °C saturated" is that of saturation and stands
/// for the pressure), a pressure ("12 bar(a)", "7 bar(g)", "100 psig"), "5 K subcooled", "8 K superheated", "30 % by mass"
/// or "by volume". "liquid", "gas", "hot gas", "suction gas", "saturated liquid" and "saturated vapour" say the phase. What is
/// left is the name.
pub fn read(text: &str, atmosphere: f64) -> Result<Phrase, PhraseError> {
    let spaced = text.replace(", ", " ").replace(';', " ");
    let words: Vec<&str> = spaced.split_whitespace().map(|word| word.trim_end_matches(',')).collect();
    let mut phrase = Phrase::default();
    let mut name: Vec<&str> = Vec::new();
    let mut at = 0;
    while at < words.len() {
        // "ISO VG 32" is a name.
        let class = name.last().is_some_and(|last| last.eq_ignore_ascii_case("VG"));
        if class {
            name.push(words[at]);
            at += 1;
        } else if starts_a_quantity(words[at]) {
            at += quantity(&words[at..], atmosphere, &mut phrase)?;
        } else {
            at += word(&words[at..], &mut phrase.request, &mut name);
        }
    }
    phrase.name = name.join(" ");
    if phrase.name.is_empty() {
        return Err(PhraseError(format!(
            "\"{}\" names no fluid: write for example \"R410A liquid, 35 °C, 5 K subcooled\"",
            text.trim()
        )));
    }
    Ok(phrase)
}

fn starts_a_quantity(word: &str) -> bool {
    word.trim_start_matches(['+', '-', '−']).starts_with(|c: char| c.is_ascii_digit() || c == '.')
}

/// Reads words that are no quantity; how many.
fn word<'w>(words: &[&'w str], request: &mut Request, name: &mut Vec<&'w str>) -> usize {
    let lower: Vec<String> = words.iter().take(2).map(|word| word.to_lowercase()).collect();
    let two = |first: &str, second: &[&str]| {
        lower[0] == first && lower.get(1).is_some_and(|word| second.contains(&word.as_str()))
    };
    let gas = &["gas", "vapour", "vapor"];
    if two("hot", gas) || two("suction", gas) || two("discharge", gas) {
        request.aggregation = Some(Aggregation::Gas);
        return 2;
    }
    if two("saturated", gas) || two("dew", &["point"]) {
        request.superheat.get_or_insert(0.0);
        return 2;
    }
    if two("saturated", &["liquid"]) || two("bubble", &["point"]) {
        request.subcooling.get_or_insert(0.0);
        return 2;
    }
    match lower[0].as_str() {
        "liquid" => request.aggregation = Some(Aggregation::Liquid),
        "gas" | "vapour" | "vapor" => request.aggregation = Some(Aggregation::Gas),
        filling if FILLING.contains(&filling) => {}
        // "30 % glycol in water" names the solution; water alone names itself.
        "water" if !name.is_empty() => {}
        _ => name.push(words[0]),
    }
    1
}

/// Reads a number with its unit and what belongs to it; how many words.
fn quantity(words: &[&str], atmosphere: f64, phrase: &mut Phrase) -> Result<usize, PhraseError> {
    let alone = words[0]
        .trim_start_matches(['+', '-', '−'])
        .chars()
        .all(|c| c.is_ascii_digit() || ['.', 'e', 'E'].contains(&c));
    let taken = if alone { 2.min(words.len()) } else { 1 };
    let text = words[..taken].join(" ");
    let after: Vec<String> = words[taken..].iter().take(2).map(|word| word.to_lowercase()).collect();
    let follows = |stem: &str| after.first().is_some_and(|word| word.starts_with(stem));
    let difference = follows("subcool") || follows("superheat");
    if difference {
        let kelvin = units::parse(&text, Dimension::TemperatureDifference, atmosphere).map_err(wrong)?;
        let place = if follows("subcool") { &mut phrase.request.subcooling } else { &mut phrase.request.superheat };
        return once(place, kelvin, &text).map(|()| taken + 1);
    }
    if let Ok(share) = units::parse(&text, Dimension::Fraction, atmosphere)
        && text.contains('%')
    {
        return concentration(share, &text, &after, taken, phrase);
    }
    if let Ok(kelvin) = units::parse(&text, Dimension::Temperature, atmosphere) {
        if follows("saturat")
            && !["liquid", "gas", "vapour", "vapor"].contains(&after.get(1).map_or("", String::as_str))
        {
            return once(&mut phrase.request.saturation, kelvin, &text).map(|()| taken + 1);
        }
        return once(&mut phrase.request.temperature, kelvin, &text).map(|()| taken);
    }
    match units::parse(&text, Dimension::AbsolutePressure, atmosphere) {
        Ok(pascal) => once(&mut phrase.request.pressure, pascal, &text).map(|()| taken),
        Err(error) => Err(wrong(error)),
    }
}

fn wrong(error: units::UnitError) -> PhraseError {
    PhraseError(error.to_string())
}

fn concentration(
    share: f64,
    text: &str,
    after: &[String],
    taken: usize,
    phrase: &mut Phrase,
) -> Result<usize, PhraseError> {
    let by = usize::from(after.first().is_some_and(|word| word == "by"));
    match after.get(by).map_or("", String::as_str) {
        "mass" | "weight" => once(&mut phrase.mass_fraction, share, text)?,
        "volume" => once(&mut phrase.volume_fraction, share, text)?,
        _ => {
            let message = format!(
                "\"{text}\" of what? Write \"{text} by mass\" or \"{text} by volume\": they differ by several per cent"
            );
            return Err(PhraseError(message));
        }
    }
    Ok(taken + by + 1)
}

fn once(place: &mut Option<f64>, value: f64, text: &str) -> Result<(), PhraseError> {
    match place.replace(value) {
        Some(_) => Err(PhraseError(format!("\"{text}\" states again what has been stated before"))),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn phrase(text: &str) -> Phrase {
        read(text, 101_325.0).unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    #[test]
    fn phrases_of_the_trade_are_understood() {
        let liquid = phrase("R410A liquid, 35 °C, 5 K subcooled");
        assert_eq!(liquid.name, "R410A");
        assert_eq!(liquid.request.temperature, Some(308.15));
        assert_eq!(liquid.request.subcooling, Some(5.0));
        assert_eq!(liquid.request.aggregation, Some(Aggregation::Liquid));
        let gas = phrase("ammonia hot gas, 70 °C, 12 bar(a)");
        assert_eq!((gas.name.as_str(), gas.request.pressure), ("ammonia", Some(12e5)));
        assert_eq!(gas.request.aggregation, Some(Aggregation::Gas));
        let glycol = phrase("30 % by mass propylene glycol, −5 °C");
        assert_eq!((glycol.name.as_str(), glycol.mass_fraction), ("propylene glycol", Some(0.3)));
        assert_eq!(glycol.request.temperature, Some(268.15));
        assert_eq!(phrase("25% by volume ethylene glycol in water, 10°C").volume_fraction, Some(0.25));
        let water = phrase("water 60 °C");
        assert_eq!((water.name.as_str(), water.request.temperature), ("water", Some(333.15)));
        let air = phrase("air 20 °C, 7 bar(g)");
        assert_eq!(air.request.pressure, Some(801_325.0));
        let suction = phrase("R134a suction gas, −10 °C saturated, 8 K superheat");
        assert_eq!((suction.request.saturation, suction.request.superheat), (Some(263.15), Some(8.0)));
        let saturated = phrase("R290 saturated liquid 20 °C");
        assert_eq!((saturated.request.subcooling, saturated.name.as_str()), (Some(0.0), "R290"));
        assert_eq!(phrase("mineral oil ISO VG 46 40 °C, 100 bar(a)").name, "mineral oil ISO VG 46");
        assert_eq!(phrase("R32 95 °F 10 °F subcooled").request.subcooling, Some(50.0 / 9.0));
    }

    #[test]
    fn what_is_unclear_is_asked_for() {
        let refused = |text: &str| read(text, 101_325.0).expect_err(text).to_string();
        assert!(refused("30 % propylene glycol, 0 °C").contains("by mass"));
        assert!(refused("R134a, 30 °C, 9 bar").contains("bar(a)"), "{}", refused("R134a, 30 °C, 9 bar"));
        assert!(refused("R134a, 30 °C, 31 °C").contains("again"));
        assert!(refused("20 °C").contains("names no fluid"));
        assert!(refused("R134a 30").contains("30"), "{}", refused("R134a 30"));
    }
}
