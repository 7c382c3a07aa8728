//! What the README tells its reader to type is there and works: every command line of its shell blocks is run, with a coarser
//! question where the full one takes long; options and figures that it names are those of the program.

use crate::program::{command, folder, quietseat, text};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Lines that set the reader up: the toolchain's own work, which no test of this program repeats.
const SETTING_UP: [&str; 5] = [
    "git clone ",
    "cd ",
    "cargo build --release",
    "cargo test --locked",
    "alias quietseat=\"$PWD/target/release/quietseat\"",
];

/// What begins a command of the program.
const BEGINNINGS: [&str; 3] = ["quietseat ", "cargo run --release --locked -- ", "cargo run --release -- "];

/// Words that stand for any scenario.
const PLACES: [&str; 2] = ["FILE", "SCENARIO"];

/// What stands in such a place here.
const ANY_SCENARIO: &str = "scenarios/air-low-differential.toml";

/// Lines of the fenced blocks of a text, each with the language of its block.
fn fenced(text: &str) -> Vec<(String, String)> {
    let mut language: Option<String> = None;
    let mut lines = Vec::new();
    for line in text.lines().map(str::trim) {
        match (line.strip_prefix("```"), &language) {
            (Some(_), Some(_)) => language = None,
            (Some(named), None) => language = Some(named.to_owned()),
            (None, Some(inside)) => lines.push((inside.clone(), line.to_owned())),
            (None, None) => {}
        }
    }
    lines
}

/// Code within sentences, with its line breaks as spaces.
fn spans(text: &str) -> Vec<String> {
    let prose: String = text.split("```").step_by(2).collect();
    prose.split('`').skip(1).step_by(2).map(|span| span.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
}

/// Words of a line as a shell takes them: quotation marks hold words together, `#` before a word begins a comment.
fn words(line: &str) -> Result<Vec<String>, String> {
    let (mut words, mut word, mut quote) = (Vec::new(), None::<String>, None);
    for sign in line.chars() {
        match (quote, sign) {
            (Some(mark), _) if mark == sign => quote = None,
            (Some(_), _) => word.get_or_insert_default().push(sign),
            (None, '\'' | '"') => {
                quote = Some(sign);
                word.get_or_insert_default();
            }
            (None, '#') if word.is_none() => break,
            (None, ' ') => words.extend(word.take()),
            (None, '$' | '|' | '>' | '<' | '&' | ';' | '*' | '\\') => {
                return Err(format!("`{line}`: a shell's own sign {sign}"));
            }
            (None, _) => word.get_or_insert_default().push(sign),
        }
    }
    if quote.is_some() {
        return Err(format!("`{line}`: an open quotation mark"));
    }
    words.extend(word);
    Ok(words)
}

/// Arguments of a line that calls the program; none of one that sets the reader up.
fn arguments(line: &str) -> Result<Option<Vec<String>>, String> {
    if line.is_empty() || SETTING_UP.iter().any(|known| line.starts_with(known)) {
        return Ok(None);
    }
    let call = BEGINNINGS.iter().find_map(|beginning| line.strip_prefix(beginning));
    words(call.ok_or_else(|| format!("`{line}`: neither a call of the program nor a known line of setting up"))?)
        .map(Some)
}

/// Every call of the program in the shell blocks and, with any scenario in its place, in the sentences.
fn calls(text: &str) -> (BTreeSet<Vec<String>>, Vec<String>) {
    let (mut calls, mut faults) = (BTreeSet::new(), Vec::new());
    let mut lines = Vec::new();
    for (language, line) in fenced(text) {
        match language.as_str() {
            "sh" => lines.push(line),
            "toml" => {}
            other => faults.push(format!("`{line}`: in a block of an unknown language `{other}`")),
        }
    }
    lines.extend(spans(text).into_iter().filter(|span| span.starts_with("quietseat ")));
    for line in lines {
        match arguments(&line) {
            Ok(call) => calls.extend(call.map(|words| words.into_iter().map(placed).collect())),
            Err(fault) => faults.push(fault),
        }
    }
    (calls, faults)
}

fn placed(word: String) -> String {
    if PLACES.contains(&word.as_str()) { ANY_SCENARIO.to_owned() } else { word }
}

/// The same call with a coarser question. An option that it states itself stays.
fn cheap(call: &[String]) -> Vec<String> {
    let coarse: &[&[&str]] = match call.first().map_or("", String::as_str) {
        "map" => &[&["--set", "map.x.points=3"], &["--set", "map.y.points=2"]],
        "stability" => &[&["--no-cures"], &["--points", "6"]],
        // A target that every valve keeps leaves no change to search for.
        "closing" => &[&["--target-surge", "900 bar"], &["--set", "run.tolerance=1e-4"]],
        "validate" => &[&["--only", "servo_opening"]],
        _ => &[],
    };
    let stated =
        |option: &str| option != "--set" && call.iter().any(|word| word.starts_with(option) || word == "--target");
    let added = coarse.iter().filter(|option| !stated(option[0])).flat_map(|option| option.iter());
    call.iter().cloned().chain(added.map(ToString::to_string)).collect()
}

/// Runs a call in a folder; what is wrong with it. The long searches of `closing` are left out, so its exit code is that of a
/// target that is kept.
fn fault_of(call: &[String], place: &Path) -> Option<String> {
    let done = command(&cheap(call)).current_dir(place).output().expect("the program starts");
    let told = text(&done.stderr);
    (done.status.code() != Some(0)).then(|| format!("`quietseat {}`: {:?}\n{told}", call.join(" "), done.status.code()))
}

/// Names of the files that lie below a folder.
fn written(folder: &Path) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for path in std::fs::read_dir(folder).expect("a folder").flatten().map(|entry| entry.path()) {
        if path.is_dir() {
            found.extend(written(&path));
        } else {
            found.extend(path.file_name().map(|name| name.to_string_lossy().into_owned()));
        }
    }
    found
}

