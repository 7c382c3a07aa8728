//! A fluid and its state in words, such as "R410A liquid, 35 °C, 5 K subcooled".

use super::medium::Medium;
use super::request::{Request, RequestError};
use super::state::{Aggregation, State};
use crate::quote;
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

impl Phrase {
    /// The state that is asked for; both saturated states where only a temperature or a pressure is said of something that
    /// condenses.
    pub fn states(&self, medium: &Medium, atmosphere: f64) -> Result<Vec<State>, RequestError> {
        let said = &self.request;
        match said.resolve_alone(medium, atmosphere) {
            Err(RequestError::Lacking { nothing: false, .. }) => {}
            other => return other.map(|state| vec![state]),
        }
        let both = [Request { subcooling: Some(0.0), ..*said }, Request { superheat: Some(0.0), ..*said }];
        let wanted = both.into_iter().filter(|request| match (request.subcooling, said.aggregation) {
            (_, None) => true,
            (Some(_), Some(phase)) => phase == Aggregation::Liquid,
            (None, Some(phase)) => phase == Aggregation::Gas,
        });
        wanted.map(|request| request.resolve(medium, None)).collect()
    }
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

/// A temperature below this is a difference whose kind was forgotten, K.
const COLDEST: f64 = 100.0;

/// Names of a distance, behind which its kelvins may stand.
const NOUNS: [&str; 2] = ["subcooling", "superheat"];

/// What a share can be of.
const KINDS_OF_SHARE: &[&str] = &["mass", "weight", "volume"];

/// Reads a phrase; gauge pressures count from `atmosphere`, Pa absolute.
///
/// Numbers with their units may stand in any order: a temperature ("35 °C"; "40 °C saturated" is that of saturation and stands
/// for the pressure), a pressure ("12 bar(a)", "7 bar(g)", "100 psig"), "5 K subcooled", "8 K superheated", "30 % by mass"
/// or "by volume". "liquid", "gas", "hot gas", "suction gas", "saturated liquid" and "saturated vapour" say the phase. What is
/// left is the name.
pub fn read(text: &str, atmosphere: f64) -> Result<Phrase, PhraseError> {
    if quote::is_no_name(text) {
        return Err(PhraseError(format!(
            "\"{}\" is no name and state of a fluid: write for example \"R410A liquid, 35 °C, 5 K subcooled\"",
            quote::word(text)
        )));
    }
    let spaced = separated(text);
    let words: Vec<&str> = spaced.split_whitespace().collect();
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
        } else if let Some(place) = distance(words[at], &mut phrase.request)
            && words.get(at + 1).is_some_and(|word| starts_a_quantity(word))
        {
            // "subcooling 5 K" as well as "5 K subcooled".
            let (text, taken) = number_and_unit(&words[at + 1..]);
            let kelvin = units::parse(&text, Dimension::TemperatureDifference, atmosphere).map_err(wrong)?;
            once(place, kelvin, &text)?;
            at += 1 + taken;
        } else if distance(words[at], &mut phrase.request).is_some() {
            return Err(PhraseError(format!("\"{0}\" by how much? Write \"5 K {0}\", or \"saturated\"", words[at])));
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

/// Blanks for what separates: semicolons, and commas but for one between two digits, which may be a decimal sign and is left
/// for the number's own door to refuse.
fn separated(text: &str) -> String {
    let characters: Vec<char> = text.chars().collect();
    let digit = |at: Option<usize>| at.and_then(|at| characters.get(at)).is_some_and(char::is_ascii_digit);
    let blank = |(at, &c): (usize, &char)| {
        let decimal = digit(at.checked_sub(1)) && digit(Some(at + 1));
        if c == ';' || (c == ',' && !decimal) { ' ' } else { c }
    };
    characters.iter().enumerate().map(blank).collect()
}

/// Where a word such as "subcooled" puts its kelvins.
fn distance<'r>(word: &str, request: &'r mut Request) -> Option<&'r mut Option<f64>> {
    let lower = word.to_lowercase();
    if lower.starts_with("subcool") {
        return Some(&mut request.subcooling);
    }
    lower.starts_with("superheat").then_some(&mut request.superheat)
}

