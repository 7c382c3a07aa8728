//! Numbers with their units, read as every kind of quantity and shown again.

use crate::generator::{once_in, one_of, pieces, quantity, torn};
use crate::plausible::Numbers;
use crate::target::{Answer, Judged, Target, reason, whole};
use quietseat::units::{Dimension, UnitSystem, parse, show};
use std::time::Duration;

/// The first line is the kind of quantity in words, the rest is read as such.
pub(crate) const QUANTITIES: Target =
    Target { name: "quantities", share: 270, limit: Duration::from_secs(2), make, check };

/// Stands for all kinds of quantity.
const EVERY: &str = "anything";

const ATMOSPHERE: f64 = 101_325.0;

fn make(numbers: &mut Numbers) -> String {
    let dimension = *one_of(Dimension::ALL, numbers);
    let text = match numbers.below(10) {
        0 => pieces(numbers),
        1 | 2 => torn(&quantity(dimension, numbers), numbers),
        3 if once_in(4, numbers) => quantity(dimension, numbers).repeat(1 + numbers.below(200)),
        _ => quantity(dimension, numbers),
    };
    format!("{}\n{text}", if once_in(40, numbers) { EVERY } else { dimension.words() })
}

fn check(input: &str) -> Judged {
    let (kind, text) = input.split_once('\n').unwrap_or((EVERY, input));
    let mut answer = Answer::Refused(String::new());
    for &dimension in Dimension::ALL.iter().filter(|dimension| [EVERY, dimension.words()].contains(&kind)) {
        for atmosphere in [ATMOSPHERE, f64::NAN] {
            match parse(text, dimension, atmosphere) {
                Ok(value) => {
                    shown(value, dimension)?;
                    answer = Answer::Taken(format!("{value:e}"));
                }
                Err(error) => {
                    let told = error.to_string();
                    reason("a unit", &told, text)?;
                    if matches!(&answer, Answer::Refused(_)) {
                        answer = Answer::Refused(told);
                    }
                }
            }
        }
    }
    Ok(answer)
}

/// What was read is a number and can be shown as one.
fn shown(value: f64, dimension: Dimension) -> Result<(), String> {
    if !value.is_finite() {
        return Err(format!("read as {value}"));
    }
    for system in [UnitSystem::Si, UnitSystem::Us] {
        let (number, unit) = show(value, dimension, system);
        whole("what is shown", &format!("{number} {unit}"), "")?;
        // What is too large for a unit is told by its bound.
        let digits = number.trim_start_matches("above ").trim_start_matches("below ");
        if digits.parse::<f64>().is_err() {
            return Err(format!("shown as no number: \"{number} {unit}\" for {value:e} of {}", dimension.words()));
        }
    }
    Ok(())
}