/// Names of the figures and tables below `plots/` that a text shows.
fn shown(text: &str) -> BTreeSet<String> {
    let part = |c: char| c.is_alphanumeric() || "_-./".contains(c);
    let words = text.split(|c: char| !part(c)).filter_map(|word| word.strip_prefix("plots/"));
    words.filter(|name| name.contains('.')).map(|name| name.trim_end_matches('.').to_owned()).collect()
}

/// The call that draws a figure of this name: `water-bang.run.svg` is of `run scenarios/water-bang.toml`, `surge.svg` of `surge`.
fn drawing(name: &str) -> Vec<String> {
    match name.split('.').collect::<Vec<_>>()[..] {
        [scenario, command, _] => vec![command.to_owned(), format!("scenarios/{scenario}.toml")],
        [command, ..] => vec![command.to_owned()],
        [] => Vec::new(),
    }
}

/// Options by command, as the program's own help lists them; those of all commands together under no name.
fn options() -> BTreeMap<String, BTreeSet<String>> {
    let of = |help: &str| -> BTreeSet<String> {
        let part = |c: char| c.is_alphanumeric() || c == '-';
        help.split(|c: char| !part(c)).filter(|word| word.starts_with("--")).map(str::to_owned).collect()
    };
    let help = text(&quietseat(&["--help"]).stdout);
    let listed =
        help.split("Commands:").nth(1).and_then(|rest| rest.split("Options:").next()).expect("a list of commands");
    let named = listed.lines().filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names = named.filter_map(|line| line.split_whitespace().next()).filter(|name| *name != "help");
    let mut options: BTreeMap<String, BTreeSet<String>> =
        names.map(|name| (name.to_owned(), of(&text(&quietseat(&[name, "--help"]).stdout)))).collect();
    options.insert(String::new(), options.values().flatten().cloned().collect());
    options
}

/// Options in sentences that the program does not take: where a command stands before one, that command.
fn strange_options(text: &str) -> Vec<String> {
    let options = options();
    let mut strange = Vec::new();
    for span in spans(text) {
        let span = span.strip_prefix("quietseat ").unwrap_or(&span);
        let first = span.split(' ').next().unwrap_or_default();
        let taken = options.get(first).or_else(|| options.get("")).expect("the options of all commands");
        let named = span.split([' ', '=']).filter(|word| word.starts_with("--"));
        strange.extend(named.filter(|word| !taken.contains(*word)).map(|word| format!("`{span}`: no option {word}")));
    }
    strange
}