/// A number with its unit, which may stand apart, and so may what a pressure is counted from ("12 bar abs"); how many words.
fn number_and_unit(words: &[&str]) -> (String, usize) {
    use Dimension as D;
    let is_read = |taken: &usize| {
        let text = words[..*taken].join(" ");
        let kinds = [D::Temperature, D::AbsolutePressure, D::TemperatureDifference];
        kinds.iter().any(|kind| units::parse(&text, *kind, 0.0).is_ok())
    };
    let longest = (1..=words.len().min(4)).rev().find(is_read);
    let apart = if units::is_number(words[0]) { 2.min(words.len()) } else { 1 };
    let taken = longest.unwrap_or(apart);
    (words[..taken].join(" "), taken)
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
    // Read with its per cent already.
    if two("by", KINDS_OF_SHARE) {
        return 2;
    }
    if two("saturated", &["steam"]) {
        request.superheat.get_or_insert(0.0);
        name.push("water");
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
        // Steam is water, and a gas.
        "steam" => {
            request.aggregation = Some(Aggregation::Gas);
            name.push("water");
        }
        "gas" | "vapour" | "vapor" => request.aggregation = Some(Aggregation::Gas),
        filling if FILLING.contains(&filling) => {}
        // "30 % glycol in water" names the solution; water alone names itself, and ammonia water is no fluid known here.
        "water" if name.last().is_some_and(|last| last.eq_ignore_ascii_case("glycol")) => {}
        _ => name.push(words[0]),
    }
    1
}

/// Reads a number with its unit and what belongs to it; how many words.
fn quantity(words: &[&str], atmosphere: f64, phrase: &mut Phrase) -> Result<usize, PhraseError> {
    let (text, taken) = number_and_unit(words);
    let after: Vec<String> = words[taken..].iter().map(|word| word.to_lowercase()).collect();
    let follows = |stem: &str| after.first().is_some_and(|word| word.starts_with(stem));
    if follows("vac") {
        return Err(vacuum(&text, atmosphere));
    }
    let next = words.get(taken + 1..).filter(|rest| !rest.is_empty() && starts_a_quantity(rest[0]));
    let next = next.map(|rest| number_and_unit(rest).0);
    // "35 °C, subcooling 5 K": the kelvins are those behind the word.
    let behind =
        NOUNS.iter().any(|noun| follows(noun)) && !text.ends_with('K') && next.is_some_and(|n| n.ends_with('K'));
    if let Some(place) = after.first().filter(|_| !behind).and_then(|word| distance(word, &mut phrase.request)) {
        let kelvin = units::parse(&text, Dimension::TemperatureDifference, atmosphere).map_err(wrong)?;
        return once(place, kelvin, &text).map(|()| taken + 1);
    }
    if let Ok(share) = units::parse(&text, Dimension::Fraction, atmosphere)
        && text.contains('%')
    {
        return concentration(share, &text, &after, phrase).map(|()| taken);
    }
    if let Ok(kelvin) = units::parse(&text, Dimension::Temperature, atmosphere) {
        if kelvin < COLDEST && text.ends_with('K') {
            return Err(PhraseError(format!(
                "\"{text}\" of what? Write \"{text} subcooled\" or \"{text} superheated\"; a temperature so near to absolute \
                 zero is not meant"
            )));
        }
        if follows("saturat")
            && !["liquid", "gas", "vapour", "vapor"].contains(&after.get(1).map_or("", String::as_str))
        {
            return once(&mut phrase.request.saturation, kelvin, &text).map(|()| taken + 1);
        }
        return once(&mut phrase.request.temperature, kelvin, &text).map(|()| taken);
    }
    match units::parse(&text, Dimension::Temperature, atmosphere).map_err(|error| error.cause) {
        Err(units::UnitCause::NotFinite) => {
            return Err(PhraseError(format!("\"{text}\" is not a finite number; wanted a value such as \"35 °C\"")));
        }
        Err(cause @ units::UnitCause::BelowZero(_)) => {
            return Err(wrong(units::UnitError { found: text, wanted: Dimension::Temperature, cause }));
        }
        _ => {}
    }
    match units::parse(&text, Dimension::AbsolutePressure, atmosphere) {
        Ok(pascal) => once(&mut phrase.request.pressure, pascal, &text).map(|()| taken),
        Err(error) if is_pressure(&error.cause) => Err(wrong(error)),
        Err(_) => Err(PhraseError(format!(
            "\"{text}\" is neither a temperature (\"35 °C\"), a pressure (\"12 bar(a)\", \"10 bar(g)\"), a distance from \
             saturation (\"5 K subcooled\", \"8 K superheated\") nor a share (\"30 % by mass\")"
        ))),
    }
}

