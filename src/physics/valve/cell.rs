//! A body of fluid at one pressure: a body cavity at a port, or the liquid side of the control chamber.

use crate::dual::Real;
use crate::portable::Portable;
use std::cell::Cell as Hint;

/// Fluid held at one pressure, with the gas and vapour in it.
///
/// The state of a cell is its *content* s, m³: the volume of fluid (at reference density) brought in beyond the volume of
/// the vessel. It fixes the pressure:
///
/// ```text
/// s = C·(p − p_ref) − V_g(p)          V_g(p) = V_g0·((p_g0 − p_v)/(p − p_v))^(1/n)
/// ```
///
/// C compliance of liquid and wall, m³/Pa; V_g gas volume; p_v vapour pressure; n polytropic exponent of the gas.
/// As s falls the gas grows and p tends to p_v from above: the vapour cavity opens and closes without an event, and p
/// never passes below p_v. With n = 1 the law is that of a discrete gas cavity.
///
/// Valid while (p − p_ref)·C is small against the vessel's volume (a liquid: some 100 bar).
/// Source: discrete gas cavity after E. B. Wylie, "Simulation of vaporous and gaseous cavitation", J. Fluids Eng. 106
/// (1984) 307-311 (from memory); use of the content as state: own derivation.
#[derive(Clone, Debug)]
pub struct Cell {
    /// Compliance C, m³/Pa.
    pub compliance: f64,
    /// Pressure p_ref at which the liquid just fills the vessel, Pa absolute.
    pub reference: f64,
    /// Vapour pressure p_v, Pa absolute (zero in gas service).
    pub vapour: f64,
    /// (p_g0 − p_v)^(1/n)·V_g0, so that V_g = gas·(p − p_v)^(−1/n).
    gas: f64,
    /// Polytropic exponent n.
    exponent: f64,
    /// ln(p − p_v) from which a pressure is looked for where nothing nearer is known; not finite: guessed from the content.
    start: f64,
}

/// Where a cell's next pressure is looked for: ln(p − p_v) of its last one. It decides effort, and the result to rounding only.
/// Whoever asks again and again keeps it; the cell itself does not change by being asked.
#[derive(Clone, Debug)]
pub struct Near(Hint<f64>);

impl Near {
    /// Nothing is known.
    pub fn anywhere() -> Self {
        Near(Hint::new(f64::NAN))
    }
}

impl Cell {
    /// A cell of that compliance holding `gas_volume` (m³, above zero) of gas counted at `gas_pressure` (Pa absolute).
    pub fn new(
        compliance: f64,
        reference: f64,
        vapour: f64,
        gas_volume: f64,
        gas_pressure: f64,
        exponent: f64,
    ) -> Self {
        let above = (gas_pressure - vapour).max(1.0);
        Cell { compliance, reference, vapour, gas: gas_volume * above.power(1.0 / exponent), exponent, start: f64::NAN }
    }

    /// Volume of gas and vapour at pressure `p`, m³.
    pub fn gas_volume(&self, p: f64) -> f64 {
        self.gas * (p - self.vapour).power(-1.0 / self.exponent)
    }

    /// Content s at pressure `p` (Pa absolute, above the vapour pressure), m³.
    pub fn content(&self, p: f64) -> f64 {
        self.compliance * (p - self.reference) - self.gas_volume(p)
    }

    /// A place to look from, for one who is going to ask again and again.
    pub fn near(&self) -> Near {
        Near(Hint::new(self.start))
    }

    /// Look for pressures from `pressure` (Pa absolute) on, where nothing nearer is known.
    pub fn look_from(&mut self, pressure: f64) {
        let near = self.near();
        self.pressure_slope_near(self.content(pressure), &near);
        self.start = near.0.get();
    }

    /// Pressure at content s, Pa absolute. Equation: see [`Cell`], solved in closed form for n = 1, else by Newton's
    /// method in ln(p − p_v), to rounding.
    #[inline]
    pub fn pressure<T: Real>(&self, content: T) -> T {
        self.pressure_near(content, &self.near())
    }

    /// The same, looked for where the last answer was.
    #[inline]
    pub fn pressure_near<T: Real>(&self, content: T, near: &Near) -> T {
        let (above, slope) = self.solution(content.value(), near);
        content.chain(above + self.vapour, slope)
    }

    /// dp/ds at content s, Pa/m³. Source: derivative of the law of [`Cell`].
    #[inline]
    pub fn pressure_slope(&self, content: f64) -> f64 {
        self.pressure_slope_near(content, &self.near())
    }

