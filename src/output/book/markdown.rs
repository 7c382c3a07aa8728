//! The book as a table for a README.

use super::words::{LEGEND, allowed, deviation, figures, obtained, summary};
use crate::validation::Outcome;
use std::fmt::Write;

/// What stands before the part of a README that the program writes.
pub const BEGIN: &str = "<!-- written by `quietseat validate --write`: do not edit below -->";
/// What stands behind it.
pub const END: &str = "<!-- end of what is written by the program -->";

/// The table of all numbers, with the reasons of the tolerances and the known misfits below it.
pub fn markdown(outcomes: &[Outcome]) -> String {
    let mut text = format!("{}\n\n{LEGEND}\n\n", summary(outcomes));
    text += "| case | source | quantity | ours | reference | deviation | tolerance | verdict | reference obtained |\n";
    text += "|---|---|---|--:|--:|--:|--:|---|---|\n";
    for outcome in outcomes {
        text += &rows(outcome);
    }
    text += "\nWhy the tolerances are what they are:\n\n";
    for Outcome { case, .. } in outcomes {
        let _ = writeln!(text, "- **{}**: {}.", case.name, cell(case.reason));
    }
    text += "\nMisfits that are known; the tolerance bounds the misfit itself:\n\n";
    for Outcome { case, .. } in outcomes {
        if let Some(misfit) = case.misfit {
            let _ = writeln!(text, "- **{}**: {}.", case.name, cell(misfit));
        }
    }
    text
}

/// One row for each number; what all numbers of a case share stands in its first row.
fn rows(outcome: &Outcome) -> String {
    let case = &outcome.case;
    let name = format!("[{}]({}/)", cell(case.name), case.folder);
    let (source, how) = (cell(case.source), obtained(case.obtained));
    let checks = match &outcome.checks {
        Ok(checks) => checks,
        Err(why) => return format!("| {name} | {source} | {} |  |  |  |  | not computed | {how} |\n", cell(why)),
    };
    let mut text = String::new();
    for (place, check) in checks.iter().enumerate() {
        let shared = |words: &str| if place == 0 { words.to_owned() } else { String::new() };
        let verdict = match (check.holds(), case.misfit) {
            (true, None) => "holds",
            (true, Some(_)) => "known misfit",
            (false, _) => "broken",
        };
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} | {} | {} | {} | {verdict} | {} |",
            shared(&name),
            shared(&source),
            cell(&check.quantity),
            figures(check.ours),
            figures(check.reference),
            deviation(check),
            allowed(check),
            shared(&how)
        );
    }
    text
}

/// A text that does not end its cell.
fn cell(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").replace('|', "\\|")
}

/// The README with `table` in the place between the marks; what is written by hand around them stays. A README of its own
/// where there is none, or none where one of the marks is missing.
pub fn placed(readme: Option<&str>, table: &str) -> Option<String> {
    let written = format!("{BEGIN}\n\n{table}\n{END}");
    let Some(readme) = readme else { return Some(format!("# Validation book\n\n{written}\n")) };
    let (before, rest) = readme.split_once(BEGIN)?;
    let (_, after) = rest.split_once(END)?;
    Some(format!("{before}{written}{after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_by_hand_stays() {
        let once = placed(Some(&format!("by hand\n{BEGIN}\nold\n{END}\nmore")), "new\n").expect("both marks");
        assert_eq!(once, format!("by hand\n{BEGIN}\n\nnew\n\n{END}\nmore"));
        assert_eq!(placed(Some(&once), "new\n"), Some(once.clone()));
        assert_eq!(placed(Some("no marks"), "new"), None);
        assert!(placed(None, "new").is_some_and(|text| text.starts_with("# Validation book")));
    }
}
