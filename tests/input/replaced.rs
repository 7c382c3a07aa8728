//! The water demonstration with a piece of its text replaced, and what is then wrong with it.

use crate::demo;
use quietseat::scenario::{Document, Problems};

/// The demonstration whose text is changed.
pub(crate) const WATER: &str = "water-bang";

/// The demonstration with one piece of text replaced.
pub(crate) fn changed(from: &str, to: &str) -> Document {
    let text = demo::text(WATER);
    assert!(text.contains(from), "{from}");
    Document::from_text("scenarios/changed.toml", text.replacen(from, to, 1))
}

/// All that is wrong with a document.
pub(crate) fn problems(document: &Document) -> Problems {
    document.scenario().expect_err("there is something wrong with it")
}

/// Messages without their places.
pub(crate) fn messages(document: &Document) -> Vec<String> {
    problems(document).0.into_iter().map(|problem| problem.message).collect()
}
