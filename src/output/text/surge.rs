//! Surges of several fluids for a terminal.

use super::layout::{NARROWEST, length, paragraph};
use crate::output::plot::tick::number;
use crate::output::unit::{Units, reading, shown, units};
use crate::portable::Portable;
use crate::study::surge::{Boiling, Flow, FluidRow, Outcome, Remedy, SurgeComparison};
use crate::units::{ColumnUnit, Dimension, UnitSystem, show};

/// A number with three figures, zeros included, so that columns are even.
pub(in crate::output) fn three_figures(value: f64) -> String {
    let size = value.abs();
    if !(0.01..1000.0).contains(&size) {
        return number(value);
    }
    let decimals = |of: f64| (2 - of.decimal_logarithm().floor() as i32).max(0) as usize;
    // 9.996 has three figures as 10.0.
    let rounded: f64 = format!("{size:.*}", decimals(size)).parse().unwrap_or(size);
    let sign = if value < 0.0 { "−" } else { "" };
    format!("{sign}{rounded:.*}", decimals(rounded))
}

/// A column: its head in two lines, and its cells.
struct Column {
    head: [String; 2],
    cells: Vec<String>,
    /// Words start at the left, numbers end at the right.
    words: bool,
}

/// The whole comparison: line, table of the line, table of the valve, table of boiling, findings, remarks.
pub fn surge_text(comparison: &SurgeComparison, width: usize) -> String {
    let width = width.max(NARROWEST);
    let mut text = paragraph(&line_words(comparison), width);
    text += "\nFluids, at rest:\n";
    text += &table(&states(comparison), width);
    text += "\nThe line alone:\n";
    text += &table(&of_line(comparison), width);
    text += &format!("\n{}", paragraph(&format!("{}:", flow_words(comparison)), width));
    text += &table(&of_flow(comparison), width);
    if comparison.rows.iter().any(|row| row.boiling.is_some()) {
        let head = "Boiling by the sudden stop; K and °F are the least subcooling at this pressure that avoids it:";
        text += &format!("\n{}", paragraph(head, width));
        text += &table(&of_boiling(comparison), width);
        let key = "margin: pressure at rest above the vapour pressure; bears: velocity whose sudden stop the margin just bears \
                   upstream";
        text += &paragraph(key, width);
    }
    text.push('\n');
    for sentence in comparison.findings.iter().chain(&comparison.remarks) {
        for (i, line) in paragraph(sentence, width.saturating_sub(3)).lines().enumerate() {
            text += &format!("{} {line}\n", if i == 0 { "·" } else { " " });
        }
    }
    text
}

/// The line in words.
pub(in crate::output) fn line_words(comparison: &SurgeComparison) -> String {
    let line = &comparison.line;
    let metres = ColumnUnit { scale: 1.0, offset: 0.0, name: "m" };
    let feet = ColumnUnit { scale: 1.0 / 0.3048, offset: 0.0, name: "ft" };
    let long = reading(line.length, &Units { si: metres, us: Some(feet) });
    let bore = reading(line.pipe.bore, &units(Dimension::Length));
    format!("Line: {}, {}, bore {bore}, {long} long.", line.pipe.name, line.held())
}

/// What is stopped, in words.
pub(in crate::output) fn flow_words(comparison: &SurgeComparison) -> String {
    match comparison.flow {
        Flow::Valve { coefficient, differential } => format!(
            "The same valve, {}, open at {}, then shut suddenly",
            reading(coefficient, &units(Dimension::FlowCoefficient)),
            reading(differential, &units(Dimension::PressureDifference))
        ),
        Flow::Velocity(velocity) => {
            format!("The same velocity, {}, stopped suddenly", reading(velocity, &units(Dimension::Velocity)))
        }
    }
}

fn column(head: [&str; 2], comparison: &SurgeComparison, cell: impl Fn(&FluidRow) -> String) -> Column {
    Column { head: head.map(String::from), cells: comparison.rows.iter().map(cell).collect(), words: false }
}

fn worded(head: [&str; 2], comparison: &SurgeComparison, cell: impl Fn(&FluidRow) -> String) -> Column {
    Column { words: true, ..column(head, comparison, cell) }
}

/// A quantity in both systems: two columns, the second only where it differs.
fn both(
    title: &str,
    dimension: Dimension,
    comparison: &SurgeComparison,
    value: impl Fn(&FluidRow) -> Option<f64>,
) -> Vec<Column> {
    let units = units(dimension);
    let cell = |row: &FluidRow, unit: &ColumnUnit| value(row).map_or("–".into(), |v| three_figures(shown(v, unit)));
    let mut columns = vec![column([title, units.si.name], comparison, |row| cell(row, &units.si))];
    columns.extend(units.us.map(|us| column(["", us.name], comparison, |row| cell(row, &us))));
    columns
}

fn name(comparison: &SurgeComparison) -> Column {
    worded(["", ""], comparison, |row| row.name.clone())
}

