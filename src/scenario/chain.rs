//! A file and those that it is like, read with care: a scenario may come from anybody.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::layer::{self, Given, Layer};
use super::problem::Problem;
use super::source::SourceFile;
use crate::file::read::{self, Links, ReadError};
use crate::quote;

/// Bytes of a file at most: some fifty times the longest sensible scenario.
const LONGEST: u64 = 1_000_000;

/// Files in a chain of `like` at most: nobody finds a value across more of them.
const DEEPEST: usize = 16;

/// The text of a scenario file.
pub(super) fn text(path: &Path) -> Result<String, ReadError> {
    read::text(path, Links::Followed, LONGEST)
}

/// The file and those that it is like, the nearest first.
pub(super) fn layers(file: Arc<SourceFile>, problems: &mut Vec<Problem>) -> Vec<Layer> {
    let home = canonical(folder(Path::new(&file.name)));
    let mut seen = vec![canonical(Path::new(&file.name))];
    let mut layers = vec![layer::read(file)];
    while let Some((above, like)) = layers.last().and_then(|layer| Some((&layer.file, layer.like()?))) {
        match next(&above.name, &like.given, &home, &mut seen) {
            Ok(file) => layers.push(layer::read(Arc::new(file))),
            Err(message) => {
                problems.push(Problem::quoting(&like.place, message, "`like`"));
                break;
            }
        }
    }
    layers
}

/// The next file of the chain, or why there is none.
fn next(above: &str, like: &Given, home: &Path, seen: &mut Vec<PathBuf>) -> Result<SourceFile, String> {
    let named = match like {
        Given::Text(named) if !named.trim().is_empty() => named,
        other => {
            let found = other.typed();
            return Err(format!("like: found {found}, wanted the name of a file, such as \"water-bang.toml\""));
        }
    };
    let path = &folder(Path::new(above)).join(named.as_ref());
    let name = path.display().to_string();
    let shown = quote::path(&name);
    let place = canonical(path);
    if seen.contains(&place) {
        return Err(format!("`like` runs in a circle: {shown} is already in the chain"));
    }
    if seen.len() >= DEEPEST {
        return Err(format!("the chain of `like` has more than {DEEPEST} files; state the values in fewer"));
    }
    let text = text(path).map_err(|error| format!("cannot read {shown}: {}", error.cause))?;
    let foreign = !place.starts_with(home);
    seen.push(place);
    Ok(SourceFile::new(name, text, foreign))
}

/// The folder of a file; the present one where none is named.
fn folder(path: &Path) -> &Path {
    path.parent().unwrap_or(Path::new(""))
}

fn canonical(path: &Path) -> PathBuf {
    let here = if path.as_os_str().is_empty() { Path::new(".") } else { path };
    here.canonicalize().unwrap_or_else(|_| path.to_owned())
}
