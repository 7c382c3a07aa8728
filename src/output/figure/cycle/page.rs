//! The page: head, panels, legend and foot.

use super::panel::{Panel, Panels};
use super::subject::{RunFigure, STRIP};
use super::{column, event, notes, panel};
use crate::output::figure::{Figure, head};
use crate::output::plot::colour::{BLACK, GREY};
use crate::output::plot::text::Paragraph;
use crate::output::plot::{PAGE_WIDTH, SMALL, canvas, legend};
use crate::units::Dimension;

const MARGIN: f64 = 6.0;
const ALL_PANELS: f64 = 520.0;

/// Draws the run.
pub fn cycle(figure: &RunFigure) -> Figure {
    let width = PAGE_WIDTH - 2.0 * MARGIN;
    let head = head(&figure.origin, width);
    let top = MARGIN + head.iter().map(Paragraph::height).sum::<f64>() + 20.0;
    let panels = panel::panels(figure);
    let rows: Vec<event::Rows> = panels.all.iter().map(|p| event::Rows::new(figure.trace, p)).collect();
    let extents = extents(&panels.all, &rows, top);
    let columns = column::columns(figure.trace, &panels.all);
    let banded = column::any_band(figure.trace, &columns, &panels.all);
    let entries = notes::entries(figure.trace, &panels.all, banded);
    let own = column::any_own(figure.trace, &columns, &panels.all);
    let foot = foot(figure, &panels, own, width);
    let bottom = extents.last().map_or(top - 20.0, |e| e.1 + 34.0);
    let legend_top = bottom + 4.0;
    let foot_top = legend_top + legend::height(&entries, width) + 5.0;
    let whole = foot_top + foot.iter().map(|p| p.height() + 2.0).sum::<f64>() + MARGIN;

    let svg = canvas::draw((PAGE_WIDTH, whole), figure.origin.question, |canvas| {
        let mut y = MARGIN;
        for paragraph in &head {
            y = paragraph.draw(canvas, MARGIN, y);
        }
        for ((panel, rows), extent) in panels.all.iter().zip(&rows).zip(&extents) {
            column::draw_panel(canvas, figure.trace, &columns, panel, rows, *extent);
        }
        if let Some(last) = extents.last() {
            column::draw_heads(canvas, &columns, top - 9.0);
            column::draw_time(canvas, &columns, last.1);
        }
        legend::draw(canvas, &entries, MARGIN, legend_top, width);
        let mut y = foot_top;
        for paragraph in &foot {
            y = paragraph.draw(canvas, MARGIN, y) + 2.0;
        }
    });
    Figure { svg }
}

/// Upper and lower edge of each panel; the pressures, which the question is mostly about, get more.
fn extents(panels: &[Panel], rows: &[event::Rows], top: f64) -> Vec<(f64, f64)> {
    let weight = |p: &Panel| if p.dimension == Dimension::AbsolutePressure { 2.0 } else { 1.0 };
    let weights: f64 = panels.iter().map(weight).sum();
    let marks = |rows: &event::Rows| rows.room().0 + rows.room().1;
    let room = ALL_PANELS - STRIP * panels.len() as f64 - rows.iter().map(marks).sum::<f64>();
    let one = (room / weights.max(1.0)).clamp(43.0, 130.0);
    let mut y = top;
    panels
        .iter()
        .zip(rows)
        .map(|(panel, rows)| {
            let from = y + STRIP;
            y = from + one * weight(panel) + marks(rows);
            (from, y)
        })
        .collect()
}

fn foot(figure: &RunFigure, panels: &Panels, own: bool, width: f64) -> Vec<Paragraph> {
    let mut all: Vec<Paragraph> = figure
        .told
        .iter()
        .chain(&notes::remarks(figure, panels, own))
        .map(|r| Paragraph::new(r, SMALL, BLACK, width))
        .collect();
    all.push(Paragraph::new(figure.caution, SMALL, GREY, width));
    all
}
