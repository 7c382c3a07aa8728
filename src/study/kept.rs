//! What an interrupted map keeps, as text: a first line that says of which map and by which build of the program, then a line
//! for each finished column and for each refined boundary. Every line bears a checksum of itself and of the map it belongs to, and
//! nothing is believed that does not stand up to it: a line of another map has a sound text, and yet is none of this one. A checksum
//! finds accidents and is no signature: who forges such a file on purpose gets the map that he wrote.

use super::map::Cell;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

/// What is known of a map from before.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Known {
    /// Columns by number, each of as many cells as the map has rows.
    pub columns: BTreeMap<usize, Vec<Cell>>,
    /// Refined boundaries, SI in the quantity of the x axis, by the column and the row of the cell before them.
    pub edges: BTreeMap<(usize, usize), f64>,
}

/// The map to which what is kept belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Owner {
    /// Fingerprint of the build of the program.
    pub build: u64,
    /// Fingerprint of all that was asked.
    pub inputs: u64,
    /// Columns of the map.
    pub columns: usize,
    /// Rows of the map.
    pub rows: usize,
}

/// What came of reading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// What stands up.
    pub known: Known,
    /// What is not believed and why, each a short sentence.
    pub remarks: Vec<String>,
}

#[derive(Serialize, Deserialize)]
enum Line {
    Map { build: u64, inputs: u64 },
    Column { column: usize, cells: Vec<Cell> },
    Edge { column: usize, row: usize, x: f64 },
}

/// Damaged lines that are named; of more only the number is told.
const NAMED: usize = 5;

/// What a line's checksum covers beside its text: fingerprints of build and inputs.
type Salt = [u64; 2];

/// The first line must be understood whosever map it is.
const ANYBODY: Salt = [0; 2];

impl Owner {
    fn salt(&self) -> Salt {
        [self.build, self.inputs]
    }
}

/// The first line.
pub fn first_line(owner: &Owner) -> String {
    sealed(&Line::Map { build: owner.build, inputs: owner.inputs }, ANYBODY).unwrap_or_default()
}

/// The line of a column; none where it would not come back as it is.
pub fn column_line(owner: &Owner, column: usize, cells: &[Cell]) -> Option<String> {
    let line = sealed(&Line::Column { column, cells: cells.to_vec() }, owner.salt())?;
    matches!(opened(line.trim_end(), owner.salt()), Some(Line::Column { cells: back, .. }) if back == cells)
        .then_some(line)
}

/// The line of a refined boundary; none where it would not come back as it is.
pub fn edge_line(owner: &Owner, place: (usize, usize), x: f64) -> Option<String> {
    let line = sealed(&Line::Edge { column: place.0, row: place.1, x }, owner.salt())?;
    matches!(opened(line.trim_end(), owner.salt()), Some(Line::Edge { x: back, .. }) if back == x).then_some(line)
}

/// What of a text stands up: lines of that very map and build, whole and undamaged.
pub fn read(text: &[u8], owner: &Owner) -> Reading {
    let text = String::from_utf8_lossy(text);
    let mut lines = text.lines().enumerate().filter(|(_, line)| !line.is_empty());
    let Some(first) = lines.next() else { return Reading::default() };
    let strange = match opened(first.1, ANYBODY) {
        Some(Line::Map { build, inputs }) if (build, inputs) == (owner.build, owner.inputs) => None,
        Some(Line::Map { build, .. }) if build != owner.build => Some("another build of the program"),
        Some(Line::Map { .. }) => Some("other inputs"),
        _ => Some("another program, or its first line is damaged"),
    };
    if let Some(by) = strange {
        let remark = format!("what is kept there comes from {by}: none of it is used, the map is computed anew");
        return Reading { remarks: vec![remark], ..Reading::default() };
    }
    let mut reading = Reading::default();
    let mut damaged = Vec::new();
    let mut doubtful = Known::default();
    for (number, line) in lines {
        if !reading.known.take(line, owner, &mut doubtful) {
            damaged.push(number + 1);
        }
    }
    // What contradicts itself is believed in neither form.
    reading.known.columns.retain(|column, _| !doubtful.columns.contains_key(column));
    reading.known.edges.retain(|place, _| !doubtful.edges.contains_key(place));
    reading.remarks.extend(told(&damaged));
    reading
}

impl Known {
    /// Takes a line in; false where it is damaged, or contradicts another, which then is doubtful.
    fn take(&mut self, line: &str, owner: &Owner, doubtful: &mut Known) -> bool {
        match opened(line, owner.salt()) {
            Some(Line::Column { column, cells }) if column < owner.columns && cells.len() == owner.rows => {
                agrees(&mut self.columns, &mut doubtful.columns, column, cells)
            }
            Some(Line::Edge { column, row, x }) if column + 1 < owner.columns && row < owner.rows => {
                agrees(&mut self.edges, &mut doubtful.edges, (column, row), x)
            }
            _ => false,
        }
    }
}

/// Puts a value in its place; where another stands there already, it goes to the doubtful ones.
fn agrees<K: Ord, V: PartialEq>(known: &mut BTreeMap<K, V>, doubtful: &mut BTreeMap<K, V>, place: K, value: V) -> bool {
    match known.get(&place) {
        None => known.insert(place, value).is_none(),
        Some(same) if *same == value => true,
        Some(_) => {
            doubtful.insert(place, value);
            false
        }
    }
}

fn told(damaged: &[usize]) -> Option<String> {
    let named: Vec<String> = damaged.iter().take(NAMED).map(ToString::to_string).collect();
    let named = named.join(", ");
    match damaged.len() {
        0 => None,
        1 => Some(format!("line {named} is damaged: what it kept is computed again")),
        many if many <= NAMED => Some(format!("lines {named} are damaged: what they kept is computed again")),
        many => Some(format!("{many} lines are damaged ({named}, …): what they kept is computed again")),
    }
}

/// The line with its checksum before it and its end behind it.
fn sealed(line: &Line, salt: Salt) -> Option<String> {
    let text = serde_json::to_string(line).ok()?;
    Some(format!("{:016x} {text}\n", checksum(&text, salt)))
}

/// What a line says, if its checksum holds.
fn opened(line: &str, salt: Salt) -> Option<Line> {
    let (seal, text) = line.split_once(' ')?;
    if seal.len() != 16 || u64::from_str_radix(seal, 16) != Ok(checksum(text, salt)) {
        return None;
    }
    serde_json::from_str(text).ok()
}

/// SipHash of the standard library: another release may take another, but then the build is another too.
fn checksum(text: &str, salt: Salt) -> u64 {
    let mut hasher = DefaultHasher::new();
    (salt, text).hash(&mut hasher);
    hasher.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_contradicts_itself_is_believed_in_neither_form_however_often_it_stands_there() {
        let owner = Owner { build: 1, inputs: 2, columns: 3, rows: 1 };
        let column = |number, reason: &str| {
            column_line(&owner, number, &[Cell::WouldBoil(reason.into())]).expect("a column that can be kept")
        };
        let (one, other) = (column(0, "one"), column(0, "other"));
        let text = [first_line(&owner), one, other.clone(), other, column(1, "alone"), column(1, "alone")].concat();
        let reading = read(text.as_bytes(), &owner);
        assert_eq!(reading.known.columns.keys().collect::<Vec<_>>(), [&1]);
        assert_eq!(reading.remarks, ["lines 3, 4 are damaged: what they kept is computed again"]);
    }
}
