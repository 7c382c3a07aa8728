//! What quiets the stage: changes of one parameter, each confirmed by runs with a knock, as quoted and a bit beyond.

use super::growth::{self, Outcome};
use super::lever::{By, Lever, levers};
use super::point::{PointStability, Question};
use super::trial::{Quiet, Trials};
use crate::parallel::*;
use crate::scenario::Document;
use crate::study::quoted::{BORE_STEP, rounded};
use crate::study::window::{BEYOND, Side, Way, Window};
use crate::verdict::Verdict;

/// An edge of the runs is halved to this, relative to the value: where chatter ends depends a little on the knock.
const FINENESS: f64 = 0.02;
/// Of what can be taken away everything down to these shares of what may stay has to be quiet.
const LESS_STILL: [f64; 4] = [1.0, 0.7, 0.4, 0.1];

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
            (Some(cure), Direction::Less) if self.mostly_gone(cure) => 1.0,
            (Some(cure), Direction::Less | Direction::More) => {
                (cure.value / self.lever.value).max(self.lever.value / cure.value)
            }
        }
    }

    /// Is so little left that it is the rest which may stay where the thing is taken away?
    pub(super) fn mostly_gone(&self, cure: &Cure) -> bool {
        self.direction == Direction::Less && self.lever.reducible() && cure.value < self.lever.value / growth::REACH
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
    /// Parameters to be tried; all unless stated.
    pub(super) only: Option<&'a [&'a str]>,
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
        let mut levers = levers(self.document, self.question);
        levers.retain(|lever| self.only.is_none_or(|only| only.contains(&lever.path)));
        (self.planned)(levers.len());
        let mut found: Vec<Attempt> = levers
            .par_iter()
            .flat_map_iter(|lever| {
                let own = self.ways(*lever);
                (self.finished)();
                own
            })
            .collect();
        found.sort_by(|a, b| a.order().partial_cmp(&b.order()).unwrap_or(std::cmp::Ordering::Equal));
        found
    }

    /// Without it, less and more of it.
    fn ways(&self, lever: Lever) -> Vec<Attempt> {
        let slope = if self.here.grows() { growth::slope(self.question, &lever) } else { None };
        let mut trials = Trials::new(self.document, self.question, self.today, lever);
        let attempt = |direction| Attempt { lever, direction, slope, theory: None, cure: None, windows: Vec::new() };
        let mut all = Vec::new();
        if let Some(settings) = lever.removed() {
            let rests = trials.set(&settings).ok();
            let cure = rests.map(|rests| Cure { value: 0.0, settings, rests, sure_to: 0.0, ends: None });
            all.push(Attempt { cure, ..attempt(Direction::Without) });
        }
        for (direction, side) in [(Direction::Less, Side::Lower), (Direction::More, Side::Higher)] {
            let grid = growth::grid(&lever, side);
            let theory = if self.here.grows() { trials.theory.edge(&grid) } else { None };
            // Where theory does not lead the way, the far ends of the reach tell whether it is worth going.
            let worth = self.here.grows() || far(&grid).any(|value| trials.at(value).is_ok());
            let (cure, windows) = if worth { searched(&mut trials, side, grid) } else { (None, Vec::new()) };
            all.push(Attempt { theory, cure, windows, ..attempt(direction) });
        }
        all
    }
}

/// The end of a grid and the point half-way to it.
fn far(grid: &[f64]) -> impl Iterator<Item = f64> + '_ {
    [grid.len().saturating_sub(1), grid.len() / 2].into_iter().filter_map(|n| grid.get(n)).copied()
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

/// What has to be quiet with a value: up to 1.25 times the change; of what can be taken away all that is less.
fn required(lever: &Lever, value: f64, side: Side) -> Vec<f64> {
    if lever.reducible() && side == Side::Lower {
        return LESS_STILL.map(|share| share * value).to_vec();
    }
    BEYOND.map(|share| lever.value + share * (value - lever.value)).to_vec()
}

/// A value as it is quoted: three figures or drill sizes, away from today's by no less than what an edge is known to.
fn quoted(lever: &Lever, value: f64, side: Side) -> f64 {
    let value = match side {
        Side::Lower => value.min(lever.value * (1.0 - FINENESS)),
        Side::Higher => value.max(lever.value * (1.0 + FINENESS)),
    };
    if lever.path != super::lever::BLEED {
        return rounded(value, side);
    }
    let sizes = value / BORE_STEP;
    let size = if side == Side::Lower { (sizes + 1e-9).floor() } else { (sizes - 1e-9).ceil() };
    BORE_STEP * size
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::stability::lever::sample;

    #[test]
    fn what_is_quoted_is_no_less_than_can_be_told_from_today() {
        let near = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-9, "{a} {b}");
        let preload = sample("valve.main.preload", By::Maker, 2.423);
        near(quoted(&preload, 1.9371, Side::Lower), 1.93);
        // An edge at today's value is no change: two per cent at least.
        near(quoted(&preload, 2.4229, Side::Lower), 2.37);
        near(quoted(&preload, 2.4231, Side::Higher), 2.48);
        let bleed = sample(crate::study::stability::lever::BLEED, By::Part, 1e-3);
        near(quoted(&bleed, 0.87e-3, Side::Lower), 0.85e-3);
        near(quoted(&bleed, 1.21e-3, Side::Higher), 1.25e-3);
    }

    #[test]
    fn what_is_confirmed_and_can_be_done_on_site_comes_first() {
        let attempt = |path, by, value: f64, cured: Option<f64>| Attempt {
            lever: sample(path, by, value),
            direction: Direction::Less,
            slope: None,
            theory: None,
            cure: cured.map(|value| Cure { value, settings: vec![], rests: Quiet::Floats, sure_to: value, ends: None }),
            windows: Vec::new(),
        };
        let mut all = [
            attempt("valve.bleed.diameter", By::Part, 1.0, None),
            attempt("valve.main.preload", By::Maker, 1.0, Some(0.9)),
            attempt("upstream.bore", By::Site, 1.0, Some(0.5)),
            attempt("downstream.bore", By::Site, 1.0, Some(0.7)),
            // Hardly anything of it may stay: it is taken away.
            attempt("valve.inlet.gas", By::Site, 1.0, Some(0.01)),
        ];
        all.sort_by(|a, b| a.order().partial_cmp(&b.order()).expect("numbers"));
        let paths: Vec<&str> = all.iter().map(|a| a.lever.path).collect();
        let expected =
            ["valve.inlet.gas", "downstream.bore", "upstream.bore", "valve.main.preload", "valve.bleed.diameter"];
        assert_eq!(paths, expected);
    }
}
