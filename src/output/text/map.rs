//! A coarse map of characters.

use super::colouring::{Colouring, painted, tinted};
use super::layout::{NARROWEST, length, padded, paragraph};
use crate::output::appearance::{self, ALL, letter};
use crate::output::plot::tick::number;
use crate::output::unit::{axis_units, fitting_units, reading, shown, titled};
use crate::study::axis::Axis;
use crate::study::map::{Cell, StabilityMap};
use crate::study::own_point::no_value;
use crate::verdict::Behaviour;

const MOST_ROWS: usize = 24;

/// Draws the map in characters: one letter for the leading behaviour of a cell, with `'` behind it where a further fault
/// holds; `~` for a cell whose liquid would boil, `?` for a failed cell, `.` for one not computed, `@` behind the cell nearest to the user's point.
pub fn map_summary(map: &StabilityMap, width: usize, colouring: Colouring) -> String {
    let width = width.max(NARROWEST);
    let (columns, rows) = (map.x.values.len(), map.y.values.len());
    let mut text = paragraph(&map.question, width);
    if columns == 0 || rows == 0 {
        return text + "The map has no cells.\n";
    }
    let up = axis_units(&map.y);
    let label = |row: usize| number(shown(map.y.values[row], &up.si));
    let margin = (0..rows).map(|row| length(&label(row))).max().unwrap_or(0);
    let shown_columns = picked(columns, (width.saturating_sub(margin + 3) / 2).max(1));
    let shown_rows = picked(rows, MOST_ROWS);
    text += &format!("{}\n", titled(&map.y.title, &up.si));
    let own = own_cell(map, &shown_rows, &shown_columns);
    for &row in shown_rows.iter().rev() {
        text += &padded_left(&label(row), margin);
        text += " |";
        for &column in &shown_columns {
            text += &cell(map, row, column, own == Some((row, column)), colouring);
        }
        text = text.trim_end_matches(' ').to_owned();
        text.push('\n');
    }
    text += &below(&map.x, &shown_columns, margin);
    text + &key(map, width, colouring)
        + &further_faults(map, width)
        + &without_result(map, width)
        + &map.reservation().map_or_else(String::new, |words| paragraph(&words, width))
        + &remarks(map, width)
}

/// At most `most` of `count` places, evenly spread, both ends included.
fn picked(count: usize, most: usize) -> Vec<usize> {
    if count <= most {
        return (0..count).collect();
    }
    if most < 2 {
        return vec![0];
    }
    (0..most).map(|i| (i * (count - 1) + (most - 1) / 2) / (most - 1)).collect()
}

fn cell(map: &StabilityMap, row: usize, column: usize, own: bool, colouring: Colouring) -> String {
    let mut behind = ' ';
    let first = match map.cell(row, column) {
        Cell::WouldBoil(_) => boiling(&appearance::WOULD_BOIL_SIGN.to_string(), colouring),
        Cell::Failed(_) => "?".to_owned(),
        Cell::Done(result) => match result.verdict.leading() {
            None => "-".to_owned(),
            Some(leading) => {
                if result.verdict.findings.iter().skip(1).any(|f| f.adverse) {
                    behind = '\'';
                }
                painted(&letter(leading.behaviour).to_string(), leading.behaviour, colouring)
            }
        },
    };
    format!("{first}{}", if own { '@' } else { behind })
}

fn boiling(words: &str, colouring: Colouring) -> String {
    tinted(words, appearance::WOULD_BOIL_TERMINAL, colouring)
}

/// Does the user's point lie on the grid?
fn own_inside(map: &StabilityMap) -> bool {
    map.own_cell().is_some()
}

/// The cell nearest to the user's point among the rows and columns shown, if the point lies on the grid.
fn own_cell(map: &StabilityMap, rows: &[usize], columns: &[usize]) -> Option<(usize, usize)> {
    let nearest = |at: usize, shown: &[usize]| shown.iter().copied().min_by_key(|&i| i.abs_diff(at));
    let (row, column) = map.own_cell()?;
    Some((nearest(row, rows)?, nearest(column, columns)?))
}

/// The scale below: lower end, middle, upper end.
fn below(axis: &Axis, columns: &[usize], margin: usize) -> String {
    let across = axis_units(axis);
    let wide = 2 * columns.len();
    let mut text = format!("{} +{}\n", " ".repeat(margin), "-".repeat(wide));
    let end = |column: Option<&usize>| column.map_or(String::new(), |&c| number(shown(axis.values[c], &across.si)));
    let (low, middle, high) = (end(columns.first()), end(columns.get(columns.len() / 2)), end(columns.last()));
    let indent = " ".repeat(margin + 2);
    let needed = length(&low) + length(&middle) + length(&high) + 4;
    if columns.len() < 2 {
        text += &format!("{indent}{low}\n");
    } else if wide < needed {
        text += &format!("{indent}{low} … {high}\n");
    } else {
        let left = padded(&low, 2 * (columns.len() / 2));
        let line = left + &middle;
        text += &format!("{indent}{line}{}\n", padded_left(&high, wide - length(&line)));
    }
    text + &format!("{indent}{}\n", titled(&axis.title, &across.si))
}

