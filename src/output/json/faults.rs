//! A study of faults as part of the document, in SI base units.

use super::verdict::{VerdictPart, verdict_part};
use crate::study::faults::{Difference, FaultRow, FaultStudy, Outcome};
use serde::Serialize;

/// A number that a fault changes, SI.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DifferenceRow {
    /// Name of the indicator.
    pub name: &'static str,
    /// Of the sound valve; null where its run does not show it.
    pub sound: Option<f64>,
    /// With the fault.
    pub faulty: Option<f64>,
}

/// A fault switched on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FaultPart {
    /// Its path.
    pub path: String,
    /// Its name.
    pub title: &'static str,
    /// Its size, SI.
    pub size: f64,
    /// The same as --set takes it.
    pub setting: String,
    /// What it does as a rule.
    pub effect: &'static str,
    /// Verdict; null where this valve cannot have it, or the run failed.
    pub verdict: Option<VerdictPart>,
    /// The numbers that change most.
    pub differences: Vec<DifferenceRow>,
    /// Why there is no verdict; null where there is one.
    pub not_seen: Option<String>,
}

/// All faults, one after the other.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FaultsPart {
    /// Verdict of the valve as stated.
    pub sound: VerdictPart,
    /// Each fault.
    pub faults: Vec<FaultPart>,
}

/// A study of faults as part of the document.
pub fn faults_part(study: &FaultStudy) -> FaultsPart {
    FaultsPart { sound: verdict_part(&study.sound), faults: study.rows.iter().map(part).collect() }
}

fn part(row: &FaultRow) -> FaultPart {
    let (verdict, differences, not_seen) = match &row.outcome {
        Outcome::Seen { verdict, differences } => (Some(verdict_part(verdict)), &differences[..], None),
        Outcome::NotSeen(why) => (None, &[][..], Some(why.clone())),
    };
    let difference = |found: &Difference| DifferenceRow {
        name: found.sound.name,
        sound: found.sound.value,
        faulty: found.faulty.value,
    };
    FaultPart {
        path: row.path.clone(),
        title: row.title,
        size: row.size,
        setting: format!("{}={}", row.path, row.shown),
        effect: row.effect,
        verdict,
        differences: differences.iter().map(difference).collect(),
        not_seen,
    }
}
