//! What the texts point at is there: links, and files and folders of the project that are named in passing.

use std::fs;
use std::path::{Path, PathBuf};

/// Folders of the top level: a word that begins with one of them is a path of the project.
const ROOTS: [&str; 6] = ["src/", "tests/", "scenarios/", "validation/", "plots/", ".ci/"];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Files below a folder whose names end so.
fn below(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for path in fs::read_dir(folder).expect("a folder").flatten().map(|entry| entry.path()) {
        if path.is_dir() {
            found.extend(below(&path, ending));
        } else if path.to_string_lossy().ends_with(ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// Where the links `[x](y)` of a text lead, those into the web and within the page left out.
fn links(text: &str) -> Vec<&str> {
    let targets = text.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    let targets = targets.map(|target| target.split('#').next().unwrap_or(target));
    targets.filter(|target| !target.is_empty() && !target.contains("://")).collect()
}

/// Paths of the project that a text names, one for each of a braced list, and without the wild part of one with `*`. A word is
/// a path where nothing that could belong to a longer one stands before it.
fn paths(text: &str) -> Vec<String> {
    let part = |c: char| c.is_alphanumeric() || "_-./{},*".contains(c);
    let words = text.split(|c: char| !part(c)).map(|word| word.trim_end_matches(['.', ',', '-']));
    let named = words.filter(|word| ROOTS.iter().any(|root| word.starts_with(root)));
    named.flat_map(unfolded).collect()
}

/// `a/{b,c}.rs` is `a/b.rs` and `a/c.rs`; `a/b_*.rs` is `a`.
fn unfolded(word: &str) -> Vec<String> {
    if let (Some(open), Some(close)) = (word.find('{'), word.find('}')) {
        let inner = word[open + 1..close].split(',');
        return inner.map(|one| format!("{}{one}{}", &word[..open], &word[close + 1..])).collect();
    }
    let wild = word.find('*').map_or(word, |at| word[..at].rsplit_once('/').map_or("", |(folder, _)| folder));
    vec![wild.to_owned()]
}

fn lost_of(text: &str, from: &Path) -> Vec<String> {
    let links = links(text).into_iter().filter(|target| !from.join(target).exists()).map(str::to_owned);
    links.chain(paths(text).into_iter().filter(|path| !root().join(path).exists())).collect()
}

#[test]
fn every_link_and_path_of_the_texts_leads_somewhere() {
    let pages = below(&root().join("validation"), ".md");
    assert!(pages.len() > 30, "{}", pages.len());
    let mut lost = Vec::new();
    for page in pages.into_iter().chain([root().join("README.md"), root().join("DEVELOPERS.md")]) {
        let text = fs::read_to_string(&page).expect("a text");
        let folder = page.parent().expect("a folder");
        lost.extend(lost_of(&text, folder).into_iter().map(|target| format!("{}: {target}", page.display())));
    }
    assert!(lost.is_empty(), "named and not there:\n{}", lost.join("\n"));
}

/// DEVELOPERS.md names files of the code by the end of their path, such as `simulate/swing.rs`.
fn files_lost(text: &str) -> Vec<&str> {
    let quoted = text.split('`').skip(1).step_by(2);
    let named = quoted.filter(|word| word.ends_with(".rs") && !word.contains(['*', '{', ' ']));
    let known = [below(&root().join("src"), ".rs"), below(&root().join("tests"), ".rs")].concat();
    named.filter(|name| !known.iter().any(|path| path.ends_with(name) || root().join(name).exists())).collect()
}

#[test]
fn every_file_that_the_developers_text_names_is_there() {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).expect("a text");
    assert_eq!(files_lost(&text), [""; 0]);
    assert_eq!(files_lost("`tone.rs`, `simulate/start.rs` and `simulate/links.rs`"), ["tone.rs", "simulate/links.rs"]);
}

/// Every file of the tests is in DEVELOPERS.md's table.
#[test]
fn every_file_of_the_tests_is_in_the_table() {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).expect("a text");
    let told = |path: &Path| {
        let name = path.file_name().expect("a name").to_string_lossy();
        name == "main.rs" || text.contains(&format!("`{name}`"))
    };
    let rooms = ["house", "input", "physics", "study", "output", "commands"];
    let whole = |path: &PathBuf| rooms.iter().any(|room| path.parent().is_some_and(|folder| folder.ends_with(room)));
    let files = below(&root().join("tests"), ".rs").into_iter().filter(whole);
    let untold: Vec<PathBuf> = files.filter(|path| !told(path)).collect();
    assert!(untold.is_empty(), "{untold:?}");
}

/// Comments and demonstrations name files as well.
#[test]
fn every_path_in_comments_leads_somewhere() {
    let mut lost = Vec::new();
    let files = [("src", ".rs"), ("tests", ".rs"), ("scenarios", ".toml"), (".ci", "")];
    for page in files.iter().flat_map(|(folder, ending)| below(&root().join(folder), ending)) {
        let text = fs::read_to_string(&page).unwrap_or_default();
        let comments = text.lines().map(str::trim_start).filter(|line| line.starts_with("//") || line.starts_with('#'));
        let gone = comments.flat_map(paths).filter(|path| !root().join(path).exists());
        lost.extend(gone.map(|target| format!("{}: {target}", page.display())));
    }
    assert!(lost.is_empty(), "named and not there:\n{}", lost.join("\n"));
}

#[test]
fn a_planted_dead_link_is_found() {
    let text = "see [the plan](tests/house/plan.rs) and `tests/water_bang.rs`, `src/{lib,lab}.rs`, not [this](https://e.org/x)";
    assert_eq!(
        lost_of(text, root()),
        ["tests/house/plan.rs", "tests/house/plan.rs", "tests/water_bang.rs", "src/lab.rs"]
    );
    assert!(lost_of("`src/lib.rs`, tests/physics/valve_*.rs, `validation/` and [figures](plots).", root()).is_empty());
    assert_eq!(lost_of("[beside](data.csv)", root()), ["data.csv"]);
}
