//! Numbers of the book and their deviations, in words.

use crate::portable::Portable;
use crate::validation::Outcome;
use crate::validation::case::{Check, Obtained, Tolerance};

/// How a reference was obtained, in words.
pub fn obtained(obtained: Obtained) -> String {
    match obtained {
        Obtained::Published => "published".into(),
        Obtained::Measured => "measured".into(),
        Obtained::Exact => "exact".into(),
        Obtained::Library(library) => format!("computed with {library}"),
        Obtained::CommonPractice => "common practice, no source".into(),
        Obtained::FromMemory => "from memory".into(),
    }
}

/// A number with seven significant figures.
pub(super) fn figures(value: f64) -> String {
    rounded(value, 7)
}

/// The deviation of a number in the terms of its tolerance.
pub(super) fn deviation(check: &Check) -> String {
    amount(check.deviation(), check.tolerance)
}

/// The allowed deviation.
pub(super) fn allowed(check: &Check) -> String {
    let (Tolerance::Relative(size) | Tolerance::Absolute(size)) = check.tolerance;
    amount(size, check.tolerance)
}

/// A share of the reference, as a percentage where it is not tiny; with ± where it is in the quantity's own unit.
fn amount(size: f64, tolerance: Tolerance) -> String {
    match tolerance {
        Tolerance::Relative(_) if size >= 1e-4 => format!("{} %", rounded(100.0 * size, 2)),
        Tolerance::Relative(_) => tiny(size),
        Tolerance::Absolute(_) => format!("±{}", if size >= 1e-4 { rounded(size, 2) } else { tiny(size) }),
    }
}

fn tiny(size: f64) -> String {
    if size == 0.0 { "0".into() } else { format!("{size:.0e}") }
}

fn rounded(value: f64, digits: i32) -> String {
    let size = value.abs();
    if !value.is_finite() {
        return "–".into();
    }
    if size == 0.0 {
        return "0".into();
    }
    if !(1e-4..1e7).contains(&size) {
        let text = format!("{value:.*e}", digits as usize - 1);
        let (mantissa, power) = text.split_once('e').unwrap_or((&text, "0"));
        return format!("{}e{power}", trimmed(mantissa));
    }
    let decimals = (digits - 1 - size.decimal_logarithm().floor() as i32).max(0) as usize;
    trimmed(&format!("{value:.decimals$}")).to_owned()
}

/// Without noughts behind the point.
fn trimmed(text: &str) -> &str {
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { text }
}

/// What all outcomes come to, in a sentence.
pub fn summary(outcomes: &[Outcome]) -> String {
    let numbers = outcomes.iter().flat_map(|o| o.checks.iter().flatten()).count();
    let broken = outcomes.iter().flat_map(|o| o.checks.iter().flatten()).filter(|check| !check.holds()).count();
    let failed = outcomes.iter().filter(|o| o.checks.is_err()).count();
    let misfits = outcomes.iter().filter(|o| o.case.misfit.is_some()).count();
    let mut text = format!("{}, {}: ", count(outcomes.len(), "case"), count(numbers, "number"));
    text += &match (broken, failed) {
        (0, 0) => "all within their tolerances".to_owned(),
        (0, _) => format!("{} not computed", count(failed, "case")),
        (_, 0) => format!("{} off by more than is allowed", count(broken, "number")),
        _ => {
            let (broken, failed) = (count(broken, "number"), count(failed, "case"));
            format!("{broken} off by more than is allowed, {failed} not computed")
        }
    };
    text + &format!("; {} with a known misfit.", count(misfits, "case"))
}

fn count(number: usize, word: &str) -> String {
    format!("{number} {word}{}", if number == 1 { "" } else { "s" })
}

/// How the columns are to be read.
pub const LEGEND: &str = "Deviations and tolerances are shares of the reference; with ± they are in the quantity's own unit. \
                          Of many numbers of one kind the one that is furthest off is shown, with its place.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_rounded_for_the_eye() {
        let shown = [0.0, 598_920.0, 1.4069296694, -0.5, 1.23e-9, 4.2e9, f64::NAN].map(figures);
        assert_eq!(shown, ["0", "598920", "1.40693", "-0.5", "1.23e-9", "4.2e9", "–"]);
        let relative = |size| amount(size, Tolerance::Relative(0.0));
        assert_eq!([relative(5e-3), relative(2.34e-10), relative(0.0)], ["0.5 %", "2e-10", "0"]);
        assert_eq!(amount(0.08, Tolerance::Absolute(0.0)), "±0.08");
    }
}
