//! Upright lines and points that mean something: bounds of the states, boundaries of oscillation, the user's own point.

use super::label::Labels;
use super::sheet::Sheet;
use crate::output::plot::Rect;
use crate::output::plot::canvas::{Canvas, Dash, Direction, Stroke};
use crate::output::plot::colour::{BLACK, Colour, GREY, WHITE};
use crate::output::plot::tick::number;
use crate::output::unit::shown;
use crate::study::stability::Crossing;

/// Colour of the bounds of the states.
const BOUND: Colour = Colour(0, 60, 110);

/// Line of the bounds of the states.
pub(super) fn bound() -> Stroke {
    Stroke { colour: BOUND, width: 1.0, dash: Dash::Dotted }
}

/// Line of a boundary of oscillation.
pub(super) fn boundary() -> Stroke {
    Stroke { colour: BLACK, width: 0.9, dash: Dash::Dashed }
}

/// Line of the user's own point.
pub(super) fn own() -> Stroke {
    Stroke::solid(GREY, 0.7)
}

/// The bounds of the states with their words.
pub(super) fn bounds(sheet: &Sheet) -> Vec<(f64, String)> {
    let limits = &sheet.study.limits;
    let said = |words: &str, at: f64| (at, format!("{words} {}", reading(sheet, at)));
    let mut all = Vec::new();
    all.extend(limits.lift_off.map(|d| said("lift-off", d)));
    all.extend(limits.full_lift.map(|d| said("full lift", d)));
    // Where the branch folds back, the stage once lifted stays off its seat below lift-off.
    let below = |least: f64, other: Option<f64>| other.is_none_or(|d| least < 0.995 * d);
    let folds = |least: &f64| below(*least, limits.lift_off) && below(*least, limits.full_lift);
    all.extend(limits.least_open.filter(folds).map(|d| said("drops shut", d)));
    all.retain(|(at, _)| sheet.across.holds(*at));
    all
}

/// A differential in the unit of the axis.
pub(super) fn reading(sheet: &Sheet, differential: f64) -> String {
    format!("{} {}", number(shown(differential, &sheet.units.si)), sheet.units.si.name)
}

/// Draws the upright lines through a panel.
pub(super) fn draw_uprights(canvas: &mut Canvas, sheet: &Sheet, frame: &Rect, labels: &mut Labels) {
    let mut upright = |differential: f64, stroke: Stroke| {
        if sheet.across.holds(differential) {
            let x = sheet.across.place(differential);
            let ends = [(x, frame.top), (x, frame.bottom)];
            canvas.line(ends[0], ends[1], stroke);
            labels.keep_off(&ends);
        }
    };
    for (at, _) in bounds(sheet) {
        upright(at, bound());
    }
    for crossing in &sheet.study.crossings {
        upright(crossing.differential, boundary());
    }
    upright(sheet.study.differential, own());
}

/// Writes what the boundaries of oscillation are, beside their lines.
pub(super) fn name_boundaries(canvas: &mut Canvas, sheet: &Sheet, labels: &mut Labels) {
    for crossing in &sheet.study.crossings {
        let x = sheet.across.place(crossing.differential);
        let at = reading(sheet, crossing.differential);
        let words = [format!("{at}: {}, {} Hz", onset(crossing), number(crossing.frequency)), at];
        for words in &words {
            let places = labels.beside(x, words, Direction::Across);
            if labels.write(canvas, words, BLACK, Direction::Across, places) {
                break;
            }
        }
    }
}

/// The onset in words.
fn onset(crossing: &Crossing) -> &'static str {
    match crossing.hard {
        Some(true) => "hard onset",
        Some(false) => "soft onset",
        None => "onset not known",
    }
}

/// Writes the bounds of the states beside their lines.
pub(super) fn name_bounds(canvas: &mut Canvas, sheet: &Sheet, labels: &mut Labels) {
    for (at, words) in bounds(sheet) {
        let places = labels.beside(sheet.across.place(at), &words, Direction::Upwards);
        labels.write(canvas, &words, BOUND, Direction::Upwards, places);
    }
}

/// Draws the mark of a boundary of oscillation: filled where the onset is hard.
pub(super) fn draw_boundary(canvas: &mut Canvas, at: (f64, f64), hard: Option<bool>) {
    canvas.disc(at, 4.6, WHITE);
    canvas.disc(at, 3.8, BLACK);
    match hard {
        Some(true) => {}
        Some(false) => canvas.disc(at, 2.6, WHITE),
        None => canvas.disc(at, 2.6, GREY.tint(0.5)),
    }
}

/// Draws the mark of the user's own point.
pub(super) fn draw_own(canvas: &mut Canvas, at: (f64, f64)) {
    canvas.disc(at, 6.2, WHITE);
    canvas.disc(at, 5.0, BLACK);
    canvas.disc(at, 2.9, WHITE);
    canvas.disc(at, 1.5, BLACK);
}
