//! One value out of its entry, or why not, in words.

use std::ops::RangeInclusive;

use super::layer::{Entry, Given};
use super::vocabulary::{self, Parameter};
use crate::key::{Kind, quoted};
use crate::quote;
use crate::units::{self, Dimension};

/// Sizes of numbers in SI base units between which squares, cubes and quotients of them stay numbers; no valve comes near either
/// end (judgement).
const COMPUTABLE: RangeInclusive<f64> = 1e-30..=1e30;

/// Pa (ISO 2533:1975), in place of an atmosphere that is missing.
pub(super) const STANDARD_ATMOSPHERE: f64 = 101_325.0;

/// A meaning without its article, behind "the".
pub(super) fn meaning(text: &str) -> &str {
    text.strip_prefix("the ").unwrap_or(text)
}

/// The SI value of an entry.
pub(super) fn number_of(
    parameter: &Parameter,
    dimension: Dimension,
    entry: &Entry,
    atmosphere: f64,
) -> Result<f64, String> {
    let key = parameter.key;
    // A missing or wrong atmosphere has its own message; it must not make every gauge pressure a problem too, nor 0 bar(g) a vacuum.
    let atmosphere = match (parameter.path == "atmosphere", atmosphere.is_nan()) {
        (true, _) => f64::NAN,
        (false, true) => STANDARD_ATMOSPHERE,
        (false, false) => atmosphere,
    };
    let value = match (&entry.given, key.kind) {
        (Given::Text(text), Kind::Attitude(words)) => attitude(text, words)?,
        (Given::Text(text), _) if text.trim() == "none" => {
            return Err(format!("is needed and cannot be taken away with \"none\"; wanted {}", key.kind.wanted()));
        }
        (Given::Text(text), _) => units::parse(text, dimension, atmosphere).map_err(|error| error.to_string())?,
        (Given::Si(value) | Given::Spelled(value, _), _) => *value,
        (Given::Bare(value, _), _) if matches!(dimension, Dimension::Number | Dimension::Fraction) => *value,
        (Given::Bare(_, text), kind) => {
            return Err(format!("found {text} without a unit, wanted {}", kind.wanted()));
        }
        (Given::Other(what), kind) => {
            return Err(format!("found {what}, wanted {}", kind.wanted()));
        }
    };
    if !value.is_finite() {
        let found = match &entry.given {
            Given::Si(_) | Given::Spelled(..) => "the value".to_owned(),
            given => given.typed(),
        };
        return Err(format!("{found} is not a finite number; wanted {}", key.kind.wanted()));
    }
    if value != 0.0 && !COMPUTABLE.contains(&value.abs()) {
        let found = entry.given.typed();
        return Err(format!("{found} is beyond anything that can be computed with; wanted {}", key.kind.wanted()));
    }
    if key.kind == Kind::Count && value.fract() != 0.0 {
        return Err(format!("found {value}, wanted a whole number"));
    }
    if !key.range.allows(value) {
        let found = match &entry.given {
            Given::Si(_) | Given::Spelled(..) => units::text(value, dimension),
            given => given.typed(),
        };
        return Err(format!("found {found}, but the {} must be {}", meaning(key.meaning), key.range.words()));
    }
    Ok(value)
}

fn attitude(text: &str, words: &[(&str, f64)]) -> Result<f64, String> {
    if let Some((_, angle)) = words.iter().find(|(word, _)| *word == text) {
        return Ok(*angle);
    }
    units::parse(text, Dimension::Angle, f64::NAN).map_err(|error| {
        if text.starts_with(|c: char| c.is_alphabetic()) {
            unknown_word(text, words.iter().map(|(word, _)| *word), " or an angle such as \"30 °\"")
        } else {
            error.to_string()
        }
    })
}

fn unknown_word<'w>(text: &str, words: impl Iterator<Item = &'w str> + Clone, more: &str) -> String {
    let near = units::nearest(text, words.clone()).map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
    format!("\"{}\" is not one of {}{more}{near}", quote::word(text), quoted(words))
}

/// The text of an entry.
pub(super) fn text_of(parameter: &Parameter, entry: &Entry) -> Result<String, String> {
    match &entry.given {
        Given::Text(text) if !text.trim().is_empty() => Ok(quote::harmless_lines(text).into_owned()),
        Given::Text(_) => Err(format!("the text is empty; wanted the {}", meaning(parameter.key.meaning))),
        other => Err(format!("found {}, wanted {}", other.typed(), parameter.key.kind.wanted())),
    }
}

/// The word of an entry.
pub(super) fn word_of(
    words: &'static [&'static str],
    parameter: &Parameter,
    entry: &Entry,
) -> Result<&'static str, String> {
    let text = text_of(parameter, entry)?;
    words.iter().copied().find(|word| *word == text).ok_or_else(|| unknown_word(&text, words.iter().copied(), ""))
}

/// The path of an entry: that of a number.
pub(super) fn path_of(parameter: &Parameter, entry: &Entry) -> Result<String, String> {
    let text = text_of(parameter, entry)?;
    let known = vocabulary::parameter(&text).map(|number| vocabulary::parameters()[number].key.kind);
    match known {
        Some(kind) if kind.dimension().is_some() => Ok(text),
        Some(_) => Err(format!("`{text}` is not a number and cannot be an axis")),
        None => Err(vocabulary::unknown_path(&text)),
    }
}
