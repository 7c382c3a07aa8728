//! The book as one JSON document.
//!
//! ```text
//! program, version, command    who answered; "validate"
//! holds                        are all cases computed and all numbers within their tolerances?
//! cases[]                      { folder, name, source, obtained, reason, misfit, holds, failure, checks[] }
//! cases[].checks[]             { quantity, ours, reference, deviation, tolerance, relative, holds }
//! ```
//!
//! A number that is infinite or none at all is null.

use super::words::obtained;
use crate::validation::Outcome;
use crate::validation::case::{Check, Tolerance};
use serde::Serialize;

/// The whole book.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BookDocument {
    /// Name of the program.
    pub program: String,
    /// Its version.
    pub version: String,
    /// What was asked: "validate".
    pub command: &'static str,
    /// Does every case hold?
    pub holds: bool,
    /// The cases.
    pub cases: Vec<CasePart>,
}

/// One case.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CasePart {
    /// Folder under `validation/`.
    pub folder: &'static str,
    /// What it is about.
    pub name: &'static str,
    /// Author, title, place, year.
    pub source: &'static str,
    /// How the reference was obtained.
    pub obtained: String,
    /// Why the tolerance is what it is.
    pub reason: &'static str,
    /// A misfit that is known.
    pub misfit: Option<&'static str>,
    /// Are all numbers within their tolerances?
    pub holds: bool,
    /// Why it could not be computed.
    pub failure: Option<String>,
    /// The numbers.
    pub checks: Vec<CheckPart>,
}

/// One number against its reference.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CheckPart {
    /// What is compared, with its unit.
    pub quantity: String,
    /// Number of this program.
    pub ours: f64,
    /// Reference.
    pub reference: f64,
    /// Deviation in the terms of the tolerance.
    pub deviation: f64,
    /// Allowed deviation.
    pub tolerance: f64,
    /// Is it a share of the reference?
    pub relative: bool,
    /// Is it within its tolerance?
    pub holds: bool,
}

impl BookDocument {
    /// The document as text.
    pub fn text(&self) -> String {
        // A structure of text, numbers and flags cannot fail to be written.
        serde_json::to_string_pretty(self).unwrap_or_default()
    }
}

/// The document of all outcomes.
pub fn book_document(program: &str, version: &str, outcomes: &[Outcome]) -> BookDocument {
    BookDocument {
        program: program.into(),
        version: version.into(),
        command: "validate",
        holds: outcomes.iter().all(Outcome::holds),
        cases: outcomes.iter().map(case).collect(),
    }
}

fn case(outcome: &Outcome) -> CasePart {
    let case = &outcome.case;
    CasePart {
        folder: case.folder,
        name: case.name,
        source: case.source,
        obtained: obtained(case.obtained),
        reason: case.reason,
        misfit: case.misfit,
        holds: outcome.holds(),
        failure: outcome.checks.as_ref().err().cloned(),
        checks: outcome.checks.iter().flatten().map(check).collect(),
    }
}

fn check(check: &Check) -> CheckPart {
    let (Tolerance::Relative(tolerance) | Tolerance::Absolute(tolerance)) = check.tolerance;
    CheckPart {
        quantity: check.quantity.clone(),
        ours: check.ours,
        reference: check.reference,
        deviation: check.deviation(),
        tolerance,
        relative: matches!(check.tolerance, Tolerance::Relative(_)),
        holds: check.holds(),
    }
}
