//! Fluids side by side: bars of the surge per velocity and of the return time, water marked in both.

use super::Figure;
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::canvas::{self, Anchor, Canvas, Dash, Stroke};
use crate::output::plot::colour::{BLACK, BLUE, Colour, GREY, ORANGE, WHITE};
use crate::output::plot::font::text_width;
use crate::output::plot::frame::{Side, draw_marks, draw_title, grid_lines, marks};
use crate::output::plot::pattern::{self, Mosaic, Pattern};
use crate::output::plot::text::{Paragraph, fitted, lettering, wrap};
use crate::output::plot::tick::number;
use crate::output::plot::{LARGE, MEDIUM, PAGE_WIDTH, Rect, SMALL};
use crate::output::text::{flow_words, line_words, three_figures};
use crate::output::unit::{Units, shown, units};
use crate::study::surge::{FluidRow, SurgeComparison};
use crate::units::{ColumnUnit, Dimension, UnitSystem, show};

const MARGIN: f64 = 6.0;
/// Room for the names at the left.
const NAMES: f64 = 112.0;
/// Distance between the panels.
const GAP: f64 = 20.0;
/// Height of a fluid's band, and of its bar.
const PITCH: f64 = 46.0;
const BAR: f64 = 22.0;
/// Room above and below the panels for numbers and titles.
const ABOVE: f64 = 56.0;
const BELOW: f64 = 40.0;
/// Distance between the lines of a name.
const STEP: f64 = 11.5;
/// Room that the words beside the longest bar need, as a share of the panel.
const WORDS: f64 = 0.44;

/// What a panel shows of a fluid, SI.
type Value = fn(&FluidRow) -> f64;

/// One panel.
struct Panel {
    title: &'static str,
    explained: String,
    units: Units,
    axis: Axis,
    frame: Rect,
    reference: f64,
    value: Value,
}

/// Draws the comparison; `caution` is the sentence at its foot.
pub fn surge(comparison: &SurgeComparison, caution: &str) -> Figure {
    let width = PAGE_WIDTH - 2.0 * MARGIN;
    let title = "Sudden stop in the same line: how hard, and how quick is sudden?";
    let head = headings(comparison, title, width);
    let top = MARGIN + head.iter().map(Paragraph::height).sum::<f64>() + ABOVE;
    let bottom = top + PITCH * comparison.rows.len() as f64;
    let panels = panels(comparison, top, bottom);
    let foot = foot(comparison, caution, width);
    let height = bottom + BELOW + foot.iter().map(|p| p.height() + 3.0).sum::<f64>() + MARGIN;
    let svg = canvas::draw((PAGE_WIDTH, height), title, |canvas| {
        let mut y = MARGIN;
        for paragraph in &head {
            y = paragraph.draw(canvas, MARGIN, y);
        }
        for (i, row) in comparison.rows.iter().enumerate() {
            draw_name(canvas, row, top + PITCH * (i as f64 + 0.5));
        }
        for panel in &panels {
            draw_panel(canvas, comparison, panel);
        }
        let mut y = bottom + BELOW;
        for paragraph in &foot {
            y = paragraph.draw(canvas, MARGIN, y) + 3.0;
        }
    });
    Figure { svg }
}

fn headings(comparison: &SurgeComparison, title: &str, width: f64) -> Vec<Paragraph> {
    vec![
        Paragraph::new(title, LARGE, BLACK, width),
        Paragraph::new(&line_words(comparison), SMALL, GREY, width),
        Paragraph::new(&format!("{}.", flow_words(comparison)), SMALL, GREY, width),
    ]
}

fn foot(comparison: &SurgeComparison, caution: &str, width: f64) -> Vec<Paragraph> {
    let mut all: Vec<Paragraph> =
        comparison.findings.iter().map(|sentence| Paragraph::new(sentence, SMALL, BLACK, width)).collect();
    all.push(Paragraph::new(&format!("Dashed: {}.", comparison.reference.label), SMALL, GREY, width));
    all.extend(comparison.remarks.iter().map(|sentence| Paragraph::new(sentence, SMALL, GREY, width)));
    all.push(Paragraph::new(caution, SMALL, GREY, width));
    all
}

fn panels(comparison: &SurgeComparison, top: f64, bottom: f64) -> Vec<Panel> {
    let left = MARGIN + NAMES;
    let each = (PAGE_WIDTH - MARGIN - left - GAP) / 2.0;
    let frame = |n: f64| {
        let from = left + n * (each + GAP);
        Rect { left: from, top, right: from + each, bottom }
    };
    let axis = |frame: &Rect, reference: f64, value: Value| {
        let largest = comparison.rows.iter().map(value).fold(reference, f64::max);
        Axis::new(Spacing::Linear, (0.0, largest / (1.0 - WORDS)), (frame.left, frame.right))
    };
    let reference = &comparison.reference;
    let surge: Value = |row| row.surge_per_velocity;
    let time: Value = |row| row.return_time;
    let impedance = units(Dimension::Impedance);
    let us = impedance.us.map_or(String::new(), |us| format!(" ({})", us.name));
    vec![
        Panel {
            title: "how hard: surge ρ·a",
            explained: format!("per velocity stopped, {}{us}", impedance.si.name),
            units: impedance,
            axis: axis(&frame(0.0), reference.surge_per_velocity, surge),
            frame: frame(0.0),
            reference: reference.surge_per_velocity,
            value: surge,
        },
        Panel {
            title: "how quick: return time 2L/a",
            explained: "a stop within it is sudden, ms".to_owned(),
            units: Units { si: ColumnUnit { scale: 1e3, offset: 0.0, name: "ms" }, us: None },
            axis: axis(&frame(1.0), reference.return_time, time),
            frame: frame(1.0),
            reference: reference.return_time,
            value: time,
        },
    ]
}

