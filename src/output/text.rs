//! Tables and sentences for a terminal. Plain text; colour only where the caller says so; lines keep within the width.

mod closing;
mod colouring;
mod faults;
mod fluid;
mod heat;
mod layout;
mod map;
mod stability;
mod surge;
mod value;

pub use closing::{Points, closing_text};
pub use colouring::Colouring;
pub use faults::faults_text;
pub use fluid::{fluid_list_text, fluid_state_text};
pub use heat::heat_text;
pub use layout::paragraph;
pub(super) use layout::{length, padded, wrap};
pub use map::map_summary;
pub use stability::stability_text;
pub use surge::surge_text;
pub(super) use surge::{flow_words, line_words, three_figures};

use self::colouring::painted;
use self::layout::{NARROWEST, shortened};
use self::value::{told, two_figures};
use super::plot::tick::number;
use crate::indicator::Indicators;
use crate::verdict::Verdict;

/// Which indicators a table lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extent {
    /// Those that the run showed.
    Shown,
    /// All; a dash for those that it did not show.
    All,
}

/// One line of the ledger: what, how much, in which unit.
#[derive(Clone, Debug, PartialEq)]
pub struct LedgerLine<'a> {
    /// What.
    pub name: &'a str,
    /// How much.
    pub value: f64,
    /// In which unit.
    pub unit: &'a str,
}

/// The indicators with their values in both systems of units, and their definitions where the width allows.
pub fn indicator_table(indicators: &Indicators, extent: Extent, width: usize) -> String {
    let width = width.max(NARROWEST);
    let rows: Vec<[String; 4]> = indicators
        .list()
        .into_iter()
        .filter(|i| extent == Extent::All || i.value.is_some())
        .map(|i| {
            let (si, us) = told(&i);
            [i.name.replace('_', " "), si, us, i.definition.to_owned()]
        })
        .collect();
    if rows.is_empty() {
        return "The run showed no indicators.\n".to_owned();
    }
    let column = |n: usize| rows.iter().map(|r| length(&r[n])).max().unwrap_or(0);
    let (name, si, us) = (column(0).min(width / 2), column(1), column(2));
    let mut text = String::new();
    for row in &rows {
        let line =
            format!("{}  {}  {}", padded(&shortened(&row[0], name), name), padded(&row[1], si), padded(&row[2], us));
        let used = length(&line) + 2;
        if width > used + 30 {
            let wrapped = wrap(&row[3], width - used);
            text += &format!("{line}  {}\n", wrapped.first().map_or("", String::as_str));
            for more in wrapped.iter().skip(1) {
                text += &format!("{}{more}\n", " ".repeat(used));
            }
        } else {
            text += line.trim_end();
            text.push('\n');
        }
    }
    text
}

/// The verdict: each finding with its sentence, the gravest first.
pub fn verdict_text(verdict: &Verdict, width: usize, colouring: Colouring) -> String {
    if verdict.findings.is_empty() {
        return "No finding.\n".to_owned();
    }
    let mut text = String::new();
    let reservation = verdict.reservation();
    for (i, finding) in verdict.findings.iter().enumerate() {
        let mark = if finding.adverse { "!" } else { "·" };
        let words = painted(finding.behaviour.words(), finding.behaviour, colouring);
        let but = if i == 0 && !verdict.not_judged.is_empty() { "; a bang on opening is not judged" } else { "" };
        text += &format!("{mark} {words}{}{but}\n", in_brackets(finding.margin));
        for line in wrap(&finding.reason, width.max(NARROWEST) - 4) {
            text += &format!("    {line}\n");
        }
    }
    let within = verdict.no_hammer.iter().flat_map(|words| wrap(words, width.max(NARROWEST) - 2));
    for (i, line) in within.enumerate() {
        text += &format!("{} {line}\n", if i == 0 { "·" } else { "   " });
    }
    for line in reservation.iter().flat_map(|words| wrap(words, width.max(NARROWEST) - 2)).enumerate() {
        text += &format!("{} {}\n", if line.0 == 0 { "?" } else { "   " }, line.1);
    }
    text
}

/// Margins nearer to their threshold than this are told as a distance from it.
const NEAR: f64 = 0.1;

/// A margin in brackets: the factor, or near the threshold how far over or below. A finding without a measure has the margin 1
/// exactly, and nothing to tell.
fn in_brackets(margin: f64) -> String {
    let off = 100.0 * (margin - 1.0);
    if margin == 1.0 {
        String::new()
    } else if off.abs() < 100.0 * NEAR {
        format!(" ({} % {} the threshold)", number(two_figures(off.abs())), if off > 0.0 { "over" } else { "below" })
    } else {
        format!(" (margin {})", number(margin))
    }
}

