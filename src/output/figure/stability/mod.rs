//! Why the stage chatters: growth and frequency of its small motions, lift, and differential across the valve, all against
//! the circuit differential.

mod branch;
mod label;
mod mark;
mod notes;
mod panel;
mod sheet;

use super::{Figure, Origin, head};
use crate::output::plot::colour::{BLACK, GREY};
use crate::output::plot::frame::{Side, draw_marks, draw_title};
use crate::output::plot::text::Paragraph;
use crate::output::plot::{PAGE_WIDTH, Rect, SMALL, canvas, legend};
use crate::output::unit::titled;
use crate::study::stability::StabilityStudy;
use panel::Panel;
use sheet::{Sheet, differentials, sheet};

const MARGIN: f64 = 6.0;
/// Room for the second scale above the panels, points.
const ABOVE: f64 = 36.0;
/// Room for the scale below the panels, points.
const BELOW: f64 = 40.0;
const GAP: f64 = 9.0;

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
