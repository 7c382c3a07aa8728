//! Geometry of lines: cutting at a rectangle, dividing into dashes.

use super::Rect;
use crate::portable::Portable;

type Point = (f64, f64);

/// The parts of a line inside a rectangle (Liang and Barsky, "A new concept and method for line clipping", 1984, from
/// memory).
pub(super) fn clip(points: &[Point], frame: &Rect) -> Vec<Vec<Point>> {
    let mut parts: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for pair in points.windows(2) {
        let Some((from, to)) = segment_within(pair[0], pair[1], frame) else {
            open = false;
            continue;
        };
        match parts.last_mut() {
            Some(part) if open && part.last() == Some(&from) => part.push(to),
            _ => parts.push(vec![from, to]),
        }
        open = to == pair[1];
    }
    parts
}

fn segment_within(a: Point, b: Point, frame: &Rect) -> Option<(Point, Point)> {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let sides = [(-dx, a.0 - frame.left), (dx, frame.right - a.0), (-dy, a.1 - frame.top), (dy, frame.bottom - a.1)];
    for (outward, room) in sides {
        if outward == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if outward < 0.0 {
            enter = enter.max(room / outward);
        } else {
            leave = leave.min(room / outward);
        }
    }
    let at = |share: f64| (a.0 + share * dx, a.1 + share * dy);
    let from = if enter > 0.0 { at(enter) } else { a };
    let to = if leave < 1.0 { at(leave) } else { b };
    (enter <= leave).then_some((from, to))
}

/// Divides a line into dashes of the given lengths (drawn, left out).
pub(super) fn dashes(points: &[Point], lengths: (f64, f64)) -> Vec<Vec<Point>> {
    let mut all = Vec::new();
    let mut dash: Vec<Point> = points.first().copied().into_iter().collect();
    let (mut drawing, mut left) = (true, lengths.0);
    for pair in points.windows(2) {
        let mut from = pair[0];
        let mut length = (pair[1].0 - from.0).length_with(pair[1].1 - from.1);
        while length > left {
            let share = left / length;
            from = (from.0 + share * (pair[1].0 - from.0), from.1 + share * (pair[1].1 - from.1));
            length -= left;
            if drawing {
                dash.push(from);
                all.push(std::mem::take(&mut dash));
            } else {
                dash = vec![from];
            }
            drawing = !drawing;
            left = if drawing { lengths.0 } else { lengths.1 };
        }
        left -= length;
        if drawing {
            dash.push(pair[1]);
        }
    }
    if dash.len() > 1 {
        all.push(dash);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Rect = Rect { left: 0.0, top: 0.0, right: 10.0, bottom: 10.0 };

    #[test]
    fn a_line_across_is_cut_at_both_sides() {
        assert_eq!(clip(&[(-10.0, 5.0), (20.0, 5.0)], &FRAME), vec![vec![(0.0, 5.0), (10.0, 5.0)]]);
    }

    #[test]
    fn a_line_that_leaves_and_returns_gives_two_parts() {
        let parts = clip(&[(5.0, 5.0), (15.0, 5.0), (15.0, 6.0), (5.0, 6.0)], &FRAME);
        assert_eq!(parts, vec![vec![(5.0, 5.0), (10.0, 5.0)], vec![(10.0, 6.0), (5.0, 6.0)]]);
    }

    #[test]
    fn dashes_cover_their_share() {
        let drawn = dashes(&[(0.0, 0.0), (30.0, 0.0)], (2.0, 1.0));
        assert_eq!(drawn.len(), 10);
        let length: f64 = drawn.iter().map(|d| d[d.len() - 1].0 - d[0].0).sum();
        assert!((length - 20.0).abs() < 1e-9);
    }

    #[test]
    fn no_points_no_dashes() {
        assert!(dashes(&[], (2.0, 1.0)).is_empty() && clip(&[], &FRAME).is_empty());
    }
}
