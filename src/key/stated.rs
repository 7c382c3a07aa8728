//! A key, and where values come from.

use super::kind::Kind;
use super::range::Range;

/// A key of a table.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// Name in its table.
    pub name: &'static str,
    /// Title of an axis or column, in the words of the trade; `{}` stands for what its table is about.
    pub title: &'static str,
    /// Kind of value.
    pub kind: Kind,
    /// Possible values.
    pub range: Range,
    /// What it is.
    pub meaning: &'static str,
    /// Usual sizes of a number, SI. All by judgement, wide enough for valves from a pilot of a millimetre to a port of 150 mm; no
    /// source.
    pub usual: Option<(f64, f64)>,
    /// Needed only in some scenarios, or with a documented default: it can be taken away with "none".
    pub removable: bool,
}

/// Where the numbers of a part come from.
pub trait Stated {
    /// One that is needed; not-a-number where it is missing or wrong, which its source reports.
    fn number(&mut self, key: &Key) -> f64;

    /// One that may be left out; not-a-number where it is wrong.
    fn optional(&mut self, key: &Key) -> Option<f64>;
}

/// A field that is filled from what is stated.
pub trait Field {
    /// What is stated under that key.
    fn taken(stated: &mut dyn Stated, key: &Key) -> Self;
}

impl Field for f64 {
    fn taken(stated: &mut dyn Stated, key: &Key) -> f64 {
        stated.number(key)
    }
}

impl Field for Option<f64> {
    fn taken(stated: &mut dyn Stated, key: &Key) -> Option<f64> {
        stated.optional(key)
    }
}

/// One way of saying what a thing is.
#[derive(Clone, Copy, Debug)]
pub struct Way<T> {
    /// The keys that this way takes.
    pub keys: &'static [Key],
    /// Reads them.
    pub read: fn(&mut dyn Stated) -> T,
}

/// A comment without the space that it begins with.
pub(crate) const fn trimmed(comment: &'static str) -> &'static str {
    match comment.as_bytes() {
        [b' ', ..] => comment.split_at(1).1,
        _ => comment,
    }
}
