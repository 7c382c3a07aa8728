//! Files that are either whole or not there.

use crate::quote;
use std::ffi::{OsStr, OsString};
use std::fmt;
use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::process;
use std::sync::atomic::{AtomicU64, Ordering};

/// Why a file was not written, and what helps.
#[derive(Debug)]
pub struct WriteError {
    /// The file that was to be written.
    pub path: PathBuf,
    /// What was being done.
    pub action: &'static str,
    /// The cause.
    pub cause: io::Error,
    /// Files that belong to it and have been written already.
    pub before: Vec<PathBuf>,
}

impl WriteError {
    /// What the user can do about it.
    pub fn remedy(&self) -> &'static str {
        if self.cause.raw_os_error() == Some(TOO_MANY_OPEN) {
            return "too many files are open: raise the limit (ulimit -n)";
        }
        match self.cause.kind() {
            ErrorKind::PermissionDenied => "choose a folder in which you may write, or change its permissions",
            ErrorKind::ReadOnlyFilesystem => "choose a folder on a disk that is not read-only",
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "free some space or choose another disk",
            ErrorKind::FileTooLarge => "raise the limit on the size of a file (ulimit -f) or choose another disk",
            ErrorKind::IsADirectory | ErrorKind::DirectoryNotEmpty => "rename that folder, or write into another one",
            ErrorKind::NotADirectory | ErrorKind::AlreadyExists => {
                "a part of the path is a file, not a folder; choose another folder"
            }
            ErrorKind::InvalidInput | ErrorKind::InvalidFilename => "choose a shorter or simpler name",
            ErrorKind::NotFound => "check the path",
            _ => "check the disk and the path, or choose another folder",
        }
    }
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        let shown = |path: &Path| quote::path(&path.display().to_string()).into_owned();
        write!(f, "cannot write {}: {}: {}; {}", shown(&self.path), self.action, self.cause, self.remedy())?;
        match self.before.as_slice() {
            [] => Ok(()),
            before => {
                let names: Vec<String> = before.iter().map(|path| shown(path)).collect();
                write!(f, " (already replaced: {})", names.join(", "))
            }
        }
    }
}

impl std::error::Error for WriteError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.cause)
    }
}

/// The system's number for too many open files, the same on Linux, macOS and the BSDs.
const TOO_MANY_OPEN: i32 = 24;

/// Tries of a name for a part.
const TRIES: usize = 16;

/// What stands between the name of a file and that of its part.
const ENDING: &str = ".part";

static COUNTER: AtomicU64 = AtomicU64::new(0);

/// Writes a file: into a new file beside it, which then takes its name. Folders that are missing are made. A reader sees
/// the old content or the new, never a part; after a failure the old file is untouched.
pub fn write(path: &Path, content: &[u8]) -> Result<(), WriteError> {
    Part::filled(path, content)?.named()
}

/// Writes several files that belong together: none takes its name before all are written.
pub fn write_all(files: &[(PathBuf, Vec<u8>)]) -> Result<(), WriteError> {
    let parts: Vec<Part> = files.iter().map(|(path, content)| Part::filled(path, content)).collect::<Result<_, _>>()?;
    for (number, part) in parts.into_iter().enumerate() {
        let before = || files[..number].iter().map(|(path, _)| path.clone()).collect();
        part.named().map_err(|error| WriteError { before: before(), ..error })?;
    }
    Ok(())
}

/// Can files be written into a folder, which is made if missing? Nothing that is there is touched.
pub fn probe(folder: &Path) -> Result<(), WriteError> {
    let failed = |action| move |cause| WriteError { path: folder.to_owned(), action, cause, before: Vec::new() };
    let place = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    fs::create_dir_all(place).map_err(failed("making the folder"))?;
    let name = OsStr::new("probe");
    let mut part = Part::begun(&place.join(name), place, name).map_err(failed("writing into the folder"))?;
    part.fill(b"?").map_err(failed("writing into the folder"))
}

/// A new file beside the one whose name it will take; removed where it does not come to that. It is locked while its writer
/// lives: one that is not locked was left by a writer that was ended.
struct Part {
    path: PathBuf,
    beside: PathBuf,
    // Holds the lock while it is open.
    file: File,
    kept: bool,
}

impl Part {
    fn filled(path: &Path, content: &[u8]) -> Result<Part, WriteError> {
        let failed = |action| move |cause| WriteError { path: path.to_owned(), action, cause, before: Vec::new() };
        let name = path
            .file_name()
            .ok_or_else(|| io::Error::new(ErrorKind::InvalidInput, "the path names no file"))
            .map_err(failed("reading the path"))?;
        if path.is_dir() {
            let cause = io::Error::new(ErrorKind::IsADirectory, "a folder has this name");
            return Err(failed("replacing the file")(cause));
        }
        let folder = folder_of(path);
        fs::create_dir_all(folder).map_err(failed("making its folder"))?;
        sweep(folder, name);
        let mut part = Part::begun(path, folder, name).map_err(failed("writing beside it"))?;
        part.fill(content).map_err(failed("writing beside it"))?;
        Ok(part)
    }

    /// An empty part that is locked.
    fn begun(path: &Path, folder: &Path, name: &OsStr) -> io::Result<Part> {
        for _ in 0..TRIES {
            let mut beside = OsString::from(".");
            beside.push(name);
            beside.push(format!(".{}-{}{ENDING}", process::id(), COUNTER.fetch_add(1, Ordering::Relaxed)));
            let beside = folder.join(beside);
            let file = match OpenOptions::new().write(true).create_new(true).open(&beside) {
                // Left by a program of the same number that was ended.
                Err(error) if error.kind() == ErrorKind::AlreadyExists => continue,
                opened => opened?,
            };
            let part = Part { path: path.to_owned(), beside, file, kept: false };
            // Another writer that sweeps may have taken it for one left behind; where there are no locks, none sweeps.
            let swept = matches!(part.file.try_lock(), Err(fs::TryLockError::WouldBlock));
            if !swept && part.beside.exists() {
                return Ok(part);
            }
        }
        Err(io::Error::new(ErrorKind::AlreadyExists, "no name for a part is free"))
    }

