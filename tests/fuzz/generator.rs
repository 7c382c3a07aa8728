//! Texts that are nearly right: demonstrations and quantities with a few things wrong.

use crate::demo;
use crate::plausible::Numbers;
use quietseat::units::{Dimension, accepted_units};
use std::sync::LazyLock;

/// A demonstration's name and text.
static TEXTS: LazyLock<Vec<(String, String)>> = LazyLock::new(|| {
    let read = |name: String| (name.clone(), demo::text(&name));
    demo::names().into_iter().map(read).collect()
});

/// Every unit, and spellings that people try.
static UNITS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let tried = [
        "", "bar", "bara", "barg", "psi", "C", "F", "degC", "um", "kv", "Cv", "%", "ohm", "Δ°F", "mH2O", "m³/h", "1/h",
    ];
    let known = Dimension::ALL.iter().flat_map(|&dimension| accepted_units(dimension));
    known.chain(tried.map(str::to_owned)).collect()
});

/// Numbers at which programs break.
const NUMBERS: &[&str] = &[
    "0",
    "-0",
    "0.0",
    "1",
    "-1",
    "−5",
    "+5",
    "1e308",
    "-1e308",
    "1.7976931348623157e308",
    "1e-308",
    "4.9e-324",
    "1e999",
    "-1e999",
    "NaN",
    "nan",
    "inf",
    "-inf",
    "1e+1",
    "3e+1",
    "5e-6",
    "1E3",
    "1e",
    "e5",
    "1e+",
    "1e-",
    "1_000",
    "1,5",
    "1,000",
    "1 000",
    "00012",
    ".5",
    "5.",
    ".",
    "-",
    "+",
    "0x10",
    "0b1",
    "99999999999999999999",
    "179769313486231570000",
    "9007199254740993",
    "1e15",
    "1e-15",
];

/// Pieces with which texts are torn.
const PIECES: &[&str] = &[
    "[",
    "]",
    "=",
    "\"",
    "'",
    "\n",
    "none",
    "\"none\"",
    "like = \"",
    "[valve]",
    "valve.main",
    ".",
    "{",
    "}",
    ",",
    "°",
    "µ",
    "−",
    "1e999",
    "nan",
    "0x",
    "-",
    "\t",
    "\r\n",
    "bar(a)",
    "[[",
    "\u{0}",
    "\u{feff}",
    "5 bar(",
    "é",
    "[supply]\npressure",
    "\"\"\"",
    "#",
    "\\u12",
    "1979-05-27",
    "true",
    "1_000",
    "e",
    "+",
    ",5",
    "\u{a0}",
    "\u{202e}",
    "🔥",
    "%",
    "(g)",
    ";",
    " by mass",
    "\\",
    "\u{7f}",
];

/// One of some.
pub(crate) fn one_of<'a, T>(all: &'a [T], numbers: &mut Numbers) -> &'a T {
    &all[numbers.below(all.len())]
}

/// Once in so many times.
pub(crate) fn once_in(times: usize, numbers: &mut Numbers) -> bool {
    numbers.below(times) == 0
}

/// A demonstration's name.
pub(crate) fn demo_name(numbers: &mut Numbers) -> &'static str {
    &one_of(&TEXTS, numbers).0
}

/// A number as text: mostly of a usual form, sometimes one at which programs break.
pub(crate) fn number(numbers: &mut Numbers) -> String {
    if once_in(4, numbers) {
        return (*one_of(NUMBERS, numbers)).to_owned();
    }
    let sign = *one_of(&["", "", "", "", "", "-", "+", "−"], numbers);
    let reach = *one_of(&[1.0, 3.0, 12.0], numbers);
    let size = 10f64.powf(reach * (2.0 * numbers.share() - 1.0));
    match numbers.below(5) {
        0 => format!("{sign}{}", size.round()),
        1 => format!("{sign}{size:e}"),
        2 => format!("{sign}{size:.2e}").replace('e', one_of::<&str>(&["e", "e+", "E"], numbers)),
        3 => format!("{sign}{size:.3}"),
        _ => format!("{sign}{size}"),
    }
}

