//! Values out of a document: each wrong or missing one becomes a problem and stands as not-a-number until the end, so that
//! one reading finds all problems.

use std::borrow::Cow;
use std::sync::Arc;

use super::document::Document;
use super::layer::{Entry, Given};
use super::problem::{Place, Problem, Warning};
use super::row::{Origin, Row};
use super::value::{STANDARD_ATMOSPHERE, meaning, number_of, path_of, text_of, word_of};
use super::vocabulary::{self, Parameter};
use crate::key::Kind;
use crate::quote;
use crate::units::Dimension;

/// Reads values and collects problems.
pub(super) struct Reader<'d> {
    document: &'d Document,
    atmosphere: f64,
    problems: Vec<Problem>,
    warnings: Vec<Warning>,
    rows: Option<Vec<Row>>,
    missing_tables: Vec<&'static str>,
}

impl<'d> Reader<'d> {
    /// Reads that document; values that were used are kept where `keep_rows` is said.
    pub(super) fn new(document: &'d Document, keep_rows: bool) -> Reader<'d> {
        Reader {
            document,
            atmosphere: document.atmosphere(),
            problems: document.problems().to_vec(),
            warnings: Vec::new(),
            rows: keep_rows.then(Vec::new),
            missing_tables: Vec::new(),
        }
    }

    pub(super) fn document(&self) -> &'d Document {
        self.document
    }

    /// What was found: all problems, all remarks, and the values that were used where they were to be kept.
    pub(super) fn found(self) -> (Vec<Problem>, Vec<Warning>, Vec<Row>) {
        (self.problems, self.warnings, self.rows.unwrap_or_default())
    }

    /// Is that key, or that table or anything in it, stated?
    pub(super) fn states(&self, path: &str) -> bool {
        self.document.states(path)
    }

    /// A number that must be stated; not-a-number where it is not.
    pub(super) fn number(&mut self, path: &str) -> f64 {
        match self.optional(path) {
            Some(value) => value,
            None => {
                self.missing(path);
                f64::NAN
            }
        }
    }

    /// A number that must be stated for a reason that is told; not needed where the reason is empty.
    pub(super) fn number_because(&mut self, path: &str, reason: &str) -> f64 {
        if reason.is_empty() {
            return self.optional(path).unwrap_or(f64::NAN);
        }
        let before = self.problems.len();
        let value = self.number(path);
        if let Some(problem) = self.problems.get_mut(before).filter(|_| !self.document.states(path)) {
            problem.message = format!("{} ({reason})", problem.message);
        }
        value
    }

    /// A number that may be stated; not-a-number where it is stated wrongly.
    pub(super) fn optional(&mut self, path: &str) -> Option<f64> {
        let (parameter, entry) = self.find(path)?;
        let dimension = self.document.dimension(path)?;
        let found = number_of(parameter, dimension, entry, self.atmosphere);
        let value = self.accept(path, entry, found).unwrap_or(f64::NAN);
        let origin = match &entry.given {
            Given::Spelled(..) => Origin::Derived(entry.given.typed().into()),
            given => Origin::Typed(given.typed()),
        };
        self.note(path, value, dimension, origin);
        Some(value)
    }

    /// A number as stated, without a word about it; none where it is not stated or cannot be read.
    pub(super) fn value(&self, path: &str) -> Option<f64> {
        let (parameter, entry) = self.find(path)?;
        number_of(parameter, self.document.dimension(path)?, entry, self.atmosphere).ok()
    }

    /// A number with a documented default.
    pub(super) fn number_or(&mut self, path: &str, default: f64) -> f64 {
        if let Some(value) = self.optional(path) {
            return value;
        }
        if let Some(dimension) = self.document.dimension(path) {
            self.note(path, default, dimension, Origin::Default);
        }
        default
    }

