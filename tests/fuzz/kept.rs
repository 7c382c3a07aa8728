//! What an interrupted map keeps, damaged in every way: what is read back is what was written, to the last bit, or is not there.

use crate::generator::{once_in, one_of};
use crate::plausible::Numbers;
use crate::target::{Answer, Judged, Target};
use quietseat::indicator::Indicators;
use quietseat::study::disturbed::Disturbance;
use quietseat::study::kept::{Known, Owner, column_line, edge_line, first_line, read};
use quietseat::study::map::{Cell, CellResult};
use quietseat::verdict::{Behaviour, Finding, Verdict};
use std::sync::LazyLock;
use std::time::Duration;

/// The first line is the number of a map, the rest what is kept of it.
pub(crate) const KEPT: Target = Target { name: "kept", share: 60, limit: Duration::from_secs(2), make, check };

/// A map, what is known of it, and that as lines.
pub(crate) struct Written {
    pub(crate) owner: Owner,
    pub(crate) known: Known,
    pub(crate) lines: Vec<String>,
}

/// Maps with invented cells, the same every time. Some are of one size, and two differ in their build only.
pub(crate) static MAPS: LazyLock<Vec<Written>> = LazyLock::new(|| (0..8).map(written).collect());

fn written(number: usize) -> Written {
    let mut numbers = Numbers::new(7 + number as u64);
    let (columns, rows) = (4 + number / 4, 1 + number % 2);
    let owner = Owner { build: (number % 5) as u64, inputs: 77 + (number / 2) as u64, columns, rows };
    let mut known = Known::default();
    let mut lines = vec![first_line(&owner)];
    for column in 0..columns {
        let cells: Vec<Cell> = (0..rows).map(|_| cell(&mut numbers)).collect();
        lines.push(column_line(&owner, column, &cells).expect("a column that can be kept"));
        known.columns.insert(column, cells);
    }
    for place in (0..columns - 1).map(|column| (column, column % rows)) {
        let x = any_number(&mut numbers);
        lines.push(edge_line(&owner, place, x).expect("a boundary that can be kept"));
        known.edges.insert(place, x);
    }
    Written { owner, known, lines: lines.into_iter().map(|line| line.trim_end().to_owned()).collect() }
}

/// Any bits that are a finite number.
fn any_number(numbers: &mut Numbers) -> f64 {
    loop {
        let high = numbers.below(1 << 32) as u64;
        let value = f64::from_bits(high << 32 | numbers.below(1 << 32) as u64);
        if value.is_finite() {
            return if once_in(8, numbers) { -0.0 } else { value };
        }
    }
}

fn cell(numbers: &mut Numbers) -> Cell {
    let reason = (*one_of(&["boils", "a \"quoted\" word", "two\nlines", "−5 °C \u{1f525}", ""], numbers)).to_owned();
    match numbers.below(4) {
        0 => Cell::WouldBoil(reason),
        1 => Cell::Failed(reason),
        _ => Cell::Done(Box::new(CellResult {
            indicators: Indicators {
                closing_time: Some(any_number(numbers)),
                mean_lift: Some(any_number(numbers)),
                ..Indicators::default()
            },
            verdict: Verdict {
                findings: vec![Finding {
                    behaviour: Behaviour::Chatters,
                    adverse: once_in(2, numbers),
                    margin: any_number(numbers),
                    reason: reason.clone(),
                }],
                not_judged: vec![reason],
                not_computed: Vec::new(),
                no_hammer: None,
            },
            ledger_residue: any_number(numbers),
            steps: numbers.below(1 << 40) as u64,
            evaluations: u64::MAX,
            disturbance: Disturbance::default(),
            reused_from_row: once_in(2, numbers).then_some(0),
        })),
    }
}

fn make(numbers: &mut Numbers) -> String {
    let number = numbers.below(MAPS.len());
    let mut lines = MAPS[number].lines.clone();
    for _ in 0..=numbers.below(5) {
        let at = numbers.below(lines.len());
        match numbers.below(10) {
            0 => drop(lines.remove(at)),
            1 => lines.insert(at, lines[at].clone()),
            2 => {
                let other = numbers.below(lines.len());
                lines.swap(at, other);
            }
            3 => lines[at] = one_of(&one_of(&MAPS, numbers).lines, numbers).clone(),
            4 => lines.insert(at, one_of(&one_of(&MAPS, numbers).lines, numbers).clone()),
            5 => lines[at] = cut(&lines[at], numbers),
            6 => lines[at] = digit_changed(&lines[at], numbers),
            7 if at + 1 < lines.len() => {
                let next = lines.remove(at + 1);
                lines[at].push_str(&next);
            }
            8 => lines.insert(at, String::new()),
            _ => lines[at] = bits_flipped(&lines[at], numbers),
        }
        if lines.is_empty() {
            break;
        }
    }
    let end = *one_of(&["\n", "\n", "", "\r\n"], numbers);
    let between = if once_in(12, numbers) { "\r\n" } else { "\n" };
    format!("{number}\n{}{end}", lines.join(between))
}

