//! Columns: one window of time each, through all panels.

use super::event::Rows;
use super::panel::{self, Panel};
use super::subject::{ENERGISED, STRIP};
use super::window::{self, Window};
use super::{curve, event, scale};
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::canvas::{Anchor, Canvas, Stroke};
use crate::output::plot::colour::BLACK;
use crate::output::plot::font::text_width;
use crate::output::plot::frame::{Mark, Side, draw_marks, draw_title, grid_lines, marks};
use crate::output::plot::text::{fitted, lettering};
use crate::output::plot::{PAGE_WIDTH, Rect, SMALL, limit, tick};
use crate::output::unit::titled;
use crate::trace::{Channel, Trace};
use crate::units::ColumnUnit;

const LEFT: f64 = 56.0;
const RIGHT: f64 = 56.0;
const COLUMN_GAP: f64 = 14.0;
/// Gap where a column has numbers of its own beside it, points.
const NUMBERED_GAP: f64 = 34.0;

/// A window of time with its place on the page.
pub(super) struct Column {
    window: Window,
    axis: Axis,
    marks: Vec<Mark>,
    title: String,
}

impl Column {
    /// The frame of a panel in this column.
    fn frame(&self, extent: (f64, f64)) -> Rect {
        Rect { left: self.axis.start, top: extent.0, right: self.axis.end, bottom: extent.1 }
    }
}

/// The columns of the figure.
pub(super) fn columns(trace: &Trace, panels: &[Panel]) -> Vec<Column> {
    let windows = window::windows(trace);
    let gap = if scale::any_own(trace, panels, &windows) { NUMBERED_GAP } else { COLUMN_GAP };
    let room = PAGE_WIDTH - LEFT - RIGHT - gap * (windows.len() as f64 - 1.0);
    let shares: f64 = windows.iter().map(|w| w.share).sum();
    let mut left = LEFT;
    windows
        .into_iter()
        .map(|window| {
            let right = left + room * window.share / shares;
            let axis = Axis::new(Spacing::Linear, (window.from, window.to), (left, right));
            left = right + gap;
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
    let gap = columns.windows(2).map(|pair| pair[1].axis.start - pair[0].axis.end).fold(COLUMN_GAP, f64::max) - 2.0;
    for column in columns {
        let frame = column.frame((bottom, bottom));
        draw_marks(canvas, &frame, Side::Bottom, &column.axis, &column.marks);
        let middle = (frame.left + frame.right) / 2.0;
        let words = fitted(&column.title, SMALL, frame.width() + gap);
        canvas.text(&words, (middle, bottom + 26.0), lettering(SMALL, BLACK, Anchor::Middle));
    }
}

/// Draws one panel in all columns; `extent` is its upper and lower edge.
pub(super) fn draw_panel(
    canvas: &mut Canvas,
    trace: &Trace,
    columns: &[Column],
    panel: &Panel,
    rows: &Rows,
    extent: (f64, f64),
) {
    let (above, below) = rows.room();
    let (top, bottom) = (extent.0 + above, extent.1 - below);
    let upright = |range| Axis::new(Spacing::Linear, range, (bottom, top));
    let count = ((bottom - top) / 13.0).max(4.0) as usize;
    let common = upright(panel.range);
    let mut last = (common, count);
    for column in columns {
        let own = scale::own(trace, panel, &column.window).map(upright);
        let axis = own.unwrap_or(common);
        let frame = column.frame(extent);
        let levels = marks(&axis, &panel.units.si, count);
        shade(canvas, trace, &frame, &column.axis);
        grid_lines(canvas, &frame, Side::Left, &axis, &levels);
        grid_lines(canvas, &frame, Side::Bottom, &column.axis, &column.marks);
        limit::draw_lines(canvas, &frame, &axis, &panel.levels);
        for (n, channel) in panel.channels.iter().enumerate() {
            let pieces = curve::pieces(&trace.time, &channel.values, &column.axis, &axis);
            curve::draw(canvas, &frame, &pieces, panel::stroke(n));
        }
        canvas.outline(&frame, Stroke::solid(BLACK, 0.7));
        event::draw(canvas, &frame, &column.axis, rows, &trace.events);
        if own.is_some() {
            draw_marks(canvas, &frame, Side::Left, &axis, &levels);
            scale::say(canvas, &frame, &panel.units.si);
        }
        last = (axis, count);
    }
    let (Some(first), Some(end)) = (columns.first(), columns.last()) else {
        return;
    };
    let frame = Rect { right: end.axis.end, ..first.frame(extent) };
    draw_marks(canvas, &frame, Side::Left, &common, &marks(&common, &panel.units.si, count));
    let room = extent.1 - extent.0;
    draw_title(canvas, &frame, Side::Left, 48.0, &upright_title(panel, &panel.units.si, room));
    if let Some(us) = panel.units.us {
        let (axis, count) = last;
        draw_marks(canvas, &frame, Side::Right, &axis, &marks(&axis, &us, count));
        draw_title(canvas, &frame, Side::Right, 48.0, &upright_title(panel, &us, room));
    }
    // The names may run on through the columns that share the scale.
    let shared = columns.iter().take_while(|c| scale::own(trace, panel, &c.window).is_none()).last().unwrap_or(first);
    let wide = Rect { right: shared.axis.end, ..first.frame(extent) };
    limit::draw_names(canvas, &wide, &common, &panel.levels);
    draw_strip(canvas, panel, first.axis.start, extent.0 - STRIP / 2.0);
}

/// Has any column a scale of its own?
pub(super) fn any_own(trace: &Trace, columns: &[Column], panels: &[Panel]) -> bool {
    columns.iter().any(|c| panels.iter().any(|panel| scale::own(trace, panel, &c.window).is_some()))
}

/// Does any curve swing faster than the page shows?
pub(super) fn any_band(trace: &Trace, columns: &[Column], panels: &[Panel]) -> bool {
    let swings = |column: &Column, panel: &Panel| {
        // Coarser than any panel is drawn, so that nothing is announced that cannot be seen.
        let upright = Axis::new(Spacing::Linear, panel.range, (60.0, 0.0));
        let pieces = |c: &&Channel| curve::pieces(&trace.time, &c.values, &column.axis, &upright);
        panel.channels.iter().any(|c| curve::any_band(&pieces(c)))
    };
    columns.iter().any(|column| panels.iter().any(|panel| swings(column, panel)))
}

/// Title and unit beside a panel; the unit alone where the panel is too low, as its curves are named above it.
fn upright_title(panel: &Panel, unit: &ColumnUnit, height: f64) -> String {
    let whole = titled(&panel.title, unit);
    if text_width(&whole, SMALL) <= height + STRIP - 4.0 { whole } else { format!("[{}]", unit.name) }
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
