//! The smallest change of one parameter that meets the target and goes on meeting it, solved for on simulated peaks.

use super::at_flow::PartFlows;
use super::numbers::Closing;
use super::parameter::{BLEED, Parameter, Use};
use super::sweep::{Sweep, as_set};
use super::target::Target;
use super::trial::{Trials, judged};
use crate::portable::Portable;
use crate::scenario::Document;
use crate::study::quoted::{BORE_STEP, rounded};
use crate::study::window::{BEYOND, Side, Way, Window};

/// A peak that rises by more than this share of ρ·a·v in the quieting direction is no noise of the integration.
const NOISE: f64 = 0.01;

/// An edge is halved to this, relative to the value: finer than such a bore is drilled.
const FINENESS: f64 = 0.01;

/// What came of a parameter.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// A value that meets the target, and with it all that was tried beyond.
    Solved(Box<Cure>),
    /// The target is met in windows only, see [`Change::windows`]: no reliable cure.
    Unreliable,
    /// No value within reach meets it.
    OutOfReach,
}

impl Answer {
    /// The cure, if there is one.
    pub fn cure(&self) -> Option<&Cure> {
        match self {
            Answer::Solved(cure) => Some(cure),
            Answer::Unreliable | Answer::OutOfReach => None,
        }
    }

    pub(super) fn cure_mut(&mut self) -> Option<&mut Cure> {
        match self {
            Answer::Solved(cure) => Some(cure),
            Answer::Unreliable | Answer::OutOfReach => None,
        }
    }
}

/// A change that meets the target: as it is written, set as a user sets it and run as `run` does.
#[derive(Clone, Debug, PartialEq)]
pub struct Cure {
    /// Value nearest to today's that is sure, rounded towards the safe side, SI.
    pub value: f64,
    /// Its closing.
    pub closing: Closing,
    /// For a bleed: the next drill size, which is as sure, and its closing.
    pub size: Option<(f64, Closing)>,
    /// The recommended value (the drill size, else the value itself) as settings of a user.
    pub settings: Vec<String>,
    /// How far beyond everything tried meets the target, SI.
    pub sure_to: f64,
    /// A value further out that misses it again, and why.
    pub ends: Option<(f64, String)>,
    /// For a gas volume: closings with other exponents of the gas.
    pub exponents: Vec<(f64, Closing)>,
    /// For a bleed or a gas volume: how it does at smaller flows, where the scenario states one.
    pub part_flows: Option<PartFlows>,
}

impl Cure {
    /// What is recommended, SI: for a bleed what can be bought, and its closing.
    pub fn recommended(&self) -> (f64, &Closing) {
        self.size.as_ref().map_or((self.value, &self.closing), |(value, closing)| (*value, closing))
    }
}

/// A parameter changed alone.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Path.
    pub path: &'static str,
    /// In words.
    pub title: &'static str,
    /// Who can make it.
    pub by: Use,
    /// Today's value, SI.
    pub today: f64,
    /// The answer.
    pub answer: Answer,
    /// Stretches nearer to today's value in which the target is met and after which it is missed again.
    pub windows: Vec<Window>,
    /// The point with the lowest peak within reach: value, closing.
    pub best: Option<(f64, Closing)>,
    /// Does the peak rise somewhere on the way from today's value to the end of the reach?
    pub uneven: bool,
}

/// Solve for one parameter; every run made is added to its sweep. None where the parameter is no change or the target is
/// met today.
pub(super) fn change(document: &Document, sweep: &mut Sweep, target: &Target, today: &Closing) -> Option<Change> {
    if sweep.parameter.serves == Use::Show || target.kept(today) {
        return None;
    }
    let sides = [Side::Lower, Side::Higher].map(|side| searched(document, sweep, target, side));
    let distance = |value: f64| (value / sweep.parameter.today).logarithm().abs();
    let solved = sides.iter().filter(|found| found.cure.is_some());
    let nearest = solved.min_by(|a, b| {
        let of = |found: &Found| found.cure.as_ref().map_or(f64::INFINITY, |cure| distance(cure.value));
        of(a).total_cmp(&of(b))
    });
    let side = nearest.map_or_else(|| quieting_side(sweep, today), |found| found.side);
    let windows: Vec<Window> = match nearest {
        Some(found) => found.windows.clone(),
        None => sides.iter().flat_map(|found| found.windows.clone()).collect(),
    };
    let answer = match nearest.and_then(|found| found.cure.clone()) {
        Some(cure) => Answer::Solved(Box::new(cure)),
        None if windows.is_empty() => Answer::OutOfReach,
        None => Answer::Unreliable,
    };
    let parameter = &sweep.parameter;
    let reached = sweep.closings().filter(|(v, _)| parameter.reachable(*v));
    let best = reached.min_by(|a, b| target.excess(a.1).total_cmp(&target.excess(b.1)));
    Some(Change {
        path: parameter.path,
        title: parameter.title,
        by: parameter.serves,
        today: parameter.today,
        best: best.map(|(v, closing)| (v, closing.clone())),
        uneven: uneven(sweep, side),
        windows,
        answer,
    })
}

/// What the search to one side found.
struct Found {
    side: Side,
    cure: Option<Cure>,
    windows: Vec<Window>,
}

