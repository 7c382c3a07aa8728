//! Legend and remarks below the map.

use super::grid::{Grid, Scale};
use super::{boundary, ground, guide};
use crate::output::appearance;
use crate::output::plot::SMALL;
use crate::output::plot::canvas::{Anchor, Stroke};
use crate::output::plot::colour::{BLACK, GREY};
use crate::output::plot::legend::Entry;
use crate::output::plot::pattern::{self, Mosaic, Pattern};
use crate::output::plot::text::lettering;
use crate::output::unit::reading;
use crate::study::map::{Cell, GuideKind};
use crate::study::own_point::no_value;

const MOST_DISAGREEMENTS: usize = 3;

/// The legend's entries.
pub(super) fn entries<'a>(grid: &Grid) -> Vec<Entry<'a>> {
    let mut all = Vec::new();
    for behaviour in ground::leading(grid) {
        all.push(Entry::new(behaviour.words(), move |canvas, sample| {
            canvas.fill_rect(sample, appearance::colour(behaviour));
            canvas.outline(sample, Stroke::solid(GREY, 0.5));
            let middle = ((sample.left + sample.right) / 2.0, (sample.top + sample.bottom) / 2.0);
            let letter = appearance::letter(behaviour).to_string();
            canvas.text(&letter, middle, lettering(SMALL, BLACK, Anchor::Middle));
        }));
    }
    for behaviour in ground::further(grid) {
        all.push(Entry::new(format!("also: {}", behaviour.words()), move |canvas, sample| {
            let one = Mosaic::single(sample);
            pattern::draw(canvas, &one, appearance::pattern(behaviour), ground::PATTERN, |_, _| true);
            canvas.outline(sample, Stroke::solid(GREY, 0.5));
        }));
    }
    if count(grid, |c| matches!(c, Cell::WouldBoil(_))) > 0 {
        all.push(Entry::new(appearance::WOULD_BOIL_WORDS, |canvas, sample| {
            canvas.fill_rect(sample, appearance::WOULD_BOIL);
            for (across, down) in [(0.2, 0.65), (0.5, 0.35), (0.8, 0.65)] {
                let at = (sample.left + across * sample.width(), sample.top + down * sample.height());
                pattern::bubble(canvas, at, appearance::WOULD_BOIL_RIM);
            }
            canvas.outline(sample, Stroke::solid(GREY, 0.5));
        }));
    }
    if count(grid, |c| matches!(c, Cell::Failed(_))) > 0 {
        all.push(Entry::new("no result (see below)", |canvas, sample| {
            canvas.fill_rect(sample, ground::FAILED_GROUND);
            pattern::draw(canvas, &Mosaic::single(sample), Pattern::Crossed, ground::FAILED_LINES, |_, _| true);
            canvas.outline(sample, Stroke::solid(GREY, 0.5));
        }));
    }
    if !grid.map.boundaries.is_empty() {
        all.push(line_entry("boundary, refined", Stroke::solid(BLACK, 1.3)));
    }
    if boundary::has_coarse(grid) {
        all.push(line_entry("edge, by the grid", boundary::coarse()));
    }
    for (kind, words) in [
        (GuideKind::Hand, "hand value or limit"),
        (GuideKind::Theory, "edge of growth of small oscillations, by theory"),
    ] {
        if grid.map.guides.iter().any(|g| g.kind == kind) {
            all.push(line_entry(words, guide::stroke(kind)));
        }
    }
    all
}

fn line_entry<'a>(words: &str, stroke: Stroke) -> Entry<'a> {
    Entry::new(words, move |canvas, sample| {
        let middle = (sample.top + sample.bottom) / 2.0;
        canvas.line((sample.left, middle), (sample.right, middle), stroke);
    })
}

fn count(grid: &Grid, member: impl Fn(&Cell) -> bool) -> usize {
    (0..grid.rows()).map(|row| (0..grid.columns()).filter(|&column| member(grid.cell(row, column))).count()).sum()
}

/// Sentences below the legend; `outside` names the guides that are not to be seen.
pub(super) fn remarks(grid: &Grid, outside: &[String]) -> Vec<String> {
    let total = grid.rows() * grid.columns();
    let mut all = Vec::new();
    if total == 0 {
        all.push("The map has no cells.".to_owned());
    }
    all.extend(own_point(grid));
    all.extend(grid.map.reservation());
    all.extend(grid.map.scales.iter().cloned());
    all.extend(boiling(grid, total));
    all.extend(failures(grid, total));
    let reused = count(grid, |c| matches!(c, Cell::Done(r) if r.reused_from_row.is_some()));
    if reused > 0 {
        all.push(format!("{reused} of {total} cells reuse the transient of a row in which it had died away as well."));
    }
    let disagreements = &grid.map.disagreements;
    all.extend(disagreements.iter().take(MOST_DISAGREEMENTS).cloned());
    if disagreements.len() > MOST_DISAGREEMENTS {
        let more = disagreements.len() - MOST_DISAGREEMENTS;
        all.push(format!(
            "{more} further disagreements between hand value and simulation are in the table of the map."
        ));
    }
    if !outside.is_empty() {
        all.push(format!("Outside the figure: {}.", outside.join("; ")));
    }
    all
}

fn own_point(grid: &Grid) -> Option<String> {
    let (x, y) = grid.map.operating_point;
    let (Some(x), Some(y)) = (x, y) else { return no_value(grid.map) };
    let (_, inside) = guide::point(grid)?;
    let at = format!("{}, {}", reading(x, &grid.x.units), reading(y, &grid.y.units));
    Some(match inside {
        true => format!("Your point: {at}."),
        false => format!("Your point ({at}) lies outside the figure; its mark stands at the nearest edge."),
    })
}

/// Cells without a result for one cause: how many, and the first with its reason.
fn without(grid: &Grid, total: usize, what: &str, reason: fn(&Cell) -> Option<&String>) -> Option<String> {
    let number = count(grid, |c| reason(c).is_some());
    let (row, column, why) = (0..total).find_map(|i| {
        let (row, column) = (i / grid.columns(), i % grid.columns());
        reason(grid.cell(row, column)).map(|why| (row, column, why))
    })?;
    let number_of = |scale: &Scale, i: usize| {
        if scale.by_number { format!("no. {}", i + 1) } else { reading(scale.values[i], &scale.units) }
    };
    let place = format!("{}, {}", number_of(&grid.x, column), number_of(&grid.y, row));
    Some(format!("{} the first at {place}: {why}", what.replace("{}", &format!("{number} of {total} cells"))))
}

fn boiling(grid: &Grid, total: usize) -> Option<String> {
    let what = "Bubbles: in {} the liquid would boil on its way, so that they have no run;";
    without(grid, total, what, |cell| if let Cell::WouldBoil(why) = cell { Some(why) } else { None })
}

fn failures(grid: &Grid, total: usize) -> Option<String> {
    without(grid, total, "Hatched grey: {} failed;", |cell| if let Cell::Failed(why) = cell { Some(why) } else { None })
}