    /// The same, looked for where the last answer was.
    #[inline]
    pub fn pressure_slope_near(&self, content: f64, near: &Near) -> f64 {
        self.solution(content, near).1
    }

    /// p − p_v and dp/ds at content s.
    #[inline]
    fn solution(&self, content: f64, near: &Near) -> (f64, f64) {
        let sigma = content + self.compliance * (self.reference - self.vapour);
        if self.exponent == 1.0 { self.isothermal(sigma) } else { self.polytropic(sigma, near) }
    }

    /// p − p_v and dp/ds for n = 1: the positive root of C·u² − σ·u − G = 0.
    #[inline]
    fn isothermal(&self, sigma: f64) -> (f64, f64) {
        let (c, g) = (self.compliance, self.gas);
        let root = (sigma * sigma + 4.0 * c * g).sqrt();
        let above = if sigma > 0.0 { 0.5 * (sigma + root) / c } else { 2.0 * g / (root - sigma) };
        (above, above / root)
    }

    /// p − p_v and dp/ds for n ≠ 1, by Newton's method in l = ln(p − p_v) from the last solution: contents change little
    /// from one evaluation to the next. The last correction is below 10⁻⁷ and is applied to third order.
    fn polytropic(&self, sigma: f64, near: &Near) -> (f64, f64) {
        let (c, n) = (self.compliance, self.exponent);
        let mut l = near.0.get();
        if !l.is_finite() {
            l = if sigma < 0.0 { n * (self.gas / -sigma).logarithm() } else { (sigma / c + 1.0).logarithm() };
        }
        let (mut above, mut volume) = (l.exponential(), self.gas * (-l / n).exponential());
        for _ in 0..100 {
            let change = -(c * above - volume - sigma) / (c * above + volume / n);
            if change.abs() < 1e-7 {
                above *= 1.0 + change * (1.0 + 0.5 * change);
                volume *= 1.0 - change / n * (1.0 - 0.5 * change / n);
                l += change;
                break;
            }
            l += change.clamp(-2.0, 2.0);
            (above, volume) = (l.exponential(), self.gas * (-l / n).exponential());
        }
        near.0.set(l);
        (above, 1.0 / (c + volume / (n * above)))
    }

    /// Energy stored at pressure `p` against the datum pressure, J, up to a constant: ∫(p − p_datum) ds.
    ///
    /// ```text
    /// E = C·(p − p_d)²/2 + E_g − (p_v − p_d)·V_g      E_g = (p − p_v)·V_g/(n − 1), or V_g0·p_g0·ln(p − p_v) for n = 1
    /// ```
    ///
    /// Source: own derivation (work of a polytropic gas).
    pub fn energy(&self, p: f64, datum: f64) -> f64 {
        let (above, volume) = (p - self.vapour, self.gas_volume(p));
        let gas =
            if self.exponent == 1.0 { self.gas * above.logarithm() } else { above * volume / (self.exponent - 1.0) };
        0.5 * self.compliance * (p - datum).to_the(2) + gas - (self.vapour - datum) * volume
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dual::Dual;

    fn cells() -> [Cell; 2] {
        [Cell::new(2.3e-15, 1e5, 2339.0, 1e-10, 1e5, 1.0), Cell::new(2.3e-15, 1e5, 2339.0, 1e-5, 1e5, 1.3)]
    }

    #[test]
    fn pressure_inverts_content_from_cavity_to_surge() {
        for cell in cells() {
            for p in [2339.5, 2400.0, 1e4, 1e5, 6e5, 5e6] {
                let s = cell.content(p);
                let back = cell.pressure(Dual::<4>::variable(s, 0));
                assert!(((back.value - p) / (p - 2339.0)).abs() < 1e-6, "{p} -> {}", back.value);
                let step = 1e-5 * (p - 2339.0);
                let slope = 2.0 * step / (cell.content(p + step) - cell.content(p - step));
                assert!((back.slope[0] / slope - 1.0).abs() < 1e-4);
            }
        }
    }

    #[test]
    fn energy_is_the_integral_of_pressure_over_content() {
        for cell in cells() {
            let (p, datum, h) = (3e5, 2e5, 10.0);
            let work = (p - datum) * (cell.content(p + h) - cell.content(p - h));
            let stored = cell.energy(p + h, datum) - cell.energy(p - h, datum);
            assert!((stored / work - 1.0).abs() < 1e-5);
        }
    }
}
