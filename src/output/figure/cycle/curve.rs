//! From many recorded instants to as many as the eye can see.

use super::panel::extremes;
use super::window::turns;
use crate::output::plot::Rect;
use crate::output::plot::axis::Axis;
use crate::output::plot::canvas::{Canvas, Stroke};
use crate::output::plot::colour::BLACK;

/// Width of a strip in which an oscillation is looked for, points: periods shorter than this cannot be told apart in
/// lines a good point wide.
const STRIP: f64 = 2.0;
/// An oscillation shows this many turns in a strip at least.
const TURNS: usize = 2;
/// Turns smaller than this do not blacken the page, points.
const VISIBLE: f64 = 1.0;
/// Fewer strips than this are one event, not an oscillation.
const LASTING: usize = 8;

/// A stretch of a curve as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Piece {
    /// A line.
    Line(Vec<(f64, f64)>),
    /// An oscillation denser than the page shows: its upper and lower bound.
    Band { upper: Vec<(f64, f64)>, lower: Vec<(f64, f64)> },
}

/// Places within one strip of the page.
struct Strip {
    number: i64,
    points: Vec<(f64, f64)>,
    dense: bool,
}

/// A curve within a window of the time axis. A value that is not a number leaves a gap.
pub(super) fn pieces(time: &[f64], values: &[f64], across: &Axis, upright: &Axis) -> Vec<Piece> {
    let count = time.len().min(values.len());
    let start = time[..count].partition_point(|&t| t < across.low).saturating_sub(1);
    let end = (time[..count].partition_point(|&t| t <= across.high) + 1).min(count);
    let places: Vec<(f64, f64)> =
        (start..end.max(start)).map(|i| (across.place(time[i]), upright.place(values[i]))).collect();
    let mut all = Vec::new();
    for run in places.split(|p| !(p.0.is_finite() && p.1.is_finite())) {
        let mut strips = strips(run);
        settle(&mut strips);
        drawn(&strips, &mut all);
    }
    all
}

fn strips(run: &[(f64, f64)]) -> Vec<Strip> {
    let mut all: Vec<Strip> = Vec::new();
    for &at in run {
        let number = (at.0 / STRIP).floor() as i64;
        match all.last_mut() {
            Some(last) if last.number == number => last.points.push(at),
            _ => all.push(Strip { number, points: vec![at], dense: false }),
        }
    }
    let dense: Vec<bool> = (0..all.len()).map(|i| oscillates(&all, i)).collect();
    all.iter_mut().zip(dense).for_each(|(strip, dense)| strip.dense = dense);
    all
}

/// Does the curve swing within a strip about as far as in the strips before or after? A ripple upon a slower swing does not.
fn oscillates(strips: &[Strip], i: usize) -> bool {
    const AROUND: usize = 5;
    const SHARE: f64 = 0.3;
    let way = |near: &[Strip]| {
        let places = near.iter().flat_map(|s| s.points.iter().map(|p| p.1));
        extremes(places).map_or(0.0, |(low, high)| high - low)
    };
    let before = way(&strips[i.saturating_sub(AROUND)..=i]);
    let after = way(&strips[i..(i + AROUND + 1).min(strips.len())]);
    let least = (SHARE * before.min(after)).max(VISIBLE);
    turns(strips[i].points.iter().map(|p| p.1), least) >= TURNS
}

/// A few quiet strips between dense ones or at an end are dense, and a few dense ones alone are not.
fn settle(strips: &mut [Strip]) {
    const FEW: usize = 2;
    let count = strips.len();
    let mut groups: Vec<(usize, usize, bool)> = Vec::new();
    for (i, strip) in strips.iter().enumerate() {
        match groups.last_mut() {
            Some(last) if last.2 == strip.dense => last.1 = i + 1,
            _ => groups.push((i, i + 1, strip.dense)),
        }
    }
    let several = groups.len() > 1;
    for (from, to, dense) in groups {
        if several && !dense && to - from <= FEW && to - from < count {
            strips[from..to].iter_mut().for_each(|strip| strip.dense = true);
        }
    }
    for group in strips.chunk_by_mut(|a, b| a.dense == b.dense).filter(|g| g.len() < LASTING) {
        group.iter_mut().for_each(|strip| strip.dense = false);
    }
}

fn drawn(strips: &[Strip], all: &mut Vec<Piece>) {
    let mut last: Option<(f64, f64)> = None;
    let mut groups = strips.chunk_by(|a, b| a.dense == b.dense).peekable();
    while let Some(group) = groups.next() {
        if group[0].dense {
            all.push(band(group));
        } else {
            // Reaches into its neighbours, so that no gap opens beside a band.
            let next = groups.peek().and_then(|g| g[0].points.first()).copied();
            let inner = group.iter().flat_map(|s| s.points.iter().copied());
            let whole: Vec<(f64, f64)> = last.into_iter().chain(inner).chain(next).collect();
            all.push(Piece::Line(thinned(&whole)));
        }
        last = group.last().and_then(|s| s.points.last()).copied();
    }
}

