//! Fluids and their states for a terminal.

use super::layout::{length, padded, wrap};
use crate::fluid::solution::Solution;
use crate::fluid::{Medium, SheetRow, Substance, oil, solution};
use crate::units::{Dimension, UnitSystem, show};

/// A state: every row in both systems of units.
pub fn fluid_state_text(title: &str, medium: &Medium, rows: &[SheetRow], note: Option<&str>, width: usize) -> String {
    let value = |row: &SheetRow, system| {
        let (number, unit) = show(row.value, row.dimension, system);
        if unit.is_empty() { number } else { format!("{number} {unit}") }
    };
    let shown: Vec<[String; 4]> = rows
        .iter()
        .map(|row| {
            let us = if row.dimension == Dimension::Number { String::new() } else { value(row, UnitSystem::Us) };
            [row.name.to_owned(), value(row, UnitSystem::Si), us, row.remark.to_owned()]
        })
        .collect();
    let widest = |n: usize| shown.iter().map(|row| length(&row[n])).max().unwrap_or(0);
    let (name, si, us) = (widest(0), widest(1), widest(2));
    let mut text = format!("{title}\n\n");
    for row in &shown {
        let line = format!("{}  {}  {}", padded(&row[0], name), padded(&row[1], si), padded(&row[2], us));
        let used = length(&line) + 2;
        let remark = wrap(&row[3], width.saturating_sub(used).max(24));
        text += format!("{line}  {}", remark.first().map_or("", String::as_str)).trim_end();
        text.push('\n');
        for more in remark.iter().skip(1) {
            text += &format!("{}{more}\n", " ".repeat(used));
        }
    }
    text.push('\n');
    let mut notes: Vec<String> = note.map(|note| format!("Note: {note}")).into_iter().collect();
    notes.push(format!("Source: {}", medium.source()));
    notes.extend(medium.uncertainty().map(|uncertainty| format!("Uncertainty: {uncertainty}")));
    notes.extend(medium.caution().map(|caution| format!("Caution: {caution}")));
    for line in notes.iter().flat_map(|note| wrap(note, width)) {
        text += &format!("{line}\n");
    }
    text
}

/// All fluids with their ranges and sources.
pub fn fluid_list_text(substances: &[&Substance], width: usize) -> String {
    let celsius = |kelvin: f64| format!("{:.0}", kelvin - 273.15);
    let range = |ends: Option<(f64, f64)>| {
        ends.map_or("–".to_owned(), |(low, high)| format!("{} … {}", celsius(low), celsius(high)))
    };
    let mut rows = vec![["fluid", "what it is", "liquid, °C", "gas, °C", "up to"].map(str::to_owned)];
    for substance in substances {
        rows.push([
            substance.name().to_owned(),
            if substance.title() == substance.name() { String::new() } else { substance.title().to_owned() },
            range(substance.liquid_range()),
            range(Some(substance.gas_range())),
            format!("{:.0} bar(a)", substance.highest_pressure() / 1e5),
        ]);
    }
    rows.extend(solution::all().map(solution_row));
    for oil in oil::all() {
        let what = "mineral oil, typical of its class".to_owned();
        rows.push([
            oil.name.to_owned(),
            what,
            range(Some(oil.temperature_range())),
            "–".to_owned(),
            "300 bar(a)".to_owned(),
        ]);
    }
    let widest = |n: usize| rows.iter().map(|row| length(&row[n])).max().unwrap_or(0);
    let mut widths: [usize; 5] = std::array::from_fn(widest);
    let others: usize = [0, 2, 3, 4].iter().map(|n| widths[*n] + 2).sum();
    widths[1] = widths[1].min(width.saturating_sub(others)).max(12);
    let mut text = String::new();
    for row in &rows {
        text += &list_row(row, &widths);
    }
    text += "\nSources (library, and the keys of the literature of its equations there):\n";
    let source = |known: &&Substance| {
        let remark = if known.remark().is_empty() { String::new() } else { format!(" [{}]", known.remark()) };
        format!("{}: {}{remark}", known.name(), known.source())
    };
    let mut sources: Vec<String> = substances.iter().map(source).collect();
    sources.extend(solution::all().map(|known| format!("{}: {}", known.name, known.source())));
    sources.extend(oil::all().first().map(|oil| format!("oils: {}", oil.source())));
    for source in &sources {
        let lines = wrap(source, width.saturating_sub(4));
        for (number, line) in lines.iter().enumerate() {
            text += &format!("{}{line}\n", if number == 0 { "" } else { "    " });
        }
    }
    text
}

/// A row of the list; its words, the second column, run on over several lines where the terminal is narrow.
fn list_row(row: &[String; 5], widths: &[usize; 5]) -> String {
    let words = wrap(&row[1], widths[1]);
    let first = words.first().map_or("", String::as_str);
    let cells = [&row[0], first, &row[2], &row[3], &row[4]];
    let cells = (0..5).map(|n| padded(cells[n], widths[n])).collect::<Vec<_>>().join("  ");
    let mut text = format!("{}\n", cells.trim_end());
    for more in words.iter().skip(1) {
        text += &format!("{}{more}\n", " ".repeat(widths[0] + 2));
    }
    text
}

fn solution_row(solution: &'static Solution) -> [String; 5] {
    let percent = 100.0 * solution.highest_mass_fraction();
    [
        solution.name.to_owned(),
        format!("in water, up to {percent:.0} % by mass"),
        "freezing … 100".to_owned(),
        "–".to_owned(),
        "200 bar(a)".to_owned(),
    ]
}
