//! `quietseat validate`: how far off is this program?

use super::arguments::Validate;
use super::files::{finished, written};
use super::outcome::{Failure, Outcome};
use super::terminal;
use quietseat::file::read::{self, Links};
use quietseat::output::book;
use quietseat::output::figure::overlay::overlay as figure;
use quietseat::validation;
use quietseat::validation::case::Case;
use quietseat::validation::overlays;
use std::path::{Path, PathBuf};

/// Longest README into which a table is put, bytes.
const LONGEST_README: u64 = 10 << 20;

/// Pixels per point of the PNG figures.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Validate) -> Result<Outcome, Failure> {
    let cases = chosen(arguments.only.as_deref())?;
    let bar = terminal::progress(arguments.quiet, cases.len() as u64, "{bar:30} {pos}/{len}  {msg}");
    let outcomes = validation::run(&cases, &|outcome| {
        bar.set_message(outcome.case.name);
        bar.inc(1);
    });
    bar.finish_and_clear();
    let words = if arguments.json {
        let document = book::book_document(env!("CARGO_PKG_NAME"), env!("CARGO_PKG_VERSION"), &outcomes);
        format!("{}\n", document.text())
    } else {
        book::table(&outcomes, terminal::width(), terminal::colouring())
    };
    let printed = terminal::print(&words);
    let files = arguments.write.as_ref().map_or_else(|| Ok(Vec::new()), |folder| save(folder, &outcomes));
    finished(files, printed, arguments.quiet)?;
    let failed: Vec<&str> = outcomes.iter().filter(|o| o.checks.is_err()).map(|o| o.case.name).collect();
    if failed.is_empty() {
        let holds = outcomes.iter().all(validation::Outcome::holds);
        Ok(if holds { Outcome::Done } else { Outcome::Adverse })
    } else {
        Err(Failure(format!("could not be computed: {}", failed.join("; "))))
    }
}

/// The cases that are asked for.
fn chosen(only: Option<&str>) -> Result<Vec<Case>, Failure> {
    let mut cases = validation::book();
    if let Some(only) = only {
        let wanted = only.to_lowercase();
        cases.retain(|case| [case.name, case.folder, case.source].iter().any(|t| t.to_lowercase().contains(&wanted)));
    }
    if cases.is_empty() {
        return Err(Failure(format!(
            "no case has {:?} in its name, folder or source; leave --only out to see all",
            only.unwrap_or_default()
        )));
    }
    Ok(cases)
}

/// The table into the README, and the figures into the folders of their cases.
fn save(folder: &Path, outcomes: &[validation::Outcome]) -> Result<Vec<PathBuf>, Failure> {
    let mut files = vec![folder.join("README.md")];
    put(&files[0], &book::markdown(outcomes))?;
    for overlay in overlays()? {
        let named = |ending: &str| folder.join(overlay.folder).join(format!("{}.{ending}", overlay.file));
        let drawn = figure(&overlay);
        let png = drawn.png(PNG_SCALE).map_err(|e| e.to_string())?;
        files.extend(written(vec![(named("svg"), drawn.svg.into_bytes()), (named("png"), png)])?);
    }
    Ok(files)
}

/// Put the table into the README, which is made if missing.
fn put(file: &Path, table: &str) -> Result<(), Failure> {
    let readme = match read::text(file, Links::Followed, LONGEST_README) {
        Ok(readme) => Some(readme),
        Err(error) if error.is_missing() => None,
        Err(error) => return Err(error.into()),
    };
    let placed = book::placed(readme.as_deref(), table).ok_or_else(|| {
        format!(
            "{} has no place for the table: put these two lines into it:\n{}\n{}",
            file.display(),
            book::BEGIN,
            book::END
        )
    })?;
    written(vec![(file.to_owned(), placed.into_bytes())]).map(drop)
}
