//! A closing study for a terminal.

use super::{NARROWEST, length, paragraph};
use crate::output::plot::tick::number;
use crate::output::unit::{fitting_units, shown, unitless};
use crate::study::closing::{BLEED, Change, ClosingStudy, Criterion, Cure, Point, Sweep, Use};
use crate::units::{ColumnUnit, Dimension, UnitSystem, show};

/// Which points a table lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Points {
    /// Those along the leading parameter.
    Leading,
    /// Those along every parameter.
    All,
}

/// The answer: the sentence to quote, findings, acceptance, changes, points, remarks.
pub fn closing_text(study: &ClosingStudy, points: Points, width: usize) -> String {
    let width = width.max(NARROWEST);
    let mut text = format!("{}{}", paragraph(&study.question, width), paragraph(&study.data, width));
    for setting in &study.overrides {
        text += &format!("changed: {setting}\n");
    }
    text += &format!("\nTo quote:\n{}\n", paragraph(&study.quote, width));
    for finding in &study.findings {
        text += &listed(finding, width);
    }
    text += "\nAcceptance of today's closing, pressure at the inlet:\n";
    text += &table(study.criteria.iter().map(criterion).collect(), width);
    text += &changes(study, Use::Change, "Smallest change that meets the target, each alone:", width);
    text += &changes(study, Use::Maker, "The same, by the valve's maker only:", width);
    text += &settings(study, width);
    let sweeps = if points == Points::All { &study.sweeps[..] } else { &study.sweeps[..1] };
    for sweep in sweeps {
        text += &format!("\n{}", sweep_table(study, sweep, points == Points::All, width));
    }
    if !study.remarks.is_empty() {
        text.push('\n');
    }
    for remark in &study.remarks {
        text += &listed(remark, width);
    }
    text
}

/// The changes that somebody can make.
fn changes(study: &ClosingStudy, by: Use, title: &str, width: usize) -> String {
    let mut rows: Vec<Vec<String>> = study.changes.iter().filter(|c| c.by == by).map(|c| change(study, c)).collect();
    if rows.is_empty() {
        return String::new();
    }
    let head = ["", "today", "changed to", "peak", "above rest", "90-10 %"].map(String::from).to_vec();
    rows.insert(0, head);
    format!("\n{title}\n{}", table(rows, width))
}

/// Each cure as a user would try it.
fn settings(study: &ClosingStudy, width: usize) -> String {
    let line = |settings: &[String]| {
        let words: Vec<String> = settings.iter().map(|setting| format!("--set \"{setting}\"")).collect();
        listed(&words.join(" "), width)
    };
    let cures = study.changes.iter().filter_map(|change| change.answer.cure());
    let narrower = |cure: &Cure| {
        let at_all = cure.part_flows.as_ref().filter(|part| part.narrower.is_some());
        at_all.map_or_else(String::new, |part| line(&part.narrower_settings))
    };
    let lines: String = cures.map(|cure| line(&cure.settings) + &narrower(cure)).collect();
    if lines.is_empty() { lines } else { format!("\nTo try one with run or closing:\n{lines}") }
}

/// A sentence with a mark before it.
fn listed(sentence: &str, width: usize) -> String {
    let lines = paragraph(sentence, width - 2);
    lines.lines().enumerate().map(|(i, line)| format!("{} {line}\n", if i == 0 { "·" } else { " " })).collect()
}

/// A value in its fitting unit.
fn value(value: f64, dimension: Dimension) -> String {
    let unit = fitting_units(dimension, value).si;
    let written = number(shown(value, &unit));
    if unitless(&unit) { written } else { format!("{written} {}", unit.name) }
}

/// Four figures: limits are met by little.
fn pressure(at: f64) -> String {
    let (number, unit) = show(at, Dimension::AbsolutePressure, UnitSystem::Si);
    format!("{number} {unit}")
}

fn criterion(criterion: &Criterion) -> Vec<String> {
    vec![
        if criterion.passed() { "pass" } else { "FAIL" }.to_owned(),
        criterion.name.to_owned(),
        format!("{} {}", if criterion.ceiling { "at most" } else { "at least" }, pressure(criterion.limit)),
        format!("found {}", pressure(criterion.found)),
    ]
}

