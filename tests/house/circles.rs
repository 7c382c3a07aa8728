//! Inside a room of `src` no file imports itself through others: what stands in two files of a circle can only be read, moved
//! and tested together. A `mod.rs` is a file like others; a name that it hands on counts where it is defined. Methods that another file
//! adds to a type are not seen: what is called on a value needs no import.

use crate::architecture::{sources, src};
use crate::tokens::{Import, Tokens};
use std::collections::{BTreeMap, BTreeSet};

/// A file of a room, by what it defines and what it imports.
struct File {
    path: String,
    defined: BTreeSet<String>,
    imports: Vec<Import>,
}

/// Files of the crate, each under the path of its module.
struct Plan(BTreeMap<Vec<String>, File>);

/// Module of a file: `study/surge/mod.rs` and `study/surge.rs` are both `study::surge`.
fn module(path: &str) -> Vec<String> {
    let plain = path.trim_end_matches(".rs").trim_end_matches("/mod");
    plain.split('/').map(str::to_owned).collect()
}

impl Plan {
    fn new(files: &[(String, String)]) -> Plan {
        let modules: BTreeSet<Vec<String>> = files.iter().map(|(path, _)| module(path)).collect();
        let read = |(path, text): &(String, String)| {
            let (module, tokens) = (module(path), Tokens::of(text));
            let child = |name: &str| modules.contains(&[module.clone(), vec![name.to_owned()]].concat());
            let imports = tokens.imports(&module, &child);
            (module, File { path: path.clone(), defined: tokens.defined(), imports })
        };
        Plan(files.iter().map(read).collect())
    }

    /// The file in which what a path names is defined; `None` outside of the plan.
    fn target(&self, path: &[String], asked: &mut BTreeSet<Vec<String>>) -> Option<&File> {
        if let Some(file) = self.0.get(path) {
            return Some(file);
        }
        let end = (1..path.len()).rev().find(|end| self.0.contains_key(&path[..*end]))?;
        let (file, name) = (&self.0[&path[..end]], &path[end]);
        if name == "*" || file.defined.contains(name) {
            return Some(file);
        }
        if !asked.insert(path.to_vec()) {
            return None;
        }
        let onward = |import: &Import| match import.name.as_str() {
            "*" => Some([&import.path[..import.path.len() - 1], &path[end..]].concat()),
            known => (known == name).then(|| [&import.path[..], &path[end + 1..]].concat()),
        };
        file.imports.iter().filter_map(onward).find_map(|path| self.target(&path, asked))
    }

    /// Whom each file imports inside its own room.
    fn edges(&self) -> BTreeMap<&str, BTreeSet<&str>> {
        let room = |path: &str| path.split('/').next().unwrap_or_default().to_owned();
        let of = |file: &File| -> BTreeSet<&str> {
            let targets = file.imports.iter().filter_map(|import| self.target(&import.path, &mut BTreeSet::new()));
            let paths = targets.map(|target| target.path.as_str());
            paths.filter(|path| *path != file.path && room(path) == room(&file.path)).collect()
        };
        self.0.values().map(|file| (file.path.as_str(), of(file))).collect()
    }

    /// Paths into a room of which no file is known to define the end.
    fn lost(&self) -> Vec<String> {
        let lost = |file: &File| -> Vec<String> {
            let inside = |import: &&Import| import.path.len() > 1 && import.path[0] == module(&file.path)[0];
            let gone =
                file.imports.iter().filter(inside).filter(|i| self.target(&i.path, &mut BTreeSet::new()).is_none());
            gone.map(|import| format!("{}: {}", file.path, import.path.join("::"))).collect()
        };
        self.0.values().flat_map(lost).collect()
    }
}

/// Everything that can be reached from a file, itself only by a circle.
fn reached<'a>(edges: &BTreeMap<&'a str, BTreeSet<&'a str>>, from: &str) -> BTreeSet<&'a str> {
    let (mut found, mut ahead) = (BTreeSet::new(), vec![from.to_owned()]);
    while let Some(file) = ahead.pop() {
        for next in edges.get(file.as_str()).into_iter().flatten() {
            if found.insert(*next) {
                ahead.push((*next).to_owned());
            }
        }
    }
    found
}

