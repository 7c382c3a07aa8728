//! Which parameters really set the closing.

use super::numbers::Closing;
use super::sweep::Sweep;
use crate::portable::Portable;

/// Only values within this factor of today's tell how a small change acts.
const NEAR: f64 = 2.1;
/// Exponents below this are called no influence: doubling the parameter changes the time by less than a tenth.
pub(super) const WEAK: f64 = 0.14;

/// How a parameter acts near today's value.
#[derive(Clone, Debug, PartialEq)]
pub struct Influence {
    /// Path.
    pub path: &'static str,
    /// In words.
    pub title: &'static str,
    /// Exponent n of effective closing time ∝ parameterⁿ; none where it cannot be told.
    pub on_time: Option<f64>,
    /// Surge at the upper end of the range less that at its lower end, over ρ·a·v today.
    pub on_peak: f64,
    /// The range, as multiples of today's value.
    pub range: (f64, f64),
}

/// The influence of a swept parameter; none where today's value is nought or too little was found.
pub(super) fn influence(sweep: &Sweep, today: &Closing) -> Option<Influence> {
    let own = sweep.parameter.today;
    if own <= 0.0 {
        return None;
    }
    let near: Vec<(f64, &Closing)> = sweep.closings().filter(|(v, _)| *v >= own / NEAR && *v <= own * NEAR).collect();
    let ((low, lower), (high, upper)) = (near.first()?, near.last()?);
    if high <= low {
        return None;
    }
    let times = lower.effective_time.zip(upper.effective_time).filter(|(a, b)| *a > 0.0 && *b > 0.0);
    Some(Influence {
        path: sweep.parameter.path,
        title: sweep.parameter.title,
        on_time: times.map(|(a, b)| (b / a).logarithm() / (high / low).logarithm()),
        on_peak: (upper.surge - lower.surge) / today.sudden_rise.max(f64::MIN_POSITIVE),
        range: (low / own, high / own),
    })
}
