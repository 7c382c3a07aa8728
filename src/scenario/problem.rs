//! What is wrong with a scenario and where.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

use super::source::{Excerpt, SourceFile};
use crate::quote;

/// Problems that are listed at most: who mends these mends most of the others.
pub(super) const LISTED: usize = 50;

/// What is said instead of a text that must not be shown.
const NOT_QUOTED: &str = "what stands there is not repeated here, since that file lies outside the folder of the scenario that was \
                          opened; check that file by itself";

/// Where a value comes from.
#[derive(Clone, Debug)]
pub(super) enum Place {
    /// A piece of a file.
    File {
        /// The file.
        file: Arc<SourceFile>,
        /// Bytes.
        span: Range<usize>,
    },
    /// A setting as typed.
    Setting(Arc<str>),
    /// A number laid over the document by a study.
    Number,
}

impl Place {
    /// Is it in a file whose text must not be shown?
    pub(super) fn is_foreign(&self) -> bool {
        matches!(self, Place::File { file, .. } if file.foreign)
    }

    /// Was it set by hand, or by a study?
    pub(super) fn is_by_hand(&self) -> bool {
        matches!(self, Place::Setting(_) | Place::Number)
    }

    /// Is it the same piece of the same file? What was set by hand is nowhere twice.
    pub(super) fn same(&self, other: &Place) -> bool {
        match (self, other) {
            (Place::File { file, span }, Place::File { file: other, span: at }) => {
                Arc::ptr_eq(file, other) && span == at
            }
            (Place::File { .. } | Place::Setting(_) | Place::Number, _) => false,
        }
    }
}

impl fmt::Display for Place {
    /// Such as `scenarios/water-bang.toml:18:12`, or the setting as typed.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Problem { origin, position, .. } = Problem::at(self, "");
        match position {
            Some((line, column)) => write!(out, "{origin}:{line}:{column}"),
            None => write!(out, "{origin}"),
        }
    }
}

/// One problem, with its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// File name, or the setting as typed.
    pub origin: String,
    /// Line and column in the file, from 1; none for a setting.
    pub position: Option<(usize, usize)>,
    /// What was found and what is wanted.
    pub message: String,
    /// Is it no mistake in the file but a liquid that would have boiled before the valve?
    pub would_boil: bool,
    /// The line of the file.
    excerpt: Option<Excerpt>,
}

/// Something odd that does not prevent a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Warning(pub Problem);

/// The first problems of a scenario, in the order of the files, and how many more there are.
#[derive(Clone, Debug, PartialEq)]
pub struct Problems(pub Vec<Problem>, pub usize);

impl Problem {
    /// A problem at a place.
    pub(super) fn at(place: &Place, message: impl Into<String>) -> Problem {
        let message = message.into();
        match place {
            Place::File { file, span } => Problem::in_file(file, span, message),
            Place::Setting(typed) => Problem::of_setting(typed, message),
            Place::Number => Problem::of_setting("number", message),
        }
    }

    /// A problem whose message repeats what stands in the file, and what may be said of it where that must not be shown.
    pub(super) fn quoting(place: &Place, message: impl Into<String>, unquoted: &str) -> Problem {
        if place.is_foreign() {
            return Problem::at(place, format!("{unquoted}: {NOT_QUOTED}"));
        }
        Problem::at(place, message)
    }

    /// A problem with a setting as typed.
    pub(super) fn of_setting(typed: &str, message: String) -> Problem {
        let shown = if typed.is_empty() { "\"\"".into() } else { quote::word(typed) };
        Problem::of(format!("setting {shown}"), message)
    }

    /// A problem with a whole file.
    pub(super) fn of_file(name: &str, message: String) -> Problem {
        Problem::of(quote::path(name).into_owned(), message)
    }

    fn of(origin: String, message: String) -> Problem {
        let message = quote::message(&message).into_owned();
        Problem { origin, position: None, message, would_boil: false, excerpt: None }
    }

    fn in_file(file: &SourceFile, span: &Range<usize>, message: String) -> Problem {
        Problem {
            position: Some(file.position(span.start)),
            // A whole file has no line of its own to be shown.
            excerpt: (!span.is_empty() && !file.foreign).then(|| file.excerpt(span)),
            ..Problem::of_file(&file.name, message)
        }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_located(self, "", out)
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_located(&self.0, "warning: ", out)
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, problem) in self.0.iter().enumerate() {
            if index > 0 {
                writeln!(out)?;
            }
            write!(out, "{problem}")?;
        }
        match self.1 {
            0 => Ok(()),
            1 => write!(out, "\nand one more problem: mend these first"),
            more => write!(out, "\nand {more} more problems: mend these first"),
        }
    }
}

impl std::error::Error for Problem {}
impl std::error::Error for Problems {}

impl From<Problem> for Problems {
    fn from(problem: Problem) -> Problems {
        Problems(vec![problem], 0)
    }
}

impl Problems {
    /// Those that are listed; the others are counted.
    pub(super) fn first(mut problems: Vec<Problem>, further: usize) -> Problems {
        let more = problems.len().saturating_sub(LISTED);
        problems.truncate(LISTED);
        Problems(problems, further + more)
    }
}

fn write_located(problem: &Problem, severity: &str, out: &mut fmt::Formatter<'_>) -> fmt::Result {
    let Problem { origin, position, message, excerpt, .. } = problem;
    let Some((line, column)) = position else {
        return write!(out, "{origin}: {severity}{message}");
    };
    write!(out, "{origin}:{line}:{column}: {severity}{message}")?;
    let Some(Excerpt { text, before, marked }) = excerpt else {
        return Ok(());
    };
    let gutter = line.to_string().len().max(4);
    write!(out, "\n{line:>gutter$} | {text}\n{:>gutter$} | {:>pad$}{}", "", "", "^".repeat(*marked), pad = *before)
}