/// Files on circles, each with those of its neighbours that lead back to it.
fn circles(files: &[(String, String)]) -> BTreeMap<String, Vec<String>> {
    let plan = Plan::new(files);
    let edges = plan.edges();
    let back = |file: &str| -> Vec<String> {
        let neighbours = edges[file].iter().filter(|next| reached(&edges, next).contains(file));
        neighbours.map(ToString::to_string).collect()
    };
    let all = edges.keys().map(|file| ((*file).to_owned(), back(file)));
    all.filter(|(_, back)| !back.is_empty()).collect()
}

/// All files of `src` that are more than tests, by their path in it.
fn files() -> Vec<(String, String)> {
    let named = |path: std::path::PathBuf| {
        let name = path.strip_prefix(src()).expect("below src").to_string_lossy().replace('\\', "/");
        (name, std::fs::read_to_string(&path).expect("a source file"))
    };
    sources(&src())
        .into_iter()
        .map(named)
        .filter(|(name, _)| name.contains('/') && !name.ends_with("/tests.rs"))
        .collect()
}

#[test]
fn no_file_imports_itself_through_others() {
    let found = circles(&files());
    let told: Vec<String> = found.iter().map(|(file, back)| format!("{file} with {}", back.join(", "))).collect();
    assert!(told.is_empty(), "on a circle of imports:\n{}", told.join("\n"));
}

#[test]
fn every_path_inside_a_room_leads_to_a_file() {
    let lost = Plan::new(&files()).lost();
    assert!(lost.is_empty(), "a circle could hide here:\n{}", lost.join("\n"));
}

fn invented(files: &[(&str, &str)]) -> Vec<(String, String)> {
    files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect()
}

/// Which files of an invented room are on circles.
fn on_circles(files: &[(&str, &str)]) -> Vec<String> {
    circles(&invented(files)).into_keys().collect()
}

#[test]
fn a_planted_circle_is_found() {
    let round = [
        ("room/a.rs", "use super::b::{B, deep::{self, D}};\npub fn a() {}"),
        ("room/b/mod.rs", "pub mod deep;\npub struct B;"),
        ("room/b/deep.rs", "pub struct D;\nfn f() { crate::room::c::c() }"),
        ("room/c.rs", "// use super::b::B;\npub fn c() { let _ = \"super::b::B\"; super::a::a() }"),
    ];
    assert_eq!(on_circles(&round), ["room/a.rs", "room/b/deep.rs", "room/c.rs"]);
    assert_eq!(on_circles(&round[..3]), [""; 0]);
}

#[test]
fn a_mod_file_is_on_a_circle_by_what_it_defines_only() {
    let room = |module: &'static str| [("room/mod.rs", module), ("room/a.rs", "use super::Shared;\npub struct A;")];
    assert_eq!(on_circles(&room("mod a;\npub use a::A;\npub struct Shared;")), ["room/a.rs", "room/mod.rs"]);
    assert_eq!(on_circles(&room("mod a;\nfn f() { a::A }\npub enum Shared {}")), ["room/a.rs", "room/mod.rs"]);
    assert_eq!(on_circles(&room("mod a;\npub struct Shared;")), [""; 0]);
    let handed_on = [
        ("room/mod.rs", "mod a;\nmod b;\npub use a::A;\npub use b::{Shared as Common};"),
        ("room/a.rs", "use super::Common;\npub struct A;"),
        ("room/b.rs", "pub struct Shared;"),
    ];
    assert_eq!(on_circles(&handed_on), [""; 0]);
    let through = [handed_on[0], handed_on[1], ("room/b.rs", "use super::*;\nuse crate::room::A;\npub struct Shared;")];
    assert_eq!(on_circles(&through), ["room/a.rs", "room/b.rs", "room/mod.rs"]);
}

#[test]
fn tests_and_other_rooms_are_no_part_of_a_circle() {
    let tested = "pub struct A;\n#[cfg(test)]\nmod tests { use super::super::b::B; fn t() { super::A } }";
    assert_eq!(on_circles(&[("room/a.rs", tested), ("room/b.rs", "use super::a::A;\npub struct B;")]), [""; 0]);
    let rooms = [
        ("room/a.rs", "use crate::hall::b::B;\npub struct A;"),
        ("hall/b.rs", "use crate::room::a::A;\npub struct B;"),
    ];
    assert_eq!(on_circles(&rooms), [""; 0]);
    let lost = Plan::new(&invented(&[("room/a.rs", "use super::b::C;"), ("room/b.rs", "pub struct B;")])).lost();
    assert_eq!(lost, ["room/a.rs: room::b::C"]);
}
