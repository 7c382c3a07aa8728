//! The dimensionless single-stage relief valve of Licskó, Champneys and Hős: a spring-loaded poppet over a vessel that is
//! fed at a constant rate.

use super::restitution::{Accuracy, Restitution};
use crate::dual::Real;
use crate::portable::Portable;
use crate::solver::{Method, Settings, Step, System, Then};

/// Coefficient of restitution of the published cases.
pub(super) const RESTITUTION: Restitution = Restitution { coefficient: 0.8, shortest_flight: 1e-7 };
/// Lift among the states.
pub const LIFT: usize = 0;
/// Pressure in the vessel among the states.
pub const PRESSURE: usize = 2;
/// Authors, title, place, year.
pub(super) const SOURCE: &str = "G. Licskó, A. Champneys, C. Hős, Nonlinear Analysis of a Single Stage Pressure Relief \
                                 Valve, IAENG International Journal of Applied Mathematics 39:4, 2009";

/// The valve between impacts.
///
/// ```text
/// ẏ₁ = y₂        ẏ₂ = −κ·y₂ − (y₁ + δ) + y₃        ẏ₃ = β·(q − y₁·√y₃)
/// ```
///
/// y₁ lift, y₂ its speed, y₃ pressure; at y₁ = 0 an impact. Source: G. Licskó, A. Champneys, C. Hős (2009), equations and
/// parameters as given in public listings of test problems.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReliefValve {
    /// Damping κ.
    pub kappa: f64,
    /// Stiffness of the vessel β.
    pub beta: f64,
    /// Preload δ.
    pub delta: f64,
    /// Feed q.
    pub q: f64,
}

impl ReliefValve {
    /// The published parameter set, κ = 1.25, β = 20, δ = 10, at a feed.
    pub fn published(q: f64) -> Self {
        ReliefValve { kappa: 1.25, beta: 20.0, delta: 10.0, q }
    }

    /// The open valve at rest: y₁²·(y₁ + δ) = q², y₃ = y₁ + δ. The cubic rises with y₁ > 0, so Newton's method from above
    /// cannot miss its one root.
    pub fn equilibrium(&self) -> [f64; 3] {
        let square = self.q * self.q;
        let mut lift = self.q.abs().power(2.0 / 3.0).max(f64::MIN_POSITIVE);
        for _ in 0..100 {
            let excess = lift * lift * (lift + self.delta) - square;
            let next = lift - excess / (lift * (3.0 * lift + 2.0 * self.delta));
            if (next - lift).abs() <= f64::EPSILON * lift {
                break;
            }
            lift = next;
        }
        [lift, 0.0, lift + self.delta]
    }
}

impl System<3, 0, 0> for ReliefValve {
    fn forcing(&self, _time: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }

    fn rates<T: Real>(&self, _forcing: &[T; 0], y: &[T; 3], rate: &mut [T; 3], _integrand: &mut [T; 0]) {
        let [lift, speed, pressure] = *y;
        rate[0] = speed;
        rate[1] = pressure - speed * self.kappa - lift - T::constant(self.delta);
        rate[2] = (T::constant(self.q) - lift * pressure.sqrt()) * self.beta;
    }

    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }

    fn accepted(&mut self, _step: &Step<'_, 3, 0>) -> Then {
        Then::Continue
    }
}

/// Accuracy for the valve: its periods are about two units of time, so that no step leads through half a swing.
pub(super) fn accuracy(tolerance: f64) -> Accuracy<3> {
    Accuracy {
        settings: Settings {
            method: Method::Rodas5P,
            relative_tolerance: tolerance,
            absolute_tolerance: [tolerance; 3],
            most_steps: 10_000_000,
        },
        longest_step: 0.1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_equilibrium_is_one() {
        for q in [0.2, 5.0, 8.49, 100.0] {
            let valve = ReliefValve::published(q);
            let mut rates = [f64::NAN; 3];
            valve.rates(&[], &valve.equilibrium(), &mut rates, &mut []);
            assert!(rates.iter().all(|rate| rate.abs() < 1e-11 * q.max(1.0)), "{q}: {rates:?}");
        }
    }
}
