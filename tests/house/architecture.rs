//! The building plan as a test: who may import whom, how long a file may be, which names are not used.

use std::fs;
use std::path::{Path, PathBuf};

/// Module, what it may import from the crate, and why that is enough.
const IMPORTS: &[(&str, &[&str], &str)] = &[
    ("dual", &["portable"], "numbers only"),
    ("file", &["quote"], "the one door for files; knows nothing of what is in them"),
    ("parallel", &[], "threads, or none; knows no work"),
    ("portable", &[], "functions of numbers"),
    ("quote", &[], "words of others inside our own sentences"),
    ("units", &["portable", "quote"], "the one door for units"),
    ("key", &["units"], "how what can be stated is called, and what it may be; knows neither files nor parts"),
    ("pipe", &["quote", "units"], "names and sizes of the trade; knows no wave and no file"),
    ("trace", &["units"], "also what a transducer records"),
    ("solver", &["dual", "portable"], "knows no valve"),
    (
        "fluid",
        &["physics", "portable", "quote", "units"],
        "names and states to the numbers that physics takes; its tables are embedded",
    ),
    (
        "physics",
        &["dual", "key", "portable", "trace", "units"],
        "names of its states, keys of its parts; no files, no solver",
    ),
    ("indicator", &["portable", "trace", "units"], "reads traces, simulated or recorded"),
    ("verdict", &["indicator", "portable", "units"], "numbers to meaning"),
    ("scenario", &["file", "fluid", "key", "physics", "pipe", "portable", "quote", "units"], "files to parts"),
    (
        "simulate",
        &["dual", "physics", "portable", "scenario", "solver", "trace", "units"],
        "the only place that sees physics and solver",
    ),
    (
        "stability",
        &["dual", "physics", "portable", "scenario", "simulate"],
        "small motions; knows no files and makes no runs",
    ),
    (
        "study",
        &[
            "fluid",
            "indicator",
            "parallel",
            "physics",
            "pipe",
            "portable",
            "quote",
            "scenario",
            "simulate",
            "stability",
            "trace",
            "units",
            "verdict",
        ],
        "many runs; and without a run, what several fluids make of one pipe, which takes fluids and pipes by their names",
    ),
    (
        "validation",
        &[
            "dual",
            "fluid",
            "indicator",
            "parallel",
            "physics",
            "portable",
            "scenario",
            "simulate",
            "solver",
            "stability",
            "trace",
            "units",
            "verdict",
        ],
        "published and exact cases, recomputed by the production code",
    ),
    (
        "output",
        &["fluid", "indicator", "portable", "stability", "study", "trace", "units", "validation", "verdict"],
        "writes, computes nothing",
    ),
];

pub(crate) fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("src is readable").flatten() {
        let path = entry.path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
    found.sort();
    found
}

pub(crate) fn src() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// The top module of a source file.
fn module(path: &Path) -> String {
    let inside = path.strip_prefix(src()).expect("below src");
    let first = inside.components().next().expect("a file").as_os_str().to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

/// Modules of the crate that a text imports, including those in a braced list after `crate::`.
fn imported(text: &str) -> Vec<String> {
    let names: Vec<&str> = IMPORTS.iter().map(|row| row.0).collect();
    let code: String = text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n");
    let mut found = Vec::new();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + 7..];
        let list = rest.strip_prefix('{').and_then(|r| r.split('}').next()).unwrap_or(rest);
        let heads: Vec<&str> = if rest.starts_with('{') { list.split(',').collect() } else { vec![list] };
        for head in heads {
            let word: String = head.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            if names.contains(&word.as_str()) {
                found.push(word);
            }
        }
    }
    found
}

fn violations(module: &str, text: &str) -> Vec<String> {
    let Some((_, allowed, _)) = IMPORTS.iter().find(|row| row.0 == module) else { return Vec::new() };
    imported(text)
        .into_iter()
        .filter(|name| name != module && !allowed.contains(&name.as_str()))
        .map(|name| format!("`{module}` must not import `{name}`"))
        .collect()
}

#[test]
fn modules_import_only_what_the_table_allows() {
    for path in sources(&src()) {
        let text = fs::read_to_string(&path).expect("a source file");
        let found = violations(&module(&path), &text);
        assert!(found.is_empty(), "{}: {}", path.display(), found.join("; "));
    }
}

#[test]
fn a_planted_import_is_found() {
    assert_eq!(violations("solver", "use crate::physics::valve::cell::Cell;"), ["`solver` must not import `physics`"]);
    assert_eq!(violations("output", "use crate::{units, simulate};"), ["`output` must not import `simulate`"]);
    assert!(violations("output", "// use crate::simulate;").is_empty());
}

