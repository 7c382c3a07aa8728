//! Soft or hard: what happens at the very edge of stability, by the first Lyapunov coefficient.
//!
//! At a Hopf boundary a pair of roots ±iω has just no growth. To third order the amplitude of that mode obeys
//! dA/dt = σ·A + ½·g·|A|²·A. With Re g < 0 growth is caught: beyond the boundary there is a small steady oscillation (soft
//! onset). With Re g > 0 it runs away: the valve jumps into a large oscillation, and inside the boundary a large enough
//! disturbance starts it all the same (hard onset).
//!
//! ```text
//! g = p·W(iω)·[C(q,q,q̄) + B(q̄,h_20) + 2·B(q,h_11)]      h_20 = Δ(2iω)⁻¹·W(2iω)·B(q,q)   h_11 = Δ(0)⁻¹·W(0)·B(q,q̄)
//! l_1 = Re g/(2ω)        q̄·q = 1,  p·Δ'(iω)·q = 1       W(s) = diag(1 …, −2·Z·H(s) …)
//! ```
//!
//! B and C are the second and third derivatives of the equations; W carries the nonlinearity of a port's flow through its
//! line. Source: Yu. A. Kuznetsov, "Elements of Applied Bifurcation Theory", Springer, 1995, section 5.4 (formula from
//! memory; confirmed in `validation` on valves of known type); the extension to delays is the same projection with Δ for
//! the matrix. First derivatives are exact (dual numbers); B and C are differences of them, extrapolated once.

use super::characteristic::{C64, Characteristic};
use super::model::{Model, Point, along};
use nalgebra::DVector;

/// How oscillation begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Onset {
    /// Small at first and growing with the distance from the boundary.
    Soft,
    /// With a jump; a large disturbance starts it before the boundary is reached.
    Hard,
}

/// The onset at a boundary.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FirstLyapunov {
    /// l_1 for the mode scaled to q̄·q = 1 in scaled states, 1/s over ω.
    pub coefficient: f64,
    /// Soft or hard.
    pub onset: Onset,
}

/// Share of the usual size of the states by which the equations are displaced.
const STEP: f64 = 2e-3;

/// Derivatives of a model about a point in scaled directions.
struct Derivatives<'a, const N: usize, const K: usize, M> {
    model: &'a M,
    at: Point<N, K>,
    matrix: &'a Characteristic,
    step: f64,
}

type Direction = DVector<f64>;

impl<const N: usize, const K: usize, M: Model<N, K>> Derivatives<'_, N, K, M> {
    fn unscaled(&self, direction: &Direction) -> Point<N, K> {
        let mut point = Point { y: [0.0; N], arriving: [0.0; K] };
        for (row, value) in direction.iter().enumerate() {
            let size = value * self.matrix.scale(row);
            match self.matrix.origin(row) {
                i if i < N => point.y[i] = size,
                i => point.arriving[i - N] = size,
            }
        }
        point
    }

    /// First derivative along `v`, `step` away from the point in the direction `u`; rows scaled as those of the matrix.
    fn first(&self, u: &Direction, step: f64, v: &Direction) -> Direction {
        let slopes = along(self.model, &self.at.moved(&self.unscaled(u), step), &self.unscaled(v));
        let states = self.matrix.states();
        Direction::from_fn(self.matrix.size(), |row, _| {
            let value = slopes[self.matrix.origin(row)];
            if row < states { value / self.matrix.scale(row) } else { value }
        })
    }

    /// Second derivative B(u, v): central differences, extrapolated once.
    fn second(&self, u: &Direction, v: &Direction) -> Direction {
        let difference = |h: f64| (self.first(u, h, v) - self.first(u, -h, v)) / (2.0 * h);
        let length = u.norm();
        if length == 0.0 {
            return Direction::zeros(u.len());
        }
        let h = self.step / length;
        (difference(0.5 * h) * 4.0 - difference(h)) / 3.0
    }

    /// Third derivative C(u, u, v).
    fn third(&self, u: &Direction, v: &Direction) -> Direction {
        let length = u.norm();
        if length == 0.0 {
            return Direction::zeros(u.len());
        }
        let middle = self.first(u, 0.0, v) * 2.0;
        let difference = |h: f64| (self.first(u, h, v) + self.first(u, -h, v) - &middle) / (h * h);
        let h = 2.0 * self.step / length;
        (difference(0.5 * h) * 4.0 - difference(h)) / 3.0
    }

    /// B of complex directions.
    fn second_complex(&self, u: &DVector<C64>, v: &DVector<C64>) -> DVector<C64> {
        let (ur, ui) = (u.map(|x| x.re), u.map(|x| x.im));
        let (vr, vi) = (v.map(|x| x.re), v.map(|x| x.im));
        let real = self.second(&ur, &vr) - self.second(&ui, &vi);
        let imaginary = self.second(&ur, &vi) + self.second(&ui, &vr);
        real.zip_map(&imaginary, C64::new)
    }

    /// C(q, q, q̄).
    fn third_of_mode(&self, q: &DVector<C64>) -> DVector<C64> {
        let (a, b) = (q.map(|x| x.re), q.map(|x| x.im));
        let real = self.third(&a, &a) + self.third(&b, &a);
        let imaginary = self.third(&a, &b) + self.third(&b, &b);
        real.zip_map(&imaginary, C64::new)
    }
}

/// W(s) times a vector: flows of ports reach the equations through their lines.
fn through_lines(matrix: &Characteristic, s: C64, mut vector: DVector<C64>) -> DVector<C64> {
    for (k, line) in matrix.lines().iter().enumerate() {
        let row = matrix.states() + k;
        vector[row] *= line.at(s).value * (-2.0 * line.impedance() / matrix.scale(row));
    }
    vector
}

/// First Lyapunov coefficient of the mode iω at a point on (or close to) a Hopf boundary; none where Δ is singular at 0 or
/// 2iω as well.
pub fn first_lyapunov<const N: usize, const K: usize, M: Model<N, K>>(
    model: &M,
    at: Point<N, K>,
    matrix: &Characteristic,
    root: C64,
) -> Option<FirstLyapunov> {
    let s = C64::new(0.0, root.im);
    let (q, p) = matrix.null_vectors(root)?;
    let derivatives = Derivatives { model, at, matrix, step: STEP };
    let conjugate = q.map(|x| x.conj());
    let answer = |s: C64, b: DVector<C64>| matrix.matrix(s).value.lu().solve(&through_lines(matrix, s, b));
    let h_20 = answer(s * 2.0, derivatives.second_complex(&q, &q))?;
    let h_11 = answer(C64::from(0.0), derivatives.second_complex(&q, &conjugate))?;
    let sum = derivatives.third_of_mode(&q)
        + derivatives.second_complex(&conjugate, &h_20)
        + derivatives.second_complex(&q, &h_11) * C64::from(2.0);
    let g = p.dot(&through_lines(matrix, s, sum));
    let coefficient = g.re / (2.0 * root.im);
    coefficient
        .is_finite()
        .then_some(FirstLyapunov { coefficient, onset: if coefficient < 0.0 { Onset::Soft } else { Onset::Hard } })
}