fn padded_left(text: &str, width: usize) -> String {
    format!("{}{text}", " ".repeat(width.saturating_sub(length(text))))
}

fn key(map: &StabilityMap, width: usize, colouring: Colouring) -> String {
    let leads = |b: Behaviour| {
        map.cells.iter().any(|c| matches!(c, Cell::Done(r) if r.verdict.leading().is_some_and(|f| f.behaviour == b)))
    };
    let mut entries: Vec<(String, usize)> = ALL
        .into_iter()
        .filter(|&b| leads(b))
        .map(|b| {
            let words = format!("{} {}", letter(b), b.words());
            let wide = length(&words);
            (painted(&words, b, colouring), wide)
        })
        .collect();
    if map.cells.iter().any(|c| matches!(c, Cell::WouldBoil(_))) {
        let words = format!("{} {}", appearance::WOULD_BOIL_SIGN, appearance::WOULD_BOIL_WORDS);
        entries.push((boiling(&words, colouring), length(&words)));
    }
    let mut plain = |sign: &str, there: bool| {
        if there {
            entries.push((sign.to_owned(), length(sign)));
        }
    };
    let further = |c: &Cell| matches!(c, Cell::Done(r) if r.verdict.findings.iter().skip(1).any(|f| f.adverse));
    plain("' a further fault as well", map.cells.iter().any(further));
    plain("? failed", map.cells.iter().any(|c| matches!(c, Cell::Failed(_))));
    plain("@ your point", own_inside(map));
    let mut text = String::from("\n");
    let mut used = 0;
    for (entry, wide) in entries {
        if used > 0 && used + 3 + wide > width {
            text.push('\n');
            used = 0;
        } else if used > 0 {
            text += "   ";
            used += 3;
        }
        text += &entry;
        used += wide;
    }
    text.push('\n');
    text
}

/// Which faults the apostrophes stand for, and in how many cells each.
fn further_faults(map: &StabilityMap, width: usize) -> String {
    let holds = |cell: &&Cell, b: Behaviour| match cell {
        Cell::Done(r) => r.verdict.findings.iter().skip(1).any(|f| f.adverse && f.behaviour == b),
        Cell::WouldBoil(_) | Cell::Failed(_) => false,
    };
    let counts: Vec<String> = ALL
        .into_iter()
        .map(|b| (b, map.cells.iter().filter(|c| holds(c, b)).count()))
        .filter(|(_, count)| *count > 0)
        .map(|(b, count)| format!("{} in {count}", b.words()))
        .collect();
    if counts.is_empty() {
        return String::new();
    }
    paragraph(&format!("' further faults, of {} cells: {}", map.cells.len(), counts.join(", ")), width)
}

/// How many cells have no result and why, with the first reason: liquids that would boil, and failures.
fn without_result(map: &StabilityMap, width: usize) -> String {
    let told = |what: &str, reason: fn(&Cell) -> Option<&String>| {
        let Some((first, why)) = map.cells.iter().enumerate().find_map(|(i, cell)| Some((i, reason(cell)?))) else {
            return String::new();
        };
        let number = map.cells.iter().filter(|cell| reason(cell).is_some()).count();
        let columns = map.x.values.len();
        let at = |axis: &Axis, i: usize| reading(axis.values[i], &axis_units(axis));
        let place = format!("{}, {}", at(&map.x, first % columns), at(&map.y, first / columns));
        paragraph(&format!("{what} in {number} of {} cells; the first, at {place}: {why}", map.cells.len()), width)
    };
    let boils = format!("{} {}", appearance::WOULD_BOIL_SIGN, appearance::WOULD_BOIL_WORDS);
    told(&boils, |cell| if let Cell::WouldBoil(why) = cell { Some(why) } else { None })
        + &told("? failed", |cell| if let Cell::Failed(why) = cell { Some(why) } else { None })
}

fn own_point(map: &StabilityMap) -> String {
    if let Some(sentence) = no_value(map) {
        return sentence;
    }
    let at = |axis: &Axis, value: Option<f64>| {
        value.map_or(String::new(), |v| reading(v, &fitting_units(axis.dimension, v)))
    };
    let place = format!("{}, {}", at(&map.x, map.operating_point.0), at(&map.y, map.operating_point.1));
    if own_inside(map) {
        format!("Your point: {place}.")
    } else {
        format!("Your point ({place}) lies outside the map.")
    }
}

fn remarks(map: &StabilityMap, width: usize) -> String {
    let mut text = paragraph(&own_point(map), width);
    for sentence in map.scales.iter().chain(&map.disagreements) {
        text += &paragraph(sentence, width);
    }
    text
}
