//! Why the stage chatters: growth and frequency of its small motions, lift, and differential across the valve, all against
//! the circuit differential.

mod branch;
mod label;
mod mark;
mod notes;
mod panel;

use super::{Figure, Origin, head};
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::colour::{BLACK, GREY};
use crate::output::plot::frame::{Mark, Side, draw_marks, draw_title, marks};
use crate::output::plot::text::Paragraph;
use crate::output::plot::tick::number;
use crate::output::plot::{PAGE_WIDTH, Rect, SMALL, canvas, legend};
use crate::output::unit::{Units, fitting_units, shown, titled};
use crate::study::stability::StabilityStudy;
use crate::units::{ColumnUnit, Dimension};
use branch::Branches;
use panel::Panel;

const MARGIN: f64 = 6.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 56.0;
/// Room for the second scale above the panels, points.
const ABOVE: f64 = 36.0;
/// Room for the scale below the panels, points.
const BELOW: f64 = 40.0;
const GAP: f64 = 9.0;

/// What the panels share.
struct Sheet<'a> {
    study: &'a StabilityStudy,
    branches: Branches,
    across: Axis,
    units: Units,
}

/// Draws the study; `caution` is the sentence at its foot.
pub fn stability(study: &StabilityStudy, caution: &str) -> Figure {
    let width = PAGE_WIDTH - 2.0 * MARGIN;
    let origin =
        Origin { question: &study.question, scenario: &study.scenario, data: &study.data, overrides: &study.overrides };
    let head = head(&origin, width);
    let top = MARGIN + head.iter().map(Paragraph::height).sum::<f64>() + 4.0 + ABOVE;
    let sheet = sheet(study);
    let panels = panel::panels(&sheet, top, GAP);
    let entries = notes::entries(&sheet);
    let foot = foot(&sheet, caution, width);
    let bottom = panels.last().map_or(top, |p| p.frame.bottom);
    let legend_top = bottom + BELOW;
    let foot_top = legend_top + legend::height(&entries, width) + 5.0;
    let whole = foot_top + foot.iter().map(|p| p.height() + 2.0).sum::<f64>() + MARGIN;
    let svg = canvas::draw((PAGE_WIDTH, whole), &study.question, |canvas| {
        let mut y = MARGIN;
        for paragraph in &head {
            y = paragraph.draw(canvas, MARGIN, y);
        }
        for panel in &panels {
            panel::draw(canvas, &sheet, panel);
        }
        draw_differentials(canvas, &sheet, &panels, top, bottom);
        legend::draw(canvas, &entries, MARGIN, legend_top, width);
        let mut y = foot_top;
        for paragraph in &foot {
            y = paragraph.draw(canvas, MARGIN, y) + 2.0;
        }
    });
    Figure { svg }
}

fn sheet(study: &StabilityStudy) -> Sheet<'_> {
    let ends = study.curve.first().zip(study.curve.last());
    let range = ends.map_or((study.differential, study.differential), |(a, b)| (a.differential, b.differential));
    Sheet {
        study,
        branches: Branches::of(study),
        across: Axis::new(Spacing::Logarithmic, range, (LEFT, PAGE_WIDTH - RIGHT)),
        units: fitting_units(Dimension::PressureDifference, range.1),
    }
}

/// Marks of the circuit differential; over a short range the minor ones are written as well.
fn differentials(across: &Axis, unit: &ColumnUnit) -> Vec<Mark> {
    const SHORT: f64 = 30.0;
    let mut all = marks(across, unit, 8);
    if across.high / across.low < SHORT {
        all.iter_mut().filter(|m| m.label.is_empty()).for_each(|m| m.label = number(shown(m.value, unit)));
    }
    all
}

/// The circuit differential below the last panel, and in US customary units above the first.
fn draw_differentials(canvas: &mut canvas::Canvas, sheet: &Sheet, panels: &[Panel], top: f64, bottom: f64) {
    if panels.is_empty() {
        return;
    }
    let frame = Rect { left: sheet.across.start, top, right: sheet.across.end, bottom };
    let unit = &sheet.units.si;
    draw_marks(canvas, &frame, Side::Bottom, &sheet.across, &differentials(&sheet.across, unit));
    draw_title(canvas, &frame, Side::Bottom, 27.0, &titled("circuit differential pressure", unit));
    if let Some(us) = &sheet.units.us {
        draw_marks(canvas, &frame, Side::Top, &sheet.across, &differentials(&sheet.across, us));
        draw_title(canvas, &frame, Side::Top, 26.0, &titled("circuit differential pressure", us));
    }
}

fn foot(sheet: &Sheet, caution: &str, width: f64) -> Vec<Paragraph> {
    let black = |text: &String| Paragraph::new(text, SMALL, BLACK, width);
    let mut all: Vec<Paragraph> = sheet.study.sentences.iter().map(black).collect();
    all.extend(notes::remarks(sheet).iter().map(black));
    all.push(Paragraph::new(caution, SMALL, GREY, width));
    all
}
