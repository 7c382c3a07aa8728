//! The characteristic matrix: small motions e^(st) about an equilibrium, with the delays of the lines left exact.
//!
//! ```text
//! Δ(s)·(η, χ) = 0        (s·I − ∂f/∂y)·η − ∂f/∂c·χ = 0
//!                        χ_k − H_k(s)·(χ_k − 2·Z_k·(∂q_k/∂y·η + ∂q_k/∂c·χ)) = 0
//! ```
//!
//! η: states, χ: arriving characteristics, q: flows from the lines, H_k: what the line makes of the wave sent into it
//! ([`crate::physics::line::reflection`]). The roots of det Δ are the growth rates and frequencies of all modes; there are
//! infinitely many, and nothing is truncated. Rows and columns are scaled by the usual sizes of the states.
//! Source: linear delay equations (J. K. Hale, S. M. Verduyn Lunel, "Introduction to Functional Differential Equations",
//! Springer, 1993, from memory); this form: own derivation.

use super::model::{Gradient, Model, Point};
use crate::physics::line::reflection::Reflection;
use crate::portable::{Portable, PortableComplex};
use nalgebra::{Complex, DMatrix, DVector};

/// A complex number.
pub type C64 = Complex<f64>;

/// A model linearised at a point.
#[derive(Clone, Debug)]
pub struct Characteristic {
    /// Derivatives between the states and characteristics that move, scaled: row-major, size × size.
    gradient: DMatrix<f64>,
    /// Index of each row in the model: states, then ports.
    kept: Vec<usize>,
    /// Scale of each row's variable.
    scales: Vec<f64>,
    /// Number of states kept.
    states: usize,
    /// Lines of the ports kept, in order.
    lines: Vec<Reflection>,
    /// Number of states of the model.
    all_states: usize,
}

/// Δ(s) and dΔ/ds.
#[derive(Clone, Debug)]
pub struct Matrix {
    /// Δ(s).
    pub value: DMatrix<C64>,
    /// dΔ/ds.
    pub slope: DMatrix<C64>,
}

impl Characteristic {
    /// Linearise a model at a point. States that nothing moves are left out.
    pub fn of<const N: usize, const K: usize, M: Model<N, K>>(model: &M, at: &Point<N, K>) -> Self {
        let gradient = Gradient::of(model, at);
        let lines = model.lines();
        let moves = |row: usize| (0..N + K).any(|column| gradient.at(row, column) != 0.0);
        let mut kept: Vec<usize> = (0..N).filter(|&row| moves(row)).collect();
        let states = kept.len();
        kept.extend((0..K).filter(|&k| lines[k].is_some()).map(|k| N + k));
        let usual = model.scales();
        let size = |i: usize| if i < N { usual[i] } else { model.pressure_scale() };
        let scales: Vec<f64> = kept.iter().map(|&i| if size(i).is_finite() { size(i) } else { 1.0 }).collect();
        let scaled = DMatrix::from_fn(kept.len(), kept.len(), |r, c| {
            let row_scale = if r < states { scales[r] } else { 1.0 };
            gradient.at(kept[r], kept[c]) * scales[c] / row_scale
        });
        Characteristic {
            gradient: scaled,
            kept,
            scales,
            states,
            lines: lines.into_iter().flatten().collect(),
            all_states: N,
        }
    }

    /// Rows of Δ.
    pub fn size(&self) -> usize {
        self.kept.len()
    }

    /// Δ(s) and its derivative.
    pub fn matrix(&self, s: C64) -> Matrix {
        let size = self.size();
        let mut value = self.gradient.map(|g| C64::from(-g));
        let mut slope = DMatrix::from_element(size, size, C64::from(0.0));
        for i in 0..self.states {
            value[(i, i)] += s;
            slope[(i, i)] = 1.0.into();
        }
        for (k, line) in self.lines.iter().enumerate() {
            let row = self.states + k;
            let heard = line.at(s);
            let factor = 2.0 * line.impedance() / self.scales[row];
            for column in 0..size {
                let sent = -factor * self.gradient[(row, column)] + if column == row { 1.0 } else { 0.0 };
                value[(row, column)] = -heard.value * sent;
                slope[(row, column)] = -heard.slope * sent;
            }
            value[(row, row)] += 1.0;
        }
        Matrix { value, slope }
    }

    /// det Δ(s) as the logarithm of its modulus and its argument on the unit circle.
    pub fn determinant(&self, s: C64) -> (f64, C64) {
        let lu = self.matrix(s).value.lu();
        let sign: f64 = lu.p().determinant();
        let start = (0.0, C64::from(sign));
        (0..self.size()).map(|i| lu.u()[(i, i)]).fold(start, |(log, direction), pivot| {
            let modulus = pivot.length();
            (log + modulus.logarithm(), direction * (pivot / modulus))
        })
    }

    /// d(ln det Δ)/ds; none where Δ is singular to rounding.
    pub fn logarithmic_slope(&self, s: C64) -> Option<C64> {
        let matrix = self.matrix(s);
        let solved = matrix.value.lu().solve(&matrix.slope)?;
        Some(solved.trace()).filter(|t| t.re.is_finite() && t.im.is_finite())
    }

    /// Right and left null vectors of Δ at a root, the left one scaled so that left·Δ'·right = 1; by inverse iteration.
    pub fn null_vectors(&self, root: C64) -> Option<(DVector<C64>, DVector<C64>)> {
        let matrix = self.matrix(root);
        let nudge = C64::from(1e-14 * matrix.value.iter().map(|v| v.length()).fold(0.0, f64::max));
        let mut near = matrix.value.clone();
        for i in 0..self.size() {
            near[(i, i)] += nudge;
        }
        let (lu, transposed) = (near.clone().lu(), near.transpose().lu());
        let start = DVector::from_fn(self.size(), |i, _| C64::new(1.0 + 0.1 * i as f64, 0.5));
        let (mut right, mut left) = (start.clone(), start);
        for _ in 0..4 {
            right = lu.solve(&right)?;
            right /= C64::from(right.norm());
            left = transposed.solve(&left)?;
            left /= C64::from(left.norm());
        }
        let weight = left.dot(&(&matrix.slope * &right));
        (weight.length() > 0.0).then(|| (right, left / weight))
    }

    /// Place of a model's state in the vectors of this matrix.
    pub fn place(&self, state: usize) -> Option<usize> {
        self.kept.iter().position(|&i| i == state)
    }

    /// Scale of the variable of a row.
    pub fn scale(&self, row: usize) -> f64 {
        self.scales[row]
    }

    /// Index in the model of a row's variable: states, then ports from the number of states on.
    pub fn origin(&self, row: usize) -> usize {
        self.kept[row]
    }

    /// Number of states of the model, kept or not.
    pub fn all_states(&self) -> usize {
        self.all_states
    }

    /// Rows that are states; those of the lines follow.
    pub fn states(&self) -> usize {
        self.states
    }

    /// Lines of the rows after the states.
    pub fn lines(&self) -> &[Reflection] {
        &self.lines
    }
}
