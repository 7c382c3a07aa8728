//! The frame of a plot: scales on its four sides, titles, grid lines.

use crate::output::unit::{hidden, shown};
use crate::units::ColumnUnit;

use super::axis::Axis;
use super::canvas::{Anchor, Canvas, Direction, Lettering, Stroke};
use super::colour::{BLACK, LIGHT_GREY};
use super::font::text_width;
use super::text::{fitted, lettering};
use super::tick::ticks;
use super::{MEDIUM, Rect, SMALL};

/// A side of the frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Below.
    Bottom,
    /// Above.
    Top,
    /// At the left.
    Left,
    /// At the right.
    Right,
}

impl Side {
    fn horizontal(self) -> bool {
        matches!(self, Side::Bottom | Side::Top)
    }
}

/// A mark on a scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Value, SI.
    pub value: f64,
    /// What is written beside it; empty for a minor tick.
    pub label: String,
    /// Importance, 0 first.
    pub rank: u8,
}

/// Round marks in a unit for an axis.
pub fn marks(axis: &Axis, unit: &ColumnUnit, count: usize) -> Vec<Mark> {
    ticks(axis.spacing, shown(axis.low, unit), shown(axis.high, unit), count)
        .into_iter()
        .map(|t| Mark { value: hidden(t.value, unit), label: t.label, rank: t.rank })
        .collect()
}

/// Draws the marks along a side, leaving out labels for which there is no room; returns the marks that kept theirs.
pub fn draw_marks(canvas: &mut Canvas, frame: &Rect, side: Side, axis: &Axis, marks: &[Mark]) -> Vec<Mark> {
    for mark in marks.iter().filter(|m| axis.holds(m.value)) {
        let length = if mark.label.is_empty() { 2.5 } else { 4.5 };
        let place = axis.place(mark.value);
        let (from, to) = match side {
            Side::Bottom => ((place, frame.bottom), (place, frame.bottom + length)),
            Side::Top => ((place, frame.top), (place, frame.top - length)),
            Side::Left => ((frame.left, place), (frame.left - length, place)),
            Side::Right => ((frame.right, place), (frame.right + length, place)),
        };
        canvas.line(from, to, Stroke::solid(BLACK, 0.7));
    }
    let kept = with_room(axis, side, marks);
    for mark in &kept {
        let place = axis.place(mark.value);
        let (at, anchor) = match side {
            Side::Bottom => ((place, frame.bottom + 11.0), Anchor::Middle),
            Side::Top => ((place, frame.top - 11.0), Anchor::Middle),
            Side::Left => ((frame.left - 7.0, place), Anchor::End),
            Side::Right => ((frame.right + 7.0, place), Anchor::Start),
        };
        canvas.text(&mark.label, at, lettering(SMALL, BLACK, anchor));
    }
    kept
}

/// The labelled marks that can be written without touching, the important ones first.
fn with_room(axis: &Axis, side: Side, marks: &[Mark]) -> Vec<Mark> {
    let mut order: Vec<&Mark> = marks.iter().filter(|m| !m.label.is_empty() && axis.holds(m.value)).collect();
    order.sort_by_key(|m| m.rank);
    let mut kept: Vec<(f64, f64, &Mark)> = Vec::new();
    for mark in order {
        let half = if side.horizontal() { text_width(&mark.label, SMALL) / 2.0 + 2.5 } else { SMALL * 0.55 };
        let place = axis.place(mark.value);
        if kept.iter().all(|&(other, width, _)| (place - other).abs() >= half + width) {
            kept.push((place, half, mark));
        }
    }
    kept.sort_by(|a, b| a.2.value.total_cmp(&b.2.value));
    kept.into_iter().map(|(_, _, mark)| mark.clone()).collect()
}

/// Writes the title of a side at a distance from the frame.
pub fn draw_title(canvas: &mut Canvas, frame: &Rect, side: Side, distance: f64, title: &str) {
    let (across, down) = ((frame.left + frame.right) / 2.0, (frame.top + frame.bottom) / 2.0);
    let (at, direction, room) = match side {
        Side::Bottom => ((across, frame.bottom + distance), Direction::Across, frame.width() + 60.0),
        Side::Top => ((across, frame.top - distance), Direction::Across, frame.width() + 60.0),
        Side::Left => ((frame.left - distance, down), Direction::Upwards, frame.height() + 20.0),
        Side::Right => ((frame.right + distance, down), Direction::Upwards, frame.height() + 20.0),
    };
    let size = if text_width(title, MEDIUM) <= room { MEDIUM } else { SMALL };
    let style = Lettering { size, colour: BLACK, anchor: Anchor::Middle, direction, halo: false };
    canvas.text(&fitted(title, size, room), at, style);
}

/// Thin lines across the frame at the labelled marks.
pub fn grid_lines(canvas: &mut Canvas, frame: &Rect, side: Side, axis: &Axis, marks: &[Mark]) {
    for mark in marks.iter().filter(|m| axis.holds(m.value) && !m.label.is_empty()) {
        let place = axis.place(mark.value);
        let (from, to) = if side.horizontal() {
            ((place, frame.top), (place, frame.bottom))
        } else {
            ((frame.left, place), (frame.right, place))
        };
        canvas.line(from, to, Stroke::solid(LIGHT_GREY, 0.5));
    }
}
