//! Regular files, read to a limit: a device that never ends and a pipe to which nobody writes must not hold the program up.

use crate::quote;
use std::fmt;
use std::fs::{self, File, FileType, Metadata};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

/// May a link stand in a file's place?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Links {
    /// Links are followed, as for a file that its user names.
    Followed,
    /// A link is refused, as for a file that the program made itself.
    Refused,
}

/// Why a file was not read, and what helps.
#[derive(Debug)]
pub struct ReadError {
    /// The file that was to be read.
    pub path: PathBuf,
    /// The cause.
    pub cause: ReadCause,
}

/// What stands in the way.
#[derive(Debug)]
pub enum ReadCause {
    /// The system refuses.
    System(io::Error),
    /// It is something else than a regular file.
    NoFile(&'static str),
    /// It is longer than allowed: its length and the limit, bytes.
    TooLong(u64, u64),
    /// It is not text in UTF-8 from this byte on.
    NoText(usize),
}

impl ReadError {
    /// Is nothing there?
    pub fn is_missing(&self) -> bool {
        matches!(&self.cause, ReadCause::System(error) if error.kind() == ErrorKind::NotFound)
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "cannot read {}: {}", quote::path(&self.path.display().to_string()), self.cause)
    }
}

impl fmt::Display for ReadCause {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ReadCause::System(error) if error.kind() == ErrorKind::NotFound => {
                write!(f, "{error}; check its name and folder")
            }
            ReadCause::System(error) => write!(f, "{error}; check the path and its permissions"),
            ReadCause::NoFile(what) => write!(f, "it is {what}; give the name of a regular file"),
            ReadCause::TooLong(length, most) => {
                write!(f, "it has {length} bytes, and at most {most} are read; check that it is the file you mean")
            }
            ReadCause::NoText(at) => {
                write!(
                    f,
                    "it is not text: byte {} is not UTF-8 (is it UTF-16?); save it as plain text in UTF-8",
                    at + 1
                )
            }
        }
    }
}

impl std::error::Error for ReadError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match &self.cause {
            ReadCause::System(error) => Some(error),
            ReadCause::NoFile(_) | ReadCause::TooLong(..) | ReadCause::NoText(_) => None,
        }
    }
}

/// The text of a regular file of at most so many bytes.
pub fn text(path: &Path, links: Links, most: u64) -> Result<String, ReadError> {
    let bytes = bytes(path, links, most)?;
    if let Some(at) = bytes.iter().position(|byte| *byte == 0) {
        return Err(ReadError { path: path.to_owned(), cause: ReadCause::NoText(at) });
    }
    String::from_utf8(bytes).map_err(|error| ReadError {
        path: path.to_owned(),
        cause: ReadCause::NoText(error.utf8_error().valid_up_to()),
    })
}

/// The content of a regular file of at most so many bytes.
pub fn bytes(path: &Path, links: Links, most: u64) -> Result<Vec<u8>, ReadError> {
    content(path, links, most).map_err(|cause| ReadError { path: path.to_owned(), cause })
}

fn content(path: &Path, links: Links, most: u64) -> Result<Vec<u8>, ReadCause> {
    // Asked before it is opened: to open a pipe waits until somebody writes to it.
    let named = match links {
        Links::Followed => fs::metadata(path),
        Links::Refused => fs::symlink_metadata(path),
    };
    let named = named.map_err(ReadCause::System)?;
    regular(named.file_type())?;
    let file = File::open(path).map_err(ReadCause::System)?;
    let opened = file.metadata().map_err(ReadCause::System)?;
    regular(opened.file_type())?;
    if links == Links::Refused && !same(&named, &opened) {
        return Err(ReadCause::NoFile("another file than a moment ago"));
    }
    if opened.len() > most {
        return Err(ReadCause::TooLong(opened.len(), most));
    }
    let mut content = Vec::new();
    if opened.len() == 0 {
        // Some of those that the system makes as they are read never end.
        return Ok(content);
    }
    // It may grow meanwhile.
    file.take(most + 1).read_to_end(&mut content).map_err(ReadCause::System)?;
    match content.len() as u64 {
        length if length > most => Err(ReadCause::TooLong(length, most)),
        _ => Ok(content),
    }
}

fn regular(kind: FileType) -> Result<(), ReadCause> {
    match kind {
        kind if kind.is_file() => Ok(()),
        kind if kind.is_dir() => Err(ReadCause::NoFile("a folder")),
        kind if kind.is_symlink() => Err(ReadCause::NoFile("a link, and no link is followed here")),
        _ => Err(ReadCause::NoFile("a device, a pipe or a socket")),
    }
}

/// Are both the same file? Known where the system numbers its files.
#[cfg(unix)]
fn same(one: &Metadata, other: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    one.dev() == other.dev() && one.ino() == other.ino()
}

#[cfg(not(unix))]
fn same(_: &Metadata, _: &Metadata) -> bool {
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_regular_files_of_text_are_read_to_the_limit() {
        let folder = std::env::temp_dir().join(format!("quietseat-read-{}", std::process::id()));
        fs::create_dir_all(&folder).expect("a folder");
        let path = folder.join("a.txt");
        fs::write(&path, "seven b").expect("written");
        assert_eq!(text(&path, Links::Followed, 7).expect("read"), "seven b");
        let told = |path: &Path, links, most| text(path, links, most).expect_err("refused").to_string();
        assert!(told(&path, Links::Followed, 6).contains("it has 7 bytes, and at most 6"));
        assert!(told(&folder, Links::Followed, 9).contains("it is a folder"));
        assert!(text(&folder.join("none"), Links::Refused, 9).expect_err("missing").is_missing());
        fs::write(&path, b"ab\xff").expect("written");
        assert!(told(&path, Links::Followed, 9).contains("byte 3 is not UTF-8"));
        fs::remove_dir_all(folder).expect("removed");
    }

    #[cfg(unix)]
    #[test]
    fn devices_are_refused_and_links_where_they_are_not_wanted() {
        let device = text(Path::new("/dev/zero"), Links::Followed, 9).expect_err("endless").to_string();
        assert!(device.contains("a device, a pipe or a socket"), "{device}");
        let folder = std::env::temp_dir().join(format!("quietseat-links-{}", std::process::id()));
        fs::create_dir_all(&folder).expect("a folder");
        let (file, link) = (folder.join("file"), folder.join("link"));
        fs::write(&file, "text").expect("written");
        std::os::unix::fs::symlink(&file, &link).expect("linked");
        assert_eq!(text(&link, Links::Followed, 9).expect("read"), "text");
        assert!(text(&link, Links::Refused, 9).expect_err("a link").to_string().contains("no link is followed"));
        fs::remove_dir_all(folder).expect("removed");
    }
}
