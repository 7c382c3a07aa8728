//! Parts out of the tables of a document.

use super::defaults::Defaults;
use super::reader::Reader;
use super::vocabulary::{self, join};
use crate::key::{Key, Stated, Way};

impl<'d> Reader<'d> {
    /// What a thing is, of the ways in which it can be stated; not-a-numbers of the first way where none is. Nothing is asked of
    /// a table that is missing as a whole, which is reported once.
    pub(super) fn one_of<T>(&mut self, what: &str, ways: &[Way<T>]) -> T {
        self.one_of_knowing(what, ways, &[])
    }

    /// The same where some numbers are known already.
    pub(super) fn one_of_knowing<T>(&mut self, what: &str, ways: &[Way<T>], known: &[(Key, f64)]) -> T {
        let group = vocabulary::group(what);
        let chosen = if self.states(group.table) { self.needed_choice(what) } else { None };
        match chosen {
            Some(number) => {
                let place = group.ways[number][0];
                let table = if vocabulary::table(place).is_some() { place } else { group.table };
                (ways[number].read)(&mut self.table(table).knowing(known))
            }
            None => (ways[0].read)(&mut Nothing),
        }
    }

    /// A table, whose keys are then read.
    pub(super) fn table(&mut self, path: &'static str) -> TableReader<'_, 'd> {
        TableReader { reader: self, path, known: &[], defaults: &[] }
    }
}

/// A table of the document, from which a part is read.
pub(super) struct TableReader<'r, 'd> {
    reader: &'r mut Reader<'d>,
    path: &'static str,
    known: &'r [(Key, f64)],
    defaults: Defaults,
}

impl<'r> TableReader<'r, '_> {
    /// The same, of which some numbers are known already.
    pub(super) fn knowing(self, known: &'r [(Key, f64)]) -> Self {
        TableReader { known, ..self }
    }

    /// The same with defaults.
    pub(super) fn or(self, defaults: Defaults) -> Self {
        TableReader { defaults, ..self }
    }

    /// A number that must be stated for a reason that is told.
    pub(super) fn number_because(&mut self, key: &Key, reason: &str) -> f64 {
        self.reader.number_because(&join(self.path, key.name), reason)
    }
}

impl Stated for TableReader<'_, '_> {
    fn number(&mut self, key: &Key) -> f64 {
        let among =
            |list: &[(Key, f64)]| list.iter().find(|(other, _)| other.name == key.name).map(|(_, value)| *value);
        if let Some(value) = among(self.known) {
            return value;
        }
        let path = join(self.path, key.name);
        match among(self.defaults) {
            Some(default) => self.reader.number_or(&path, default),
            None => self.reader.number(&path),
        }
    }

    fn optional(&mut self, key: &Key) -> Option<f64> {
        self.reader.optional(&join(self.path, key.name))
    }
}

/// Nothing is stated, which has been reported.
struct Nothing;

impl Stated for Nothing {
    fn number(&mut self, _: &Key) -> f64 {
        f64::NAN
    }

    fn optional(&mut self, _: &Key) -> Option<f64> {
        None
    }
}
