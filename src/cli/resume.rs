//! What an interrupted map keeps, in a file beside its figure. Its name holds the fingerprint of build and inputs, so that a trial
//! with another value, or two maps at once, never meet in one file.

use super::outcome::Failure;
use super::terminal;
use quietseat::file::read::{self, Links};
use quietseat::file::write;
use quietseat::quote;
use quietseat::scenario::{Document, echo};
use quietseat::study::axis::Grid;
use quietseat::study::kept::{Owner, Reading, column_line, edge_line, first_line, read};
use quietseat::study::map_job::Progress;
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
            "cannot read the program's own file: {error}; it is needed to tell whether what was kept comes from this build"
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
            "{error}. A map keeps its progress under this name: move what is there away, or choose another folder with --out"
        ))),
    }
}

/// How the names of such files end.
const ENDING: &str = ".partial";

fn name_of(scenario: &str, owner: &Owner) -> String {
    let mut hasher = DefaultHasher::new();
    (owner.build, owner.inputs).hash(&mut hasher);
    format!("{scenario}.map.{:08x}{ENDING}", hasher.finish() >> 32)
}

/// Parts of other maps of the same scenario in the folder.
fn others(folder: &Path, scenario: &str, own: &str) -> Vec<String> {
    let begin = format!("{scenario}.map.");
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let names = entries.map(|entry| entry.file_name().to_string_lossy().into_owned());
    let mut found: Vec<String> =
        names.filter(|name| name.starts_with(&begin) && name.ends_with(ENDING) && name != own).collect();
    found.sort();
    found
}

/// "1 column" or "7 columns".
pub(super) fn counted(number: usize, one: &str, many: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{number} {many}") }
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
    /// Columns in the file.
    columns: usize,
    /// Does the file lack what is there, as the last try to write it failed?
    trouble: bool,
}

impl Keeper {
    /// Opens the map's file in a folder, and what stands up of what is in it. That stays in the file whether it is used or not:
    /// it is the same that is computed again.
    pub(super) fn open(folder: &Path, scenario: &str, owner: &Owner) -> Result<(Keeper, Before), Failure> {
        let name = name_of(scenario, owner);
        let others = others(folder, scenario, &name);
        let path = folder.join(name);
        let reading = kept(&path, owner)?;
        let columns = reading.known.columns.iter();
        let columns = columns.filter_map(|(&i, cells)| Some((Place::Column(i), column_line(owner, i, cells)?)));
        let edges = reading.known.edges.iter();
        let edges = edges.filter_map(|(&at, &x)| Some((Place::Edge(at.0, at.1), edge_line(owner, at, x)?)));
        let first = (Place::First, first_line(owner));
        let lines = std::iter::once(first).chain(columns).chain(edges).collect();
        let mut state = State { lines, written: Instant::now(), took: Duration::ZERO, columns: 0, trouble: false };
        state.write(&path).map_err(|error| {
            let known = reading.known.columns.len();
            let moved = format!("; to go on elsewhere, move {} there", quote::path(&path.display().to_string()));
            Failure(format!("{error}; --out names another folder{}", if known > 0 { moved } else { String::new() }))
        })?;
        Ok((Keeper { path, owner: *owner, state: Mutex::new(state) }, Before { reading, others }))
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
        let known = state.trouble;
        if let (Err(error), false) = (state.write(&self.path), known) {
            let kept = counted(state.columns, "column", "columns");
            terminal::say(format!(
                "warning: what is done cannot be kept: {error}. The map goes on and tries again; stopped now, all but the first \
                 {kept} would be lost"
            ));
        }
    }

    /// Writes what is not yet written; what is kept then, and why that is not all, if so.
    pub(super) fn finish(&self, columns: usize) -> String {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        let failed = state.write(&self.path).err();
        let (kept, path) = (state.columns, quote::path(&self.path.display().to_string()).into_owned());
        let verb = if kept == 1 { "is" } else { "are" };
        match failed {
            None => {
                format!("{kept} of {columns} columns {verb} kept in {path}: go on with the same command and --resume")
            }
            Some(error) => {
                format!("{kept} of {columns} columns {verb} kept in {path}, what was done since is lost: {error}")
            }
        }
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
        self.trouble = result.is_err();
        if !self.trouble {
            self.columns = self.lines.keys().filter(|place| matches!(place, Place::Column(_))).count();
        }
        result
    }
}

/// What was found in the folder before the work.
pub(super) struct Before {
    /// What is kept of this very map.
    pub(super) reading: Reading,
    /// Names of the files in which other maps of the scenario keep theirs.
    others: Vec<String>,
}

impl Before {
    /// What to say of it.
    pub(super) fn remarks(&self, resume: bool) -> Vec<String> {
        let (columns, edges) = (self.reading.known.columns.len(), self.reading.known.edges.len());
        let columns_counted = counted(columns, "column", "columns");
        let mut said: Vec<String> = Vec::new();
        match (resume, columns) {
            (true, 0) => {
                said.push("resume: nothing is kept of this very map, it is computed from the start".to_owned())
            }
            (true, _) => {
                let also = format!(" and {}", counted(edges, "refined boundary", "refined boundaries"));
                let also = if edges > 0 { also } else { String::new() };
                said.push(format!("resume: kept from before: {columns_counted}{also} of this map"));
            }
            (false, 0) => {}
            (false, _) => said.push(format!(
                "remark: kept from before: {columns_counted} of this very map; with --resume that is not computed again"
            )),
        }
        if resume {
            said.extend(self.reading.remarks.iter().map(|remark| format!("resume: {remark}")));
        }
        if let (Some(first), true) = (self.others.first(), columns == 0) {
            said.push(format!(
                "remark: left alone in the same folder: {} of this scenario with other inputs or by another build, {first}{}",
                counted(self.others.len(), "interrupted map", "interrupted maps"),
                if self.others.len() > 1 { ", …" } else { "" }
            ));
        }
        said
    }
}
