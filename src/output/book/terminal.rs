//! The book in a terminal.

use super::words::{LEGEND, allowed, deviation, figures, obtained, summary};
use crate::output::text::{Colouring, length, padded, paragraph, wrap};
use crate::validation::Outcome;
use crate::validation::case::Check;

/// Widths of the columns of numbers: ours, reference, deviation, tolerance.
const COLUMNS: [usize; 4] = [12, 12, 9, 9];
/// Narrowest column of quantities; below it the numbers get lines of their own.
const NARROWEST_QUANTITY: usize = 32;

/// All cases with their numbers, then the summary. Lines keep within `width` where that is wide enough for four numbers.
pub fn table(outcomes: &[Outcome], width: usize, colouring: Colouring) -> String {
    let mut text = String::new();
    for outcome in outcomes {
        text += &case(outcome, width, colouring);
        text.push('\n');
    }
    text + &paragraph(LEGEND, width) + &paragraph(&summary(outcomes), width)
}

fn case(outcome: &Outcome, width: usize, colouring: Colouring) -> String {
    let case = &outcome.case;
    let verdict = match (&outcome.checks, outcome.holds(), case.misfit) {
        (Err(_), ..) => "not computed",
        (_, false, _) => "BROKEN",
        (_, true, Some(_)) => "known misfit",
        (_, true, None) => "holds",
    };
    let painted = painted(verdict, colouring);
    let name_width = width.saturating_sub(length(verdict) + 2);
    let mut lines = wrap(case.name, name_width);
    let last = lines.pop().unwrap_or_default();
    let mut text: String = lines.into_iter().map(|line| line + "\n").collect();
    text += &format!("{}  {painted}\n", padded(&last, name_width));
    text += &indented(&format!("{} [{}]", case.source, obtained(case.obtained)), width);
    if let Some(misfit) = case.misfit {
        text += &indented(&format!("known misfit: {misfit}"), width);
    }
    match &outcome.checks {
        Ok(checks) => text += &numbers(checks, width, colouring),
        Err(why) => text += &indented(why, width),
    }
    text
}

fn indented(text: &str, width: usize) -> String {
    wrap(text, width.saturating_sub(2)).into_iter().map(|line| format!("  {line}\n")).collect()
}

fn numbers(checks: &[Check], width: usize, colouring: Colouring) -> String {
    // Two for the indent, two for the mark behind a broken number.
    let taken = 4 + COLUMNS.iter().map(|column| column + 2).sum::<usize>();
    let quantity = width.saturating_sub(taken);
    let beside = quantity >= NARROWEST_QUANTITY;
    let heading = aligned(["ours", "reference", "deviation", "tolerance"].map(str::to_owned));
    let mut text = format!("{}{heading}\n", " ".repeat(if beside { 2 + quantity } else { 2 }));
    for check in checks {
        let mut row = aligned([figures(check.ours), figures(check.reference), deviation(check), allowed(check)]);
        if !check.holds() {
            row += &format!(" {}", painted("<", colouring));
        }
        let mut words = phrases(&check.quantity, if beside { quantity } else { width.saturating_sub(4) }).into_iter();
        if beside {
            // The numbers stand beside the first line of the words.
            text += &format!("  {}{row}\n", padded(&words.next().unwrap_or_default(), quantity));
            text.extend(words.map(|line| format!("    {line}\n")));
        } else {
            text.extend(words.map(|line| format!("  {line}\n")));
            text += &format!("  {row}\n");
        }
    }
    text
}

/// A quantity in lines; where it needs more than one, its place among many numbers stands in a line of its own.
fn phrases(quantity: &str, width: usize) -> Vec<String> {
    match quantity.find(" (worst of ") {
        Some(at) if length(quantity) > width => {
            let (words, place) = quantity.split_at(at);
            [wrap(words, width), wrap(place, width)].concat()
        }
        _ => wrap(quantity, width),
    }
}

fn aligned(fields: [String; 4]) -> String {
    let pairs = fields.iter().zip(COLUMNS);
    pairs.map(|(field, width)| format!("  {}{field}", " ".repeat(width.saturating_sub(length(field))))).collect()
}

/// Green where it holds, yellow for a known misfit, red else.
fn painted(verdict: &str, colouring: Colouring) -> String {
    let colour = match verdict {
        "holds" => 36,
        "known misfit" => 178,
        _ => 166,
    };
    match colouring {
        Colouring::Plain => verdict.to_owned(),
        Colouring::Coloured => format!("\u{1b}[38;5;{colour}m{verdict}\u{1b}[0m"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::validation::case::{Case, Obtained, Tolerance};

    fn outcome(ours: f64, misfit: Option<&'static str>) -> Outcome {
        let case = Case {
            folder: "none",
            name: "A case with a name of some length, as names are",
            source: "Author, title of the work, place, year, with some remark on what was read and what was not",
            obtained: Obtained::Exact,
            reason: "a test",
            misfit,
            checks: || Ok(Vec::new()),
        };
        let quantity = "quantity with its unit, Pa (worst of 12: the seventh of all places, at 12.5 phases)".to_owned();
        Outcome {
            case,
            checks: Ok(vec![Check { quantity, ours, reference: 1.0, tolerance: Tolerance::Relative(0.01) }]),
        }
    }

    #[test]
    fn lines_keep_within_the_width() {
        for width in [60, 80, 100, 110] {
            let shown = table(&[outcome(1.0, None), outcome(1.2, None)], width, Colouring::Plain);
            assert!(shown.lines().all(|line| length(line) <= width), "{width}:\n{shown}");
            assert!(shown.contains("holds") && shown.contains("BROKEN") && !shown.contains('\u{1b}'));
        }
        let coloured = table(&[outcome(1.0, Some("why"))], 100, Colouring::Coloured);
        assert!(coloured.contains("known misfit: why") && coloured.contains('\u{1b}'));
    }
}
