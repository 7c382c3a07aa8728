//! Bleed and pilot in series at rest: the pressure between them, from the project's own passages by a search for the root.

use crate::physics::expansion::Expansion;
use crate::physics::valve::passage::{Nozzle, Passage, Upstream};

/// A passage with 1/(C·A)² of its restrictions, 1/m⁴.
pub struct Bore {
    /// The passage.
    pub passage: Passage,
    /// 1/(C·A)².
    pub inverse_square: f64,
}

/// What flows.
#[derive(Clone, Copy)]
pub enum Medium {
    /// Density, kg/m³.
    Liquid(f64),
    /// Isentropic exponent; gas constant times temperature, J/kg, the same on both sides.
    Gas(f64, f64),
}

/// Root of a function that falls from above to below zero between `low` and `high`.
pub fn falling_root(mut low: f64, mut high: f64, function: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if function(middle) > 0.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Steady mass flow of a bore, kg/s: its losses use up the differential.
pub fn steady_flow(bore: &Bore, medium: Medium, p_up: f64, p_down: f64) -> f64 {
    let upstream = match medium {
        Medium::Liquid(density) => Upstream { density, nozzle: None },
        Medium::Gas(exponent, r_t) => {
            let nozzle = Nozzle { pressure_ratio: p_down / p_up, expansion: Expansion::perfect(exponent) };
            Upstream { density: p_up / r_t, nozzle: Some(nozzle) }
        }
    };
    let most = (2.0 * upstream.density * (p_up - p_down) / bore.inverse_square).sqrt();
    falling_root(0.0, most, |flow| p_up - p_down - bore.passage.loss(flow, bore.inverse_square, upstream))
}

/// Pressure between the two, Pa absolute.
pub fn pressure_between(first: &Bore, second: &Bore, medium: Medium, p_1: f64, p_2: f64) -> f64 {
    falling_root(p_2, p_1, |p| steady_flow(first, medium, p_1, p) - steady_flow(second, medium, p, p_2))
}
