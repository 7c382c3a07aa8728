//! What can be asked for its stability: equations of motion with ports, behind which lines answer with delay.

use crate::dual::{Dual, Real};
use crate::physics::line::reflection::Reflection;

/// Equations of motion of `N` states with `K` ports.
///
/// At port k a wave line may hang: it sends a characteristic c_k (pressure) and takes up the flow that the equations let out
/// of it. Everything else that drives the system is constant.
pub trait Model<const N: usize, const K: usize> {
    /// dy/dt and, for each port, the flow from its line into the system, under the arriving characteristics.
    fn rates<T: Real>(&self, arriving: &[T; K], y: &[T; N], rate: &mut [T; N], flow: &mut [T; K]);

    /// The line behind each port; none: what arrives there is constant.
    fn lines(&self) -> [Option<Reflection>; K];

    /// Usual size of each state, by which modes are scaled.
    fn scales(&self) -> [f64; N];

    /// Usual size of an arriving characteristic.
    fn pressure_scale(&self) -> f64;
}

/// Lanes of the dual numbers: most states and ports together.
pub const LANES: usize = 20;

/// A point of the state space: states and arriving characteristics, and directions in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point<const N: usize, const K: usize> {
    /// States.
    pub y: [f64; N],
    /// Arriving characteristics.
    pub arriving: [f64; K],
}

impl<const N: usize, const K: usize> Point<N, K> {
    /// This point moved by `step` times a direction.
    pub fn moved(&self, direction: &Self, step: f64) -> Self {
        Point {
            y: std::array::from_fn(|i| self.y[i] + step * direction.y[i]),
            arriving: std::array::from_fn(|k| self.arriving[k] + step * direction.arriving[k]),
        }
    }
}

/// Rates, flows and their exact derivatives at a point: rows are states then ports, columns likewise.
#[derive(Clone, Debug)]
pub struct Gradient<const N: usize, const K: usize> {
    /// dy/dt.
    pub rate: [f64; N],
    /// Flows at the ports.
    pub flow: [f64; K],
    /// Row r: derivatives of rate r (r < N) or of flow r − N by states, then by arriving characteristics.
    rows: Vec<[f64; LANES]>,
}

impl<const N: usize, const K: usize> Gradient<N, K> {
    /// Linearise a model at a point, in one pass of dual numbers.
    pub fn of<M: Model<N, K>>(model: &M, at: &Point<N, K>) -> Self {
        const { assert!(N + K <= LANES, "too few lanes") };
        let y: [Dual<LANES>; N] = std::array::from_fn(|i| Dual::variable(at.y[i], i));
        let arriving: [Dual<LANES>; K] = std::array::from_fn(|k| Dual::variable(at.arriving[k], N + k));
        let (mut rate, mut flow) = ([Dual::constant(0.0); N], [Dual::constant(0.0); K]);
        model.rates(&arriving, &y, &mut rate, &mut flow);
        Gradient {
            rate: rate.map(|r| r.value),
            flow: flow.map(|f| f.value),
            rows: rate.iter().chain(&flow).map(|d| d.slope).collect(),
        }
    }

    /// Derivative of row `row` by column `column`.
    pub fn at(&self, row: usize, column: usize) -> f64 {
        self.rows[row][column]
    }
}

/// Derivatives of rates, then flows, along a direction at a point: exact, one pass.
pub fn along<const N: usize, const K: usize, M: Model<N, K>>(
    model: &M,
    at: &Point<N, K>,
    direction: &Point<N, K>,
) -> Vec<f64> {
    let dual = |value: f64, slope: f64| Dual::<1> { slope: [slope], value };
    let y: [Dual<1>; N] = std::array::from_fn(|i| dual(at.y[i], direction.y[i]));
    let arriving: [Dual<1>; K] = std::array::from_fn(|k| dual(at.arriving[k], direction.arriving[k]));
    let (mut rate, mut flow) = ([Dual::constant(0.0); N], [Dual::constant(0.0); K]);
    model.rates(&arriving, &y, &mut rate, &mut flow);
    rate.iter().chain(&flow).map(|d| d.slope[0]).collect()
}