fn cut(line: &str, numbers: &mut Numbers) -> String {
    let kept = numbers.below(line.chars().count() + 1);
    line.chars().take(kept).collect()
}

fn digit_changed(line: &str, numbers: &mut Numbers) -> String {
    let places: Vec<usize> = (0..line.len()).filter(|&at| line.as_bytes()[at].is_ascii_digit()).collect();
    let mut bytes = line.as_bytes().to_vec();
    if !places.is_empty() {
        bytes[*one_of(&places, numbers)] = b'0' + numbers.below(10) as u8;
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// Bits exchanged; what is then no text is so in the file as well, and read as the same sign.
fn bits_flipped(line: &str, numbers: &mut Numbers) -> String {
    let mut bytes = line.as_bytes().to_vec();
    for _ in 0..=numbers.below(3) {
        let at = numbers.below(bytes.len());
        if let Some(byte) = bytes.get_mut(at) {
            *byte ^= 1 << numbers.below(8);
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn check(input: &str) -> Judged {
    let (number, text) = input.split_once('\n').ok_or("no number of a map")?;
    let map = number.parse::<usize>().ok().and_then(|number| MAPS.get(number)).ok_or("no such map")?;
    let reading = read(text.as_bytes(), &map.owner);
    subset(&reading.known, &map.known)?;
    let told = reading.remarks.join("; ");
    let mut lines = text.lines().enumerate().filter(|(_, line)| !line.is_empty());
    let first = lines.next();
    let owned = first.is_none_or(|(_, line)| same(line, &map.lines[0]));
    if !owned {
        let nothing = reading.known == Known::default() && told.contains("none of it is used");
        return if nothing { Ok(Answer::Refused(told)) } else { Err(format!("a strange file is believed: {told}")) };
    }
    let sound: Vec<&str> = lines.clone().map(|(_, line)| line).filter(|line| is_of(line, map)).collect();
    let damaged: Vec<usize> = lines.filter(|(_, line)| !is_of(line, map)).map(|(at, _)| at + 1).collect();
    let found = reading.known.columns.len() + reading.known.edges.len();
    let distinct = map.lines[1..].iter().filter(|line| sound.iter().any(|other| same(other, line))).count();
    if found != distinct {
        return Err(format!("{distinct} sound lines, of which {found} are believed: {told}"));
    }
    reported(&damaged, &told)?;
    Ok(if damaged.is_empty() { Answer::Taken(told) } else { Answer::Refused(told) })
}

/// Is it a line that was written, but for how its seal is spelled?
fn same(line: &str, written: &str) -> bool {
    line.len() == written.len()
        && line.get(16..) == written.get(16..)
        && u64::from_str_radix(line.get(..16).unwrap_or(""), 16).ok() == u64::from_str_radix(&written[..16], 16).ok()
}

fn is_of(line: &str, map: &Written) -> bool {
    map.lines[1..].iter().any(|written| same(line, written))
}

/// Equal to the last bit, the sign of a zero too.
fn subset(found: &Known, written: &Known) -> Result<(), String> {
    for (column, cells) in &found.columns {
        if written.columns.get(column).is_none_or(|known| format!("{known:?}") != format!("{cells:?}")) {
            return Err(format!("column {column} was never written so: {cells:?}"));
        }
    }
    for (place, x) in &found.edges {
        if written.edges.get(place).is_none_or(|known| known.to_bits() != x.to_bits()) {
            return Err(format!("boundary {place:?} was never written so: {x:?}"));
        }
    }
    Ok(())
}

/// The damaged lines are named, or of many their number is told.
fn reported(damaged: &[usize], told: &str) -> Result<(), String> {
    let named = damaged.iter().take(5).all(|line| told.contains(&line.to_string()));
    let counted = damaged.len() <= 5 || told.contains(&format!("{} lines", damaged.len()));
    match (damaged.is_empty(), told.is_empty()) {
        (true, true) => Ok(()),
        (false, false) if named && counted => Ok(()),
        _ => Err(format!("lines {damaged:?} are damaged, but told is \"{told}\"")),
    }
}