/// A vacuum counts down from the atmosphere, which no unit says.
fn vacuum(text: &str, atmosphere: f64) -> PhraseError {
    let below = units::parse(text, Dimension::PressureDifference, atmosphere).map(|below| atmosphere - below);
    let absolute = |pascal: f64| units::text(pascal, Dimension::AbsolutePressure);
    match below {
        Ok(left) if left > 0.0 => PhraseError(format!(
            "\"{text} vacuum\" counts down from the atmosphere of {}: write what is left, {}",
            absolute(atmosphere),
            absolute(left)
        )),
        Ok(_) => PhraseError(format!("\"{text} vacuum\" is more than the atmosphere of {}", absolute(atmosphere))),
        Err(error) => wrong(error),
    }
}

/// Is it a pressure, if a wrong one, or no number at all?
fn is_pressure(cause: &units::UnitCause) -> bool {
    use units::UnitCause as C;
    !matches!(cause, C::MissingUnit | C::UnknownUnit { .. } | C::OtherKind { .. })
}

fn wrong(error: units::UnitError) -> PhraseError {
    PhraseError(error.to_string())
}

/// A share is by mass or by volume, which may stand at once behind it or behind what it is a share of.
fn concentration(share: f64, text: &str, after: &[String], phrase: &mut Phrase) -> Result<(), PhraseError> {
    let of = |pair: &[String]| {
        let kind = KINDS_OF_SHARE.iter().find(|kind| **kind == pair[1]);
        kind.copied().filter(|_| pair[0] == "by")
    };
    if !(0.0..=1.0).contains(&share) {
        return Err(PhraseError(format!("\"{text}\" is no share of a whole: write one from 0 to 100 %")));
    }
    match after.windows(2).find_map(of) {
        Some("volume") => once(&mut phrase.volume_fraction, share, text),
        Some(_) => once(&mut phrase.mass_fraction, share, text),
        None => Err(PhraseError(format!(
            "\"{text}\" of what? Write \"{text} by mass\" or \"{text} by volume\": they differ by several per cent"
        ))),
    }
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
        assert_eq!(phrase("25 % ethylene glycol by volume, 10 °C").volume_fraction, Some(0.25));
        let close = phrase("R134a liquid,35°C,5K subcooled");
        assert_eq!((close.name.as_str(), close.request.subcooling), ("R134a", Some(5.0)));
        assert_eq!(phrase("R134a, subcooling 5 K, 35 °C").request, phrase("R134a 35 °C, 5 K subcooled").request);
        assert_eq!(phrase("R134a 35 °C, subcooling 5 K").request, phrase("R134a 35 °C, 5 K subcooled").request);
        assert_eq!(phrase("R134a 5 K subcooling 35 °C").request, phrase("R134a 35 °C, 5 K subcooled").request);
        let hot = phrase("R134a gas 12 bar(a), superheat 8 K");
        assert_eq!((hot.request.pressure, hot.request.superheat), (Some(12e5), Some(8.0)));
        let steam = phrase("steam 150 °C, 3 bar(a)");
        let saturated = phrase("saturated steam 5 bar(g)");
        assert_eq!((saturated.name.as_str(), saturated.request.superheat), ("water", Some(0.0)));
        assert_eq!((steam.name.as_str(), steam.request.aggregation), ("water", Some(Aggregation::Gas)));
        assert_eq!(phrase("R32 95 °F 10 °F subcooled").request.subcooling, Some(50.0 / 9.0));
        assert_eq!(phrase("R32 95 F, 10 F subcooled").request, phrase("R32 95 °F 10 °F subcooled").request);
    }

    #[test]
    fn numbers_are_read_however_they_are_written() {
        let wanted = phrase("R410A liquid, 30 °C, 5 K subcooled").request;
        for degrees in ["30", "3e1", "3e+1", "3E1", "+30", "300e-1", "300e−1", "30.0", "030", "0.3e2", "30."] {
            for unit in ["°C", " °C", "\u{a0}°C", " C", "C", "degC", " deg C", "deg C", " ° C", "℃"] {
                for kelvin in ["5 K", "5K", "5e0 K", "5e+0K", "+.5e1 K", "0.5E+1 K", "50e-1\u{202f}K"] {
                    let text = format!("R410A liquid, {degrees}{unit}, {kelvin} subcooled");
                    assert_eq!(phrase(&text).request, wanted, "{text}");
                    let turned = format!("subcooling {kelvin}; R410A liquid {degrees}{unit}");
                    assert_eq!(phrase(&turned).request, wanted, "{turned}");
                }
            }
        }
        let wanted = phrase("air -15 °C, 7 bar(g)").request;
        for pressure in ["7 bar(g)", "7bar(g)", "7 bar (g)", "7 bar g", "7barg", "7e0 bar gauge", "70e-1bar(g)"] {
            for degrees in ["-15 °C", "−15°C", "−1.5e1 °C", "-150e-1°C", "-1.5e+1 °C", "258.15 K", "5 °F"] {
                let request = phrase(&format!("air {degrees}, {pressure}")).request;
                let close = |a: Option<f64>, b: Option<f64>| a.zip(b).is_some_and(|(a, b)| (a - b).abs() < 1e-9 * b);
                assert!(close(request.pressure, wanted.pressure), "{pressure}");
                assert!(close(request.temperature, wanted.temperature), "{degrees}");
            }
        }
        assert_eq!(phrase("R134a 20 °C, 5e-6 K subcooled").request.subcooling, Some(5e-6));
        assert_eq!(phrase("3e+1 % by mass propylene glycol, 0 °C").mass_fraction, Some(0.3));
    }

    #[test]
    fn what_is_unclear_is_asked_for() {
        let refused = |text: &str| read(text, 101_325.0).expect_err(text).to_string();
        assert!(refused("30 % propylene glycol, 0 °C").contains("by mass"));
        assert!(refused("R134a, 30 °C, 9 bar").contains("bar(a)"), "{}", refused("R134a, 30 °C, 9 bar"));
        assert!(refused("R134a, 30 °C, 31 °C").contains("again"));
        assert!(refused("20 °C").contains("names no fluid"));
        assert!(refused("water -300 °C").contains("below absolute zero"), "{}", refused("water -300 °C"));
        assert!(refused("water 1e999 °C").contains("is not a finite number"), "{}", refused("water 1e999 °C"));
        assert!(refused(&"water ".repeat(1000)).chars().count() < 300);
        assert!(refused("R134a 30,5 °C").contains("comma"), "{}", refused("R134a 30,5 °C"));
        assert!(refused("R134a 30").contains("neither a temperature"), "{}", refused("R134a 30"));
        assert!(refused("water 60 degrees").contains("\"60 degrees\" is neither a temperature"));
        assert!(refused("R410A liquid 35 °C 5K").contains("\"5K subcooled\" or"));
        assert!(refused("R134a subcooled liquid, 30 °C").contains("\"subcooled\" by how much?"));
        assert_eq!(phrase("ammonia water 20 °C").name, "ammonia water");
        let vacuum = refused("air 20 °C, 20 inHg vacuum");
        assert!(vacuum.contains("counts down from the atmosphere") && vacuum.contains("0.336 bar(a)"), "{vacuum}");
        assert!(refused("air 20 °C, 2 bar vacuum").contains("more than the atmosphere"));
        assert!(refused("1e308 % by mass ethylene glycol, 5 °C").contains("no share"));
        assert!(refused("R410A 35 °C, 5 subcooled").contains("neither a temperature"));
    }
}
