//! Scenario files as texts: whatever stands in them, they are read or refused with the places of what is wrong.

use crate::generator::scenario;
use crate::plausible::Numbers;
use crate::target::{Answer, Judged, Target, reason, whole};
use quietseat::scenario::{Document, Problem, Problems, Warning, echo};
use std::path::Path;
use std::time::Duration;

pub(crate) const SCENARIOS: Target =
    Target { name: "scenarios", share: 200, limit: Duration::from_secs(2), make: scenario, check: read_text };

/// Files by their names, for the corpus.
pub(crate) const FILES: Target =
    Target { name: "files", share: 0, limit: Duration::from_secs(2), make: no_file, check: read_file };

/// A name beside the demonstrations, so that what a text is like is found.
const NAME: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/fuzz.toml");

/// All problems of a file together: a screen or two. Each line that is shown adds its length.
const MOST_TOLD: usize = 32_000;

fn read_text(text: &str) -> Judged {
    read(&Document::from_text(NAME, text), text)
}

fn no_file(_: &mut Numbers) -> String {
    String::new()
}

fn read_file(name: &str) -> Judged {
    match Document::open(Path::new(name.trim())) {
        Ok(document) => read(&document, name),
        Err(problems) => refused(&problems, name),
    }
}

/// A document is a scenario of which every value can be shown, or its problems have places.
pub(crate) fn read(document: &Document, input: &str) -> Judged {
    let (_, warnings) = match document.scenario() {
        Ok(found) => found,
        Err(problems) => return refused(&problems, input),
    };
    for Warning(problem) in &warnings {
        placed(problem, input)?;
    }
    let rows = echo(document).map_err(|problems| format!("a scenario without an echo: {problems}"))?;
    for row in &rows {
        let shown = format!("{} = {} or {}", row.path, row.si, row.us);
        if !row.value.is_finite() || row.si.is_empty() || row.us.is_empty() {
            return Err(format!("echo of {}: {shown}", row.value));
        }
        whole("the echo", &shown, "")?;
    }
    Ok(Answer::Taken(String::new()))
}

fn refused(problems: &Problems, input: &str) -> Judged {
    let told = problems.to_string();
    if problems.0.is_empty() {
        return Err("refused without a problem".to_owned());
    }
    let longest = input.lines().map(str::len).max().unwrap_or(0);
    if told.len() > MOST_TOLD + 2 * longest {
        return Err(format!("{} problems take {} bytes", problems.0.len(), told.len()));
    }
    problems.0.iter().try_for_each(|problem| placed(problem, input))?;
    Ok(Answer::Refused(told))
}

/// A problem names its setting, or its file with line and column; a file that cannot be read has none.
fn placed(problem: &Problem, input: &str) -> Result<(), String> {
    let setting = problem.origin.starts_with("setting ");
    let unread = problem.message.contains("cannot be read") || problem.message.contains("cannot read");
    match problem.position {
        None if !setting && !unread => return Err(format!("no line: {problem}")),
        Some((line, column)) if line == 0 || column == 0 => return Err(format!("no such place: {problem}")),
        Some((line, _)) if problem.origin == NAME && line > input.split('\n').count() => {
            return Err(format!("no such line: {problem}"));
        }
        _ => {}
    }
    if problem.origin.is_empty() {
        return Err(format!("no origin: {problem}"));
    }
    // The words of TOML itself.
    let typed = if problem.message.contains("expected `") { "nan inf" } else { input };
    reason("a problem", &problem.message, typed)
}
