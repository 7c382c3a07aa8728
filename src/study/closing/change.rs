//! The smallest change of one parameter that meets the target, solved for on simulated peaks.

use super::numbers::Closing;
use super::parameter::{Parameter, Use};
use super::sweep::{Point, Side, Sweep, point};
use super::target::Target;
use crate::scenario::Document;

/// The interval between a value that fails and one that meets is halved until it is this narrow, relative to the value:
/// finer than such a bore is drilled.
const FINENESS: f64 = 0.01;
/// Most runs of the root finding.
const MOST_RUNS: usize = 12;
/// Figures to which the answer is rounded, towards the safe side.
const FIGURES: i32 = 3;
/// A peak that rises by more than this share of ρ·a·v in the quieting direction is no noise of the integration.
const NOISE: f64 = 0.01;

/// What came of a parameter.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// This value, rounded towards the safe side and simulated as such, meets the target.
    Solved {
        /// Value, SI.
        value: f64,
        /// Its closing.
        closing: Box<Closing>,
    },
    /// No value within reach meets it.
    OutOfReach,
}

/// A parameter changed alone.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Path.
    pub path: &'static str,
    /// In words.
    pub title: &'static str,
    /// Today's value, SI.
    pub today: f64,
    /// The answer.
    pub answer: Answer,
    /// The point with the lowest peak within reach: value, closing.
    pub best: Option<(f64, Closing)>,
    /// Does the peak rise somewhere on the way from today's value to the end of the reach?
    pub uneven: bool,
    /// Does a value beyond the answer fail again?
    pub fails_again: bool,
}

/// Solve for one parameter; every run made is added to its sweep. None where the parameter is no change or the target is
/// met today.
pub(super) fn change(document: &Document, sweep: &mut Sweep, target: &Target, today: &Closing) -> Option<Change> {
    if sweep.parameter.serves != Use::Change || target.met(today) {
        return None;
    }
    let brackets = [Side::Lower, Side::Higher].map(|side| sweep.bracket(target, side).map(|b| (side, b)));
    let distance = |end: f64| (end / sweep.parameter.today).ln().abs();
    let nearest = brackets.into_iter().flatten().min_by(|a, b| distance(a.1.1).total_cmp(&distance(b.1.1)));
    let answer = match nearest {
        Some((side, bracket)) => {
            let found = narrowed(document, sweep, target, bracket);
            safe_figure(document, sweep, target, side, found)
        }
        None => Answer::OutOfReach,
    };
    let side = nearest.map_or_else(|| quieting_side(sweep, today), |(side, _)| side);
    let parameter = &sweep.parameter;
    let (path, title, own) = (parameter.path, parameter.title, parameter.today);
    let reached = sweep.closings().filter(|(v, _)| parameter.reachable(*v));
    let best = reached.min_by(|a, b| target.excess(a.1).total_cmp(&target.excess(b.1)));
    Some(Change {
        path,
        title,
        today: own,
        best: best.map(|(v, closing)| (v, closing.clone())),
        uneven: uneven(sweep, side),
        fails_again: fails_again(sweep, target, side, &answer),
        answer,
    })
}

/// The side of today's value on which the lowest peak lies.
fn quieting_side(sweep: &Sweep, today: &Closing) -> Side {
    let lowest = sweep.closings().min_by(|a, b| a.1.peak.total_cmp(&b.1.peak));
    match lowest {
        Some((value, closing)) if closing.peak < today.peak && value > sweep.parameter.today => Side::Higher,
        _ => Side::Lower,
    }
}

/// The value that meets the target at the end of the narrowed bracket (`fails`, `meets`). By halving: peaks are not smooth
/// enough for more, and a failed run counts as not meeting.
fn narrowed(document: &Document, sweep: &mut Sweep, target: &Target, bracket: (f64, f64)) -> f64 {
    let (mut fails, mut meets) = bracket;
    for _ in 0..MOST_RUNS {
        if (fails - meets).abs() <= FINENESS * meets.abs().max(fails.abs()) {
            break;
        }
        let middle = if fails > 0.0 { (fails * meets).sqrt() } else { 0.5 * meets };
        let tried = point(document, &sweep.parameter, middle);
        if tried.outcome.as_ref().is_ok_and(|closing| target.met(closing)) {
            meets = middle
        } else {
            fails = middle
        }
        insert(sweep, tried);
    }
    meets
}

/// The found value with few figures, rounded away from today's, as simulated; the found value itself where rounding does
/// not meet the target or leaves the reach.
fn safe_figure(document: &Document, sweep: &mut Sweep, target: &Target, side: Side, found: f64) -> Answer {
    let solved = |value: f64, closing: &Closing| Answer::Solved { value, closing: Box::new(closing.clone()) };
    let rounded = rounded(found, side);
    if sweep.at(rounded).is_none() && sweep.parameter.reachable(rounded) {
        insert(sweep, point(document, &sweep.parameter, rounded));
    }
    let usable = |value: f64| sweep.at(value).filter(|closing| target.met(closing));
    match usable(rounded).map(|c| (rounded, c)).or_else(|| usable(found).map(|c| (found, c))) {
        Some((value, closing)) => solved(value, closing),
        None => Answer::OutOfReach,
    }
}

/// A value with [`FIGURES`] figures, rounded to one side.
fn rounded(value: f64, side: Side) -> f64 {
    let unit = 10_f64.powi(value.abs().log10().floor() as i32 + 1 - FIGURES);
    let steps = value / unit;
    // A value that already has so few figures stays as it is.
    if (steps - steps.round()).abs() < 1e-6 {
        return value;
    }
    unit * if side == Side::Lower { steps.floor() } else { steps.ceil() }
}

fn insert(sweep: &mut Sweep, tried: Point) {
    let place = sweep.points.partition_point(|p| p.value < tried.value);
    sweep.points.insert(place, tried);
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

fn fails_again(sweep: &Sweep, target: &Target, side: Side, answer: &Answer) -> bool {
    let Answer::Solved { value, .. } = answer else { return false };
    let beyond = |v: f64| if side == Side::Lower { v < *value } else { v > *value };
    walk(sweep, side).iter().any(|(v, closing)| beyond(*v) && !target.met(closing))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_goes_away_from_today() {
        let near = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-9;
        assert!(near(rounded(0.61378e-3, Side::Lower), 0.613e-3));
        assert!(near(rounded(12.34e-6, Side::Higher), 12.4e-6));
        assert!(near(rounded(0.4e-3, Side::Lower), 0.4e-3));
    }
}