/// What a text tells its reader wrongly. The calls run in a folder of their own beside a copy of the demonstrations.
fn faults(text: &str, name: &str) -> Vec<String> {
    let place = folder(name);
    std::fs::create_dir_all(place.join("scenarios")).expect("a folder");
    for demo in crate::demo::names() {
        std::fs::copy(crate::demo::path(&demo), place.join(format!("scenarios/{demo}.toml"))).expect("a copy");
    }
    let (mut calls, mut faults) = calls(text);
    let figures = shown(text);
    let bare = |call: &Vec<String>| call.iter().take(2).cloned().collect::<Vec<_>>();
    let told: BTreeSet<Vec<String>> = calls.iter().map(bare).collect();
    calls.extend(figures.iter().map(|name| drawing(name)).filter(|call| !told.contains(call)));
    faults.extend(calls.iter().filter_map(|call| fault_of(call, &place)));
    let there = written(&place);
    faults.extend(
        figures.iter().filter(|name| !there.contains(*name)).map(|name| format!("`plots/{name}`: not written")),
    );
    faults.extend(strange_options(text));
    faults
}

#[test]
fn everything_that_the_readme_tells_to_type_works() {
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).expect("the README");
    let (calls, _) = calls(&readme);
    let used: BTreeSet<&str> = calls.iter().filter_map(|call| call.first()).map(String::as_str).collect();
    let known: BTreeSet<String> = options().into_keys().filter(|name| !name.is_empty()).collect();
    assert_eq!(used, known.iter().map(String::as_str).collect(), "every command has its line, and no other");
    assert!(shown(&readme).len() >= 5, "{:?}", shown(&readme));
    let faults = faults(&readme, "readme");
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Each with one fault, and what is said of it.
const BROKEN: [(&str, &str); 11] = [
    ("```sh\nquietseat mapp scenarios/water-bang.toml\n```", "unrecognized subcommand"),
    ("```sh\nquietseat check --every scenarios/water-bang.toml # all\n```", "unexpected argument '--every'"),
    ("```sh\ncargo run --release -- check scenarios/water-bong.toml\n```", "water-bong.toml"),
    ("```sh\nquietseat check 'scenarios/water-bang.toml\n```", "open quotation mark"),
    ("```sh\nquietseat fluids | less\n```", "a shell's own sign |"),
    ("```sh\nmake install\n```", "neither a call of the program"),
    ("```fish\nquietseat fluids\n```", "unknown language `fish`"),
    ("Try `quietseat check SCENARIO --path`.", "unexpected argument '--path'"),
    ("It takes `--colour`, and `check --points 3`.", "no option --colour"),
    ("It takes `check --points 3`.", "no option --points"),
    ("```sh\nquietseat surge\n```\n![surge](plots/surge.pdf)", "`plots/surge.pdf`: not written"),
];

#[test]
fn a_planted_fault_is_found() {
    for (number, (broken, said)) in BROKEN.iter().enumerate() {
        let faults = faults(broken, &format!("readme-broken{number}"));
        assert!(faults.first().is_some_and(|fault| fault.contains(said)), "{broken}\n{faults:?}");
    }
    let sound = "```sh\ncargo test --locked\nquietseat check scenarios/ac-ring.toml # all\n```\n`--json`, ![surge](plots/surge.svg)";
    assert_eq!(faults(sound, "readme-sound"), [""; 0]);
}

#[test]
fn a_coarser_question_keeps_what_the_line_states() {
    let call = |line: &str| words(line).expect("words");
    assert_eq!(cheap(&call("stability a.toml --points 9")), call("stability a.toml --points 9 --no-cures"));
    assert_eq!(
        cheap(&call("closing a.toml --target '12 bar(g)'")).join(" "),
        "closing a.toml --target 12 bar(g) --set run.tolerance=1e-4"
    );
    assert_eq!(cheap(&call("fluid 'air, 20 °C'")), ["fluid", "air, 20 °C"]);
}
