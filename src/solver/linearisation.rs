//! Values and exact derivatives of the equations at one point, by dual numbers.

use super::System;
use crate::dual::{Dual, Real};

/// The equations about one point. Matrices are stored by columns: `by_state[c][r]` is the derivative of row `r` by state
/// `c`, the layout in which the factorisation and the products run along contiguous memory.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Linearisation<const N: usize, const Q: usize> {
    /// dy/dt.
    pub rate: [f64; N],
    /// ∂(dy/dt)/∂y.
    pub rate_by_state: [[f64; N]; N],
    /// ∂(dy/dt)/∂t, through the forcing.
    pub rate_by_time: [f64; N],
    /// Integrands of the running integrals.
    pub integrand: [f64; Q],
    /// ∂integrand/∂y.
    pub integrand_by_state: [[f64; Q]; N],
    /// ∂integrand/∂t, through the forcing.
    pub integrand_by_time: [f64; Q],
}

impl<const N: usize, const Q: usize> Linearisation<N, Q> {
    /// All zero, to be filled.
    pub fn zero() -> Self {
        Linearisation {
            rate: [0.0; N],
            rate_by_state: [[0.0; N]; N],
            rate_by_time: [0.0; N],
            integrand: [0.0; Q],
            integrand_by_state: [[0.0; Q]; N],
            integrand_by_time: [0.0; Q],
        }
    }
}

/// Linearise `system`: lanes 0 to N−1 carry the states, lane N carries time.
#[inline]
pub(super) fn by_dual_numbers<const P: usize, const N: usize, const K: usize, const Q: usize, S>(
    system: &S,
    forcing: &[f64; K],
    slopes: &[f64; K],
    y: &[f64; N],
    result: &mut Linearisation<N, Q>,
) where
    S: System<N, K, Q> + ?Sized,
{
    const { assert!(P > N, "one lane for each state and one for time") };
    let states: [Dual<P>; N] = std::array::from_fn(|i| Dual::variable(y[i], i));
    let known: [Dual<P>; K] = std::array::from_fn(|i| {
        let mut function = Dual::constant(forcing[i]);
        function.slope[N] = slopes[i];
        function
    });
    let mut rate = [Dual::constant(0.0); N];
    let mut integrand = [Dual::constant(0.0); Q];
    system.rates(&known, &states, &mut rate, &mut integrand);
    unpack(&rate, &mut result.rate, &mut result.rate_by_state, &mut result.rate_by_time);
    unpack(&integrand, &mut result.integrand, &mut result.integrand_by_state, &mut result.integrand_by_time);
}

/// Sort dual results into values, columns by state, and the column by time.
#[inline(always)]
fn unpack<const P: usize, const N: usize, const R: usize>(
    results: &[Dual<P>; R],
    values: &mut [f64; R],
    by_state: &mut [[f64; R]; N],
    by_time: &mut [f64; R],
) {
    for row in 0..R {
        values[row] = results[row].value;
        by_time[row] = results[row].slope[N];
        for (column, slope) in by_state.iter_mut().zip(&results[row].slope) {
            column[row] = *slope;
        }
    }
}