    /// A whole number with a documented default.
    pub(super) fn count_or(&mut self, path: &str, default: usize) -> usize {
        let value = self.number_or(path, default as f64);
        // The range of every count lies far inside what a usize holds; a wrong one is not-a-number and turns into 0.
        value as usize
    }

    /// Text that must be stated; empty where it is not.
    pub(super) fn text(&mut self, path: &str) -> String {
        if self.find(path).is_none() {
            self.missing(path);
        }
        self.optional_text(path).unwrap_or_default()
    }

    /// Text that may be stated.
    pub(super) fn optional_text(&mut self, path: &str) -> Option<String> {
        let (parameter, entry) = self.find(path)?;
        let found = match parameter.key.kind {
            Kind::Path => path_of(parameter, entry),
            _ => text_of(parameter, entry),
        };
        self.accept(path, entry, found)
    }

    /// The position of a word among those that the key allows.
    pub(super) fn word(&mut self, path: &str) -> Option<&'static str> {
        let (parameter, entry) = self.find(path)?;
        let Kind::Word(words) = parameter.key.kind else {
            return None;
        };
        let found = word_of(words, parameter, entry);
        self.accept(path, entry, found)
    }

    /// Which way of saying something the file chose; more than one is a problem.
    pub(super) fn choice(&mut self, what: &str) -> Option<usize> {
        let group = vocabulary::group(what);
        let mut given: Vec<(usize, &'static str)> = Vec::new();
        for (index, way) in group.ways.iter().enumerate() {
            let stated = way.iter().find(|place| self.document.states(place));
            given.extend(stated.map(|place| (index, *place)));
        }
        for (_, place) in given.iter().skip(1) {
            let first = given[0].1;
            let what = group.what;
            self.problem(place, format!("`{first}` and `{place}` both state {what}; keep one of them"));
        }
        given.first().map(|(index, _)| *index)
    }

    /// The same where one way is needed.
    pub(super) fn needed_choice(&mut self, what: &str) -> Option<usize> {
        let chosen = self.choice(what);
        let group = vocabulary::group(what);
        if chosen.is_none() && !self.document.broken() {
            let heading = self.heading(group.table);
            let place = self.document.table_place(group.table);
            self.problems
                .push(Problem::at(&place, format!("{heading} does not state {what}: write {}", group.words())));
        }
        chosen
    }

    /// Reports a missing value, or once the missing table.
    pub(super) fn missing(&mut self, path: &str) {
        if self.document.broken() {
            return;
        }
        let table = vocabulary::parent(path);
        let place = self.document.table_place(table);
        let Some(parameter) = vocabulary::parameter(path).map(|number| &vocabulary::parameters()[number]) else {
            return;
        };
        if table.is_empty() || self.document.states(table) {
            let key = parameter.key;
            let message = format!(
                "{} lacks `{}`, the {}: wanted {}",
                self.heading(table),
                key.name,
                meaning(key.meaning),
                key.kind.wanted()
            );
            self.problems.push(Problem::at(&place, message));
            return;
        }
        let known = vocabulary::tables()[parameter.table];
        if !self.missing_tables.contains(&known.path) {
            self.missing_tables.push(known.path);
            let names = vocabulary::names_in(known.path).join(", ");
            self.problems
                .push(Problem::at(&place, format!("the table [{}] is missing; it holds: {names}", known.path)));
        }
    }

    /// Text as typed, not read yet.
    pub(super) fn typed_text(&self, path: &str) -> Option<Arc<str>> {
        match &self.find(path)?.1.given {
            Given::Text(text) => Some(text.clone()),
            _ => None,
        }
    }

    /// The name of the pipe from which a number comes, since another of the pipe's numbers was restated.
    pub(super) fn pipe_behind(&self, path: &str) -> Option<Arc<str>> {
        match &self.find(path)?.1.given {
            Given::Spelled(_, name) => Some(name.clone()),
            _ => None,
        }
    }

    /// Adds a problem with a value that is stated.
    pub(super) fn problem(&mut self, path: &str, message: impl Into<String>) {
        self.problems.push(Problem::at(&self.document.place_of(path), message));
    }

    /// The same for a message that repeats text of the file.
    pub(super) fn misread(&mut self, path: &str, message: impl Into<String>) {
        self.problems.push(Problem::quoting(&self.document.place_of(path), message, path));
    }

    /// Adds a problem at a place.
    pub(super) fn problem_at(&mut self, place: &Place, message: impl Into<String>) {
        self.problems.push(Problem::at(place, message));
    }

    /// The same where the liquid would have boiled before the valve: a result of the state, no mistake in the file.
    pub(super) fn would_boil(&mut self, path: &str, message: impl Into<String>) {
        let mut problem = Problem::at(&self.document.place_of(path), message);
        problem.would_boil = true;
        self.problems.push(problem);
    }

    /// Of keys and tables that this valve does without: one that was set by hand is a problem, for it would change nothing; those that
    /// a file states are told in one warning.
    pub(super) fn unused(&mut self, places: &[&str], why: &str) {
        let inside = |path: &str| places.iter().any(|place| vocabulary::within(path, place));
        let stated = vocabulary::parameters().iter().map(|parameter| parameter.path.as_str());
        let stated: Vec<&str> = stated.filter(|path| inside(path) && self.states(path)).collect();
        let (by_hand, written): (Vec<&str>, Vec<&str>) =
            stated.into_iter().partition(|path| self.document.place_of(path).is_by_hand());
        for path in by_hand {
            self.problem(path, format!("`{path}` would change nothing: {why}"));
        }
        if let Some(first) = written.first() {
            let rest = match written.len() - 1 {
                0 => String::new(),
                more => format!(" and {more} more that belong to it"),
            };
            self.warn(first, format!("`{first}`{rest} is not used: {why}"));
        }
    }

    /// Adds a warning about a value.
    pub(super) fn warn(&mut self, path: &str, message: impl Into<String>) {
        self.warnings.push(Warning(Problem::at(&self.document.place_of(path), message)));
    }

    /// Records a value that follows from others.
    pub(super) fn derived(&mut self, path: &str, value: f64, dimension: Dimension, from: impl Into<Cow<'static, str>>) {
        self.note(path, value, dimension, Origin::Derived(from.into()));
    }

    /// The same, unless that very value is stated.
    pub(super) fn derived_unless_stated(&mut self, path: &str, value: f64, dimension: Dimension, from: &'static str) {
        if !self.states(path) {
            self.derived(path, value, dimension, from);
        }
    }

    /// Atmospheric pressure, Pa absolute, for what is not read through [`Reader::number`]; standard where it is missing, which
    /// is reported by itself.
    pub(super) fn atmosphere(&self) -> f64 {
        if self.atmosphere.is_nan() { STANDARD_ATMOSPHERE } else { self.atmosphere }
    }

    fn note(&mut self, path: &str, value: f64, dimension: Dimension, origin: Origin) {
        if let Some(rows) = &mut self.rows {
            let mut row = Row::new(path, value, dimension, origin);
            if let Some(file) = self.document.foreign_file(path) {
                row.typed = format!("{} (in {})", row.typed, quote::path(file));
            }
            rows.push(row);
        }
    }

    fn find(&self, path: &str) -> Option<(&'static Parameter, &'d Entry)> {
        let number = vocabulary::parameter(path)?;
        self.document.entry_at(number).map(|entry| (&vocabulary::parameters()[number], entry))
    }

    fn accept<T>(&mut self, path: &str, entry: &Entry, found: Result<T, String>) -> Option<T> {
        let problem = |message| Problem::quoting(&entry.place, format!("{path}: {message}"), path);
        found.map_err(|message| self.problems.push(problem(message))).ok()
    }

    fn heading(&self, table: &str) -> String {
        if table.is_empty() { "the file".to_owned() } else { format!("[{table}]") }
    }
}
