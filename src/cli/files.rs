//! The files of a command.

use super::outcome::Failure;
use super::{interrupt, terminal};
use quietseat::file::write;
use std::path::{Path, PathBuf};

/// Write files that belong together, whole; their paths.
pub(super) fn written(files: Vec<(PathBuf, Vec<u8>)>) -> Result<Vec<PathBuf>, Failure> {
    interrupt::unbroken(|| Ok(write::write_all(&files)?))?;
    Ok(files.into_iter().map(|(path, _)| path).collect())
}

/// A folder that cannot be written into is found out before the work, not after it.
pub(super) fn probe(folder: &Path) -> Result<(), Failure> {
    interrupt::unbroken(|| {
        write::probe(folder).map_err(|error| Failure(format!("{error}; --out names another folder")))
    })
}

/// The end of a command that has both files and words: where one fails, the other is there all the same.
pub(super) fn finished(
    files: Result<Vec<PathBuf>, Failure>,
    printed: Result<(), Failure>,
    quiet: bool,
) -> Result<(), Failure> {
    for file in files.iter().flatten().filter(|_| !quiet) {
        terminal::say(format!("wrote {}", file.display()));
    }
    match (files, printed) {
        (Err(Failure(one)), Err(Failure(other))) => Err(Failure(format!("{one}; and {other}"))),
        (files, printed) => files.and(printed),
    }
}
