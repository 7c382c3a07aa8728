//! A study of stability in words and tables.

mod column;
mod cures;
mod equilibria;
mod words;

use super::colouring::Colouring;
use super::layout::{NARROWEST, paragraph};
use crate::study::stability::{Crossing, StabilityStudy};
use crate::units::Dimension;
use column::{Align, table};
use std::fmt::Write;
use words::{both, pressure, value};

/// The study: the explanation first, then the numbers behind it.
pub fn stability_text(study: &StabilityStudy, width: usize, colouring: Colouring) -> String {
    let width = width.max(NARROWEST);
    let mut text = paragraph(&study.question, width) + &paragraph(&study.data, width);
    for setting in &study.overrides {
        let _ = writeln!(text, "changed: {setting}");
    }
    text.push('\n');
    for sentence in &study.sentences {
        text += &paragraph(sentence, width);
    }
    text += &equilibria::text(study, width, colouring);
    text += &bounds(study, width);
    text += &boundaries(&study.crossings, width);
    text += &cures::text(study, width);
    let miscounted = study.here.miscounted();
    if miscounted > 0 {
        let warning = format!(
            "Warning: at {miscounted} of the equilibria the growing modes that were found are not as many as the argument \
             principle counts. Do not trust the list of modes there; check with `quietseat run`."
        );
        text = text + "\n" + &paragraph(&warning, width);
    }
    for remark in &study.remarks {
        text = text + "\n" + &paragraph(&format!("Remark: {remark}"), width);
    }
    text
}

fn or_dash(text: Option<String>) -> String {
    text.unwrap_or_else(|| "–".to_owned())
}

fn bounds(study: &StabilityStudy, width: usize) -> String {
    let (exact, by_hand) = (&study.limits, &study.by_hand);
    let row = |words: &str, exact: Option<f64>, hand: Option<f64>| {
        [words.to_owned(), or_dash(exact.map(both)), or_dash(hand.map(pressure))]
    };
    let rows = [
        row("the shut stage lifts off at", exact.lift_off, by_hand.lift_off),
        row("the open stage leaves its stop below", exact.full_lift, by_hand.full_lift),
        row("lowest with the stage off its seat", exact.least_open, None),
    ];
    let head = ["circuit differential at which", "exact", "by hand"];
    let found = exact.lift_off.is_some() && exact.full_lift.is_some();
    let note = if found {
        ""
    } else {
        "  –: at no differential that makes a sound scenario is the stage in balance there\n"
    };
    "\nBounds of the states\n".to_owned()
        + &table(&head, &[Align::Left, Align::Right, Align::Right], &rows, width)
        + note
}

fn boundaries(crossings: &[Crossing], width: usize) -> String {
    if crossings.is_empty() {
        return "\nBoundaries: none; the floating stage does not change between quiet and swinging on the curve.\n"
            .into();
    }
    let rows: Vec<[String; 6]> = crossings
        .iter()
        .map(|c| {
            [
                both(c.differential),
                format!("{:.1} %", 100.0 * c.lift),
                pressure(c.across),
                value(c.frequency, Dimension::Frequency),
                match c.hard {
                    Some(true) => "hard (jump)",
                    Some(false) => "soft (small)",
                    None => "not known",
                }
                .to_owned(),
                if c.quiet_above { "above" } else { "below" }.to_owned(),
            ]
        })
        .collect();
    let head = ["circuit differential", "lift", "across valve", "frequency", "onset", "quiet"];
    let align = [Align::Left, Align::Right, Align::Right, Align::Right, Align::Left, Align::Left];
    "\nBoundaries of oscillation\n".to_owned() + &table(&head, &align, &rows, width)
}
