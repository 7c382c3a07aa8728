//! A study of faults for a terminal.

use super::layout::{NARROWEST, paragraph};
use super::value::told;
use crate::indicator::Indicator;
use crate::study::asked::Asked;
use crate::study::faults::{Difference, FaultRow, FaultStudy, Outcome};
use crate::verdict::Verdict;

/// What the sound valve does, then each fault with what it does to this one.
pub fn faults_text(asked: &Asked, study: &FaultStudy, width: usize) -> String {
    let width = width.max(NARROWEST);
    let mut out = format!("{}{}", paragraph(&asked.question, width), paragraph(&asked.data, width));
    for setting in &asked.overrides {
        out += &format!("changed: {setting}\n");
    }
    out += &format!("\nAs stated: {}\n", words(&study.sound));
    let (seen, rest): (Vec<_>, Vec<_>) = study.rows.iter().partition(|row| matches!(row.outcome, Outcome::Seen { .. }));
    for row in seen {
        out += &seen_text(row, width);
    }
    if !rest.is_empty() {
        out += "\nNot on this valve:\n";
    }
    for row in rest {
        if let Outcome::NotSeen(why) = &row.outcome {
            out += &indented(&format!("{} {}: {why}", row.title, row.shown), width);
        }
    }
    out
}

fn seen_text(row: &FaultRow, width: usize) -> String {
    let Outcome::Seen { verdict, differences } = &row.outcome else { return String::new() };
    let mut out = format!("\n{}: {}\n", row.title, row.shown);
    out += &indented(&format!("as a rule: {}", row.effect), width);
    out += &indented(&format!("here: {}", words(verdict)), width);
    let told: Vec<String> = differences.iter().map(differs).collect();
    let told = if told.is_empty() { "no measurable number changes by a tenth".to_owned() } else { told.join("; ") };
    out += &indented(&told, width);
    out + &indented(&format!("--set \"{}={}\"", row.path, row.shown), width)
}

/// All that is found, the gravest first.
fn words(verdict: &Verdict) -> String {
    verdict.findings.iter().map(|finding| finding.behaviour.words()).collect::<Vec<_>>().join(", ")
}

fn differs(difference: &Difference) -> String {
    let shown = |indicator: &Indicator| if indicator.value.is_some() { told(indicator).0 } else { "none".to_owned() };
    let name = difference.sound.name.replace('_', " ");
    format!("{name} {} instead of {}", shown(&difference.faulty), shown(&difference.sound))
}

fn indented(sentence: &str, width: usize) -> String {
    paragraph(sentence, width - 2).lines().map(|line| format!("  {line}\n")).collect()
}
