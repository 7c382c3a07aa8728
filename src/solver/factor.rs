//! Elimination in a small matrix of fixed size, for several right-hand sides, with partial pivoting and known zeros.
//!
//! The first `L` unknowns may be *leaves* (see [`super::System::LEAVES`]): they couple to the rest, the core, but not to
//! each other. They are eliminated first, each by its own diagonal element, which leaves a smaller system for the core:
//!
//! ```text
//! | D  U | |leaves|   |a|       (C − V·D⁻¹·U)·core = b − V·D⁻¹·a
//! | V  C | | core | = |b|       leaves = D⁻¹·(a − U·core)
//! ```
//!
//! The matrix of the core is inverted in place (Gauss and Jordan's method), not factored: eight stages of a step share it,
//! and products with an inverse wait for nothing, where substitution waits at every unknown for the one before.
//! Stored by columns, so that every inner loop runs along contiguous memory over a range fixed at compile time.

/// What is needed to solve for one right-hand side after the other.
#[derive(Clone, Debug)]
pub struct Factors<const N: usize> {
    /// Columns of leaves: V·D⁻¹ in the rows of the core. Columns of the core: U in the rows of leaves, the inverse in its own.
    columns: [[f64; N]; N],
    /// D⁻¹.
    reciprocal: [f64; N],
}

/// The matrix has no inverse in the precision at hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Singular;

impl<const N: usize> Factors<N> {
    /// Room for a matrix.
    pub fn zero() -> Self {
        Factors { columns: [[0.0; N]; N], reciprocal: [0.0; N] }
    }

    /// Prepare `shift`·I − `matrix`, given by columns, of which the first `L` rows and columns belong to leaves.
    pub fn factor_shifted<const L: usize>(&mut self, shift: f64, matrix: &[[f64; N]; N]) -> Result<(), Singular> {
        for (c, (column, source)) in self.columns.iter_mut().zip(matrix).enumerate() {
            for (element, entry) in column.iter_mut().zip(source) {
                *element = -entry;
            }
            column[c] += shift;
        }
        for leaf in 0..L {
            self.eliminate_leaf::<L>(leaf)?;
        }
        let mut exchanged = [0; N];
        for (k, row) in exchanged.iter_mut().enumerate().skip(L) {
            *row = self.exchange_rows::<L>(k);
            self.invert_place::<L>(k)?;
        }
        // rows exchanged in the matrix are columns exchanged in its inverse
        for (k, row) in exchanged.into_iter().enumerate().skip(L).rev() {
            self.exchange_columns::<L>(k, row);
        }
        Ok(())
    }

    /// Take a leaf out of the columns of the core that it couples to.
    #[inline]
    fn eliminate_leaf<const L: usize>(&mut self, leaf: usize) -> Result<(), Singular> {
        let (leaves, core) = self.columns.split_at_mut(L);
        let multipliers = &mut leaves[leaf];
        self.reciprocal[leaf] = reciprocal(multipliers[leaf])?;
        for element in &mut multipliers[L..] {
            *element *= self.reciprocal[leaf];
        }
        for column in core {
            let factor = column[leaf];
            // Jacobians of coupled parts are mostly zeros; skipping a column costs one comparison
            if factor != 0.0 {
                subtract::<L, N>(column, factor, multipliers);
            }
        }
        Ok(())
    }

    /// Bring the largest element of column `k` on or below the diagonal onto it; tells which row it came from.
    #[inline]
    fn exchange_rows<const L: usize>(&mut self, k: usize) -> usize {
        let (mut row, mut largest) = (k, 0.0);
        for (r, element) in self.columns[k].iter().enumerate().skip(k) {
            if element.abs() > largest {
                (row, largest) = (r, element.abs());
            }
        }
        if row != k {
            for column in &mut self.columns[L..] {
                column.swap(k, row);
            }
        }
        row
    }

    /// Exchange the unknown of place `k` for the right-hand side of that place.
    #[inline]
    fn invert_place<const L: usize>(&mut self, k: usize) -> Result<(), Singular> {
        let mut multipliers = self.columns[k];
        let pivot = reciprocal(multipliers[k])?;
        multipliers[k] = 0.0;
        for (c, column) in self.columns.iter_mut().enumerate().skip(L) {
            let factor = column[k] * pivot;
            if c != k && factor != 0.0 {
                subtract::<L, N>(column, factor, &multipliers);
                column[k] = factor;
            }
        }
        let column = &mut self.columns[k];
        for element in &mut column[L..] {
            *element *= -pivot;
        }
        column[k] = pivot;
        Ok(())
    }

