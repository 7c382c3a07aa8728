//! A closing study: peak, trough and effective closing time over its leading parameter, the bleed bore where there is one.

mod curve;
mod mark;
mod notes;
mod panel;

use super::{Figure, Origin, head};
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::canvas::{self, Anchor, Canvas, Lettering, Stroke};
use crate::output::plot::colour::{BLACK, Colour, GREY};
use crate::output::plot::font::text_width;
use crate::output::plot::frame::{Mark, Side, draw_marks, draw_title, grid_lines, marks};
use crate::output::plot::text::{Paragraph, lettering};
use crate::output::plot::{PAGE_WIDTH, Rect, SMALL, legend, limit};
use crate::output::unit::{Units, fitting_units, reading, titled};
use crate::study::closing::ClosingStudy;
use panel::Panel;

const LEFT: f64 = 60.0;
const RIGHT: f64 = 60.0;
const MARGIN: f64 = 6.0;
/// Distance between panels, points.
const GAP: f64 = 14.0;
/// Room below the last panel for numbers and title, in both systems of units.
const BELOW: f64 = 36.0;
const ABOVE: f64 = 34.0;
const OUT_OF_REACH: Colour = Colour(236, 236, 236);

/// Draws the study; `caution` is the sentence at its foot.
pub fn closing(study: &ClosingStudy, caution: &str) -> Figure {
    let width = PAGE_WIDTH - 2.0 * MARGIN;
    let origin =
        Origin { question: &study.question, scenario: &study.scenario, data: &study.data, overrides: &study.overrides };
    let head = head(&origin, width);
    let top = MARGIN + head.iter().map(Paragraph::height).sum::<f64>() + ABOVE;
    let panels = panel::panels(study);
    let across = Across::new(study);
    let frames = frames(&panels, top);
    let bottom = frames.last().map_or(top, |f| f.bottom);
    let entries = notes::entries(study, &panels);
    let foot = foot(study, &panels, caution, width);
    let legend_top = bottom + BELOW;
    let foot_top = legend_top + legend::height(&entries, width) + 6.0;
    let height = foot_top + foot.iter().map(|p| p.height() + 2.0).sum::<f64>() + MARGIN;

    let svg = canvas::draw((PAGE_WIDTH, height), &study.question, |canvas| {
        let mut y = MARGIN;
        for paragraph in &head {
            y = paragraph.draw(canvas, MARGIN, y);
        }
        for (panel, frame) in panels.iter().zip(&frames) {
            draw_panel(canvas, study, &across, panel, frame);
        }
        if let (Some(first), Some(last)) = (frames.first(), frames.last()) {
            across.draw(canvas, first, last);
            say_reach(canvas, study, &across, first);
        }
        legend::draw(canvas, &entries, MARGIN, legend_top, width);
        let mut y = foot_top;
        for paragraph in &foot {
            y = paragraph.draw(canvas, MARGIN, y) + 2.0;
        }
    });
    Figure { svg }
}

fn frames(panels: &[Panel], top: f64) -> Vec<Rect> {
    let mut y = top;
    panels
        .iter()
        .map(|panel| {
            let frame = Rect { left: LEFT, top: y, right: PAGE_WIDTH - RIGHT, bottom: y + panel.height };
            y = frame.bottom + GAP;
            frame
        })
        .collect()
}

fn foot(study: &ClosingStudy, panels: &[Panel], caution: &str, width: f64) -> Vec<Paragraph> {
    let black = |text: &String| Paragraph::new(text, SMALL, BLACK, width);
    let mut all: Vec<Paragraph> = notes::remarks(study, panels).iter().map(black).collect();
    all.push(Paragraph::new(caution, SMALL, GREY, width));
    all
}

/// The common axis: the leading parameter.
struct Across {
    axis: Axis,
    units: Units,
    title: &'static str,
}

impl Across {
    fn new(study: &ClosingStudy) -> Across {
        let values: Vec<f64> = study.leading().points.iter().map(|p| p.value).collect();
        let ends = (values.iter().copied().fold(f64::INFINITY, f64::min), values.iter().copied().fold(0.0, f64::max));
        // A little air, so that the outermost points are whole.
        let axis = Axis::new(Spacing::Logarithmic, (ends.0 / 1.06, ends.1 * 1.06), (LEFT, PAGE_WIDTH - RIGHT));
        let parameter = &study.leading().parameter;
        Across { axis, units: fitting_units(parameter.dimension, ends.1), title: parameter.title }
    }

    fn marks(&self) -> Vec<Mark> {
        marks(&self.axis, &self.units.si, 8)
    }

    /// Numbers and titles below the last panel and above the first.
    fn draw(&self, canvas: &mut Canvas, first: &Rect, last: &Rect) {
        draw_marks(canvas, last, Side::Bottom, &self.axis, &self.marks());
        draw_title(canvas, last, Side::Bottom, 26.0, &titled(self.title, &self.units.si));
        if let Some(us) = &self.units.us {
            draw_marks(canvas, first, Side::Top, &self.axis, &marks(&self.axis, us, 8));
            draw_title(canvas, first, Side::Top, 26.0, &titled(self.title, us));
        }
    }
}

fn draw_panel(canvas: &mut Canvas, study: &ClosingStudy, across: &Across, panel: &Panel, frame: &Rect) {
    let upright = Axis::new(panel.spacing, panel.range, (frame.bottom, frame.top));
    let count = ((frame.bottom - frame.top) / 18.0).max(3.0) as usize;
    let levels = marks(&upright, &panel.units.si, count);
    shade(canvas, study, across, frame);
    mark::shade(canvas, study, frame, &across.axis);
    grid_lines(canvas, frame, Side::Left, &upright, &levels);
    grid_lines(canvas, frame, Side::Bottom, &across.axis, &across.marks());
    limit::draw_lines(canvas, frame, &upright, &panel.levels);
    for curve in &panel.curves {
        curve::draw(canvas, frame, &across.axis, &upright, curve);
    }
    canvas.outline(frame, Stroke::solid(BLACK, 0.9));
    draw_marks(canvas, frame, Side::Left, &upright, &levels);
    draw_title(canvas, frame, Side::Left, 46.0, &titled(panel.title, &panel.units.si));
    if let Some(us) = &panel.units.us {
        draw_marks(canvas, frame, Side::Right, &upright, &marks(&upright, us, count));
        draw_title(canvas, frame, Side::Right, 48.0, &titled(panel.title, us));
    }
    limit::draw_names(canvas, frame, &upright, &panel.levels);
    mark::draw(canvas, study, frame, &across.axis, &upright, panel);
}

/// The bleeds that dirt would block.
fn shade(canvas: &mut Canvas, study: &ClosingStudy, across: &Across, frame: &Rect) {
    let right = across.axis.place(study.least()).clamp(frame.left, frame.right);
    if right <= frame.left {
        return;
    }
    canvas.fill_rect(&Rect { right, ..*frame }, OUT_OF_REACH);
}

/// Says once, at the upper edge, why they are out of reach.
fn say_reach(canvas: &mut Canvas, study: &ClosingStudy, across: &Across, frame: &Rect) {
    let room = across.axis.place(study.least()).min(frame.right) - frame.left;
    let words = format!("below {}: dirt", reading(study.least(), &Units { us: None, ..across.units }));
    if text_width(&words, SMALL) + 8.0 < room {
        let style = Lettering { halo: true, ..lettering(SMALL, GREY, Anchor::Start) };
        canvas.text(&words, (frame.left + 4.0, frame.top + 8.0), style);
    }
}
