//! What an interrupted map keeps, in a file beside its figure.

use super::{Failure, terminal};
use quietseat::file::read::{self, Links};
use quietseat::file::write;
use quietseat::scenario::{Document, echo};
use quietseat::study::axis::Grid;
use quietseat::study::kept::{Known, Owner, Reading, column_line, edge_line, first_line, read};
use quietseat::study::stability_map::Progress;
use std::collections::BTreeMap;
use std::fs::File;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Longest line of a cell; no cell comes near it.
const LONGEST_CELL: u64 = 64 << 10;

/// The file is written anew as a whole each time; it takes at most this share of the time.
const SHARE_OF_TIME: u32 = 20;

/// Whose the map is: this very build of the program, and all that was asked of it.
pub(super) fn owner(document: &Document, grid: &Grid) -> Result<Owner, Failure> {
    let mut inputs = DefaultHasher::new();
    let (scenario, _) = document.scenario()?;
    format!("{scenario:?}").hash(&mut inputs);
    for row in echo(document)? {
        (row.path, row.si, row.typed).hash(&mut inputs);
    }
    document.settings().hash(&mut inputs);
    Ok(Owner { build: build()?, inputs: inputs.finish(), columns: grid.x.values.len(), rows: grid.y.values.len() })
}

/// A fingerprint of the program as it lies on the disk: another build may compute otherwise, be its version the same.
fn build() -> Result<u64, Failure> {
    let failed = |error: std::io::Error| {
        Failure(format!(
            "cannot read the program's own file: {error}; by it, what an interrupted map keeps is told apart"
        ))
    };
    let mut file = File::open(std::env::current_exe().map_err(failed)?).map_err(failed)?;
    let (mut hasher, mut piece) = (DefaultHasher::new(), vec![0; 1 << 20]);
    loop {
        match file.read(&mut piece).map_err(failed)? {
            0 => return Ok(hasher.finish()),
            read => hasher.write(&piece[..read]),
        }
    }
}

/// What is kept in the file; nothing where there is none.
fn kept(path: &Path, owner: &Owner) -> Result<Reading, Failure> {
    let most = LONGEST_CELL * (2 + owner.columns as u64 * owner.rows as u64);
    match read::bytes(path, Links::Refused, most) {
        Ok(text) => Ok(read(&text, owner)),
        Err(error) if error.is_missing() => Ok(Reading::default()),
        Err(error) => Err(Failure(format!(
            "{error}: what an interrupted map keeps would stand there; take it away or choose another folder with --out"
        ))),
    }
}

/// Where a line stands in the file.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    First,
    Column(usize),
    Edge(usize, usize),
}

/// The file in which a map keeps what it has.
pub(super) struct Keeper {
    path: PathBuf,
    owner: Owner,
    state: Mutex<State>,
}

struct State {
    lines: BTreeMap<Place, String>,
    written: Instant,
    took: Duration,
    /// Why what is there is not in the file, if so.
    trouble: Option<String>,
}

impl Keeper {
    /// Opens the file, and what stands up of what is in it. That stays in the file whether it is used or not: it is the same
    /// that is computed again.
    pub(super) fn open(path: PathBuf, owner: &Owner) -> Result<(Keeper, Reading), Failure> {
        let reading = kept(&path, owner)?;
        let columns = reading.known.columns.iter();
        let columns = columns.filter_map(|(&i, cells)| Some((Place::Column(i), column_line(owner, i, cells)?)));
        let edges = reading.known.edges.iter();
        let edges = edges.filter_map(|(&at, &x)| Some((Place::Edge(at.0, at.1), edge_line(owner, at, x)?)));
        let first = (Place::First, first_line(owner));
        let lines = std::iter::once(first).chain(columns).chain(edges).collect();
        let mut state = State { lines, written: Instant::now(), took: Duration::ZERO, trouble: None };
        state.write(&path).map_err(|error| Failure(format!("{error} with --out")))?;
        Ok((Keeper { path, owner: *owner, state: Mutex::new(state) }, reading))
    }

    /// Keeps what was found. What cannot be kept is said at once, and tried again with what is found next.
    pub(super) fn keep(&self, progress: &Progress<'_>) {
        let (place, line) = match *progress {
            Progress::Column(column, cells) => (Place::Column(column), column_line(&self.owner, column, cells)),
            Progress::Edge { place, x, .. } => (Place::Edge(place.0, place.1), edge_line(&self.owner, place, x)),
            Progress::Theory => return,
        };
        let Some(line) = line else { return };
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        let news = state.lines.insert(place, line.clone()) != Some(line);
        if !news || state.written.elapsed() < SHARE_OF_TIME * state.took {
            return;
        }
        let known = state.trouble.is_some();
        if let (Err(error), false) = (state.write(&self.path), known) {
            terminal::say(format!(
                "warning: what is done cannot be kept: {error}. The map goes on and tries again; stopped now, it would be lost"
            ));
        }
    }

    /// Writes what is not yet written.
    pub(super) fn finish(&self) -> Result<(), Failure> {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        Ok(state.write(&self.path)?)
    }

    /// Columns that are kept.
    pub(super) fn columns(&self) -> usize {
        let state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.lines.keys().filter(|place| matches!(place, Place::Column(_))).count()
    }

    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    /// Nothing of it is needed any more. Best effort: it is in nobody's way.
    pub(super) fn remove(&self) {
        let _ = std::fs::remove_file(&self.path);
    }
}

impl State {
    fn write(&mut self, path: &Path) -> Result<(), write::WriteError> {
        let begun = Instant::now();
        let text: String = self.lines.values().map(String::as_str).collect();
        let result = write::write(path, text.as_bytes());
        (self.written, self.took) = (Instant::now(), begun.elapsed());
        self.trouble = result.as_ref().err().map(ToString::to_string);
        result
    }
}

/// What to say of what was kept before.
pub(super) fn remarks(reading: &Reading, resume: bool) -> Vec<String> {
    let Known { columns, edges } = &reading.known;
    let (columns, edges) = (columns.len(), edges.len());
    let mut said: Vec<String> = Vec::new();
    if resume {
        let kept = if edges > 0 { format!(" and {edges} refined boundaries") } else { String::new() };
        said.push(format!("resume: {columns} columns{kept} of this map are kept from before"));
        said.extend(reading.remarks.iter().map(|remark| format!("resume: {remark}")));
    } else if columns > 0 {
        said.push(format!(
            "remark: {columns} columns of this very map are kept from before; with --resume they would not be computed again"
        ));
    }
    said
}