/// A number with a unit of that kind, or seldom of another.
pub(crate) fn quantity(dimension: Dimension, numbers: &mut Numbers) -> String {
    let units = accepted_units(dimension);
    let own = !units.is_empty() && !once_in(8, numbers);
    let unit = if own { one_of(&units, numbers).clone() } else { one_of(&UNITS, numbers).clone() };
    let between = *one_of(&[" ", " ", " ", "", "\u{a0}", "  "], numbers);
    format!("{}{between}{unit}", number(numbers))
}

/// Tears a text in one to six places.
pub(crate) fn torn(text: &str, numbers: &mut Numbers) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    for _ in 0..=numbers.below(6) {
        let at = numbers.below(letters.len() + 1);
        let to = (at + numbers.below(12)).min(letters.len());
        match numbers.below(4) {
            0 => drop(letters.drain(at..to)),
            1 => letters.extend_from_within(at..to),
            2 if at < letters.len() => letters[at] = char::from(numbers.below(128) as u8),
            _ => drop(letters.splice(at..to, one_of(PIECES, numbers).chars())),
        }
    }
    letters.into_iter().collect()
}

/// Pieces only.
pub(crate) fn pieces(numbers: &mut Numbers) -> String {
    (0..numbers.below(12)).map(|_| *one_of(PIECES, numbers)).collect()
}

/// A demonstration's text with one to four things changed.
pub(crate) fn scenario(numbers: &mut Numbers) -> String {
    if once_in(20, numbers) {
        return pieces(numbers);
    }
    let mut lines: Vec<String> = one_of(&TEXTS, numbers).1.lines().map(str::to_owned).collect();
    let changes = 1 + numbers.below(4);
    for _ in 0..changes {
        let at = numbers.below(lines.len());
        match numbers.below(11) {
            0 => drop(lines.remove(at)),
            1 => lines.insert(at, lines[at].clone()),
            2 => lines.swap(at, 0),
            3 => lines[at] = line_of_another(numbers),
            4 => lines.insert(at, line_of_another(numbers)),
            5 | 6 => change_number(&mut lines, at, numbers),
            7 => change_unit(&mut lines, at, numbers),
            8 | 9 => shift_number(&mut lines, at, numbers),
            _ => lines[at] = torn(&lines[at], numbers),
        }
        if lines.is_empty() {
            break;
        }
    }
    let text = lines.join("\n");
    match numbers.below(20) {
        0 => torn(&text, numbers),
        1 => noisy(&text, numbers),
        _ => text,
    }
}

fn line_of_another(numbers: &mut Numbers) -> String {
    let lines: Vec<&str> = one_of(&TEXTS, numbers).1.lines().collect();
    (*one_of(&lines, numbers)).to_owned()
}

/// Bytes exchanged, whatever characters that leaves.
fn noisy(text: &str, numbers: &mut Numbers) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for _ in 0..=numbers.below(8) {
        let at = numbers.below(bytes.len());
        if let Some(byte) = bytes.get_mut(at) {
            *byte ^= 1 << numbers.below(8);
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// The next line from there on that states a quantity: what stands before its number, the number, and what follows.
fn stated(lines: &[String], from: usize) -> Option<(usize, String, String)> {
    let places = (0..lines.len()).map(|step| (from + step) % lines.len());
    places.into_iter().find_map(|at| {
        let (before, behind) = lines[at].split_once("= \"")?;
        let end = behind.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-' || c == '−'))?;
        (end > 0).then(|| (at, format!("{before}= \""), behind[end..].to_owned()))
    })
}

fn change_number(lines: &mut [String], from: usize, numbers: &mut Numbers) {
    if let Some((at, before, behind)) = stated(lines, from) {
        lines[at] = format!("{before}{}{behind}", number(numbers));
    }
}

/// The same number, a little larger or smaller.
fn shift_number(lines: &mut [String], from: usize, numbers: &mut Numbers) {
    if let Some((at, before, behind)) = stated(lines, from) {
        let old: f64 = lines[at][before.len()..lines[at].len() - behind.len()].parse().unwrap_or(1.0);
        lines[at] = format!("{before}{}{behind}", old * 4f64.powf(2.0 * numbers.share() - 1.0));
    }
}

fn change_unit(lines: &mut [String], from: usize, numbers: &mut Numbers) {
    if let Some((at, before, behind)) = stated(lines, from) {
        let comment = behind.split_once('"').map_or("", |(_, comment)| comment);
        lines[at] = format!("{before}{} {}\"{comment}", number(numbers), one_of(&UNITS, numbers));
    }
}
