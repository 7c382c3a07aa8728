//! Columns of an interrupted map, kept one to a line so that a torn last line costs one column.

use quietseat::scenario::Document;
use quietseat::study::map::Cell;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fs::{File, OpenOptions};
use std::io::{self, BufRead, BufReader, Write};
use std::path::Path;
use std::sync::Mutex;

#[derive(Serialize, Deserialize)]
struct Line {
    inputs: u64,
    column: usize,
    cells: Vec<Cell>,
}

/// A fingerprint of all inputs and of the program's version (FNV-1a, Fowler, Noll & Vo 1991, from memory).
pub(super) fn fingerprint(document: &Document) -> u64 {
    let scenario = document.scenario().map(|(s, _)| format!("{s:?}")).unwrap_or_default();
    let text = format!("{} {scenario}", env!("CARGO_PKG_VERSION"));
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3))
}

/// Columns in the file that were computed from the same inputs.
pub(super) fn known(path: &Path, inputs: u64) -> BTreeMap<usize, Vec<Cell>> {
    let Ok(file) = File::open(path) else { return BTreeMap::new() };
    BufReader::new(file)
        .lines()
        .map_while(Result::ok)
        .filter_map(|text| serde_json::from_str::<Line>(&text).ok())
        .filter(|line| line.inputs == inputs)
        .map(|line| (line.column, line.cells))
        .collect()
}

/// A file to which finished columns are added.
pub(super) struct Keeper {
    inputs: u64,
    file: Mutex<File>,
}

impl Keeper {
    /// Begin anew, or go on where `append` is set.
    pub(super) fn open(path: &Path, inputs: u64, append: bool) -> io::Result<Self> {
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder)?;
        }
        let mut options = OpenOptions::new();
        options.create(true).write(true);
        let mut file = if append { options.append(true).open(path)? } else { options.truncate(true).open(path)? };
        // A torn last line must not swallow the next one.
        if append {
            file.write_all(b"\n")?;
        }
        Ok(Keeper { inputs, file: Mutex::new(file) })
    }

    /// Add a column; what cannot be kept is computed again next time.
    pub(super) fn keep(&self, column: usize, cells: &[Cell]) {
        let line = Line { inputs: self.inputs, column, cells: cells.to_vec() };
        if let (Ok(text), Ok(mut file)) = (serde_json::to_string(&line), self.file.lock()) {
            let _ = file.write_all(format!("{text}\n").as_bytes());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_comes_back_with_its_reasons() {
        let path = std::env::temp_dir().join(format!("quietseat-resume-{}.partial", std::process::id()));
        let cells = [Cell::WouldBoil("too warm".into()), Cell::Failed("too stiff".into())];
        let keeper = Keeper::open(&path, 7, false).expect("written");
        keeper.keep(3, &cells);
        let back = known(&path, 7);
        let other = known(&path, 8);
        std::fs::remove_file(&path).expect("removed");
        assert_eq!(back.get(&3).map(Vec::as_slice), Some(cells.as_slice()));
        assert!(other.is_empty());
    }
}
