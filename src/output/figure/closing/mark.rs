//! Today's point and the smallest change of the bleed.

use super::panel::Panel;
use crate::output::plot::axis::Axis;
use crate::output::plot::canvas::{Anchor, Canvas, Lettering};
use crate::output::plot::colour::{BLACK, Colour, WHITE};
use crate::output::plot::font::text_width;
use crate::output::plot::text::lettering;
use crate::output::plot::{MEDIUM, Rect};
use crate::output::unit::{Units, fitting_units, reading};
use crate::study::closing::{BLEED, Closing, ClosingStudy};
use crate::units::Dimension;

/// Dark bluish green, read on white and grey.
pub(super) const CHANGE: Colour = Colour(0, 110, 80);

/// The ground of the bleeds that are enough, a pale tint of the same.
pub(super) const ENOUGH: Colour = Colour(222, 240, 232);

/// Draws both marks into a panel.
pub(super) fn draw(
    canvas: &mut Canvas,
    study: &ClosingStudy,
    frame: &Rect,
    across: &Axis,
    upright: &Axis,
    panel: &Panel,
) {
    let place = |bore: f64, closing: &Closing| {
        let value = (panel.marked)(closing).filter(|v| v.is_finite())?;
        Some((across.place(bore), upright.place(value)))
    };
    let named = |words: &str, bore: f64| {
        let bore = reading(bore, &Units { us: None, ..fitting_units(Dimension::Length, bore) });
        format!("{words} {bore}")
    };
    let own = study.bleeds().parameter.today;
    if let Some(at) = place(own, &study.today) {
        ring(canvas, at, BLACK);
        if panel.names_marks {
            name(canvas, frame, at, &named("today", own), BLACK, Corner::Right);
        }
    }
    let Some(cure) = study.change(BLEED).and_then(|change| change.answer.cure()) else { return };
    let (value, closing) = cure.recommended();
    if let Some(at) = place(value, closing) {
        square(canvas, at, CHANGE);
        if panel.names_marks {
            let words = if cure.size.is_some() { "drill size" } else { "enough:" };
            name(canvas, frame, at, &named(words, value), CHANGE, Corner::Left);
        }
    }
}

/// The bleeds that are enough, all of them simulated to be so: from the edge down to the least.
pub(super) fn shade(canvas: &mut Canvas, study: &ClosingStudy, frame: &Rect, across: &Axis) {
    let Some(cure) = study.change(BLEED).and_then(|change| change.answer.cure()) else { return };
    let (left, right) = (across.place(study.least_bleed), across.place(cure.value));
    canvas.fill_rect(&Rect { left: left.max(frame.left), right: right.min(frame.right), ..*frame }, ENOUGH);
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Corner {
    /// Below, to the right.
    Right,
    /// Above, to the left.
    Left,
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

fn name(canvas: &mut Canvas, frame: &Rect, at: (f64, f64), words: &str, colour: Colour, corner: Corner) {
    let long = text_width(words, MEDIUM);
    let fits_right = at.0 + 9.0 + long < frame.right;
    let fits_left = at.0 - 9.0 - long > frame.left;
    let right = if corner == Corner::Right { fits_right } else { !fits_left };
    let (x, anchor) = if right { (at.0 + 9.0, Anchor::Start) } else { (at.0 - 9.0, Anchor::End) };
    let y = if corner == Corner::Right { at.1 + 11.0 } else { at.1 - 11.0 };
    let y = y.clamp(frame.top + 7.0, frame.bottom - 7.0);
    canvas.text(words, (x, y), Lettering { halo: true, ..lettering(MEDIUM, colour, anchor) });
}