fn states(comparison: &SurgeComparison) -> Vec<Column> {
    let mut columns = vec![name(comparison)];
    columns.extend(both("temperature", Dimension::Temperature, comparison, |row| Some(row.state.temperature)));
    columns.extend(both("pressure", Dimension::AbsolutePressure, comparison, |row| Some(row.state.pressure)));
    columns.push(worded(["state", ""], comparison, |row| {
        row.distance.clone().unwrap_or_else(|| if row.is_gas() { "gas".into() } else { "liquid".into() })
    }));
    columns.extend(both("density", Dimension::Density, comparison, |row| Some(row.state.density)));
    columns
}

fn of_line(comparison: &SurgeComparison) -> Vec<Column> {
    let reference = &comparison.reference;
    let mut columns = vec![name(comparison)];
    columns.extend(both("wave speed", Dimension::Velocity, comparison, |row| Some(row.wave_speed)));
    columns.extend(both("surge ρ·a", Dimension::Impedance, comparison, |row| Some(row.surge_per_velocity)));
    columns.push(column(["times", "water"], comparison, |row| {
        three_figures(row.surge_per_velocity / reference.surge_per_velocity)
    }));
    columns.push(column(["2L/a", "ms"], comparison, |row| three_figures(1e3 * row.return_time)));
    columns.push(column(["times", "water"], comparison, |row| three_figures(row.return_time / reference.return_time)));
    columns
}

fn of_flow(comparison: &SurgeComparison) -> Vec<Column> {
    let mut columns = vec![name(comparison)];
    columns.extend(both("velocity", Dimension::Velocity, comparison, |row| Some(row.velocity)));
    columns.extend(both("surge", Dimension::PressureDifference, comparison, |row| Some(row.surge)));
    columns.extend(both("inlet peak", Dimension::AbsolutePressure, comparison, |row| Some(row.peak())));
    columns
}

fn of_boiling(comparison: &SurgeComparison) -> Vec<Column> {
    let of = |value: fn(&Boiling) -> f64| move |row: &FluidRow| row.boiling.as_ref().map(value);
    let words = |outcome: fn(&Boiling) -> Outcome| {
        move |row: &FluidRow| row.boiling.as_ref().map_or("–".to_owned(), |boiling| outcome_words(outcome(boiling)))
    };
    let mut columns = vec![name(comparison)];
    columns.extend(both("margin", Dimension::PressureDifference, comparison, of(|b| b.margin)));
    columns.extend(both("bears", Dimension::Velocity, comparison, of(|b| b.bearable_velocity)));
    columns.push(worded(["behind the valve,", "at once"], comparison, words(|b| b.behind.outcome)));
    columns.push(worded(["upstream,", "after 2L/a"], comparison, words(|b| b.upstream.outcome)));
    columns
}

/// What comes of a trough, in few words.
fn outcome_words(outcome: Outcome) -> String {
    let (what, remedy) = match outcome {
        Outcome::StaysLiquid => return "liquid".to_owned(),
        Outcome::Cavity(remedy) => ("cavity", remedy),
        Outcome::BoilsOpen(remedy) => ("boils when open", remedy),
    };
    match remedy {
        Remedy::Subcooling(kelvin) => {
            let written = |system| {
                let (number, unit) = show(kelvin, Dimension::TemperatureDifference, system);
                let rounded =
                    number.parse::<f64>().map_or(number, |value| format!("{:.1}", (10.0 * value).ceil() / 10.0));
                format!("{rounded} {}", unit.trim_start_matches('Δ'))
            };
            format!("{what}; {} ({})", written(UnitSystem::Si), written(UnitSystem::Us))
        }
        Remedy::NoneWould => format!("{what}; none would"),
        Remedy::NotKnown => format!("{what}; not known"),
    }
}

/// Columns side by side; where they are too wide together, the rest follows below under the same names.
fn table(columns: &[Column], width: usize) -> String {
    let Some((names, rest)) = columns.split_first() else { return String::new() };
    let mut text = String::new();
    let mut from = 0;
    while from < rest.len() {
        let mut used = wide(names);
        let mut upto = from;
        while upto < rest.len() && (upto == from || used + 2 + wide(&rest[upto]) <= width) {
            used += 2 + wide(&rest[upto]);
            upto += 1;
        }
        let part: Vec<&Column> = std::iter::once(names).chain(&rest[from..upto]).collect();
        for line in 0..2 + names.cells.len() {
            let cells = part.iter().map(|column| aligned(column, line)).collect::<Vec<_>>().join("  ");
            text += &format!("{}\n", cells.trim_end());
        }
        from = upto;
    }
    text
}

fn written(column: &Column, line: usize) -> &str {
    if line < 2 { &column.head[line] } else { &column.cells[line - 2] }
}

fn wide(column: &Column) -> usize {
    column.head.iter().chain(&column.cells).map(|text| length(text)).max().unwrap_or(0)
}

fn aligned(column: &Column, line: usize) -> String {
    let text = written(column, line);
    let blanks = " ".repeat(wide(column) - length(text));
    if column.words { format!("{text}{blanks}") } else { format!("{blanks}{text}") }
}
