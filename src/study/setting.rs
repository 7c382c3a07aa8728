//! The scenario of a document with numbers laid over it.

use crate::scenario::{Document, Problems, Scenario};

/// The scenario of a document with numbers laid over it.
pub fn scenario_at(document: &Document, settings: &[(&str, f64)]) -> Result<Scenario, String> {
    let first = |problems: Problems| problems.0.first().map_or_else(String::new, |problem| problem.message.clone());
    laid_over(document, settings).map_err(first)
}

pub(super) fn laid_over(document: &Document, settings: &[(&str, f64)]) -> Result<Scenario, Problems> {
    let mut changed = document.clone();
    for (path, value) in settings {
        changed = changed.with_number(path, *value)?;
    }
    changed.scenario().map(|(scenario, _)| scenario)
}