fn change(study: &ClosingStudy, change: &Change) -> Vec<String> {
    let owner = study.sweeps.iter().find(|s| s.parameter.path == change.path);
    let dimension = owner.map_or(Dimension::Number, |s| s.parameter.dimension);
    // One unit for both.
    let size = |to: f64| fitting_units(dimension, to.max(change.today)).si;
    let written = |at: f64, unit: &ColumnUnit| match at {
        0.0 => "none".to_owned(),
        _ => format!("{} {}", number(shown(at, unit)), unit.name),
    };
    let Some(cure) = change.answer.cure() else {
        let words = if change.windows.is_empty() { "none within reach" } else { "no reliable value" };
        return vec![change.title.to_owned(), written(change.today, &size(0.0)), words.into()];
    };
    let (to, closing) = cure.recommended();
    vec![
        change.title.to_owned(),
        written(change.today, &size(to)),
        written(to, &size(to)),
        pressure(closing.peak),
        value(closing.surge, Dimension::PressureDifference),
        closing.effective_time.map_or("–".into(), |t| value(t, Dimension::Time)),
    ]
}

/// Half a drill size lies between two rows of bleeds, m.
const ROWS: f64 = 0.05e-3;

/// Is it a point of the plain sweep (for bleeds: a drill size), today's, or the answer? The others only narrowed the answer
/// down.
fn chief(study: &ClosingStudy, sweep: &Sweep, point: &Point) -> bool {
    let parameter = &sweep.parameter;
    let is = |value: f64| (value - point.value).abs() <= 1e-9 * value;
    let cure = study.change(parameter.path).and_then(|change| change.answer.cure());
    let own = is(parameter.today) || cure.is_some_and(|cure| is(cure.value) || is(cure.recommended().0));
    let size = point.value / ROWS;
    let drilled = (size - size.round()).abs() < 1e-6 || is(study.least_bleed);
    let between = parameter.path == BLEED && parameter.reachable(point.value) && !drilled;
    own || (!between && parameter.values.iter().any(|v| is(*v)))
}

fn sweep_table(study: &ClosingStudy, sweep: &Sweep, all: bool, width: usize) -> String {
    let dimension = sweep.parameter.dimension;
    let head = [
        sweep.parameter.title,
        "",
        "90-10 %",
        "over 2L/a",
        "steepest",
        "peak",
        "above rest",
        "of ρ·a·v",
        "shut in",
        "seat",
        "outlet",
    ];
    let mut rows = vec![head.map(String::from).to_vec()];
    let mut failures = String::new();
    for point in sweep.points.iter().filter(|p| all || chief(study, sweep, p)) {
        let at = if point.value > 0.0 { value(point.value, dimension) } else { "none".to_owned() };
        match &point.outcome {
            Ok(_) => rows.push(point_row(study, sweep, point, at)),
            Err(reason) => {
                rows.push(vec![at, String::new(), "–".into()]);
                failures += &paragraph(&format!("{}: {reason}", value(point.value, dimension)), width);
            }
        }
    }
    let key = "* today; + meets the target; l a later peak does not; ? after a cavity, uncertain; x out of reach; steepest: share of the flow that stops within \
               one 2L/a";
    format!("{}{}{failures}", table(rows, width), paragraph(key, width))
}

fn point_row(study: &ClosingStudy, sweep: &Sweep, point: &Point, at: String) -> Vec<String> {
    let Ok(closing) = &point.outcome else { return vec![at] };
    let own = point.value == sweep.parameter.today;
    let marks = [
        ('*', own),
        ('+', study.target.kept(closing)),
        ('l', study.target.met(closing) && !study.target.kept(closing)),
        ('?', closing.uncertain),
        ('x', !own && !sweep.parameter.reachable(point.value)),
    ];
    let marks: String = marks.iter().filter(|(_, holds)| *holds).map(|(mark, _)| *mark).collect();
    let time = |t: f64| value(t, Dimension::Time);
    vec![
        at,
        marks,
        closing.effective_time.map_or("–".into(), time),
        closing.returns().map_or("–".into(), number),
        value(closing.steepest_stop, Dimension::Fraction),
        pressure(closing.peak),
        value(closing.surge, Dimension::PressureDifference),
        number(closing.surge_ratio),
        time(closing.total_time),
        value(closing.seat_speed, Dimension::Velocity),
        pressure(closing.outlet_trough),
    ]
}

/// Rows in aligned columns; the last columns are left out where the width does not hold them.
fn table(rows: Vec<Vec<String>>, width: usize) -> String {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widest = |n: usize| rows.iter().filter_map(|row| row.get(n)).map(|text| length(text)).max().unwrap_or(0);
    let mut room = width + 2;
    let widths: Vec<usize> = (0..columns)
        .map(widest)
        .take_while(|wide| {
            let fits = wide + 2 <= room;
            room = room.saturating_sub(wide + 2);
            fits
        })
        .collect();
    rows.iter()
        .map(|row| {
            let cells =
                row.iter().zip(&widths).map(|(text, wide)| format!("{text}{}", " ".repeat(wide - length(text))));
            let line = cells.collect::<Vec<_>>().join("  ");
            format!("{}\n", line.trim_end())
        })
        .collect()
}
