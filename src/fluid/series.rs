//! Chebyshev series over an interval and over a rectangle.

/// Σ c_k·T_k(x) on [−1, 1].
#[derive(Clone, Debug)]
pub(super) struct Series {
    coefficients: Vec<f64>,
}

impl Series {
    pub(super) fn new(coefficients: Vec<f64>) -> Series {
        Series { coefficients }
    }

    /// Value at x. Source: C. W. Clenshaw, "A note on the summation of Chebyshev series", Mathematics of Computation 9 (1955)
    /// 118-120 (from memory).
    pub(super) fn at(&self, x: f64) -> f64 {
        clenshaw(self.coefficients.iter().copied(), x)
    }
}

/// Σ Σ c_jk·T_j(x)·T_k(y) on the square.
#[derive(Clone, Debug)]
pub(super) struct Surface {
    columns: usize,
    /// Row by row: each row belongs to one T_j(x).
    coefficients: Vec<f64>,
}

impl Surface {
    /// A surface from its coefficients, row by row, `columns` in each.
    pub(super) fn new(coefficients: Vec<f64>, columns: usize) -> Surface {
        Surface { columns, coefficients }
    }

    /// Value at (x, y).
    pub(super) fn at(&self, x: f64, y: f64) -> f64 {
        let rows = self.coefficients.chunks_exact(self.columns);
        clenshaw(rows.map(|row| clenshaw(row.iter().copied(), y)), x)
    }
}

fn clenshaw(coefficients: impl DoubleEndedIterator<Item = f64>, x: f64) -> f64 {
    let (mut next, mut after) = (0.0, 0.0);
    for coefficient in coefficients.rev() {
        (next, after) = (coefficient + 2.0 * x * next - after, next);
    }
    // The last step counted 2x·b_1 where the sum needs x·b_1; `after` holds b_1.
    next - x * after
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::portable::Portable;

    #[test]
    fn a_series_is_the_sum_of_cosines() {
        let series = Series::new(vec![0.3, -1.2, 0.7, 0.05]);
        for angle in [0.0_f64, 0.4, 1.1, 2.0, 3.1] {
            let wanted = 0.3 - 1.2 * angle.cosine() + 0.7 * (2.0 * angle).cosine() + 0.05 * (3.0 * angle).cosine();
            assert!((series.at(angle.cosine()) - wanted).abs() < 1e-14);
        }
    }

    #[test]
    fn a_surface_is_the_double_sum() {
        let surface = Surface::new(vec![1.0, 2.0, 3.0, 4.0, 5.0, 6.0], 3);
        let (x, y) = (0.3_f64, -0.6_f64);
        let t = |y: f64| [1.0, y, 2.0 * y * y - 1.0];
        let wanted: f64 = (0..2).map(|j| (0..3).map(|k| (1 + 3 * j + k) as f64 * t(x)[j] * t(y)[k]).sum::<f64>()).sum();
        assert!((surface.at(x, y) - wanted).abs() < 1e-13);
    }
}