    /// Exchange two columns of the inverse.
    #[inline]
    fn exchange_columns<const L: usize>(&mut self, a: usize, b: usize) {
        if a != b {
            for r in L..N {
                (self.columns[a][r], self.columns[b][r]) = (self.columns[b][r], self.columns[a][r]);
            }
        }
    }

    /// Replace `b` by the solution of the system that was prepared with as many leaves.
    pub fn solve<const L: usize>(&self, b: &mut [f64; N]) {
        for leaf in 0..L {
            let known = b[leaf];
            subtract::<L, N>(b, known, &self.columns[leaf]);
        }
        let mut x = [0.0; N];
        for (c, column) in self.columns.iter().enumerate().skip(L) {
            subtract::<L, N>(&mut x, -b[c], column);
        }
        for (c, column) in self.columns.iter().enumerate().skip(L) {
            for leaf in 0..L {
                b[leaf] -= x[c] * column[leaf];
            }
        }
        for leaf in 0..L {
            x[leaf] = b[leaf] * self.reciprocal[leaf];
        }
        *b = x;
    }
}

/// 1/pivot, unless it has none.
#[inline]
fn reciprocal(pivot: f64) -> Result<f64, Singular> {
    // written so that a pivot that is not a number is refused as well
    if pivot.abs() > 0.0 && pivot.is_finite() { Ok(1.0 / pivot) } else { Err(Singular) }
}

/// target −= factor·source, from row `L` on.
#[inline(always)]
fn subtract<const L: usize, const N: usize>(target: &mut [f64; N], factor: f64, source: &[f64; N]) {
    for r in L..N {
        target[r] -= factor * source[r];
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
    fn agrees_with_nalgebra<const L: usize, const N: usize>(matrix: [[f64; N]; N], shift: f64) {
        let mut factors = Factors::zero();
        factors.factor_shifted::<L>(shift, &matrix).expect("regular matrix");
        let b: [f64; N] = std::array::from_fn(|i| 1.0 + i as f64);
        let mut x = b;
        factors.solve::<L>(&mut x);
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
        agrees_with_nalgebra::<0, _>(scattered::<1>(3), 0.25);
        agrees_with_nalgebra::<0, _>(scattered::<5>(1), 0.0);
        agrees_with_nalgebra::<0, _>(scattered::<13>(7), 0.5);
        agrees_with_nalgebra::<0, _>(scattered::<16>(2), 3.0);
    }

    fn with_leaves<const L: usize>() -> [[f64; 16]; 16] {
        let mut matrix = scattered(5);
        for (c, column) in matrix.iter_mut().enumerate().take(L) {
            column[..L].fill(0.0);
            column[c] = -1.0 - 0.1 * c as f64;
        }
        matrix
    }

    #[test]
    fn leaves_are_solved_as_by_the_general_routine() {
        agrees_with_nalgebra::<1, _>(with_leaves::<1>(), 2.0);
        agrees_with_nalgebra::<6, _>(with_leaves::<6>(), 2.0);
        agrees_with_nalgebra::<16, _>(with_leaves::<16>(), 2.0);
    }

    /// A zero on the diagonal that only an exchange of rows can get past.
    #[test]
    fn exchanges_rows_where_the_diagonal_is_zero() {
        let mut factors = Factors::zero();
        factors
            .factor_shifted::<0>(0.0, &[[0.0, -2.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, -4.0]])
            .expect("regular matrix");
        let mut b = [3.0, 8.0, 2.0];
        factors.solve::<0>(&mut b);
        assert_eq!(b, [4.0, 3.0, 0.5]);
    }

    #[test]
    fn refuses_singular_and_not_finite_matrices() {
        let mut factors = Factors::zero();
        assert_eq!(factors.factor_shifted::<0>(0.0, &[[1.0, 2.0], [2.0, 4.0]]), Err(Singular));
        assert_eq!(factors.factor_shifted::<0>(1.0, &[[f64::NAN, 2.0], [2.0, 4.0]]), Err(Singular));
        assert_eq!(factors.factor_shifted::<0>(f64::INFINITY, &[[1.0, 2.0], [2.0, 4.0]]), Err(Singular));
    }
}
