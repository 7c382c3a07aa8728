//! A coil's heat over cycle rate and on-share: isotherms of the winding, its limit, the own duty; one panel for each state of
//! the armature.

mod level;
mod panel;

use super::{Figure, Origin, head};
use crate::output::plot::canvas::{self, Dash, Stroke};
use crate::output::plot::colour::{BLACK, GREY};
use crate::output::plot::legend::Entry;
use crate::output::plot::text::Paragraph;
use crate::output::plot::{PAGE_WIDTH, Rect, SMALL, legend};
use crate::study::heat::HeatStudy;
use crate::verdict::CoilLimit;
use level::Levels;
use panel::Sheet;

const MARGIN: f64 = 6.0;
const LEFT: f64 = 46.0;
/// Distance between panels, and room for their titles and scales.
const GAP: f64 = 26.0;
const ABOVE: f64 = 20.0;
const BELOW: f64 = 40.0;
const HEIGHT: f64 = 235.0;

/// Draws the study; `caution` is the sentence at its foot.
pub fn heat(study: &HeatStudy, caution: &str) -> Figure {
    let width = PAGE_WIDTH - 2.0 * MARGIN;
    let origin =
        Origin { question: &study.question, scenario: &study.scenario, data: &study.data, overrides: &study.overrides };
    let head = head(&origin, width);
    let top = MARGIN + head.iter().map(Paragraph::height).sum::<f64>() + ABOVE;
    let frames = frames(study.panels.len(), top);
    let levels = Levels::new(study);
    let sheets: Vec<Sheet> =
        study.panels.iter().zip(&frames).map(|(panel, frame)| Sheet::new(study, panel, &levels, *frame)).collect();
    let entries = entries(study);
    let legend_top = top + HEIGHT + BELOW;
    let foot_top = legend_top + legend::height(&entries, width) + 6.0;
    let foot = foot(study, caution, width);
    let height = foot_top + foot.iter().map(|p| p.height() + 2.0).sum::<f64>() + MARGIN;
    let svg = canvas::draw((PAGE_WIDTH, height), &study.question, |canvas| {
        let mut y = MARGIN;
        for paragraph in &head {
            y = paragraph.draw(canvas, MARGIN, y);
        }
        for (i, sheet) in sheets.iter().enumerate() {
            sheet.draw(canvas, i == 0);
        }
        legend::draw(canvas, &entries, MARGIN, legend_top, width);
        let mut y = foot_top;
        for paragraph in &foot {
            y = paragraph.draw(canvas, MARGIN, y) + 2.0;
        }
    });
    Figure { svg }
}

fn frames(count: usize, top: f64) -> Vec<Rect> {
    let number = count.max(1) as f64;
    let each = (PAGE_WIDTH - 2.0 * MARGIN - LEFT - GAP * (number - 1.0)) / number;
    (0..count)
        .map(|i| {
            let left = MARGIN + LEFT + (each + GAP) * i as f64;
            Rect { left, top, right: left + each, bottom: top + HEIGHT }
        })
        .collect()
}

fn entries<'a>(study: &HeatStudy) -> Vec<Entry<'a>> {
    let middle = |sample: &Rect| (sample.top + sample.bottom) / 2.0;
    let mut all = vec![
        Entry::new("mean winding temperature in the long run", move |canvas, sample| {
            canvas.line((sample.left, middle(sample)), (sample.right, middle(sample)), panel::ISOTHERM);
        }),
        Entry::new("your duty", move |canvas, sample| {
            panel::draw_point(canvas, ((sample.left + sample.right) / 2.0, middle(sample)));
        }),
    ];
    let passed = |limit: CoilLimit| {
        study
            .panels
            .iter()
            .flat_map(|panel| panel.cells.iter().flatten())
            .any(|found| found.highest > limit.temperature)
    };
    if study.limit.is_some_and(passed) {
        all.push(Entry::new("highest temperature of a cycle reaches the limit", move |canvas, sample| {
            canvas.line((sample.left, middle(sample)), (sample.right, middle(sample)), panel::LIMIT);
        }));
        all.push(Entry::new("beyond the limit", |canvas, sample| {
            panel::hatch(canvas, sample);
            canvas.outline(sample, Stroke { colour: GREY, width: 0.5, dash: Dash::Solid });
        }));
    }
    all
}

fn foot(study: &HeatStudy, caution: &str, width: f64) -> Vec<Paragraph> {
    let mut all: Vec<Paragraph> =
        study.findings.iter().map(|sentence| Paragraph::new(sentence, SMALL, BLACK, width)).collect();
    all.extend(study.remarks.iter().map(|sentence| Paragraph::new(sentence, SMALL, GREY, width)));
    all.push(Paragraph::new(caution, SMALL, GREY, width));
    all
}
