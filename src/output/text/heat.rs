//! A study of a coil's heat for a terminal.

use super::layout::{NARROWEST, padded, paragraph};
use crate::study::coil_heat::Armature;
use crate::study::heat::HeatStudy;
use crate::units::{Dimension, text};

/// Sentences, the verdict first, and the on-shares that the limit allows.
pub fn heat_text(study: &HeatStudy, width: usize) -> String {
    let width = width.max(NARROWEST);
    let mut out = paragraph(&study.question, width) + &paragraph(&study.data, width);
    for setting in &study.overrides {
        out += &paragraph(&format!("changed: {setting}"), width);
    }
    for (i, sentence) in study.findings.iter().enumerate() {
        let mark = match (i, study.adverse()) {
            (0, true) => "!",
            _ => "·",
        };
        out += if i == 0 { "\n" } else { "" };
        out += &item(mark, sentence, width);
    }
    if !study.allowed.is_empty() {
        out += &format!("\n{}", paragraph("How long the coil may be on within its limit:", width));
        out += &table(study);
    }
    out.push('\n');
    for remark in &study.remarks {
        out += &paragraph(remark, width);
    }
    out
}

fn item(mark: &str, sentence: &str, width: usize) -> String {
    let mut lines = String::new();
    for (i, line) in paragraph(sentence, width.saturating_sub(3)).lines().enumerate() {
        lines += &format!("{} {line}\n", if i == 0 { mark } else { " " });
    }
    lines
}

fn table(study: &HeatStudy) -> String {
    const WIDE: usize = 14;
    let mut out = format!("  {}", padded("cycle rate", WIDE));
    for panel in &study.panels {
        out += &padded(heading(panel.armature, study), WIDE + 4);
    }
    out = format!("{}\n", out.trim_end());
    for row in &study.allowed {
        let mut line = format!("  {}", padded(&text(row.rate, Dimension::CycleRate), WIDE));
        for share in &row.shares {
            line += &padded(&allowed(*share), WIDE + 4);
        }
        out += &format!("{}\n", line.trim_end());
    }
    out
}

/// Above a column: with direct current there is one, whatever the armature does.
fn heading(armature: Armature, study: &HeatStudy) -> &'static str {
    match armature {
        _ if study.panels.len() == 1 => "on",
        Armature::ComesIn => "armature in",
        Armature::StaysOut => "armature out",
    }
}

fn allowed(share: f64) -> String {
    if share >= 1.0 { "continuously".to_owned() } else { text((1000.0 * share).floor() / 1000.0, Dimension::Fraction) }
}
