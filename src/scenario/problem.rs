//! What is wrong with a scenario and where.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

/// A file as read.
#[derive(Debug)]
pub(super) struct SourceFile {
    /// Name as it is shown.
    pub(super) name: String,
    /// Text.
    pub(super) text: String,
}

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
    /// The line of the file and the number of characters to be underlined.
    excerpt: Option<(String, usize)>,
}

/// Something odd that does not prevent a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Warning(pub Problem);

/// All problems of a scenario, in the order of the files.
#[derive(Clone, Debug, PartialEq)]
pub struct Problems(pub Vec<Problem>);

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

    /// A problem with a setting as typed.
    pub(super) fn of_setting(typed: &str, message: String) -> Problem {
        Problem { origin: format!("setting {typed}"), position: None, message, would_boil: false, excerpt: None }
    }

    /// A problem with a whole file.
    pub(super) fn of_file(name: &str, message: String) -> Problem {
        Problem { origin: name.to_owned(), position: None, message, would_boil: false, excerpt: None }
    }

    fn in_file(file: &SourceFile, span: &Range<usize>, message: String) -> Problem {
        let text = &file.text;
        let start = boundary(text, span.start);
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line_end = text[start..].find('\n').map_or(text.len(), |at| start + at);
        let line = text[line_start..line_end].trim_end_matches('\r');
        let end = boundary(text, span.end).clamp(start, line_end);
        let column = text[line_start..start].chars().count() + 1;
        let marked = text[start..end].trim_end().chars().count().max(1);
        Problem {
            origin: file.name.clone(),
            position: Some((before.matches('\n').count() + 1, column)),
            message,
            would_boil: false,
            // A whole file has no line of its own to be shown.
            excerpt: (!span.is_empty()).then(|| (line.replace('\t', " "), marked)),
        }
    }
}

/// The nearest character boundary at or below a byte index.
fn boundary(text: &str, index: usize) -> usize {
    let mut index = index.min(text.len());
    while !text.is_char_boundary(index) {
        index -= 1;
    }
    index
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
        Ok(())
    }
}

impl std::error::Error for Problem {}
impl std::error::Error for Problems {}

impl From<Problem> for Problems {
    fn from(problem: Problem) -> Problems {
        Problems(vec![problem])
    }
}

fn write_located(problem: &Problem, severity: &str, out: &mut fmt::Formatter<'_>) -> fmt::Result {
    let Problem { origin, position, message, excerpt, .. } = problem;
    let Some((line, column)) = position else {
        return write!(out, "{origin}: {severity}{message}");
    };
    write!(out, "{origin}:{line}:{column}: {severity}{message}")?;
    let Some((text, marked)) = excerpt else {
        return Ok(());
    };
    let gutter = line.to_string().len().max(4);
    write!(out, "\n{line:>gutter$} | {text}\n{:>gutter$} | {:>pad$}{}", "", "", "^".repeat(*marked), pad = column - 1)
}
