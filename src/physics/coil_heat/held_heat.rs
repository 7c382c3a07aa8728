//! The heat of a magnet whose armature is held still, over the winding's temperature.

use crate::physics::valve::copper::{COPPER_COEFFICIENT, winding_resistance};

/// What was found of a held magnet at one temperature of its winding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeldPoint {
    /// Temperature of the winding, K.
    pub temperature: f64,
    /// Mean heat in the winding, W.
    pub winding: f64,
    /// Mean heat in shading ring and eddy currents, W.
    pub iron: f64,
}

/// Mean heat in winding and body, and how it changes with the winding's temperature.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Heat {
    /// Heat in the winding, W.
    pub winding: f64,
    /// Heat in the body: ring and eddy currents, W.
    pub body: f64,
    /// dP_w/dT_w, W/K.
    pub winding_slope: f64,
    /// dP_b/dT_w, W/K.
    pub body_slope: f64,
}

impl Heat {
    /// The same for a share of the time, beside another.
    pub fn and(self, share: f64, other: Heat) -> Heat {
        Heat {
            winding: self.winding + share * other.winding,
            body: self.body + share * other.body,
            winding_slope: self.winding_slope + share * other.winding_slope,
            body_slope: self.body_slope + share * other.body_slope,
        }
    }
}

/// A quadratic through three points, by divided differences.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Quadratic {
    at: [f64; 2],
    coefficients: [f64; 3],
}

impl Quadratic {
    fn through(points: [(f64, f64); 3]) -> Quadratic {
        let [(a, f), (b, g), (c, h)] = points;
        let (first, second) = ((g - f) / (b - a), (h - g) / (c - b));
        Quadratic { at: [a, b], coefficients: [f, first, (second - first) / (c - a)] }
    }

    /// Value and slope.
    fn at(&self, x: f64) -> (f64, f64) {
        let ([a, b], [f, first, second]) = (self.at, self.coefficients);
        (f + (x - a) * (first + (x - b) * second), first + second * (2.0 * x - a - b))
    }
}

/// Heat of a held magnet at any temperature, from three.
///
/// ```text
/// P_w = i²·R(T)      1/i² = (R² + X²)/U²: a quadratic in T      P_iron = k·i²      k nearly the same at all T
/// ```
///
/// Exact for a magnet that does not saturate, on direct (X = 0) and on alternating voltage; between the points within some
/// thousandths where it does. Source: Ohm's law for a winding of constant reactance X; R by [`winding_resistance`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeldHeat {
    resistance_20: f64,
    inverse_square: Quadratic,
    iron: Quadratic,
}

impl HeldHeat {
    /// The law through three points of a winding with that resistance at 20 °C, Ω.
    pub fn through(resistance_20: f64, points: [HeldPoint; 3]) -> HeldHeat {
        let square = |p: &HeldPoint| p.winding / winding_resistance(resistance_20, p.temperature);
        HeldHeat {
            resistance_20,
            inverse_square: Quadratic::through(points.map(|p| (p.temperature, 1.0 / square(&p)))),
            iron: Quadratic::through(points.map(|p| (p.temperature, p.iron / square(&p)))),
        }
    }

    /// Heat with the winding at `temperature` (K).
    pub fn at(&self, temperature: f64) -> Heat {
        let resistance = winding_resistance(self.resistance_20, temperature);
        let resistance_slope = self.resistance_20 * COPPER_COEFFICIENT;
        let (inverse, inverse_slope) = self.inverse_square.at(temperature);
        let (iron, iron_slope) = self.iron.at(temperature);
        let (square, square_slope) = (1.0 / inverse, -inverse_slope / (inverse * inverse));
        Heat {
            winding: square * resistance,
            body: square * iron,
            winding_slope: square_slope * resistance + square * resistance_slope,
            body_slope: square_slope * iron + square * iron_slope,
        }
    }
}
