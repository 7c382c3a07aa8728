//! In-place LU factorisation of a small matrix of fixed size, with partial pivoting.
//!
//! Stored by columns, so that every inner loop runs along contiguous memory. A fixed size lets the compiler keep the
//! whole matrix on the stack and unroll; for sixteen unknowns that is several times faster than a general routine.

/// The factors of a matrix, or the matrix before it is factored.
#[derive(Clone, Debug)]
pub struct Factors<const N: usize> {
    /// Multipliers below the diagonal, reciprocal pivots on it, the upper factor above it.
    columns: [[f64; N]; N],
    /// Row of the right-hand side that belongs in each place.
    order: [usize; N],
}

/// The matrix has no inverse in the precision at hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Singular;

impl<const N: usize> Factors<N> {
    /// Room for a matrix.
    pub fn zero() -> Self {
        Factors { columns: [[0.0; N]; N], order: [0; N] }
    }

    /// Factor `shift`·I − `matrix`, given by columns.
    #[inline]
    pub fn factor_shifted(&mut self, shift: f64, matrix: &[[f64; N]; N]) -> Result<(), Singular> {
        for (c, (column, source)) in self.columns.iter_mut().zip(matrix).enumerate() {
            for (element, entry) in column.iter_mut().zip(source) {
                *element = -entry;
            }
            column[c] += shift;
        }
        self.factor()
    }

    #[inline]
    fn factor(&mut self) -> Result<(), Singular> {
        self.order = std::array::from_fn(|i| i);
        for k in 0..N {
            let exchange = self.largest_below(k);
            if exchange != k {
                self.order.swap(k, exchange);
                for column in &mut self.columns {
                    column.swap(k, exchange);
                }
            }
            let pivot = self.columns[k][k];
            // written so that a pivot that is not a number is refused as well
            if !(pivot.abs() > 0.0 && pivot.is_finite()) {
                return Err(Singular);
            }
            self.eliminate(k, 1.0 / pivot);
        }
        Ok(())
    }

    /// Row of the largest element in column `k` on or below the diagonal.
    #[inline]
    fn largest_below(&self, k: usize) -> usize {
        let (mut row, mut largest) = (k, 0.0);
        for (r, element) in self.columns[k].iter().enumerate().skip(k) {
            if element.abs() > largest {
                (row, largest) = (r, element.abs());
            }
        }
        row
    }

    /// Divide column `k` by its pivot and take it out of the columns to its right. The diagonal keeps the reciprocal, so
    /// that solving multiplies where it would divide.
    #[inline]
    fn eliminate(&mut self, k: usize, reciprocal: f64) {
        let (left, right) = self.columns.split_at_mut(k + 1);
        let pivotal = &mut left[k];
        pivotal[k] = reciprocal;
        for element in &mut pivotal[k + 1..] {
            *element *= reciprocal;
        }
        for column in right {
            let factor = column[k];
            // Jacobians of coupled parts are mostly zeros; skipping a column costs one comparison
            if factor != 0.0 {
                subtract(&mut column[k + 1..], factor, &pivotal[k + 1..]);
            }
        }
    }

    /// Replace `b` by the solution of the factored system.
    #[inline]
    #[allow(clippy::needless_range_loop, reason = "with ranges up to a constant the loops unroll: a third faster")]
    pub fn solve(&self, b: &mut [f64; N]) {
        *b = std::array::from_fn(|i| b[self.order[i]]);
        for k in 0..N {
            let known = b[k];
            for r in k + 1..N {
                b[r] -= self.columns[k][r] * known;
            }
        }
        for k in (0..N).rev() {
            b[k] *= self.columns[k][k];
            let known = b[k];
            for r in 0..k {
                b[r] -= self.columns[k][r] * known;
            }
        }
    }
}

/// target −= factor·source
#[inline(always)]
fn subtract(target: &mut [f64], factor: f64, source: &[f64]) {
    for (element, entry) in target.iter_mut().zip(source) {
        *element -= factor * entry;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{SMatrix, SVector};

    /// Numbers between −1 and 1 without a pattern: fractional parts of squares times the golden ratio.
    fn scattered<const N: usize>(seed: usize) -> [[f64; N]; N] {
        let number = |k: usize| 2.0 * ((k * k) as f64 * 0.618_033_988_749_894_9).fract() - 1.0;
        std::array::from_fn(|c| std::array::from_fn(|r| number(seed + c * N + r)))
    }

    /// Both factor the same matrix with the same pivoting rule; the solutions may differ by rounding times condition
    /// (below 1e3 here, checked through the inverse).
    fn agrees_with_nalgebra<const N: usize>(matrix: [[f64; N]; N], shift: f64) {
        let mut factors = Factors::zero();
        factors.factor_shifted(shift, &matrix).expect("regular matrix");
        let b: [f64; N] = std::array::from_fn(|i| 1.0 + i as f64);
        let mut x = b;
        factors.solve(&mut x);
        let shifted = SMatrix::<f64, N, N>::identity() * shift - SMatrix::from(matrix);
        let inverse = nalgebra::DMatrix::from_iterator(N, N, shifted.iter().copied()).try_inverse().expect("regular");
        assert!(inverse.norm() * shifted.norm() < 1e3, "ill conditioned: {}", inverse.norm() * shifted.norm());
        let expected = nalgebra::DMatrix::from_iterator(N, N, shifted.iter().copied())
            .lu()
            .solve(&nalgebra::DVector::from_column_slice(&b))
            .expect("regular");
        let scale = expected.amax();
        for i in 0..N {
            assert!((x[i] - expected[i]).abs() < 1e-12 * scale, "element {i}: {} against {}", x[i], expected[i]);
        }
        let residual = shifted * SVector::from(x) - SVector::from(b);
        assert!(residual.amax() < 1e-12 * scale);
    }

    #[test]
    fn solves_as_the_general_routine_does() {
        agrees_with_nalgebra(scattered::<1>(3), 0.25);
        agrees_with_nalgebra(scattered::<5>(1), 0.0);
        agrees_with_nalgebra(scattered::<13>(7), 0.5);
        agrees_with_nalgebra(scattered::<16>(2), 3.0);
    }

    /// A zero on the diagonal that only an exchange of rows can get past.
    #[test]
    fn exchanges_rows_where_the_diagonal_is_zero() {
        let mut factors = Factors::zero();
        factors.factor_shifted(0.0, &[[0.0, -2.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, -4.0]]).expect("regular matrix");
        let mut b = [3.0, 8.0, 2.0];
        factors.solve(&mut b);
        assert_eq!(b, [4.0, 3.0, 0.5]);
    }

    #[test]
    fn refuses_singular_and_not_finite_matrices() {
        let mut factors = Factors::zero();
        assert_eq!(factors.factor_shifted(0.0, &[[1.0, 2.0], [2.0, 4.0]]), Err(Singular));
        assert_eq!(factors.factor_shifted(1.0, &[[f64::NAN, 2.0], [2.0, 4.0]]), Err(Singular));
        assert_eq!(factors.factor_shifted(f64::INFINITY, &[[1.0, 2.0], [2.0, 4.0]]), Err(Singular));
    }
}