/// The fluid's name, and below it its state.
fn draw_name(canvas: &mut Canvas, row: &FluidRow, middle: f64) {
    let with_unit = |value: f64, dimension| {
        let (digits, unit) = show(value, dimension, UnitSystem::Si);
        let short = digits.parse().map_or(digits, number);
        format!("{short} {unit}")
    };
    let temperature = with_unit(row.state.temperature, Dimension::Temperature);
    let pressure = with_unit(row.state.pressure, Dimension::AbsolutePressure);
    let room = NAMES - 8.0;
    let mut lines: Vec<(String, f64, Colour)> = Vec::new();
    let most = if row.distance.is_some() { 2 } else { 3 };
    lines.extend(wrap(&row.name, MEDIUM, room).into_iter().take(most).map(|line| (line, MEDIUM, BLACK)));
    lines.push((format!("{temperature}, {pressure}"), SMALL, GREY));
    lines.extend(row.distance.iter().map(|distance| (distance.clone(), SMALL, GREY)));
    let first = middle - 0.5 * STEP * (lines.len() as f64 - 1.0);
    for (i, (text, size, colour)) in lines.iter().enumerate() {
        let at = (MARGIN, first + STEP * i as f64);
        canvas.text(&fitted(text, *size, room), at, lettering(*size, *colour, Anchor::Start));
    }
}

fn draw_panel(canvas: &mut Canvas, comparison: &SurgeComparison, panel: &Panel) {
    let frame = &panel.frame;
    // Beyond the longest bar there are only words.
    let longest = comparison.rows.iter().map(panel.value).fold(panel.reference, f64::max);
    let mut scale = marks(&panel.axis, &panel.units.si, 5);
    scale.retain(|mark| mark.value <= longest * 1.02);
    grid_lines(canvas, frame, Side::Bottom, &panel.axis, &scale);
    for (i, row) in comparison.rows.iter().enumerate() {
        let middle = frame.top + PITCH * (i as f64 + 0.5);
        let right = panel.axis.place((panel.value)(row));
        let bar = Rect { left: frame.left, top: middle - BAR / 2.0, right, bottom: middle + BAR / 2.0 };
        draw_bar(canvas, row, &bar, comparison.reference.row == Some(i));
    }
    let place = panel.axis.place(panel.reference);
    let dashed = Stroke { colour: BLACK, width: 1.2, dash: Dash::Dashed };
    canvas.line((place, frame.top - 3.0), (place, frame.bottom), dashed);
    canvas.text("water", (place, frame.top - 9.0), lettering(SMALL, BLACK, Anchor::Middle));
    for (i, row) in comparison.rows.iter().enumerate() {
        let middle = frame.top + PITCH * (i as f64 + 0.5);
        draw_words(canvas, panel, (panel.value)(row), middle, comparison.reference.row == Some(i));
    }
    canvas.line((frame.left, frame.top), (frame.left, frame.bottom), Stroke::solid(BLACK, 0.9));
    canvas.line((frame.left, frame.bottom), (frame.right, frame.bottom), Stroke::solid(BLACK, 0.9));
    draw_marks(canvas, frame, Side::Bottom, &panel.axis, &scale);
    draw_title(canvas, frame, Side::Bottom, 25.0, panel.units.si.name);
    draw_head(canvas, panel);
}

/// Title and what it means above the panel.
fn draw_head(canvas: &mut Canvas, panel: &Panel) {
    let at = |above: f64| (panel.frame.left, panel.frame.top - above);
    canvas.text(panel.title, at(45.0), lettering(LARGE - 1.0, BLACK, Anchor::Start));
    canvas.text(&panel.explained, at(31.0), lettering(SMALL, GREY, Anchor::Start));
}

/// A bar: water dark, other liquids light, gases hatched, so that a grey print tells them apart.
fn draw_bar(canvas: &mut Canvas, row: &FluidRow, bar: &Rect, water: bool) {
    canvas.fill_rect(bar, filling(row, water));
    if row.is_gas() {
        pattern::draw(canvas, &Mosaic::single(bar), Pattern::CloseRising, BLACK, |_, _| true);
    }
    canvas.outline(bar, Stroke::solid(BLACK, 0.7));
}

fn filling(row: &FluidRow, water: bool) -> Colour {
    match (water, row.is_gas()) {
        (true, _) => BLUE,
        (false, false) => ORANGE.tint(0.85),
        (false, true) => WHITE,
    }
}

/// The value beside its bar, and what it is of water's.
fn draw_words(canvas: &mut Canvas, panel: &Panel, value: f64, middle: f64, water: bool) {
    let si = three_figures(shown(value, &panel.units.si));
    let first = match &panel.units.us {
        Some(us) => format!("{si} ({})", three_figures(shown(value, us))),
        None => format!("{si} {}", panel.units.si.name),
    };
    let share = value / panel.reference;
    let of_water = if share < 0.1 { number(share) } else { format!("{share:.2}") };
    let second = if water { "reference".to_owned() } else { format!("{of_water} × water") };
    let beside = panel.axis.place(value) + 5.0;
    // A white ground, so that neither grid nor dashes run through the words.
    let wide = text_width(&first, MEDIUM).max(text_width(&second, SMALL));
    let (left, right) = (beside - 2.0, beside + wide + 2.0);
    canvas.fill_rect(&Rect { left, top: middle - 12.5, right, bottom: middle + 12.5 }, WHITE);
    canvas.text(&first, (beside, middle - 6.0), lettering(MEDIUM, BLACK, Anchor::Start));
    canvas.text(&second, (beside, middle + 6.5), lettering(SMALL, GREY, Anchor::Start));
}
