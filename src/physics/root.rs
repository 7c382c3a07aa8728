//! The root of a falling function, for steady balances.

/// Root of a falling function between `low` (where it is not below zero) and `high` (where it is not above), to rounding.
///
/// Source: regula falsi with the Illinois weighting, then halving; own implementation since both ends are always known.
pub fn falling_root(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low <= 0.0 {
        return low;
    }
    if at_high >= 0.0 {
        return high;
    }
    let mut last = 0;
    for round in 0..200 {
        let width = high - low;
        if width <= 4.0 * f64::EPSILON * low.abs().max(high.abs()) {
            break;
        }
        let mut x = (low * at_high - high * at_low) / (at_high - at_low);
        if round % 6 == 5 || !(x > low && x < high) {
            x = 0.5 * (low + high);
        }
        let y = f(x);
        if y == 0.0 {
            return x;
        }
        if y > 0.0 {
            (low, at_low) = (x, y);
            at_high *= if last > 0 { 0.5 } else { 1.0 };
            last = 1;
        } else {
            (high, at_high) = (x, y);
            at_low *= if last < 0 { 0.5 } else { 1.0 };
            last = -1;
        }
    }
    0.5 * (low + high)
}