fn searched(document: &Document, sweep: &mut Sweep, target: &Target, side: Side) -> Found {
    let parameter = workable(sweep);
    let required = |value: f64| required(&parameter, value);
    let rounded = |value: f64| rounded(value, side);
    let way = Way {
        today: parameter.today,
        grid: parameter.outwards(side),
        fineness: FINENESS,
        required: &required,
        rounded: &rounded,
    };
    let mut trials = Trials::new(document, sweep, target);
    let (sure, mut windows) = way.sure(&mut |value| trials.keeps(value));
    let cure = sure.and_then(|value| match cure(&mut trials, &parameter, side, value) {
        Ok(cure) => Some(cure),
        Err(why) => {
            windows.push(Window { first: value, last: value, fails_at: value, why });
            None
        }
    });
    Found { side, cure, windows }
}

/// The parameter within what works: with the narrowest bleeds a valve may not shut at all, which is no bang.
fn workable(sweep: &Sweep) -> Parameter {
    let mut parameter = sweep.parameter.clone();
    let reached = sweep.closings().map(|(value, _)| value).find(|value| parameter.reachable(*value));
    if parameter.path == BLEED {
        parameter.reach.0 = reached.map_or(parameter.reach.0, |narrowest| narrowest.max(parameter.reach.0));
    }
    parameter
}

/// What has to meet the target with a value: up to 1.25 times the change, and for a bleed all down to the
/// narrowest within reach.
fn required(parameter: &Parameter, value: f64) -> Vec<f64> {
    let beyond = |value: f64| BEYOND.map(|share| parameter.today + share * (value - parameter.today));
    let mut all = beyond(value).to_vec();
    if parameter.path == BLEED {
        all.push(parameter.reach.0);
        all.extend(next_size(value, parameter.reach.0).into_iter().flat_map(beyond));
    }
    all
}

/// The next drill size down, m, that is not below the least.
fn next_size(value: f64, least: f64) -> Option<f64> {
    let size = BORE_STEP * (value / BORE_STEP * (1.0 + 1e-9)).floor();
    (size >= least * (1.0 - 1e-9)).then_some(size)
}

/// A sure value as a cure: written with its few figures, set as a user sets it, run as `run` does.
fn cure(trials: &mut Trials<'_>, parameter: &Parameter, side: Side, value: f64) -> Result<Cure, String> {
    let run = |value: f64| {
        let outcome = as_set(trials.document, &parameter.spoken(value));
        judged(trials.target, &outcome).map_err(|why| format!("set as written, {why}"))?;
        outcome
    };
    let closing = run(value)?;
    let next = if parameter.path == BLEED { next_size(value, parameter.reach.0) } else { None };
    let size = next.map(|size| run(size).map(|closing| (size, closing))).transpose()?;
    let out = |v: f64| (v - parameter.today).abs();
    let sure_to = required(parameter, value).into_iter().max_by(|a, b| out(*a).total_cmp(&out(*b))).unwrap_or(value);
    Ok(Cure {
        value,
        closing,
        settings: parameter.spoken(next.unwrap_or(value)),
        sure_to,
        ends: ends(trials.sweep, trials.target, side, sure_to),
        exponents: trials.at_exponents(value),
        size,
        part_flows: None,
    })
}

/// The first point within reach beyond a value that misses the target, and why.
fn ends(sweep: &Sweep, target: &Target, side: Side, beyond: f64) -> Option<(f64, String)> {
    let out = |v: f64| if side == Side::Lower { v < beyond } else { v > beyond };
    let further = sweep.points.iter().filter(|p| out(p.value) && sweep.parameter.reachable(p.value));
    let misses = further.filter_map(|p| Some((p.value, judged(target, &p.outcome).err()?)));
    misses.min_by(|a, b| (a.0 - beyond).abs().total_cmp(&(b.0 - beyond).abs()))
}

/// The side of today's value on which the lowest peak lies.
fn quieting_side(sweep: &Sweep, today: &Closing) -> Side {
    let lowest = sweep.closings().min_by(|a, b| a.1.peak.total_cmp(&b.1.peak));
    match lowest {
        Some((value, closing)) if closing.peak < today.peak && value > sweep.parameter.today => Side::Higher,
        _ => Side::Lower,
    }
}

/// The reachable closings from today's value outwards on one side.
fn walk(sweep: &Sweep, side: Side) -> Vec<(f64, &Closing)> {
    let parameter: &Parameter = &sweep.parameter;
    let on_side = |v: f64| if side == Side::Lower { v <= parameter.today } else { v >= parameter.today };
    let mut walk: Vec<_> =
        sweep.closings().filter(|(v, _)| on_side(*v) && (parameter.reachable(*v) || *v == parameter.today)).collect();
    if side == Side::Lower {
        walk.reverse();
    }
    walk
}

fn uneven(sweep: &Sweep, side: Side) -> bool {
    walk(sweep, side).windows(2).any(|pair| {
        let (near, far) = (pair[0].1, pair[1].1);
        far.surge - near.surge > NOISE * near.sudden_rise
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_drill_size_is_not_wider_and_not_out_of_reach() {
        let near = |a: Option<f64>, b: f64| a.is_some_and(|a| (a / b - 1.0).abs() < 1e-9);
        assert!(near(next_size(0.79e-3, 0.4e-3), 0.75e-3));
        assert!(near(next_size(0.8e-3, 0.4e-3), 0.8e-3));
        assert!(near(next_size(0.43e-3, 0.4e-3), 0.4e-3));
        assert_eq!(next_size(0.44e-3, 0.42e-3), None);
    }
}