/// The ledger: names, values, units in columns.
pub fn ledger_table(lines: &[LedgerLine], width: usize) -> String {
    let width = width.max(NARROWEST);
    let values: Vec<String> = lines.iter().map(|l| format!("{} {}", number(l.value), l.unit)).collect();
    let widest = values.iter().map(|v| length(v)).max().unwrap_or(0);
    let longest = lines.iter().map(|l| length(l.name)).max().unwrap_or(0);
    let name = longest.min(width.saturating_sub(widest + 2)).max(8);
    let row =
        |(line, value): (&LedgerLine, &String)| format!("{}  {value}\n", padded(&shortened(line.name, name), name));
    lines.iter().zip(&values).map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verdict::{Behaviour, Finding};

    fn widest(text: &str) -> usize {
        text.lines().map(length).max().unwrap_or(0)
    }

    fn some() -> Indicators {
        Indicators {
            closing_time: Some(0.0523),
            inlet_peak_closing: Some(11.7e5),
            highest_opening_differential: Some(14e5),
            mean_lift: Some(f64::NAN),
            ..Indicators::default()
        }
    }

    #[test]
    fn tables_keep_within_the_width() {
        for width in [60, 80, 120, 200] {
            for extent in [Extent::Shown, Extent::All] {
                let table = indicator_table(&some(), extent, width);
                assert!(widest(&table) <= width.max(72), "{width}:\n{table}");
            }
        }
        let table = indicator_table(&some(), Extent::Shown, 120);
        assert!(table.contains("11.7 bar(a)") && table.contains("170 psia"), "{table}");
        assert_eq!(indicator_table(&Indicators::default(), Extent::Shown, 80), "The run showed no indicators.\n");
    }

    #[test]
    fn a_verdict_is_wrapped_and_coloured_only_on_demand() {
        let reason = "The main stage strikes its seat 38 times a second because the line gives way faster than the chamber fills.";
        let finding = Finding { behaviour: Behaviour::Chatters, adverse: true, margin: 3.2, reason: reason.into() };
        let verdict = Verdict { findings: vec![finding], ..Verdict::default() };
        let plain = verdict_text(&verdict, 60, Colouring::Plain);
        assert!(plain.starts_with("! chatters (margin 3.2)\n") && widest(&plain) <= 60 && !plain.contains('\u{1b}'));
        assert!(verdict_text(&verdict, 60, Colouring::Coloured).contains('\u{1b}'));
        assert_eq!(verdict_text(&Verdict::default(), 60, Colouring::Plain), "No finding.\n");
    }

    #[test]
    fn a_margin_near_its_threshold_is_a_distance_from_it() {
        for (margin, wanted) in [
            (1.0012, " (0.12 % over the threshold)"),
            (1.0234, " (2.3 % over the threshold)"),
            (0.96, " (4 % below the threshold)"),
            (1.3, " (margin 1.3)"),
            (1.0, ""),
        ] {
            assert_eq!(in_brackets(margin), wanted);
        }
    }

    #[test]
    fn what_is_not_judged_stands_in_the_line_of_the_verdict() {
        let finding =
            Finding { behaviour: Behaviour::OpensFully, adverse: false, margin: 3.0, reason: "It rests.".into() };
        let verdict =
            Verdict { findings: vec![finding], not_judged: vec!["the line may be empty".into()], ..Verdict::default() };
        let text = verdict_text(&verdict, 100, Colouring::Plain);
        assert!(text.starts_with("· opens fully (margin 3); a bang on opening is not judged\n"), "{text}");
        assert!(text.ends_with("? A bang on opening is not judged: the line may be empty.\n"), "{text}");
    }

    #[test]
    fn a_ledger_has_aligned_columns() {
        let line = |name, value| LedgerLine { name, value, unit: "kg" };
        let table = ledger_table(&[line("in from the supply", 1.25), line("out", -1.25)], 80);
        assert_eq!(table, "in from the supply  1.25 kg\nout                 −1.25 kg\n");
        assert_eq!(ledger_table(&[], 80), "");
    }

    #[test]
    fn long_words_are_broken_not_lost() {
        assert_eq!(wrap("abcdefgh ij", 3), ["abc", "def", "gh", "ij"]);
        assert_eq!(paragraph("", 10), "");
    }
}
