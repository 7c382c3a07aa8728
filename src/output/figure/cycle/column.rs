//! Columns: one window of time each, through all panels.

use super::panel::{self, Panel};
use super::window::{self, Window};
use super::{ENERGISED, STRIP, curve, event};
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::canvas::{Anchor, Canvas, Stroke};
use crate::output::plot::colour::BLACK;
use crate::output::plot::font::text_width;
use crate::output::plot::frame::{Mark, Side, draw_marks, draw_title, grid_lines, marks};
use crate::output::plot::text::{fitted, lettering};
use crate::output::plot::{PAGE_WIDTH, Rect, SMALL, limit, tick};
use crate::output::unit::titled;
use crate::trace::Trace;
use crate::units::ColumnUnit;

const LEFT: f64 = 58.0;
const RIGHT: f64 = 58.0;
const COLUMN_GAP: f64 = 14.0;

/// A window of time with its place on the page.
pub(super) struct Column {
    window: Window,
    axis: Axis,
    marks: Vec<Mark>,
    title: String,
}

/// The columns of the figure.
pub(super) fn columns(trace: &Trace) -> Vec<Column> {
    let windows = window::windows(trace);
    let room = PAGE_WIDTH - LEFT - RIGHT - COLUMN_GAP * (windows.len() as f64 - 1.0);
    let shares: f64 = windows.iter().map(|w| w.share).sum();
    let mut left = LEFT;
    windows
        .into_iter()
        .map(|window| {
            let right = left + room * window.share / shares;
            let axis = Axis::new(Spacing::Linear, (window.from, window.to), (left, right));
            left = right + COLUMN_GAP;
            let (marks, title) = time_marks(&window, &axis);
            Column { window, axis, marks, title }
        })
        .collect()
}

/// Marks in milliseconds where the window is short, in seconds where it is long, counted from its own zero.
fn time_marks(window: &Window, axis: &Axis) -> (Vec<Mark>, String) {
    let (factor, unit) = if window.to - window.from < 1.0 { (1e3, "ms") } else { (1.0, "s") };
    let shown = |t: f64| (t - window.zero) * factor;
    let count = (axis.length() / 24.0) as usize;
    let marks = tick::ticks(Spacing::Linear, shown(axis.low), shown(axis.high), count)
        .into_iter()
        .map(|t| Mark { value: t.value / factor + window.zero, label: t.label, rank: t.rank })
        .collect();
    let title = match window.counted {
        "" => format!("time [{unit}]"),
        counted => format!("{unit} {counted}"),
    };
    (marks, title)
}

/// Writes the names of the windows above.
pub(super) fn draw_heads(canvas: &mut Canvas, columns: &[Column], y: f64) {
    for column in columns {
        let middle = (column.axis.start + column.axis.end) / 2.0;
        canvas.text(column.window.title, (middle, y), lettering(10.0, BLACK, Anchor::Middle));
    }
}

/// Writes the time below.
pub(super) fn draw_time(canvas: &mut Canvas, columns: &[Column], bottom: f64) {
    for column in columns {
        let frame = Rect { left: column.axis.start, top: bottom, right: column.axis.end, bottom };
        draw_marks(canvas, &frame, Side::Bottom, &column.axis, &column.marks);
        let middle = (frame.left + frame.right) / 2.0;
        let words = fitted(&column.title, SMALL, frame.width() + COLUMN_GAP);
        canvas.text(&words, (middle, bottom + 26.0), lettering(SMALL, BLACK, Anchor::Middle));
    }
}

/// Draws one panel in all columns; `extent` is its upper and lower edge.
pub(super) fn draw_panel(canvas: &mut Canvas, trace: &Trace, columns: &[Column], panel: &Panel, extent: (f64, f64)) {
    let (top, bottom) = extent;
    let upright = panel.axis(top, bottom);
    let count = ((bottom - top) / 15.0) as usize;
    let levels = marks(&upright, &panel.units.si, count);
    for column in columns {
        let frame = Rect { left: column.axis.start, top, right: column.axis.end, bottom };
        shade(canvas, trace, &frame, &column.axis);
        grid_lines(canvas, &frame, Side::Left, &upright, &levels);
        grid_lines(canvas, &frame, Side::Bottom, &column.axis, &column.marks);
        limit::draw_lines(canvas, &frame, &upright, &panel.levels);
        for (n, channel) in panel.channels.iter().enumerate() {
            let places = curve::places(&trace.time, &channel.values, &column.axis, &upright);
            canvas.polyline_within(&frame, &places, drawn_as(n, &places, &frame));
        }
        canvas.outline(&frame, Stroke::solid(BLACK, 0.7));
        event::draw(canvas, &frame, &column.axis, panel, &trace.events);
    }
    let (Some(first), Some(last)) = (columns.first(), columns.last()) else {
        return;
    };
    let frame = Rect { left: first.axis.start, top, right: last.axis.end, bottom };
    draw_marks(canvas, &frame, Side::Left, &upright, &levels);
    draw_title(canvas, &frame, Side::Left, 48.0, &upright_title(panel, &panel.units.si, bottom - top));
    if let Some(us) = panel.units.us {
        draw_marks(canvas, &frame, Side::Right, &upright, &marks(&upright, &us, count));
        draw_title(canvas, &frame, Side::Right, 48.0, &upright_title(panel, &us, bottom - top));
    }
    limit::draw_names(canvas, &frame, &upright, &panel.levels);
    draw_strip(canvas, panel, first.axis.start, top - STRIP / 2.0);
}

/// Title and unit beside a panel; the unit alone where the panel is too low, as its curves are named above it.
fn upright_title(panel: &Panel, unit: &ColumnUnit, height: f64) -> String {
    let whole = titled(&panel.title, unit);
    if text_width(&whole, SMALL) <= height + STRIP - 4.0 { whole } else { format!("[{}]", unit.name) }
}

/// Dashes of a curve that fills its panel with strokes cannot be told apart; it is drawn unbroken.
fn drawn_as(n: usize, places: &[(f64, f64)], frame: &Rect) -> Stroke {
    const MOST: f64 = 25.0;
    let stroke = panel::stroke(n);
    let length: f64 = places.windows(2).map(|w| (w[1].1 - w[0].1).abs()).filter(|l| l.is_finite()).sum();
    if length > MOST * frame.height() { Stroke::solid(stroke.colour, 0.8) } else { stroke }
}

fn shade(canvas: &mut Canvas, trace: &Trace, frame: &Rect, across: &Axis) {
    for (from, to) in window::energised(trace) {
        let left = across.place(from).max(frame.left);
        let right = across.place(to).min(frame.right);
        canvas.fill_rect(&Rect { left, right, ..*frame }, ENERGISED);
    }
}

/// Names of the curves above their panel.
fn draw_strip(canvas: &mut Canvas, panel: &Panel, left: f64, middle: f64) {
    let mut x = left;
    for (n, channel) in panel.channels.iter().enumerate() {
        let words = panel::words(channel);
        canvas.line((x, middle), (x + 22.0, middle), panel::stroke(n));
        canvas.text(&words, (x + 26.0, middle), lettering(SMALL, BLACK, Anchor::Start));
        x += 26.0 + text_width(&words, SMALL) + 16.0;
    }
}
