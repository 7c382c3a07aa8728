//! Cubic Hermite interpolation between two points of known value and slope.
//!
//! Its error is of fourth order in the distance of the points (E. Hairer, S. P. Nørsett, G. Wanner, "Solving Ordinary
//! Differential Equations I", 2nd ed. 1993, section II.6, cited from memory), enough for histories whose steps meet an
//! engineering tolerance; a delayed argument thereby limits the observed order of a fifth-order method to four.

/// The cubic with given values and slopes at two times.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hermite {
    /// First time.
    pub from: f64,
    /// Second time, later than the first.
    pub to: f64,
    /// Values at the two times.
    pub values: [f64; 2],
    /// Slopes at the two times.
    pub slopes: [f64; 2],
}

impl Hermite {
    /// Value and slope at `time`.
    #[inline]
    pub fn at(&self, time: f64) -> (f64, f64) {
        let length = self.to - self.from;
        let s = (time - self.from) / length;
        let [start, end] = self.values;
        let [start_slope, end_slope] = self.slopes.map(|slope| slope * length);
        let rise = end - start;
        // start + s·(start_slope + s·(quadratic + s·cubic)), fitted at s = 1
        let cubic = start_slope + end_slope - 2.0 * rise;
        let quadratic = rise - start_slope - cubic;
        let value = start + s * (start_slope + s * (quadratic + s * cubic));
        let slope = (start_slope + s * (2.0 * quadratic + 3.0 * s * cubic)) / length;
        (value, slope)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::portable::Portable;

    /// Four conditions fix a cubic, so every cubic must come back; tolerance: rounding of a dozen operations.
    #[test]
    fn reproduces_a_cubic_and_its_slope() {
        let cubic = |t: f64| 2.0 - 3.0 * t + 0.5 * t * t + 0.25 * t * t * t;
        let slope = |t: f64| -3.0 + t + 0.75 * t * t;
        let (from, to) = (-1.0, 2.5);
        let hermite = Hermite { from, to, values: [cubic(from), cubic(to)], slopes: [slope(from), slope(to)] };
        for time in [-1.0, -0.3, 0.0, 1.7, 2.5] {
            let (v, d) = hermite.at(time);
            assert!((v - cubic(time)).abs() < 1e-14 && (d - slope(time)).abs() < 1e-14, "at {time}: {v}, {d}");
        }
    }

    /// Halving the length must divide the error at the middle by 2⁴: h⁴·f⁗/384 for the exponential.
    #[test]
    fn error_is_of_fourth_order() {
        let middle_error = |h: f64| {
            let hermite = Hermite { from: 0.0, to: h, values: [1.0, h.exponential()], slopes: [1.0, h.exponential()] };
            (hermite.at(0.5 * h).0 - (0.5 * h).exponential()).abs()
        };
        let ratio = middle_error(0.1) / middle_error(0.05);
        assert!((ratio - 16.0).abs() < 0.5, "ratio {ratio}");
    }
}
