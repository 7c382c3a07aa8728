//! An axis: where on the page a value lies.

use crate::portable::Portable;

/// How values are spaced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spacing {
    /// Equal steps.
    Linear,
    /// Equal ratios.
    Logarithmic,
}

/// From values (SI) to places on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    /// Spacing.
    pub spacing: Spacing,
    /// Lower end, SI.
    pub low: f64,
    /// Upper end, SI.
    pub high: f64,
    /// Place of the lower end, points.
    pub start: f64,
    /// Place of the upper end, points.
    pub end: f64,
}

impl Axis {
    /// An axis for a range of values over an extent of the page. A range that cannot carry an axis is widened, and
    /// logarithmic spacing of values that are not positive becomes linear.
    pub fn new(spacing: Spacing, range: (f64, f64), extent: (f64, f64)) -> Axis {
        let (mut low, mut high) = range;
        if !(low.is_finite() && high.is_finite()) {
            (low, high) = (0.0, 1.0);
        }
        if low > high {
            (low, high) = (high, low);
        }
        let spacing = if low > 0.0 { spacing } else { Spacing::Linear };
        if high - low <= 1e-12 * high.abs().max(low.abs()) {
            let widening = if low == 0.0 { 1.0 } else { 0.1 * low.abs() };
            (low, high) = (low - widening, high + widening);
        }
        Axis { spacing, low, high, start: extent.0, end: extent.1 }
    }

    /// Place of a value, points.
    pub fn place(&self, value: f64) -> f64 {
        let share = match self.spacing {
            Spacing::Linear => (value - self.low) / (self.high - self.low),
            Spacing::Logarithmic if value > 0.0 => (value / self.low).logarithm() / (self.high / self.low).logarithm(),
            Spacing::Logarithmic if value.is_nan() => f64::NAN,
            Spacing::Logarithmic => f64::NEG_INFINITY,
        };
        // Far outside is as good as just outside, and keeps the arithmetic of lines finite.
        self.start + (self.end - self.start) * share.clamp(-50.0, 50.0)
    }

    /// Does the value lie on the axis?
    pub fn holds(&self, value: f64) -> bool {
        let slack = 1e-9 * (self.high - self.low);
        value >= self.low - slack && value <= self.high + slack
    }

    /// Length on the page, points.
    pub fn length(&self) -> f64 {
        (self.end - self.start).abs()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn logarithmic_middle_is_the_geometric_mean() {
        let axis = Axis::new(Spacing::Logarithmic, (1.0, 100.0), (0.0, 10.0));
        assert!((axis.place(10.0) - 5.0).abs() < 1e-12);
    }

    #[test]
    fn odd_ranges_still_give_an_axis() {
        for range in [(f64::NAN, 1.0), (2.0, 2.0), (0.0, 0.0), (3.0, 1.0), (-1.0, f64::INFINITY)] {
            for spacing in [Spacing::Linear, Spacing::Logarithmic] {
                let axis = Axis::new(spacing, range, (0.0, 10.0));
                assert!(axis.low < axis.high && axis.place(axis.low) == 0.0, "{range:?}");
            }
        }
    }
}
