//! What quiets the stage: changes of one parameter, each confirmed by runs with a knock, as quoted and a bit beyond.

use super::growth::{self, Outcome};
use super::lever::{By, Lever, levers};
use super::point::{PointStability, Question};
use super::trial::{Quiet, Trials};
use crate::scenario::Document;
use crate::study::quoted::{BORE_STEP, rounded};
use crate::study::window::{BEYOND, Side, Way, Window};
use crate::verdict::Verdict;
use rayon::prelude::*;

/// An edge of the runs is halved to this, relative to the value: where chatter ends depends a little on the knock.
const FINENESS: f64 = 0.02;
/// Of a vented gas everything down to these shares of what may stay has to be quiet.
const LESS_GAS: [f64; 4] = [1.0, 0.7, 0.4, 0.1];

/// Which way a parameter is changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Taken away altogether.
    Without,
    /// Less of it.
    Less,
    /// More of it.
    More,
}

/// A change that runs confirm.
#[derive(Clone, Debug, PartialEq)]
pub struct Cure {
    /// The value, SI, rounded to the safe side: the nearest to today's that is quiet with all tried beyond it; nought where
    /// the thing is taken away.
    pub value: f64,
    /// As settings of a user.
    pub settings: Vec<String>,
    /// Where the stage then rests.
    pub rests: Quiet,
    /// How far beyond everything tried is quiet, SI.
    pub sure_to: f64,
    /// The first value tried beyond that is not, and why.
    pub ends: Option<(f64, String)>,
}

/// A parameter changed one way.
#[derive(Clone, Debug, PartialEq)]
pub struct Attempt {
    /// The parameter.
    pub lever: Lever,
    /// Which way.
    pub direction: Direction,
    /// dσ/d(ln value) of the leading mode at today's value, 1/s.
    pub slope: Option<f64>,
    /// From where on small motions no longer grow, by theory, and what is then reached; none where they do not grow today, or
    /// within reach go on growing.
    pub theory: Option<(f64, Outcome)>,
    /// What runs confirm.
    pub cure: Option<Cure>,
    /// Stretches nearer to today's value that are quiet and after which it is not again.
    pub windows: Vec<Window>,
}

impl Attempt {
    /// Size of a cure as a ratio of 1 and above; a thing taken away counts as the smallest change: no part, no measure.
    fn size(&self) -> f64 {
        match (&self.cure, self.direction) {
            (None, _) => f64::INFINITY,
            (Some(_), Direction::Without) => 1.0,
            (Some(cure), Direction::Less | Direction::More) => {
                (cure.value / self.lever.value).max(self.lever.value / cure.value)
            }
        }
    }

    /// A confirmed change before none, then by who can make it, then the smallest.
    fn order(&self) -> (bool, By, f64) {
        (self.cure.is_none(), self.lever.by, self.size())
    }
}

/// What a search needs.
pub(super) struct Search<'a> {
    pub(super) document: &'a Document,
    pub(super) question: &'a Question<'a>,
    pub(super) here: &'a PointStability,
    /// What today's valve does.
    pub(super) today: &'a Verdict,
    /// Called with the number of searches before the first of them.
    pub(super) planned: &'a (dyn Fn(usize) + Sync),
    /// Called after each.
    pub(super) finished: &'a (dyn Fn() + Sync),
}

impl Search<'_> {
    /// All attempts: the confirmed ones first, what can be done on site before what a part or the maker is needed for.
    pub(super) fn attempts(&self) -> Vec<Attempt> {
        let ways = |lever: Lever| {
            let without = lever.removed().map(|_| Direction::Without);
            without.into_iter().chain([Direction::Less, Direction::More]).map(move |direction| (lever, direction))
        };
        let all: Vec<(Lever, Direction)> = levers(self.document, self.question).into_iter().flat_map(ways).collect();
        (self.planned)(all.len());
        let mut found: Vec<Attempt> = all
            .par_iter()
            .map(|(lever, direction)| {
                let attempt = match direction {
                    Direction::Without => self.without(*lever),
                    Direction::Less => self.way(*lever, Side::Lower),
                    Direction::More => self.way(*lever, Side::Higher),
                };
                (self.finished)();
                attempt
            })
            .collect();
        found.sort_by(|a, b| a.order().partial_cmp(&b.order()).unwrap_or(std::cmp::Ordering::Equal));
        found
    }

    fn attempt(&self, lever: Lever, direction: Direction) -> Attempt {
        let slope = if self.here.grows() { growth::slope(self.question, &lever) } else { None };
        Attempt { lever, direction, slope, theory: None, cure: None, windows: Vec::new() }
    }

    fn without(&self, lever: Lever) -> Attempt {
        let trials = Trials::new(self.document, self.question, self.today, lever);
        let settings = lever.removed().unwrap_or_default();
        let rests = trials.set(&settings).ok();
        let cure = rests.map(|rests| Cure { value: 0.0, settings, rests, sure_to: 0.0, ends: None });
        Attempt { cure, ..self.attempt(lever, Direction::Without) }
    }

    fn way(&self, lever: Lever, side: Side) -> Attempt {
        let direction = if side == Side::Lower { Direction::Less } else { Direction::More };
        let grid = growth::grid(&lever, side);
        let theory = if self.here.grows() { growth::edge(self.question, &lever, &grid) } else { None };
        let mut trials = Trials::new(self.document, self.question, self.today, lever);
        let (cure, windows) = searched(&mut trials, side, grid);
        Attempt { theory, cure, windows, ..self.attempt(lever, direction) }
    }
}

/// The sure value on one side as it is quoted, and the windows before it.
fn searched(trials: &mut Trials<'_>, side: Side, grid: Vec<f64>) -> (Option<Cure>, Vec<Window>) {
    let lever = trials.lever;
    let required = |value: f64| required(&lever, value, side);
    let rounded = |value: f64| quoted(&lever, value, side);
    let way = Way { today: lever.value, grid, fineness: FINENESS, required: &required, rounded: &rounded };
    let (sure, mut windows) = way.sure(&mut |value| trials.at(value).map(|_| ()));
    let Some(value) = sure else { return (None, windows) };
    let settings = lever.spoken(value);
    match trials.set(&settings) {
        Ok(rests) => {
            let further = required(value).into_iter().filter(|v| *v > 0.0);
            let sure_to = further.max_by(|a, b| way.out(*a).total_cmp(&way.out(*b))).unwrap_or(value);
            let (sure_to, ends) = way.end(sure_to, &mut |value| trials.at(value).map(|_| ()));
            (Some(Cure { value, settings, rests, sure_to, ends }), windows)
        }
        Err(why) => {
            windows.push(Window { first: value, last: value, fails_at: value, why });
            (None, windows)
        }
    }
}

/// What has to be quiet with a value: up to 1.25 times the change; of a vented gas all that is less.
fn required(lever: &Lever, value: f64, side: Side) -> Vec<f64> {
    if lever.vented() && side == Side::Lower {
        return LESS_GAS.map(|share| share * value).to_vec();
    }
    BEYOND.map(|share| lever.value + share * (value - lever.value)).to_vec()
}

/// A value as it is quoted: three figures or drill sizes, away from today's.
fn quoted(lever: &Lever, value: f64, side: Side) -> f64 {
    if lever.path != super::lever::BLEED {
        return rounded(value, side);
    }
    let sizes = value / BORE_STEP;
    let size = if side == Side::Lower { (sizes + 1e-9).floor() } else { (sizes - 1e-9).ceil() };
    BORE_STEP * size
}