fn band(group: &[Strip]) -> Piece {
    let (mut upper, mut lower) = (Vec::new(), Vec::new());
    for (i, strip) in group.iter().enumerate() {
        // With its neighbours, because a strip does not hold a whole period of the slower oscillations.
        let near = &group[i.saturating_sub(1)..(i + 2).min(group.len())];
        let places = || near.iter().flat_map(|s| s.points.iter().map(|p| p.1));
        let middle = (strip.number as f64 + 0.5) * STRIP;
        // Down is positive on the page.
        upper.push((middle, places().fold(f64::INFINITY, f64::min)));
        lower.push((middle, places().fold(f64::NEG_INFINITY, f64::max)));
    }
    for bound in [&mut upper, &mut lower] {
        let (first, last) = (bound[0], bound[bound.len() - 1]);
        bound.insert(0, (first.0 - STRIP / 2.0, first.1));
        bound.push((last.0 + STRIP / 2.0, last.1));
    }
    Piece::Band { upper, lower }
}

/// Each narrow part of the page keeps its first, lowest, highest and last point: peaks stay at their full height.
fn thinned(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    const PART: f64 = 0.3;
    let number = |p: &(f64, f64)| (p.0 / PART).floor() as i64;
    let mut all = Vec::new();
    for part in points.chunk_by(|a, b| number(a) == number(b)) {
        if part.len() <= 4 {
            all.extend_from_slice(part);
            continue;
        }
        let by = |a: &usize, b: &usize| part[*a].1.total_cmp(&part[*b].1);
        let lowest = (0..part.len()).min_by(by).unwrap_or(0);
        let highest = (0..part.len()).max_by(by).unwrap_or(0);
        let mut kept = vec![0, lowest, highest, part.len() - 1];
        kept.sort_unstable();
        kept.dedup();
        all.extend(kept.into_iter().map(|i| part[i]));
    }
    all
}

/// Draws the pieces inside a frame.
pub(super) fn draw(canvas: &mut Canvas, frame: &Rect, pieces: &[Piece], stroke: Stroke) {
    const VEIL: f64 = 0.2;
    for piece in pieces {
        match piece {
            Piece::Line(points) => canvas.polyline_within(frame, points, stroke),
            Piece::Band { upper, lower } => {
                let held = |p: &(f64, f64)| (p.0.clamp(frame.left, frame.right), p.1.clamp(frame.top, frame.bottom));
                let outline: Vec<(f64, f64)> = upper.iter().chain(lower.iter().rev()).map(held).collect();
                canvas.veil(&outline, stroke.colour, VEIL);
                let edge = Stroke::solid(stroke.colour, 0.7);
                canvas.polyline_within(frame, upper, edge);
                canvas.polyline_within(frame, lower, edge);
            }
        }
    }
}

/// How a band looks.
pub(super) fn draw_sample(canvas: &mut Canvas, sample: &Rect) {
    let at = |y: f64| vec![(sample.left, y), (sample.right, y)];
    let band = Piece::Band { upper: at(sample.top + 1.0), lower: at(sample.bottom - 1.0) };
    draw(canvas, sample, &[band], Stroke::solid(BLACK, 1.0));
}

/// Is there an oscillation that is drawn by its bounds?
pub(super) fn any_band(pieces: &[Piece]) -> bool {
    pieces.iter().any(|p| matches!(p, Piece::Band { .. }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::plot::axis::Spacing;
    use crate::portable::Portable;

    fn axes() -> (Axis, Axis) {
        (Axis::new(Spacing::Linear, (0.0, 1.0), (0.0, 100.0)), Axis::new(Spacing::Linear, (0.0, 1.0), (50.0, 0.0)))
    }

    #[test]
    fn a_peak_of_one_sample_survives() {
        let time: Vec<f64> = (0..100_000).map(|i| f64::from(i) * 1e-5).collect();
        let mut values = vec![0.0; time.len()];
        values[54_321] = 1.0;
        let (across, upright) = axes();
        let pieces = pieces(&time, &values, &across, &upright);
        let [Piece::Line(places)] = pieces.as_slice() else { panic!("{}", pieces.len()) };
        assert!(places.len() < 1500, "{}", places.len());
        assert!(places.iter().any(|p| p.1 == 0.0));
    }

    #[test]
    fn a_dense_oscillation_becomes_a_band_and_a_slow_one_does_not() {
        let time: Vec<f64> = (0..100_000).map(|i| f64::from(i) * 1e-5).collect();
        let wave = |rate: f64| -> Vec<f64> {
            time.iter().map(|t| 0.5 + 0.4 * (std::f64::consts::TAU * rate * t).sine()).collect()
        };
        let (across, upright) = axes();
        let dense = pieces(&time, &wave(200.0), &across, &upright);
        let bounds = dense.iter().find_map(|p| match p {
            Piece::Band { upper, lower } => Some((upper[20].1, lower[20].1)),
            Piece::Line(_) => None,
        });
        // 0.5 ± 0.4 of 50 points, down positive.
        let (upper, lower) = bounds.expect("a band");
        assert!((upper - 5.0).abs() < 0.01 && (lower - 45.0).abs() < 0.01, "{upper} {lower}");
        assert!(!any_band(&pieces(&time, &wave(10.0), &across, &upright)));
    }

    #[test]
    fn odd_data_give_gaps_or_nothing() {
        let (across, _) = axes();
        assert!(pieces(&[], &[1.0], &across, &across).is_empty());
        let holed = pieces(&[0.0, 0.2, 0.5, 0.8, 1.0], &[0.0, 0.0, f64::NAN, 1.0, 1.0], &across, &across);
        assert_eq!(holed.len(), 2);
    }
}
