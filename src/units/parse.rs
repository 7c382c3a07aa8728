//! Text with a unit to SI.

use super::spelling::{Reference, plain, reference};
use super::table::{Unit, units};
use super::{Dimension, UnitCause, UnitError, nearest};

/// Signs of a number and of its exponent.
const SIGNS: [char; 3] = ['+', '-', '−'];

/// Is the text a number from its start to its end, so that its unit is still to come?
pub fn is_number(text: &str) -> bool {
    number_length(text) == text.len() && text.contains(|c: char| c.is_ascii_digit())
}

/// The SI value of a text such as "0.8 mm"; gauge pressures are counted from `atmosphere`, Pa absolute (a not-a-number
/// says that there is none, and gauge pressures are refused).
pub fn parse(text: &str, dimension: Dimension, atmosphere: f64) -> Result<f64, UnitError> {
    let found = text.trim();
    value(found, dimension, atmosphere).map_err(|cause| UnitError { found: found.to_owned(), wanted: dimension, cause })
}

fn value(found: &str, dimension: Dimension, atmosphere: f64) -> Result<f64, UnitCause> {
    let (number, unit) = split(found)?;
    let value: f64 = number.replace('−', "-").parse().map_err(|_| UnitCause::NotANumber)?;
    if !value.is_finite() {
        return Err(UnitCause::NotFinite);
    }
    let si = match dimension {
        Dimension::AbsolutePressure => absolute(number, value, unit, atmosphere)?,
        Dimension::PressureDifference => difference(value, unit)?,
        _ => find(dimension, unit)?.to_si(value),
    };
    if !si.is_finite() {
        return Err(UnitCause::NotFinite);
    }
    let has_bottom = matches!(dimension, Dimension::AbsolutePressure | Dimension::Temperature);
    if has_bottom && si < 0.0 {
        let (number, unit) = super::show(si, dimension, super::UnitSystem::Si);
        return Err(UnitCause::BelowZero(format!("{number} {unit}")));
    }
    Ok(si)
}

/// The number and the unit behind it.
fn split(found: &str) -> Result<(&str, &str), UnitCause> {
    if found.is_empty() {
        return Err(UnitCause::Empty);
    }
    let end = number_length(found);
    let (number, rest) = found.split_at(end);
    let unit = rest.trim_start_matches([' ', '\t', '\u{a0}', '\u{202f}']);
    if number.trim_start_matches(SIGNS).is_empty() {
        let lower = unit.to_ascii_lowercase();
        let special = lower.starts_with("nan") || lower.starts_with("inf");
        return Err(if special { UnitCause::NotFinite } else { UnitCause::NotANumber });
    }
    if let Some(behind) = rest.strip_prefix(',')
        && behind.starts_with(|c: char| c.is_ascii_digit())
    {
        // "1,200" may be a thousand and more, or little more than one; only "0,200" is clear.
        let digits = behind.bytes().take_while(u8::is_ascii_digit).count();
        let grouped = digits == 3 && number.trim_start_matches(SIGNS) != "0";
        let several = number.contains('.') || behind[digits..].starts_with(['.', ',']);
        let point = if grouped || several { String::new() } else { format!("{number}.{behind}") };
        return Err(UnitCause::Comma(point));
    }
    if rest.starts_with(' ') && unit.starts_with(|c: char| c.is_ascii_digit()) && !unit.starts_with("1/") {
        return Err(UnitCause::GroupedDigits);
    }
    Ok((number, unit))
}

/// Length in bytes of the number at the start: sign, digits, point, digits, and an exponent where digits follow it.
fn number_length(text: &str) -> usize {
    let digits = |from: usize| text[from..].bytes().take_while(u8::is_ascii_digit).count();
    let sign = text.chars().next().filter(|c| SIGNS.contains(c)).map_or(0, char::len_utf8);
    let whole = digits(sign);
    let mut end = sign + whole;
    if text[end..].starts_with('.') {
        let fraction = digits(end + 1);
        if whole + fraction == 0 {
            return sign;
        }
        end += 1 + fraction;
    }
    if text[end..].starts_with(['e', 'E']) && end > sign {
        let signed = text[end + 1..].chars().next().filter(|c| SIGNS.contains(c)).map_or(0, char::len_utf8);
        let exponent = digits(end + 1 + signed);
        if exponent > 0 {
            end += 1 + signed + exponent;
        }
    }
    end
}

/// The unit of that spelling among those of the kind; the recommended spelling, which needs no rewriting, is tried first.
fn find(dimension: Dimension, unit: &str) -> Result<Unit, UnitCause> {
    let recommended = units(dimension).iter().copied().find(|known| known.name == unit);
    recommended.or_else(|| known(dimension, &plain(unit))).ok_or_else(|| refusal(dimension, unit))
}

fn known(dimension: Dimension, spelling: &str) -> Option<Unit> {
    let all = units(dimension).iter().copied();
    let listed = |unit: &Unit| unit.name == spelling || unit.also.contains(&spelling);
    all.clone().find(listed).or_else(|| all.clone().find(|unit| plain(unit.name) == spelling))
}

/// Why that unit is refused: missing, of another kind, or unknown.
fn refusal(dimension: Dimension, unit: &str) -> UnitCause {
    if unit.is_empty() {
        return UnitCause::MissingUnit;
    }
    let spelling = plain(unit);
    let other = Dimension::ALL.iter().copied().find(|&kind| {
        let (bare, said) = reference(&spelling);
        match kind {
            _ if kind == dimension => false,
            Dimension::AbsolutePressure => said != Reference::Unsaid && known(kind, bare).is_some(),
            _ => known(kind, &spelling).is_some(),
        }
    });
    if let Some(kind) = other {
        return UnitCause::OtherKind { unit: unit.to_owned(), kind };
    }
    let accepted = super::accepted_units(dimension);
    let nearest = nearest(unit, accepted.iter().map(String::as_str)).map(str::to_owned);
    UnitCause::UnknownUnit { unit: unit.to_owned(), nearest }
}

/// A pressure that must say what it is counted from.
fn absolute(number: &str, value: f64, unit: &str, atmosphere: f64) -> Result<f64, UnitCause> {
    let spelling = plain(unit);
    let (bare, said) = reference(&spelling);
    let Some(known) = known(Dimension::AbsolutePressure, bare) else {
        return Err(refusal(Dimension::AbsolutePressure, unit));
    };
    match said {
        Reference::Vacuum => Ok(known.to_si(value)),
        Reference::Atmosphere if atmosphere.is_nan() => Err(UnitCause::NoAtmosphere),
        Reference::Atmosphere => Ok(known.to_si(value) + atmosphere),
        Reference::Unsaid | Reference::Difference => {
            Err(UnitCause::AbsoluteOrGauge { number: number.to_owned(), unit: known.name.to_owned() })
        }
    }
}

/// A pressure that must not say what it is counted from.
fn difference(value: f64, unit: &str) -> Result<f64, UnitCause> {
    let spelling = plain(unit);
    let (bare, said) = reference(&spelling);
    let Some(known) = known(Dimension::PressureDifference, bare) else {
        return Err(refusal(Dimension::PressureDifference, unit));
    };
    match said {
        Reference::Unsaid | Reference::Difference => Ok(known.to_si(value)),
        Reference::Vacuum | Reference::Atmosphere => {
            Err(UnitCause::DifferenceWithReference { bare: known.name.to_owned() })
        }
    }
}
