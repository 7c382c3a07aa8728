//! Usual sizes. A value far outside is questioned, since it is most often a slip of a unit or of a decimal point; one a thousand
//! times further out is no valve at all and is refused, before it turns up as a number that is none.

use super::reader::Reader;
use super::vocabulary::{self, Parameter};
use crate::key::Key;
use crate::units::{Dimension, text};

/// How far beyond the usual a value may lie before nothing can be computed with it.
const IMPOSSIBLE: f64 = 1e3;

/// Questions what is unusual and refuses what is impossible.
pub(super) fn check(reader: &mut Reader<'_>) {
    for Parameter { path, key, .. } in vocabulary::parameters() {
        let Some((low, high)) = key.usual else { continue };
        let Some(value) = reader.value(path) else { continue };
        if let Some(message) = impossible(key, value) {
            reader.problem(path, message);
        } else if value < low || value > high {
            let message = format!("{}: is this meant? {}", plain(value, key), range(key, low, high));
            reader.warn(path, message);
        }
    }
}

/// Why nothing can be computed with a value of that key; none where something can.
pub(super) fn impossible(key: &Key, value: f64) -> Option<String> {
    let (low, high) = key.usual?;
    let far = value < low / IMPOSSIBLE || value > high * IMPOSSIBLE;
    far.then(|| format!("{} cannot be computed with; {}", plain(value, key), range(key, low, high)))
}

fn range(key: &Key, low: f64, high: f64) -> String {
    format!("usual are {} to {}", plain(low, key), plain(high, key))
}

/// A value with the unit of its key.
fn plain(value: f64, key: &Key) -> String {
    text(value, key.kind.dimension().unwrap_or(Dimension::Number))
}
