//! Files that are either whole or not there.

use std::ffi::OsString;
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
}

impl WriteError {
    /// What the user can do about it.
    pub fn remedy(&self) -> &'static str {
        match self.cause.kind() {
            ErrorKind::PermissionDenied => "choose a folder in which you may write, or change its permissions",
            ErrorKind::ReadOnlyFilesystem => "choose a folder on a disk that is not read-only",
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "free some space or choose another disk",
            ErrorKind::IsADirectory | ErrorKind::DirectoryNotEmpty => {
                "the name is that of a folder; give the name of a file"
            }
            ErrorKind::NotADirectory | ErrorKind::AlreadyExists => {
                "a part of the path is a file, not a folder; choose another folder"
            }
            ErrorKind::InvalidInput | ErrorKind::InvalidFilename => "choose another file name",
            ErrorKind::NotFound => "check the path",
            _ => "check the disk and the path, or choose another folder",
        }
    }
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "cannot write {}: {}: {}; {}", self.path.display(), self.action, self.cause, self.remedy())
    }
}

impl std::error::Error for WriteError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.cause)
    }
}

static COUNTER: AtomicU64 = AtomicU64::new(0);

/// Writes a file: into a new file beside it, which then takes its name. Folders that are missing are made. A reader sees
/// the old content or the new, never a part; after a failure the old file is untouched.
pub fn write(path: &Path, content: &[u8]) -> Result<(), WriteError> {
    let failed = |action| move |cause| WriteError { path: path.to_owned(), action, cause };
    let name = path
        .file_name()
        .ok_or_else(|| io::Error::new(ErrorKind::InvalidInput, "the path names no file"))
        .map_err(failed("reading the path"))?;
    if path.is_dir() {
        let cause = io::Error::new(ErrorKind::IsADirectory, "a folder of this name exists");
        return Err(failed("replacing the file")(cause));
    }
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    fs::create_dir_all(folder).map_err(failed("making its folder"))?;
    let mut beside = OsString::from(".");
    beside.push(name);
    beside.push(format!(".{}-{}.part", process::id(), COUNTER.fetch_add(1, Ordering::Relaxed)));
    let beside = folder.join(beside);
    let written = fill(&beside, content)
        .map_err(failed("writing beside it"))
        .and_then(|()| fs::rename(&beside, path).map_err(failed("giving it its name")));
    if written.is_err() {
        // Best effort: the reason told to the user is the first failure, not this one.
        let _ = fs::remove_file(&beside);
    }
    written
}

fn fill(path: &Path, content: &[u8]) -> io::Result<()> {
    let mut file: File = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(content)?;
    file.sync_all()
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
        assert!(a_folder.contains("give the name of a file"), "{a_folder}");
        let nameless = write(Path::new("/"), b"x").expect_err("no name").to_string();
        assert!(nameless.contains("choose another file name"), "{nameless}");
        assert_eq!(fs::read(folder.join("file")).expect("read"), b"x");
        fs::remove_dir_all(folder).expect("removed");
    }
}
