//! Pipes by their trade names.

use crate::generator::{number, once_in, one_of, pieces, torn};
use crate::plausible::Numbers;
use crate::target::{Answer, Judged, Target, reason};
use quietseat::pipe::parse;
use std::time::Duration;

pub(crate) const PIPES: Target = Target { name: "pipes", share: 90, limit: Duration::from_secs(2), make, check };

/// Sizes are rounded to a millionth of an inch, m.
const ROUNDING: f64 = 3e-8;

const WORDS: &[&str] = &[
    "copper",
    "steel",
    "stainless",
    "PE",
    "PE 100",
    "HDPE",
    "PVC",
    "PVC-U",
    "hard",
    "soft",
    "drawn",
    "DN",
    "SCH",
    "schedule",
    "SDR",
    "ACR",
    "ID",
    "OD",
    "in",
    "mm",
    "\"",
    "x",
    "×",
    "EN 1057",
    "K",
    "L",
    "M",
    "type L",
    "NPS",
    "tube",
    "pipe",
    "brass",
    "lead",
    "of",
];

const NAMES: &[&str] = &[
    "22 x 1 copper",
    "7/8 in ACR",
    "DN 25 steel",
    "1 1/8 in ACR hard",
    "DN 50 SCH 40",
    "63 x 5.8 PE 100 SDR 11",
    "28x1.5",
    "1/2\" SCH 80",
    "110 PVC-U SDR 21",
    "15 x 1 stainless EN 10217",
];

fn make(numbers: &mut Numbers) -> String {
    let text = designation(numbers);
    match numbers.below(4) {
        0 => torn(&text, numbers),
        1 if once_in(4, numbers) => pieces(numbers),
        _ => text,
    }
}

/// A name of the trade, or words of such names in any order.
pub(crate) fn designation(numbers: &mut Numbers) -> String {
    if once_in(3, numbers) {
        return (*one_of(NAMES, numbers)).to_owned();
    }
    let mut words = Vec::new();
    for _ in 0..=numbers.below(5) {
        words.push(match numbers.below(6) {
            0 | 1 => (*one_of(WORDS, numbers)).to_owned(),
            2 => number(numbers),
            3 => format!("{}/{}", numbers.below(18), numbers.below(17)),
            4 => format!("{} x {:.1}", numbers.below(120), 6.0 * numbers.share()),
            _ => numbers.below(120).to_string(),
        });
    }
    words.join(*one_of(&[" ", " ", " ", "", " x "], numbers))
}

fn check(text: &str) -> Judged {
    let pipe = match parse(text) {
        Ok(pipe) => pipe,
        Err(why) => return reason("a pipe", &why, text).map(|()| Answer::Refused(why)),
    };
    let (outside, bore, wall) = (pipe.outside_diameter, pipe.bore, pipe.wall_thickness);
    let sound = [outside, bore, wall].iter().all(|size| size.is_finite() && *size > 0.0);
    if !sound || (outside - bore - 2.0 * wall).abs() > ROUNDING || pipe.name.is_empty() {
        return Err(format!("outside {outside} m, bore {bore} m, wall {wall} m: {}", pipe.name));
    }
    reason("its name", &pipe.name, text)?;
    Ok(Answer::Taken(pipe.name))
}
