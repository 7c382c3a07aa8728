//! Roots of the characteristic equation: found by looking along the imaginary axis, sharpened by Newton's method, counted.

use super::characteristic::{C64, Characteristic};
use crate::portable::{Portable, PortableComplex};
use std::f64::consts::TAU;

/// Where roots are looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Lowest frequency, Hz.
    pub lowest: f64,
    /// Highest frequency, Hz.
    pub highest: f64,
}

/// Oscillations slower than 0.3 Hz are drift, not chatter; faster than 600 Hz no stage of some grams can follow with more
/// than a hundredth of its lift.
pub const USUAL_BAND: Band = Band { lowest: 0.3, highest: 600.0 };

/// Looks per octave where no line sets a finer grid.
const PER_OCTAVE: f64 = 10.0;
/// Looks per return frequency 1/(2L/a) of the longest line: its modes alternate at half of that.
const PER_RETURN: f64 = 16.0;
/// Newton's method has converged when a step is below this share of |s|.
const CONVERGED: f64 = 1e-13;
/// A bend of ln|det Δ| over frequency, times frequency, from which a well damped root is suspected.
const BENT: f64 = 0.3;
/// Roots nearer than this share of |s| are one.
const SAME: f64 = 1e-7;

impl Characteristic {
    /// Newton's method on ln det Δ from a first guess; none if it does not settle.
    pub fn root_near(&self, guess: C64) -> Option<C64> {
        let mut s = guess;
        let mut last = f64::INFINITY;
        for _ in 0..40 {
            let Some(slope) = self.logarithmic_slope(s) else { return Some(s) };
            let step = slope.inv();
            let length = step.length() / s.length().max(1e-6);
            if !length.is_finite() {
                return None;
            }
            // Once rounding makes the steps no shorter, the last point is as good as it gets.
            if length < CONVERGED || (length < 1e-10 && length >= last) {
                return Some(s - step);
            }
            let bound = (0.25 * s.length()).max(1e-3);
            s -= if step.length() > bound { step * (bound / step.length()) } else { step };
            last = length;
        }
        (last < 1e-9).then_some(s)
    }

    /// Oscillating modes in a band, the fastest growing first: roots near the dips and bends of |det Δ| along the imaginary axis
    /// and near `hints` (roots of a neighbouring case).
    pub fn modes(&self, band: Band, hints: &[C64]) -> Vec<C64> {
        let mut found: Vec<C64> = Vec::new();
        for seed in hints.iter().copied().chain(self.seeds(band)) {
            let Some(root) = self.root_near(seed) else { continue };
            let inside = root.im >= TAU * band.lowest && root.im <= TAU * band.highest;
            if inside && found.iter().all(|r| (r - root).length() > SAME * root.length()) {
                found.push(root);
            }
        }
        found.sort_by(|a, b| b.re.total_cmp(&a.re));
        found
    }

    /// First guesses of roots: the dips and bends of |det Δ| along the imaginary axis.
    fn seeds(&self, band: Band) -> Vec<C64> {
        let grid = self.frequencies(band);
        let level: Vec<f64> = grid.iter().map(|w| self.determinant(C64::new(0.0, *w)).0).collect();
        let mut places = vec![grid[0]];
        for i in 1..grid.len() - 1 {
            let bend = (level[i + 1] - level[i]) / (grid[i + 1] - grid[i])
                - (level[i] - level[i - 1]) / (grid[i] - grid[i - 1]);
            let dip = level[i] < level[i - 1] && level[i] <= level[i + 1];
            if dip || bend * grid[i] > BENT {
                places.push(grid[i]);
            }
        }
        places.into_iter().map(|w| C64::new(0.0, w)).collect()
    }

    /// Angular frequencies at which the determinant is looked at, rad/s.
    fn frequencies(&self, band: Band) -> Vec<f64> {
        let slowest = self.lines().iter().map(|l| l.return_time()).fold(0.0, f64::max);
        let line_step = if slowest > 0.0 { TAU / slowest / PER_RETURN } else { f64::INFINITY };
        let ratio = 2f64.power(1.0 / PER_OCTAVE);
        let (mut w, end) = (TAU * band.lowest, TAU * band.highest);
        let mut grid = vec![w];
        while w < end {
            w = (w * ratio).min(w + line_step).min(end);
            grid.push(w);
        }
        grid
    }

    /// Fastest growth without oscillation, 1/s: the largest positive real root, if there is one up to `fastest`.
    pub fn runaway(&self, fastest: f64) -> Option<f64> {
        let sign = |s: f64| self.determinant(C64::from(s)).1.re;
        let (mut high, mut low) = (fastest, fastest);
        // From above, since far out the determinant is positive: its sign first changes at the largest root.
        while low > 1e-3 {
            low *= 0.7;
            if sign(low) < 0.0 {
                for _ in 0..60 {
                    let middle = 0.5 * (low + high);
                    if sign(middle) < 0.0 { low = middle } else { high = middle }
                }
                return Some(0.5 * (low + high));
            }
            high = low;
        }
        None
    }

    /// Number of roots in the rectangle from `least` to `most` growth (1/s) and over a band of frequency, by the turns of
    /// det Δ along its border (argument principle); steps are halved until the argument turns by less than a radian in each.
    pub fn count(&self, least: f64, most: f64, band: Band) -> usize {
        let (bottom, top) = (TAU * band.lowest, TAU * band.highest);
        let corners = [
            C64::new(least, bottom),
            C64::new(most, bottom),
            C64::new(most, top),
            C64::new(least, top),
            C64::new(least, bottom),
        ];
        let turned: f64 = corners.windows(2).map(|side| self.turn(side[0], side[1])).sum();
        (turned / TAU).round().max(0.0) as usize
    }

    /// Change of the argument of det Δ along a straight line.
    fn turn(&self, from: C64, to: C64) -> f64 {
        let pieces = 400;
        let at = |i: usize| from + (to - from) * (i as f64 / pieces as f64);
        let mut sum = 0.0;
        let mut before = self.determinant(from).1;
        for i in 0..pieces {
            let after = self.determinant(at(i + 1)).1;
            sum += self.refined_turn((at(i), before), (at(i + 1), after), 12);
            before = after;
        }
        sum
    }

    fn refined_turn(&self, from: (C64, C64), to: (C64, C64), depth: usize) -> f64 {
        let turn = (to.1 / from.1).angle();
        if depth == 0 {
            return turn;
        }
        let s = (from.0 + to.0) * 0.5;
        let middle = (s, self.determinant(s).1);
        let halves = ((middle.1 / from.1).angle(), (to.1 / middle.1).angle());
        let agree = (halves.0 + halves.1 - turn).abs() < 1e-6;
        if agree && halves.0.abs() < 0.5 && halves.1.abs() < 0.5 {
            return turn;
        }
        self.refined_turn(from, middle, depth - 1) + self.refined_turn(middle, to, depth - 1)
    }
}
