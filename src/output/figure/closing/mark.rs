//! Today's point and the smallest change of the leading parameter.

use super::panel::Panel;
use crate::output::plot::axis::Axis;
use crate::output::plot::canvas::{Anchor, Canvas, Lettering};
use crate::output::plot::colour::{BLACK, Colour, WHITE};
use crate::output::plot::font::text_width;
use crate::output::plot::text::lettering;
use crate::output::plot::{MEDIUM, Rect};
use crate::output::unit::{Units, fitting_units, reading};
use crate::study::closing::{Closing, ClosingStudy};

/// Dark bluish green, read on white and grey.
pub(super) const CHANGE: Colour = Colour(0, 110, 80);

/// The ground of the values that are enough, a pale tint of the same.
pub(super) const ENOUGH: Colour = Colour(222, 240, 232);

/// The ground of windows that do not last.
pub(super) const PASSING: Colour = Colour(255, 240, 200);
/// Least width of a band, points.
const LEAST_BAND: f64 = 3.0;

/// Draws both marks into a panel.
pub(super) fn draw(
    canvas: &mut Canvas,
    study: &ClosingStudy,
    frame: &Rect,
    across: &Axis,
    upright: &Axis,
    panel: &Panel,
) {
    let place = |at: f64, closing: &Closing| {
        let value = (panel.marked)(closing).filter(|v| v.is_finite())?;
        Some((across.place(at), upright.place(value)))
    };
    let parameter = &study.leading().parameter;
    let named = |value: f64| {
        let value = reading(value, &Units { us: None, ..fitting_units(parameter.dimension, value) });
        format!("today {value}")
    };
    let own = parameter.today;
    if let Some(at) = place(own, &study.today) {
        ring(canvas, at, BLACK);
        if panel.names_marks {
            name(canvas, frame, at, &named(own), BLACK);
        }
    }
    let Some(cure) = study.leading_change().and_then(|change| change.answer.cure()) else { return };
    let (value, closing) = cure.recommended();
    if let Some(at) = place(value, closing) {
        square(canvas, at, CHANGE);
    }
}

/// The values that are enough, all simulated to be so, from the edge down to the least; and the windows that do not last.
pub(super) fn shade(canvas: &mut Canvas, study: &ClosingStudy, frame: &Rect, across: &Axis) {
    let Some(change) = study.leading_change() else { return };
    let mut band = |from: f64, to: f64, colour: Colour| {
        let (left, right) = (across.place(from), across.place(to));
        // A window of one value is still seen.
        let air = (0.5 * (LEAST_BAND - (right - left))).max(0.0);
        let (left, right) = ((left - air).max(frame.left), (right + air).min(frame.right));
        canvas.fill_rect(&Rect { left, right, ..*frame }, colour);
    };
    for window in &change.windows {
        band(window.last.min(window.first), window.last.max(window.first), PASSING);
    }
    if let Some(cure) = change.answer.cure() {
        band(cure.sure_to.max(study.least()), cure.value, ENOUGH);
    }
}

/// A ring round a dot, as in the other figures.
pub(super) fn ring(canvas: &mut Canvas, at: (f64, f64), colour: Colour) {
    canvas.disc(at, 6.4, WHITE);
    canvas.disc(at, 5.2, colour);
    canvas.disc(at, 3.0, WHITE);
    canvas.disc(at, 1.6, colour);
}

/// A square standing on its corner.
pub(super) fn square(canvas: &mut Canvas, at: (f64, f64), colour: Colour) {
    let diamond = |r: f64| [(at.0, at.1 - r), (at.0 + r, at.1), (at.0, at.1 + r), (at.0 - r, at.1)];
    canvas.fill_polygon(&diamond(7.4), WHITE);
    canvas.fill_polygon(&diamond(6.0), colour);
    canvas.fill_polygon(&diamond(2.6), WHITE);
}

/// Below and to the right where there is room.
fn name(canvas: &mut Canvas, frame: &Rect, at: (f64, f64), words: &str, colour: Colour) {
    let right = at.0 + 9.0 + text_width(words, MEDIUM) < frame.right;
    let (x, anchor) = if right { (at.0 + 9.0, Anchor::Start) } else { (at.0 - 9.0, Anchor::End) };
    let y = (at.1 + 11.0).clamp(frame.top + 7.0, frame.bottom - 7.0);
    canvas.text(words, (x, y), Lettering { halo: true, ..lettering(MEDIUM, colour, anchor) });
}
