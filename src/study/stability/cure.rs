//! What would damp the leading mode: sensitivities of its growth, and the change of each parameter that brings it to zero.

use super::point::{Answer, PointStability, Question, leading_float};
use crate::scenario::{Document, echo, title};
use crate::units::Dimension;
use rayon::prelude::*;

/// What can be changed on a plant, or by another valve.
const LEVERS: &[&str] = &[
    "supply.differential",
    "valve.bleed.diameter",
    "valve.pilot.diameter",
    "valve.pilot.length",
    "valve.chamber.volume",
    "valve.main.preload",
    "valve.main.spring_rate",
    "valve.main.damping",
    "valve.main.seat_diameter",
    "valve.main.mass",
    "valve.inlet.volume",
    "valve.inlet.gas",
    "valve.outlet.volume",
    "upstream.length",
    "upstream.bore",
    "downstream.length",
    "downstream.bore",
    "downstream.loss_coefficient",
];

/// What is reached by a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The floating stage is quiet.
    Quiet,
    /// No floating state is left: the stage opens fully.
    Opens,
    /// No floating state is left: the stage stays shut.
    StaysShut,
}

/// One parameter.
#[derive(Clone, Debug, PartialEq)]
pub struct Cure {
    /// Path.
    pub path: &'static str,
    /// Its title.
    pub words: &'static str,
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Today's value, SI.
    pub value: f64,
    /// dσ/d(ln value), 1/s: growth gained by a change of 1 is a hundredth of this per 1 %.
    pub sensitivity: f64,
    /// The value at which the growth passes zero, SI, and what is reached there; none within a factor of four.
    pub needed: Option<(f64, Outcome)>,
}

impl Cure {
    /// Size of the change as a ratio above 1; infinite where none was found.
    pub fn size(&self) -> f64 {
        self.needed.map_or(f64::INFINITY, |(value, _)| (value / self.value).max(self.value / value))
    }
}

/// Largest change looked for, as a factor.
const REACH: f64 = 4.0;
/// Steps of the search on the way there.
const STEPS: usize = 14;
/// Step of the differences, in ln(value); with one extrapolation the truncation is some 10⁻⁸ of the slope.
const DIFFERENCE: f64 = 2e-3;

/// Cures of the growing mode at a point, the smallest change first, then those out of reach; none where nothing grows.
pub fn cures(document: &Document, question: &Question<'_>, here: &PointStability) -> Vec<Cure> {
    if !here.floating().any(|e| e.answer == Answer::Oscillates) {
        return Vec::new();
    }
    let rows = echo(document).unwrap_or_default();
    let value_of = |path: &str| rows.iter().find(|r| r.path == path).map(|r| r.value);
    let mut found: Vec<Cure> = LEVERS
        .par_iter()
        .filter_map(|&path| {
            let scenario = question.scenario();
            let value = match path {
                "supply.differential" => Some(scenario.supply.pressure - scenario.sink.pressure),
                path => value_of(path),
            };
            let value = value.filter(|v| *v > 0.0)?;
            cure(document, question, path, value)
        })
        .collect();
    found.sort_by(|a, b| a.size().total_cmp(&b.size()));
    found
}

fn growth(question: &Question<'_>, path: &str, value: f64) -> Option<f64> {
    leading_float(&question.with(&[(path, value)])?, None).map(|(_, mode)| mode.growth())
}

fn cure(document: &Document, question: &Question<'_>, path: &'static str, value: f64) -> Option<Cure> {
    let at = |ln: f64| growth(question, path, value * ln.exp());
    let difference = |h: f64| Some((at(h)? - at(-h)?) / (2.0 * h));
    let sensitivity = (4.0 * difference(0.5 * DIFFERENCE)? - difference(DIFFERENCE)?) / 3.0;
    Some(Cure {
        path,
        words: title(path)?,
        dimension: document.dimension(path)?,
        value,
        sensitivity,
        needed: needed(question, path, value, if sensitivity < 0.0 { 1.0 } else { -1.0 }),
    })
}

/// What holds at a changed value: none while an oscillation grows.
fn reached(question: &Question<'_>, path: &str, value: f64) -> Option<Outcome> {
    let valve = question.with(&[(path, value)])?;
    match leading_float(&valve, None) {
        Some((_, mode)) => (mode.growth() <= 0.0).then_some(Outcome::Quiet),
        None => {
            let open = valve.equilibria().iter().any(|e| e.rest == crate::stability::equilibria::Rest::Open);
            Some(if open { Outcome::Opens } else { Outcome::StaysShut })
        }
    }
}

fn needed(question: &Question<'_>, path: &str, value: f64, direction: f64) -> Option<(f64, Outcome)> {
    let at = |share: f64| value * REACH.powf(direction * share);
    let mut low = 0.0;
    for step in 1..=STEPS {
        let share = step as f64 / STEPS as f64;
        // A value that makes no sound scenario ends the way.
        question.with(&[(path, at(share))])?;
        if let Some(mut outcome) = reached(question, path, at(share)) {
            let mut high = share;
            for _ in 0..20 {
                let middle = 0.5 * (low + high);
                match reached(question, path, at(middle)) {
                    Some(found) => (high, outcome) = (middle, found),
                    None => low = middle,
                }
            }
            return Some((at(high), outcome));
        }
        low = share;
    }
    None
}
