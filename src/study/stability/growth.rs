//! What theory says of a lever: the slope of the leading mode's growth, and where small motions stop growing.

use super::lever::Lever;
use super::point::{Question, leading_float};
use crate::stability::equilibria::Rest;
use crate::study::window::Side;

/// What is reached by a change, by theory.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Small motions of the floating stage die.
    Dies,
    /// No floating state is left: the stage opens fully.
    Opens,
    /// No floating state is left: the stage stays shut.
    StaysShut,
}

/// Step of the differences, in ln(value); with one extrapolation the truncation is some 10⁻⁸ of the slope.
const DIFFERENCE: f64 = 2e-3;
/// Halvings of a step of the grid: the edge is known to some 10⁻⁴.
const HALVINGS: usize = 11;

/// dσ/d(ln value), 1/s, of the leading mode at today's value.
pub(super) fn slope(question: &Question<'_>, lever: &Lever) -> Option<f64> {
    let at = |ln: f64| {
        let valve = question.with(&[(lever.path, lever.value * ln.exp())])?;
        leading_float(&valve, None).map(|(_, mode)| mode.growth())
    };
    let difference = |h: f64| Some((at(h)? - at(-h)?) / (2.0 * h));
    Some((4.0 * difference(0.5 * DIFFERENCE)? - difference(DIFFERENCE)?) / 3.0)
}

/// What holds at a changed value: none while an oscillation grows, or where the value makes no sound scenario.
fn reached(question: &Question<'_>, path: &str, value: f64) -> Option<Outcome> {
    let valve = question.with(&[(path, value)])?;
    match leading_float(&valve, None) {
        Some((_, mode)) => (mode.growth() <= 0.0).then_some(Outcome::Dies),
        None => {
            let open = valve.equilibria().iter().any(|e| e.rest == Rest::Open);
            Some(if open { Outcome::Opens } else { Outcome::StaysShut })
        }
    }
}

/// The value on a side, nearest to today's, from which on small motions no longer grow; `grid` leads outwards.
pub(super) fn edge(question: &Question<'_>, lever: &Lever, grid: &[f64]) -> Option<(f64, Outcome)> {
    let mut grows = lever.value;
    for value in grid {
        // A value that makes no sound scenario ends the way.
        question.with(&[(lever.path, *value)])?;
        let Some(mut outcome) = reached(question, lever.path, *value) else {
            grows = *value;
            continue;
        };
        let mut dies = *value;
        for _ in 0..HALVINGS {
            let middle = (grows * dies).sqrt();
            match reached(question, lever.path, middle) {
                Some(found) => (dies, outcome) = (middle, found),
                None => grows = middle,
            }
        }
        return Some((dies, outcome));
    }
    None
}

/// Largest change looked for, as a factor.
pub const REACH: f64 = 4.0;
/// Steps of the search on the way there.
const STEPS: usize = 8;
/// A gas is tried down to a rest of this share, by halves: a technician who vents it leaves something.
const REST_OF_GAS: f64 = 1.0 / 256.0;

/// The values tried on a side, from today's outwards.
pub(super) fn grid(lever: &Lever, side: Side) -> Vec<f64> {
    let sign = if side == Side::Lower { -1.0 } else { 1.0 };
    let mut all: Vec<f64> = (1..=STEPS).map(|n| lever.value * REACH.powf(sign * n as f64 / STEPS as f64)).collect();
    if lever.vented() && side == Side::Lower {
        let mut rest = 0.5 * lever.value / REACH;
        while rest >= REST_OF_GAS * lever.value {
            all.push(rest);
            rest *= 0.5;
        }
    }
    all
}
