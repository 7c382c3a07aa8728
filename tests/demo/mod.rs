//! The demonstrations in `scenarios/`, as every test takes them.
#![allow(dead_code)]

use quietseat::scenario::{Document, Scenario};

/// Where a demonstration lies, wherever the test was started.
pub(crate) fn path(name: &str) -> String {
    format!("{}/scenarios/{name}.toml", env!("CARGO_MANIFEST_DIR"))
}

/// Names of all of them, in order.
pub(crate) fn names() -> Vec<String> {
    let folder = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios")).expect("the demonstrations");
    let mut names: Vec<String> =
        folder.filter_map(|entry| Some(entry.ok()?.path().file_stem()?.to_str()?.to_owned())).collect();
    names.sort();
    names
}

/// The text of one.
pub(crate) fn text(name: &str) -> String {
    std::fs::read_to_string(path(name)).expect("the demonstration is there")
}

/// One as it stands.
pub(crate) fn open(name: &str) -> Document {
    Document::open(path(name)).unwrap_or_else(|problems| panic!("{problems}"))
}

/// A document with settings as they are typed.
pub(crate) fn set(document: &Document, settings: &[impl AsRef<str>]) -> Document {
    settings.iter().map(AsRef::as_ref).fold(document.clone(), |changed, setting| {
        changed.with_setting(setting).unwrap_or_else(|problem| panic!("{setting}: {problem}"))
    })
}

/// One with settings.
pub(crate) fn with(name: &str, settings: &[impl AsRef<str>]) -> Document {
    set(&open(name), settings)
}

/// What a sound document says.
pub(crate) fn read(document: &Document) -> Scenario {
    document.scenario().unwrap_or_else(|problems| panic!("{problems}")).0
}

/// What one says with settings.
pub(crate) fn scenario(name: &str, settings: &[&str]) -> Scenario {
    read(&with(name, settings))
}
