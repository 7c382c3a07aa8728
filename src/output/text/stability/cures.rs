//! What damps the leading mode, as a table.

use super::column::{Align, table};
use super::{indented, pressure, value};
use crate::study::stability::cure::{Cure, Outcome};
use crate::study::stability::reading::Change;

pub(super) fn text(cures: &[Cure], width: usize) -> String {
    if cures.is_empty() {
        return String::new();
    }
    let rows: Vec<[String; 6]> = cures.iter().map(row).collect();
    let head = ["change one parameter", "today", "needed", "change", "reached", "slope"];
    let align = [Align::Left, Align::Right, Align::Right, Align::Right, Align::Left, Align::Right];
    let note = "needed: where small oscillations stop growing; a stage that stays shut is no cure. slope: growth rate gained by \
                1 % more of the parameter, 1/s; below zero: more of it damps.";
    "\nWhat damps it (smallest change first)\n".to_owned()
        + &table(&head, &align, &rows, width)
        + &indented(note, width)
}

fn row(cure: &Cure) -> [String; 6] {
    let (needed, reached) = match cure.needed {
        None => ("–".to_owned(), "beyond ×4"),
        Some((needed, outcome)) => (
            value(needed, cure.dimension),
            match outcome {
                Outcome::Quiet => "quiet",
                Outcome::Opens => "opens",
                Outcome::StaysShut => "stays shut",
            },
        ),
    };
    [
        cure.words.to_owned(),
        value(cure.value, cure.dimension),
        needed,
        cure.change().map_or_else(|| "–".to_owned(), change),
        reached.to_owned(),
        signed(format!("{:+.2}", 0.01 * cure.sensitivity)),
    ]
}

fn change(change: Change) -> String {
    match change {
        Change::Share(share) => signed(format!("{:+.0} %", 100.0 * share)),
        Change::Pressure(by) if by < 0.0 => pressure(by),
        Change::Pressure(by) => format!("+{}", pressure(by)),
    }
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
