//! What theory says of a lever: the slope of the leading mode's growth, and where small motions stop growing.

use super::lever::Lever;
use super::point::{Question, leading_float};
use crate::portable::Portable;
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
/// Halvings of a step of the grid: the edge is known to a thousandth.
const HALVINGS: usize = 8;

/// dσ/d(ln value), 1/s, of the leading mode at today's value.
pub(super) fn slope(question: &Question<'_>, lever: &Lever) -> Option<f64> {
    let at = |ln: f64| {
        let valve = question.with(&[(lever.path, lever.value * ln.exponential())])?;
        leading_float(&valve, None).map(|(_, mode)| mode.growth())
    };
    let difference = |h: f64| Some((at(h)? - at(-h)?) / (2.0 * h));
    Some((4.0 * difference(0.5 * DIFFERENCE)? - difference(DIFFERENCE)?) / 3.0)
}

/// What theory says at a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Small {
    /// Small motions grow about a floating state; is there no other state to rest in?
    Grows { alone: bool },
    /// They do not.
    Settled(Outcome),
    /// The value makes no sound scenario.
    Unsound,
}

/// What theory says along one lever; each value is computed once.
pub(super) struct Theory<'a> {
    question: &'a Question<'a>,
    lever: Lever,
    known: Vec<(f64, Small)>,
}

impl<'a> Theory<'a> {
    pub(super) fn new(question: &'a Question<'a>, lever: Lever) -> Self {
        Theory { question, lever, known: Vec::new() }
    }

    fn at(&mut self, value: f64) -> Small {
        if let Some((_, found)) = self.known.iter().find(|(v, _)| *v == value) {
            return *found;
        }
        let found = self.computed(value);
        self.known.push((value, found));
        found
    }

    fn computed(&self, value: f64) -> Small {
        let Some(valve) = self.question.with(&[(self.lever.path, value)]) else { return Small::Unsound };
        let rests = |rest: Rest| valve.equilibria().iter().any(|e| e.rest == rest);
        match leading_float(&valve, None) {
            Some((_, mode)) if mode.growth() > 0.0 => {
                Small::Grows { alone: valve.equilibria().iter().all(|e| e.rest == Rest::Floating) }
            }
            Some(_) => Small::Settled(Outcome::Dies),
            None if rests(Rest::Open) => Small::Settled(Outcome::Opens),
            None => Small::Settled(Outcome::StaysShut),
        }
    }

    /// Can the stage rest nowhere but where small motions grow? Then a run is not quiet.
    pub(super) fn hopeless(&mut self, value: f64) -> bool {
        self.at(value) == Small::Grows { alone: true }
    }

    /// The value nearest to today's from which on small motions no longer grow; `grid` leads outwards.
    pub(super) fn edge(&mut self, grid: &[f64]) -> Option<(f64, Outcome)> {
        let mut grows = self.lever.value;
        for value in grid {
            match self.at(*value) {
                // A value that makes no sound scenario ends the way.
                Small::Unsound => return None,
                Small::Grows { .. } => grows = *value,
                Small::Settled(outcome) => return Some(self.narrowed(grows, *value, outcome)),
            }
        }
        None
    }

    fn narrowed(&mut self, mut grows: f64, mut dies: f64, mut outcome: Outcome) -> (f64, Outcome) {
        for _ in 0..HALVINGS {
            let middle = (grows * dies).sqrt();
            match self.at(middle) {
                Small::Settled(found) => (dies, outcome) = (middle, found),
                Small::Grows { .. } | Small::Unsound => grows = middle,
            }
        }
        (dies, outcome)
    }
}

/// Largest change looked for, as a factor.
pub const REACH: f64 = 4.0;
/// Steps of the search on the way there.
const STEPS: usize = 8;
/// What can be taken away (gas, pulsation) is tried down to a rest of this share, by halves: he who vents it leaves something.
const LEAST_REST: f64 = 1.0 / 256.0;
/// Lines are tried up to this length, m, be today's ever so short.
const LONGEST_LINE: f64 = 10.0;

/// The values tried on a side, from today's outwards.
pub(super) fn grid(lever: &Lever, side: Side) -> Vec<f64> {
    let sign = if side == Side::Lower { -1.0 } else { 1.0 };
    let mut all: Vec<f64> = (1..=STEPS).map(|n| lever.value * REACH.power(sign * n as f64 / STEPS as f64)).collect();
    let (mut further, step, last) = match side {
        Side::Lower if lever.reducible() => (0.5 * lever.value / REACH, 0.5, LEAST_REST * lever.value),
        Side::Higher if lever.is_length() => (1.5 * lever.value * REACH, 1.5, LONGEST_LINE),
        Side::Lower | Side::Higher => return all,
    };
    while (step < 1.0 && further >= last) || (step > 1.0 && further <= last) {
        all.push(further);
        further *= step;
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Document;
    use crate::study::stability::lever::levers;

    #[test]
    fn a_grid_leads_outwards_as_far_as_makes_sense() {
        let file = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/water-chatter.toml");
        let document = Document::open(file).expect("the demonstration");
        let (scenario, _) = document.scenario().expect("a scenario");
        let question = Question::of(&document, &scenario).expect("a question");
        let all = levers(&document, &question);
        let of = |path: &str| all.iter().find(|lever| lever.path == path).expect("a lever");
        let ends = |path: &str, side: Side| {
            let grid = grid(of(path), side);
            let out = |v: &f64| (v / of(path).value).logarithm().abs();
            assert!(grid.windows(2).all(|pair| out(&pair[1]) > out(&pair[0])), "{path}: {grid:?}");
            grid.last().map_or(0.0, |last| last / of(path).value)
        };
        assert!((ends("valve.main.preload", Side::Lower) - 0.25).abs() < 1e-9);
        assert!((ends("upstream.length", Side::Higher) - 4.0).abs() < 1e-9);
        // A tenth of a metre is lengthened to several metres, and a pocket vented all but wholly.
        assert!(ends("downstream.length", Side::Higher) > 60.0);
        assert!(ends("valve.inlet.gas", Side::Lower) < 0.005);
        assert!(!all.iter().any(|lever| lever.path == "supply.pulsation"), "it has none");
    }
}
