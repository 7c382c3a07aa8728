//! A valve whose opening shuts linearly at the end of a frictionless line: the exact answer, against which a real closing is
//! set. Decides nothing in a run.
//!
//! ```text
//! z_i² + z_(i−1)² − 2 = 2·ρ_A·(η_(i−1)·z_(i−1) − η_i·z_i)      z = √(H/H_0), i counts returns of the wave
//! η = 1 − t/T                                                 share of the opening left
//! ρ_A = ρ·a·v/(2·p_0)                                         line number, p_0 drives the flow through opening and consumer
//! θ = T/(2L/a)                                                closing time in returns of the wave
//! ```
//!
//! Source: L. Allievi, Theory of Water Hammer, 1925, in the form of J. Parmakian, Waterhammer Analysis, 1955 (from memory;
//! checked against tables in `validation/allievi_1925_closure`). Valid without friction, at one wave speed, and while flow goes with
//! the root of the head.

use crate::portable::Portable;

/// Instants a return of the wave at which the highest head is sought before it is narrowed down.
const INSTANTS: usize = 128;
/// Halvings of an interval: below the rounding of what they seek.
const HALVINGS: usize = 60;
/// Longest closing that is followed, returns of the wave: beyond, the rise is below a thousandth of ρ·a·v at any line number.
const LONGEST: f64 = 5000.0;

/// A linear closing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LinearClosing {
    /// Line number ρ_A.
    pub line_number: f64,
    /// Closing time θ, in returns of the wave 2L/a.
    pub returns: f64,
}

impl LinearClosing {
    /// Share of the opening left after `t` returns of the wave.
    fn opening(&self, t: f64) -> f64 {
        (1.0 - t / self.returns).clamp(0.0, 1.0)
    }

    /// Root of the head, z, after `t` returns of the wave, over that before closing.
    ///
    /// ```text
    /// z_i = −ρ_A·η_i + √((ρ_A·η_i)² + 2 − z_(i−1)² + 2·ρ_A·η_(i−1)·z_(i−1))
    /// ```
    ///
    /// Source: see the module. Started from the steady flow one return before.
    pub fn root_of_head(&self, t: f64) -> f64 {
        self.roots(t - t.floor()).nth(t.floor() as usize).map_or(1.0, |(_, z)| z)
    }

    /// Instants one return of the wave apart, the first within the first return, each with its root of the head.
    fn roots(&self, first: f64) -> impl Iterator<Item = (f64, f64)> {
        let (mut z, mut before, mut at) = (1.0_f64, 1.0, first);
        std::iter::from_fn(move || {
            let opening = self.opening(at);
            let pushed = self.line_number * opening;
            let square = pushed * pushed + 2.0 - z * z + 2.0 * self.line_number * before * z;
            z = square.max(0.0).sqrt() - pushed;
            before = opening;
            let instant = at;
            at += 1.0;
            Some((instant, z))
        })
    }

    /// Highest head while the opening shuts, over the head before closing: 1 + 2·ρ_A where it shuts within one return.
    pub fn highest_head(&self) -> f64 {
        if self.returns <= 1.0 {
            return 1.0 + 2.0 * self.line_number;
        }
        let step = 1.0 / INSTANTS as f64;
        let end = self.returns.min(LONGEST);
        let higher = |a: (f64, f64), b: (f64, f64)| if b.1 > a.1 { b } else { a };
        let best = (0..INSTANTS)
            .flat_map(|i| self.roots(i as f64 * step).take_while(|(t, _)| *t <= end))
            .fold((end, self.root_of_head(end)), higher);
        let (mut low, mut high) = ((best.0 - step).max(0.0), (best.0 + step).min(self.returns));
        for _ in 0..HALVINGS {
            let third = (high - low) / 3.0;
            let (left, right) = (low + third, high - third);
            if self.root_of_head(left) < self.root_of_head(right) { low = left } else { high = right }
        }
        self.root_of_head(0.5 * (low + high)).max(best.1).to_the(2)
    }

    /// Time of the flow η·z from 90 to 10 % of that before closing, in returns of the wave.
    pub fn stopping_returns(&self) -> f64 {
        let passage = |share: f64| {
            let (mut low, mut high) = (0.0, self.returns);
            for _ in 0..HALVINGS {
                let middle = 0.5 * (low + high);
                if self.opening(middle) * self.root_of_head(middle) > share { low = middle } else { high = middle }
            }
            0.5 * (low + high)
        };
        passage(0.1) - passage(0.9)
    }

    /// The linear closing that stops the flow from 90 to 10 % in so many returns of the wave.
    pub fn stopping_in(line_number: f64, stopping: f64) -> LinearClosing {
        let of = |returns: f64| LinearClosing { line_number, returns };
        // The flow needs at least a fifth of the closing to fall so far, and never more than all of it.
        let (mut low, mut high) = (stopping, 2.0 * stopping);
        while of(high).stopping_returns() < stopping && high < LONGEST {
            (low, high) = (high, 2.0 * high);
        }
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if of(middle).stopping_returns() < stopping { low = middle } else { high = middle }
        }
        of(0.5 * (low + high))
    }
}

/// Rise when the flow (not the opening) falls linearly to nothing, Pa; none for a stop within one return of the wave, which
/// is sudden.
///
/// ```text
/// Δp = 2·ρ·L·v/T = ρ·a·v·(2L/a)/T
/// ```
///
/// `sudden`: ρ·a·v, Pa; `returns`: T over 2L/a. Valid for a linear stop of the flow only; a closing opening can exceed it.
/// Source: after Michaud, 1878 (from memory); exact for the linear stop, as `validation/michaud_1878_stoppage` shows.
pub fn linear_stop_rise(sudden: f64, returns: f64) -> Option<f64> {
    (returns >= 1.0).then(|| sudden / returns)
}