#[test]
fn every_module_is_in_the_table() {
    for path in sources(&src()) {
        let module = module(&path);
        let known = ["lib", "main", "cli"].contains(&module.as_str()) || IMPORTS.iter().any(|row| row.0 == module);
        assert!(known, "module `{module}` is missing from the import table");
    }
}

#[test]
fn files_are_short_and_named_by_nouns() {
    for path in sources(&src()) {
        let text = fs::read_to_string(&path).expect("a source file");
        let lines = text.lines().count();
        assert!(lines <= 400, "{} has {lines} lines", path.display());
        let stem = path.file_stem().expect("a name").to_string_lossy().to_string();
        assert!(!["utils", "util", "common", "helpers", "types", "misc", "core"].contains(&stem.as_str()), "{stem}");
        assert!(!text.contains("super::super::super"), "{}: reach sideways by crate::", path.display());
    }
}

/// Physics and solver neither print nor read files; input never ends the program.
#[test]
fn the_library_neither_prints_nor_exits() {
    for path in sources(&src()) {
        let module = module(&path);
        if ["main", "cli"].contains(&module.as_str()) {
            continue;
        }
        let text = fs::read_to_string(&path).expect("a source file");
        let code = text.split("#[cfg(test)]").next().unwrap_or(&text);
        for word in ["println!", "eprintln!", "process::exit", ".unwrap()", "panic!(", "todo!(", "unimplemented!("] {
            let used = code.lines().any(|line| !line.trim_start().starts_with("//") && line.contains(word));
            let tests = path.file_stem().is_some_and(|s| s == "tests");
            assert!(!used || tests, "{} uses {word}", path.display());
        }
        if ["physics", "solver", "dual", "units", "indicator", "verdict"].contains(&module.as_str()) {
            assert!(!code.contains("std::fs") && !code.contains("File::"), "{} reads files", path.display());
        }
    }
}

/// Numbers in a file of the verdict beyond which something is called something else.
fn thresholds(text: &str) -> Vec<String> {
    let code = text.split("#[cfg(test)]").next().unwrap_or(text);
    let compared = |line: &str| {
        let sides = line.match_indices(['<', '>']).map(|(at, _)| line[at + 1..].trim_start_matches('=').trim_start());
        let numbers =
            sides.map(|side| side.split(|c: char| !c.is_ascii_digit() && !".e-".contains(c)).next().unwrap_or(""));
        numbers.filter_map(|number| number.trim_end_matches('.').parse::<f64>().ok()).any(|n| n != 0.0 && n != 1.0)
    };
    let stated = |line: &str| line.contains("const ") && line.contains(": f64");
    let code = code.lines().filter_map(|line| line.split("//").next()).map(str::trim);
    code.filter(|line| stated(line) || compared(line)).map(str::to_owned).collect()
}

#[test]
fn every_threshold_of_the_verdict_stands_in_one_file() {
    // How many digits a share is told to decides nothing.
    let exempt = ["threshold.rs", "words.rs"];
    for path in sources(&src().join("verdict")) {
        let found = thresholds(&fs::read_to_string(&path).expect("a source file"));
        let own = exempt.iter().any(|name| path.ends_with(name));
        assert!(own || found.is_empty(), "{}: {}", path.display(), found.join("; "));
    }
    let planted =
        "pub(super) const LIMIT: f64 = 0.1;\nif lift > 0.05 * full {}\nif a<2e-3 {}\nif b >= 1.0 || c < 0.0 {} // > 3";
    assert_eq!(thresholds(planted).len(), 3);
    assert_eq!(thresholds("let x: Vec<f64> = y;\nif b >= 1.0 || c < 0.0 {}\n// if x > 3"), [""; 0]);
}

/// Every public function of the physics says where its equation comes from.
#[test]
fn physics_names_its_sources() {
    let mut missing = Vec::new();
    for path in sources(&src().join("physics")) {
        let text = fs::read_to_string(&path).expect("a source file");
        let code = text.split("#[cfg(test)]").next().unwrap_or(&text);
        let module_has = code.lines().take_while(|l| l.starts_with("//!")).any(|l| l.contains("Source"));
        let mut comment = String::new();
        for line in code.lines().map(str::trim) {
            if line.starts_with("///") {
                comment.push_str(line);
            } else if line.starts_with("pub fn") {
                let equation = comment.contains("```text");
                if equation && !comment.contains("Source") && !module_has {
                    missing.push(format!("{}: {line}", path.display()));
                }
                comment.clear();
            } else if !line.starts_with("#[") {
                comment.clear();
            }
        }
    }
    assert!(missing.is_empty(), "equations without a source:\n{}", missing.join("\n"));
}