    fn fill(&mut self, content: &[u8]) -> io::Result<()> {
        self.file.write_all(content)?;
        self.file.sync_all()
    }

    /// Gives the part its name.
    fn named(mut self) -> Result<(), WriteError> {
        fs::rename(&self.beside, &self.path).map_err(|cause| WriteError {
            path: self.path.clone(),
            action: "giving it its name",
            cause,
            before: Vec::new(),
        })?;
        self.kept = true;
        // Best effort: so that the name outlives a power cut too. Not every system can.
        if let Ok(folder) = File::open(folder_of(&self.path)) {
            let _ = folder.sync_all();
        }
        Ok(())
    }
}

impl Drop for Part {
    fn drop(&mut self) {
        if !self.kept {
            // Best effort: the reason told to the user is the first failure, not this one.
            let _ = fs::remove_file(&self.beside);
        }
    }
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Removes parts of a file whose writer was ended before it could. Best effort: they are in nobody's way.
fn sweep(folder: &Path, name: &OsStr) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let left = is_part_of(&entry.file_name(), name) && entry.file_type().is_ok_and(|kind| kind.is_file());
        if left && File::open(entry.path()).is_ok_and(|file| file.try_lock().is_ok()) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Is it the name of a part of a file of that name?
fn is_part_of(part: &OsStr, name: &OsStr) -> bool {
    let (Some(part), Some(name)) = (part.to_str(), name.to_str()) else { return false };
    let numbers = part
        .strip_prefix('.')
        .and_then(|rest| rest.strip_prefix(name))
        .and_then(|rest| rest.strip_prefix('.'))
        .and_then(|rest| rest.strip_suffix(ENDING))
        .and_then(|rest| rest.split_once('-'));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    numbers.is_some_and(|(one, other)| digits(one) && digits(other))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("quietseat-write-{}-{name}", process::id()));
        let _ = fs::remove_dir_all(&folder);
        folder
    }

    #[test]
    fn makes_folders_replaces_and_leaves_nothing_beside() {
        let folder = folder("whole");
        let path = folder.join("a/b/map.csv");
        write(&path, b"one").expect("first");
        write(&path, b"two").expect("second");
        assert_eq!(fs::read(&path).expect("read"), b"two");
        assert_eq!(fs::read_dir(path.parent().expect("parent")).expect("list").count(), 1);
        fs::remove_dir_all(folder).expect("removed");
    }

    #[test]
    fn errors_name_the_path_and_the_remedy() {
        let folder = folder("errors");
        write(&folder.join("file"), b"x").expect("written");
        let under_a_file = write(&folder.join("file/map.csv"), b"x").expect_err("under a file").to_string();
        assert!(
            under_a_file.contains("file/map.csv") && under_a_file.contains("choose another folder"),
            "{under_a_file}"
        );
        let a_folder = write(&folder, b"x").expect_err("a folder").to_string();
        assert!(a_folder.contains("rename that folder"), "{a_folder}");
        let nameless = write(Path::new("/"), b"x").expect_err("no name").to_string();
        assert!(nameless.contains("choose a shorter or simpler name"), "{nameless}");
        assert_eq!(fs::read(folder.join("file")).expect("read"), b"x");
        fs::remove_dir_all(folder).expect("removed");
    }

    #[test]
    fn files_that_belong_together_come_together_or_not_at_all() {
        let folder = folder("together");
        let in_the_way = folder.join("b.svg");
        fs::create_dir_all(&in_the_way).expect("a folder");
        let files = [(folder.join("a.csv"), b"new".to_vec()), (in_the_way, b"new".to_vec())];
        fs::write(&files[0].0, b"old").expect("written");
        write_all(&files).expect_err("a folder is in the way");
        assert_eq!(fs::read(&files[0].0).expect("read"), b"old");
        assert_eq!(fs::read_dir(&folder).expect("list").count(), 2, "no part is left");
        write_all(&[files[0].clone(), (folder.join("c.svg"), b"new".to_vec())]).expect("written");
        assert_eq!(fs::read(&files[0].0).expect("read"), b"new");
        fs::remove_dir_all(folder).expect("removed");
    }

    #[test]
    fn parts_left_by_a_writer_that_was_ended_are_swept_and_others_spared() {
        let folder = folder("swept");
        let path = folder.join("map.csv");
        write(&path, b"one").expect("written");
        let beside = |name: &str| folder.join(name);
        let mine = [".map.csv.part", ".quietseat", ".map.csv.7-x.part", ".other.csv.7-0.part", "map.csv.7-0.part"];
        for name in mine.into_iter().chain([".map.csv.7-0.part"]) {
            fs::write(beside(name), b"half").expect("written");
        }
        let living = Part::filled(&path, b"two").expect("written");
        assert!(!beside(".map.csv.7-0.part").exists(), "what was left behind is gone");
        write(&path, b"three").expect("written");
        assert!(living.beside.exists(), "the part of a living writer stays");
        living.named().expect("named");
        assert_eq!(fs::read(&path).expect("read"), b"two");
        probe(&folder).expect("can be written");
        assert!(mine.iter().all(|name| beside(name).exists()), "a user's own files stay");
        assert_eq!(fs::read_dir(&folder).expect("list").count(), mine.len() + 1);
        fs::remove_dir_all(folder).expect("removed");
    }
}
