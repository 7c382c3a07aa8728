//! What quiets the stage, and all that was tried, as tables.

use super::column::{Align, table};
use super::words::{indented, value};
use crate::portable::Portable;
use crate::study::stability::StabilityStudy;
use crate::study::stability::cure::{Attempt, Cure, Direction};
use crate::study::stability::growth::Outcome;
use crate::study::stability::lever::By;
use crate::study::stability::trial::Quiet;

pub(super) fn text(study: &StabilityStudy, width: usize) -> String {
    if study.attempts.is_empty() {
        return String::new();
    }
    let kinds =
        [(By::Site, "on site"), (By::Part, "with a part that is bought"), (By::Maker, "by the valve's maker only")];
    let mut text: String = kinds.into_iter().map(|(by, words)| confirmed(study, by, words, width)).collect();
    if study.cures().next().is_some() {
        let note = "theory: from where on small motions die. quiet to: so far beyond the setting everything tried is quiet, \
                    undisturbed and knocked. not at: the first value tried that is not.";
        text += &indented(note, width);
    }
    text + &tried(study, width)
}

fn confirmed(study: &StabilityStudy, by: By, words: &str, width: usize) -> String {
    let own = study.cures().filter(|(attempt, _)| attempt.lever.by == by);
    let rows: Vec<[String; 6]> = own.flat_map(|(attempt, cure)| rows(attempt, cure)).collect();
    if rows.is_empty() {
        return String::new();
    }
    let head = ["--set", "today", "theory", "quiet to", "not at", "rests"];
    let align = [Align::Left, Align::Right, Align::Right, Align::Right, Align::Right, Align::Left];
    format!("\nWhat quiets it, {words}\n") + &table(&head, &align, &rows, width)
}

/// One row, and one more for each further setting.
fn rows(attempt: &Attempt, cure: &Cure) -> Vec<[String; 6]> {
    let shown = |v: f64| value(v, attempt.lever.dimension);
    let dash = || "–".to_owned();
    let beyond = attempt.direction != Direction::Without;
    let own = [
        shown(attempt.lever.value),
        attempt.theory.filter(|(_, o)| *o != Outcome::StaysShut).map_or_else(dash, |(edge, _)| shown(short(edge))),
        if beyond { shown(short(cure.sure_to)) } else { dash() },
        cure.ends.as_ref().map_or_else(dash, |(at, _)| shown(short(*at))),
        match cure.rests {
            Quiet::Floats => "floats",
            Quiet::Opens => "opens",
        }
        .to_owned(),
    ];
    let row = |(n, setting): (usize, &String)| {
        let cell = |at: usize| match (at, n) {
            (0, _) => setting.clone(),
            (_, 0) => own[at - 1].clone(),
            _ => String::new(),
        };
        std::array::from_fn(cell)
    };
    cure.settings.iter().enumerate().map(row).collect()
}

/// With three figures.
fn short(value: f64) -> f64 {
    let power = 10_f64.to_the(2 - value.abs().max(f64::MIN_POSITIVE).decimal_logarithm().floor() as i32);
    (value * power).round() / power
}

/// All parameters, with the slope of the growth and the theory's edges.
fn tried(study: &StabilityStudy, width: usize) -> String {
    let mut paths: Vec<&str> = Vec::new();
    for attempt in &study.attempts {
        if !paths.contains(&attempt.lever.path) {
            paths.push(attempt.lever.path);
        }
    }
    let rows: Vec<[String; 6]> = paths.into_iter().filter_map(|path| summary(study, path)).collect();
    let head = ["all tried", "today", "slope", "theory: less", "more", "quiet in runs"];
    let align = [Align::Left, Align::Right, Align::Right, Align::Right, Align::Right, Align::Left];
    let note = "slope: growth rate of small motions gained by 1 % more, 1/s, at today's value only; below zero more of it damps. It \
                says nothing of the size of the swing, and further off the growth may turn. theory: where small motions stop \
                growing. quiet in runs: which way, with a knock and to 1.25 times the change. Each was tried up to a factor of \
                four; lines up to 10 m; gas and pulsation down to 0.4 %.";
    "\nAll that was tried\n".to_owned() + &table(&head, &align, &rows, width) + &indented(note, width)
}

fn summary(study: &StabilityStudy, path: &str) -> Option<[String; 6]> {
    let own: Vec<&Attempt> = study.attempts.iter().filter(|a| a.lever.path == path).collect();
    let first = own.first()?;
    let edge = |direction: Direction| {
        let found = own.iter().find(|a| a.direction == direction).and_then(|a| a.theory);
        found.map_or_else(
            || "–".to_owned(),
            |(edge, outcome)| match outcome {
                Outcome::Dies | Outcome::Opens => value(short(edge), first.lever.dimension),
                Outcome::StaysShut => "stays shut".to_owned(),
            },
        )
    };
    let ways: Vec<&str> = own
        .iter()
        .filter_map(|a| match (&a.cure, a.windows.is_empty(), a.direction) {
            (Some(_), _, Direction::Without) => Some("without"),
            (Some(_), _, Direction::Less) => Some("less"),
            (Some(_), _, Direction::More) => Some("more"),
            (None, false, _) => Some("window"),
            (None, true, _) => None,
        })
        .collect();
    Some([
        first.lever.words.to_owned(),
        value(first.lever.value, first.lever.dimension),
        first.slope.map_or_else(|| "–".to_owned(), |slope| signed(format!("{:+.2}", 0.01 * slope))),
        edge(Direction::Less),
        edge(Direction::More),
        if ways.is_empty() { "–".to_owned() } else { ways.join(", ") },
    ])
}

/// A number with the sign of the typesetter; one that rounds to nought has none.
fn signed(text: String) -> String {
    let nought = text.chars().all(|c| !c.is_ascii_digit() || c == '0');
    let bare = text.trim_start_matches(['+', '-']);
    match text.strip_prefix('-') {
        _ if nought => bare.to_owned(),
        Some(size) => format!("−{size}"),
        None => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nought_has_no_sign() {
        assert_eq!(signed("-0.00".into()), "0.00");
        assert_eq!(signed("+0.00".into()), "0.00");
        assert_eq!(signed("-1.25".into()), "−1.25");
        assert_eq!(signed("+18 %".into()), "+18 %");
    }
}
