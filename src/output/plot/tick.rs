//! Ticks at round values, and how a number is written beside them.

use super::axis::Spacing;
use crate::portable::Portable;

/// A tick in the unit shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// Value in the unit shown.
    pub value: f64,
    /// What is written beside it; empty for a minor tick.
    pub label: String,
    /// Importance, 0 first: where room is short, the lesser labels give way.
    pub rank: u8,
}

/// Round values from `low` to `high` (in the unit shown), about `count` of them.
pub fn ticks(spacing: Spacing, low: f64, high: f64, count: usize) -> Vec<Tick> {
    let usable = low.is_finite() && high.is_finite() && high > low;
    match spacing {
        _ if !usable => Vec::new(),
        Spacing::Logarithmic if low > 0.0 && high / low >= 5.0 => logarithmic(low, high),
        _ => linear(low, high, count.max(2)),
    }
}

fn linear(low: f64, high: f64, count: usize) -> Vec<Tick> {
    let rough = (high - low) / count as f64;
    let power = rough.decimal_logarithm().floor();
    let decade = 10_f64.power(power);
    let factor = [1.0, 2.0, 5.0, 10.0].into_iter().find(|f| f * decade >= rough * 0.999).unwrap_or(10.0);
    let step = factor * decade;
    let decimals = (-(step * 1.0001).decimal_logarithm().floor()).max(0.0) as usize;
    let first = (low / step - 1e-6).ceil();
    let last = (high / step + 1e-6).floor();
    let count = (last - first).clamp(0.0, 200.0) as usize;
    let size = low.abs().max(high.abs());
    // Powers of ten tell neighbouring ticks apart only while three figures do.
    let by_power = !(1e-3..1e6).contains(&size) && size < 500.0 * step;
    (0..=count)
        .map(|i| (first + i as f64) * step)
        .map(|value| Tick { value, label: if by_power { number(value) } else { plain(value, decimals) }, rank: 0 })
        .collect()
}

fn plain(value: f64, decimals: usize) -> String {
    let written = format!("{value:.decimals$}");
    match written.strip_prefix('-') {
        Some(zero) if zero.chars().all(|c| c == '0' || c == '.') => zero.to_owned(),
        Some(positive) => format!("−{positive}"),
        None => written,
    }
}

fn logarithmic(low: f64, high: f64) -> Vec<Tick> {
    let first = low.decimal_logarithm().floor() as i32;
    let last = (high.decimal_logarithm().ceil() as i32).min(first + 60);
    let many = last - first > 7;
    let mut all = Vec::new();
    for power in first..=last {
        for lead in 1..=9_u8 {
            let value = power_of_ten(power) * f64::from(lead);
            if value < low * (1.0 - 1e-9) || value > high * (1.0 + 1e-9) || (many && lead > 1) {
                continue;
            }
            let (rank, labelled) = match lead {
                1 => (0, true),
                2 | 5 => (1, true),
                3 => (2, true),
                _ => (3, false),
            };
            let label = if labelled { number(value) } else { String::new() };
            all.push(Tick { value, label, rank });
        }
    }
    all
}

/// A power of ten without the rounding of repeated products, so that 10⁻³ is written 0.001.
fn power_of_ten(power: i32) -> f64 {
    format!("1e{power}").parse().unwrap_or(f64::NAN)
}

/// A number for the eye: three significant figures, powers of ten where it is very large or small.
pub fn number(value: f64) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let size = value.abs();
    if size == 0.0 {
        return "0".to_owned();
    }
    let sign = if value < 0.0 { "−" } else { "" };
    if !(1e-3..1e6).contains(&size) {
        return format!("{sign}{}", scientific(size));
    }
    let decimals = (2 - size.decimal_logarithm().floor() as i32).max(0) as usize;
    let rounded = if size >= 1000.0 { significant(size) } else { size };
    let written = format!("{rounded:.decimals$}");
    let trimmed = if written.contains('.') { written.trim_end_matches('0').trim_end_matches('.') } else { &written };
    format!("{sign}{trimmed}")
}

fn significant(size: f64) -> f64 {
    let unit = 10_f64.to_the(size.decimal_logarithm().floor() as i32 - 2);
    (size / unit).round() * unit
}

fn scientific(size: f64) -> String {
    let written = format!("{size:.2e}");
    let (lead, power) = written.split_once('e').unwrap_or((&written, "0"));
    let lead = lead.trim_end_matches('0').trim_end_matches('.');
    let raised: String = power.chars().map(superscript).collect();
    if lead == "1" { format!("10{raised}") } else { format!("{lead}·10{raised}") }
}

fn superscript(c: char) -> char {
    match c {
        '-' => '⁻',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        '0' => '⁰',
        _ => c.to_digit(10).and_then(|d| char::from_u32(0x2070 + d)).unwrap_or(c),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_for_the_eye() {
        let cases = [
            (0.0, "0"),
            (1.0, "1"),
            (0.05, "0.05"),
            (-0.25, "−0.25"),
            (12.345, "12.3"),
            (123.45, "123"),
            (12345.0, "12300"),
            (1e6, "10⁶"),
            (2.5e-7, "2.5·10⁻⁷"),
            (f64::NAN, "–"),
        ];
        for (value, written) in cases {
            assert_eq!(number(value), written);
        }
    }

    #[test]
    fn linear_ticks_are_round() {
        let labels: Vec<String> = ticks(Spacing::Linear, -0.11, 0.52, 6).into_iter().map(|t| t.label).collect();
        assert_eq!(labels, ["0.0", "0.2", "0.4"]);
    }

    #[test]
    fn tiny_and_narrow_ranges_have_labels_that_differ() {
        let labels =
            |low, high| -> Vec<String> { ticks(Spacing::Linear, low, high, 4).into_iter().map(|t| t.label).collect() };
        assert_eq!(labels(0.0, 4.1e-9), ["0", "2·10⁻⁹", "4·10⁻⁹"]);
        assert_eq!(labels(2.00001, 2.00003), ["2.000010", "2.000015", "2.000020", "2.000025", "2.000030"]);
        assert_eq!(labels(1.2e7, 3.1e7), ["1.5·10⁷", "2·10⁷", "2.5·10⁷", "3·10⁷"]);
    }

    #[test]
    fn logarithmic_ticks_name_the_decades_first() {
        let decades: Vec<String> =
            ticks(Spacing::Logarithmic, 0.03, 20.0, 6).into_iter().filter(|t| t.rank == 0).map(|t| t.label).collect();
        assert_eq!(decades, ["0.1", "1", "10"]);
    }

    #[test]
    fn odd_ranges_have_no_ticks() {
        for (low, high) in [(f64::NAN, 1.0), (1.0, 1.0), (2.0, 1.0), (0.0, f64::INFINITY)] {
            assert!(ticks(Spacing::Linear, low, high, 5).is_empty());
        }
    }
}
