//! The built program, as tests start it.
#![allow(dead_code)]

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The program with arguments, not yet started.
pub(crate) fn command(arguments: &[impl AsRef<OsStr>]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_quietseat"));
    command.args(arguments);
    command
}

/// What the program does and says.
pub(crate) fn quietseat(arguments: &[impl AsRef<OsStr>]) -> Output {
    command(arguments).output().expect("the program starts")
}

/// A folder for one test, which is not there yet. Its name begins with that of the test's file, so that no two share one.
pub(crate) fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    folder
}

/// Text of an output.
pub(crate) fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}
