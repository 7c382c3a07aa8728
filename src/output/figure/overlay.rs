//! A measured curve of pressure over time with the computed one.

use super::Figure;
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::canvas::{self, Canvas, Stroke};
use crate::output::plot::colour::{BLACK, BLUE, GREY, ORANGE};
use crate::output::plot::frame::{Side, draw_marks, draw_title, grid_lines, marks};
use crate::output::plot::legend::{self, Entry};
use crate::output::plot::text::Paragraph;
use crate::output::plot::{LARGE, PAGE_WIDTH, Rect, SMALL};
use crate::output::unit::{titled, units};
use crate::portable::Portable;
use crate::units::{ColumnUnit, Dimension};
use crate::validation::overlay::Overlay;

const MARGIN: f64 = 6.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 58.0;
const HEIGHT: f64 = 230.0;
/// Room below the frame for numbers and title.
const BELOW: f64 = 38.0;
const ABOVE: f64 = 10.0;
/// Radius of a measured point, points.
const POINT: f64 = 1.7;
const MILLISECONDS: ColumnUnit = ColumnUnit { scale: 1e3, offset: 0.0, name: "ms" };

/// Draws both curves over one another.
pub fn overlay(overlay: &Overlay) -> Figure {
    let width = PAGE_WIDTH - 2.0 * MARGIN;
    let head = [
        Paragraph::new(overlay.title, LARGE, BLACK, width),
        Paragraph::new(&format!("Measured: {}.", overlay.source), SMALL, GREY, width),
    ];
    let top = MARGIN + head.iter().map(Paragraph::height).sum::<f64>() + ABOVE;
    let frame = Rect { left: LEFT, top, right: PAGE_WIDTH - RIGHT, bottom: top + HEIGHT };
    let entries = entries();
    let legend_top = frame.bottom + BELOW;
    let foot: Vec<Paragraph> =
        overlay.remarks.iter().map(|sentence| Paragraph::new(sentence, SMALL, BLACK, width)).collect();
    let foot_top = legend_top + legend::height(&entries, width) + 4.0;
    let height = foot_top + foot.iter().map(|p| p.height() + 2.0).sum::<f64>() + MARGIN;
    let svg = canvas::draw((PAGE_WIDTH, height), overlay.title, |canvas| {
        let mut y = MARGIN;
        for paragraph in &head {
            y = paragraph.draw(canvas, MARGIN, y);
        }
        draw_curves(canvas, overlay, &frame);
        legend::draw(canvas, &entries, MARGIN, legend_top, width);
        let mut y = foot_top;
        for paragraph in &foot {
            y = paragraph.draw(canvas, MARGIN, y) + 2.0;
        }
    });
    Figure { svg }
}

/// The measured points are discs with a dark rim, the computed curve a line: told apart without colour.
fn entries() -> Vec<Entry<'static>> {
    let measured = Entry::new("measured, as digitised", |canvas: &mut Canvas, sample: &Rect| {
        let middle = (sample.top + sample.bottom) / 2.0;
        (1..4).for_each(|i| dot(canvas, (sample.left + sample.width() * f64::from(i) / 4.0, middle)));
    });
    let computed = Entry::new("computed by this program", |canvas: &mut Canvas, sample: &Rect| {
        let middle = (sample.top + sample.bottom) / 2.0;
        canvas.line((sample.left, middle), (sample.right, middle), Stroke::solid(BLUE, 1.2));
    });
    vec![measured, computed]
}

fn dot(canvas: &mut Canvas, at: (f64, f64)) {
    canvas.disc(at, POINT, BLACK);
    canvas.disc(at, POINT - 0.6, ORANGE);
}

/// Ends of what is shown: all values, and nought.
fn range(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.filter(|value| value.is_finite()).fold((0.0, 0.0), |(low, high), v| (f64::min(low, v), f64::max(high, v)))
}

fn draw_curves(canvas: &mut Canvas, overlay: &Overlay, frame: &Rect) {
    let both = || overlay.measured.iter().chain(&overlay.computed);
    let across = Axis::new(Spacing::Linear, range(both().map(|p| p.0)), (frame.left, frame.right));
    let (low, high) = range(both().map(|p| p.1));
    let air = 0.03 * (high - low);
    let upright = Axis::new(Spacing::Linear, (low - air, high + air), (frame.bottom, frame.top));
    let pressure = units(Dimension::AbsolutePressure);
    let (times, levels) = (marks(&across, &MILLISECONDS, 10), marks(&upright, &pressure.si, 8));
    grid_lines(canvas, frame, Side::Bottom, &across, &times);
    grid_lines(canvas, frame, Side::Left, &upright, &levels);
    let placed = |&(time, value): &(f64, f64)| (across.place(time), upright.place(value));
    for at in overlay.measured.iter().map(placed).filter(|at| frame.contains(*at)) {
        dot(canvas, at);
    }
    let computed: Vec<(f64, f64)> = overlay.computed.iter().map(placed).collect();
    canvas.polyline_within(frame, &thinned(&computed), Stroke::solid(BLUE, 1.2));
    canvas.outline(frame, Stroke::solid(BLACK, 0.9));
    draw_marks(canvas, frame, Side::Bottom, &across, &times);
    draw_title(canvas, frame, Side::Bottom, 26.0, "time since the valve began to shut [ms]");
    draw_marks(canvas, frame, Side::Left, &upright, &levels);
    draw_title(canvas, frame, Side::Left, 42.0, &titled("pressure at the valve", &pressure.si));
    if let Some(us) = &pressure.us {
        draw_marks(canvas, frame, Side::Right, &upright, &marks(&upright, us, 8));
        draw_title(canvas, frame, Side::Right, 46.0, &titled("pressure at the valve", us));
    }
}

/// A curve without the points that the page cannot show: those nearer than a quarter point to the last one kept.
fn thinned(places: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for (i, &at) in places.iter().enumerate() {
        let far = kept.last().is_none_or(|last| (at.0 - last.0).length_with(at.1 - last.1) >= 0.25);
        if far || i + 1 == places.len() {
            kept.push(at);
        }
    }
    kept
}
