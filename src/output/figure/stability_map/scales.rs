//! The scales round the map.

use super::grid::{Grid, Scale};
use crate::output::plot::canvas::{Anchor, Canvas};
use crate::output::plot::colour::{BLACK, GREY};
use crate::output::plot::font::text_width;
use crate::output::plot::frame::{Mark, Side, draw_marks, draw_title, marks};
use crate::output::plot::text::lettering;
use crate::output::plot::tick::number;
use crate::output::plot::{Rect, SMALL};
use crate::output::unit::{axis_units, shown, titled};
use crate::portable::Portable;
use crate::study::axis::Axis;
use crate::study::map::StabilityMap;
use crate::units::Dimension;

/// Height of the scale above the frame, points.
pub(super) fn height_above(map: &StabilityMap) -> f64 {
    let any = map.x.dimension == Dimension::CycleRate || axis_units(&map.x).us.is_some();
    if any { 36.0 } else { 8.0 }
}

/// Height of the scale below the frame, points.
pub(super) const BELOW: f64 = 36.0;
/// Height of one row of the second reading, points.
const SECOND_ROW: f64 = 12.5;

/// Draws all scales; returns the marks written below the frame.
pub(super) fn draw(canvas: &mut Canvas, grid: &Grid) -> Vec<Mark> {
    let count = if grid.columns() > 1 { 7 } else { 3 };
    let below = side(canvas, &grid.frame, Side::Bottom, &grid.x, &grid.map.x, count);
    second(canvas, &grid.frame, Side::Top, &grid.x, &grid.map.x, count);
    side(canvas, &grid.frame, Side::Left, &grid.y, &grid.map.y, count);
    second(canvas, &grid.frame, Side::Right, &grid.y, &grid.map.y, count);
    below
}

/// The scale in SI units.
fn side(canvas: &mut Canvas, frame: &Rect, side: Side, scale: &Scale, axis: &Axis, count: usize) -> Vec<Mark> {
    let marks = if scale.by_number { numbers(scale) } else { marks(&scale.axis, &scale.units.si, count) };
    let kept = draw_marks(canvas, frame, side, &scale.axis, &marks);
    let title = match scale.by_number {
        true => format!("{} (number of the grid value; its values cannot be placed)", axis.title),
        false => titled(&axis.title, &scale.units.si),
    };
    let distance = if side == Side::Left { 48.0 } else { 26.0 };
    draw_title(canvas, frame, side, distance, &title);
    kept
}

fn numbers(scale: &Scale) -> Vec<Mark> {
    scale.values.iter().map(|&value| Mark { value, label: number(value), rank: 0 }).collect()
}

/// The scale on the opposite side: the other system of units, or for a rate of cycles its other customary readings.
fn second(canvas: &mut Canvas, frame: &Rect, side: Side, scale: &Scale, axis: &Axis, count: usize) {
    if scale.by_number {
        return;
    }
    let distance = if side == Side::Right { 54.0 } else { 26.0 };
    if axis.dimension == Dimension::CycleRate {
        let kept = draw_marks(canvas, frame, side, &scale.axis, &rates());
        if !kept.is_empty() {
            draw_title(canvas, frame, side, distance, &format!("{} [per minute, per second]", axis.title));
        }
    } else if let Some(us) = scale.units.us {
        draw_marks(canvas, frame, side, &scale.axis, &marks(&scale.axis, &us, count));
        draw_title(canvas, frame, side, distance, &titled(&axis.title, &us));
    }
}

/// Rates of cycles as people say them: per minute up to 30, per second from 1.
fn rates() -> Vec<Mark> {
    let minute = |n: f64| (n / 60.0, format!("{}/min", number(n)));
    let second = |n: f64| (n, format!("{}/s", number(n)));
    [0.001, 0.01, 0.1, 1.0, 10.0]
        .map(minute)
        .into_iter()
        .map(|(value, label)| Mark { value, label, rank: 0 })
        .chain([1.0, 10.0, 100.0].map(second).map(|(value, label)| Mark { value, label, rank: 0 }))
        .chain([0.3, 3.0, 30.0].map(minute).map(|(value, label)| Mark { value, label, rank: 1 }))
        .chain([3.0, 30.0].map(second).map(|(value, label)| Mark { value, label, rank: 1 }))
        .collect()
}

/// Is there a second reading of the axis across?
pub(super) fn has_second_reading(grid: &Grid) -> bool {
    !grid.x.by_number && grid.map.across_valve.iter().flatten().any(|v| v.is_finite())
}

/// Height of the second reading, points.
pub(super) fn second_reading_height(grid: &Grid) -> f64 {
    match (has_second_reading(grid), grid.x.units.us) {
        (false, _) => 0.0,
        (true, None) => 2.0 * SECOND_ROW + 2.0,
        (true, Some(_)) => 3.0 * SECOND_ROW + 2.0,
    }
}

/// Writes under each mark the differential across the valve itself, interpolated between the columns.
pub(super) fn draw_second_reading(canvas: &mut Canvas, grid: &Grid, below: &[Mark], top: f64) {
    if !has_second_reading(grid) {
        return;
    }
    let title = "of this across the valve itself, at its flow:";
    let left = grid.frame.left;
    canvas.text(title, (left, top + SECOND_ROW / 2.0), lettering(SMALL, GREY, Anchor::Start));
    let both = [Some(grid.x.units.si), grid.x.units.us];
    for (line, unit) in both.into_iter().flatten().enumerate() {
        let y = top + SECOND_ROW * (line as f64 + 1.5);
        canvas.text(unit.name, (left - 26.0, y), lettering(SMALL, BLACK, Anchor::End));
        let mut free_from = f64::NEG_INFINITY;
        for mark in below {
            let place = grid.x.axis.place(mark.value);
            let words = between(grid, mark.value).map_or("–".to_owned(), |v| number(shown(v, &unit)));
            let half = text_width(&words, SMALL) / 2.0;
            if place - half < free_from {
                continue;
            }
            free_from = place + half + 4.0;
            canvas.text(&words, (place, y), lettering(SMALL, BLACK, Anchor::Middle));
        }
    }
}

/// The second reading at a value of the axis, straight between neighbouring columns (in place on the page).
fn between(grid: &Grid, value: f64) -> Option<f64> {
    let values = &grid.x.values;
    let reading = |column: usize| grid.map.across_valve.get(column).copied().flatten().filter(|v| v.is_finite());
    let after = values.partition_point(|&v| v < value);
    let slack = 1e-6 * value.abs();
    if after < values.len() && (values[after] - value).abs() <= slack {
        return reading(after);
    }
    let before = after.checked_sub(1)?;
    if after >= values.len() {
        return ((value - values[before]).abs() <= slack).then(|| reading(before)).flatten();
    }
    let place = |v: f64| grid.x.axis.place(v);
    let share = (place(value) - place(values[before])) / (place(values[after]) - place(values[before]));
    let (low, high) = (reading(before)?, reading(after)?);
    // In ratio where both are positive, as the axis is mostly logarithmic.
    Some(if low > 0.0 && high > 0.0 { low * (high / low).power(share) } else { low + share * (high - low) })
}
