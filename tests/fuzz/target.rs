//! A target: how an input is made from random numbers, and what must hold of what comes of it.

use crate::plausible::Numbers;
use std::time::Duration;

/// What came of an input; either way it holds.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Answer {
    /// It was taken, with what was made of it, where that is of interest.
    Taken(String),
    /// It was refused, and why.
    Refused(String),
}

/// What holds of an input, or what is broken.
pub(crate) type Judged = Result<Answer, String>;

/// One door of the program.
#[derive(Debug)]
pub(crate) struct Target {
    pub(crate) name: &'static str,
    /// Cases of every [`cycle`](crate::schedule::Schedule) that are its own.
    pub(crate) share: usize,
    /// A case that takes longer is broken. Generous: it is not the speed that is tested, but that it ends.
    pub(crate) limit: Duration,
    /// Its input.
    pub(crate) make: fn(&mut Numbers) -> String,
    pub(crate) check: fn(&str) -> Judged,
}

impl Target {
    /// The input of that number, the same for the same seed whatever other targets there are.
    pub(crate) fn input(&self, seed: u64, number: u64) -> String {
        let name = self.name.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| mixed(hash ^ u64::from(byte)));
        (self.make)(&mut Numbers::new(mixed(mixed(seed ^ name).wrapping_add(number))))
    }
}

/// Neighbouring numbers far apart (SplitMix64: G. L. Steele, D. Lea, C. H. Flood, OOPSLA (2014), from memory).
fn mixed(number: u64) -> u64 {
    let mut z = number.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// How a number that is none is written.
const NONE: [&str; 4] = ["nan", "inf", "infinite", "infinity"];

/// The word for a number that is none, where a text for people has one that was not in the input: "1e999" and "nan" are told as
/// typed.
pub(crate) fn no_number(text: &str, input: &str) -> Option<&'static str> {
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    let found = words.find_map(|word| NONE.iter().find(|none| word.eq_ignore_ascii_case(none)))?;
    (!input.to_ascii_lowercase().contains(found)).then_some(found)
}

/// Breaks where a text has a number that is none.
pub(crate) fn whole(what: &str, text: &str, input: &str) -> Result<(), String> {
    match no_number(text, input) {
        Some(word) => Err(format!("{what} has \"{word}\": {}", around(text, word))),
        None => Ok(()),
    }
}

fn around(text: &str, word: &str) -> String {
    let at = text.to_ascii_lowercase().find(word).unwrap_or(0);
    let near: Vec<char> = text.chars().collect();
    let at = text[..at].chars().count();
    near[at.saturating_sub(80)..(at + 80).min(near.len())].iter().collect()
}

/// Breaks where a reason is none, is longer than a person reads, or has a number that is none.
pub(crate) fn reason(what: &str, text: &str, input: &str) -> Result<(), String> {
    // A reason quotes what was found.
    let most = 4000 + 2 * input.len();
    if text.trim().is_empty() || !text.contains(' ') {
        return Err(format!("{what} gives no reason: \"{text}\""));
    }
    if text.len() > most {
        return Err(format!("{what} takes {} bytes: {}…", text.len(), text.chars().take(300).collect::<String>()));
    }
    whole(what, text, input)
}
