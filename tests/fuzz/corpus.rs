//! Everything that ever broke, replayed before anything new is tried: files of `corpus/`, and inputs that are made here because they
//! are long or no texts.
//!
//! The first line of a file says which target reads the rest, what is to come of it, and what its answer must have:
//! `phrases taken: 30 °C`, `scenarios refused: regular file`, or `quantities either` where only nothing may break.

use crate::kept;
use crate::runner::{say, watched};
use crate::target::{Answer, Target};
use quietseat::study::kept::column_line;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

/// One input and what is to come of it.
#[derive(Debug)]
pub(crate) struct Known {
    /// The file's name, or what it is.
    pub(crate) name: String,
    pub(crate) target: String,
    pub(crate) wanted: Wanted,
    pub(crate) input: String,
}

/// What is to come of an input.
#[derive(Debug, PartialEq)]
pub(crate) enum Wanted {
    Taken(String),
    Refused(String),
    Either,
}

/// All of them.
pub(crate) fn all() -> Vec<Known> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus");
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(folder).expect("the corpus").map(|entry| entry.expect("a file").path()).collect();
    files.sort();
    files.iter().map(|path| stored(path)).chain(made()).collect()
}

fn stored(path: &Path) -> Known {
    let name = path.file_name().expect("a name").to_string_lossy().into_owned();
    let text = std::fs::read_to_string(path).expect("a text");
    let (head, input) = text.split_once('\n').unwrap_or((&text, ""));
    let (target, wanted) = head.split_once(' ').unwrap_or((head, "either"));
    let wanted = wanted_of(wanted)
        .unwrap_or_else(|| panic!("{name}: wanted \"taken\", \"refused\" or \"either\", not {wanted}"));
    // An editor ends the last line; the input does not.
    Known { name, target: target.to_owned(), wanted, input: input.strip_suffix('\n').unwrap_or(input).to_owned() }
}

fn wanted_of(text: &str) -> Option<Wanted> {
    let (kind, words) = text.split_once(':').unwrap_or((text, ""));
    let words = words.trim().to_owned();
    match kind {
        "taken" => Some(Wanted::Taken(words)),
        "refused" => Some(Wanted::Refused(words)),
        "either" => Some(Wanted::Either),
        _ => None,
    }
}

fn made() -> Vec<Known> {
    let made = |name: &str, target: &str, wanted: Wanted, input: String| Known {
        name: name.to_owned(),
        target: target.to_owned(),
        wanted,
        input,
    };
    let unknown: String = (0..16_000).map(|n| format!("unknown_{n} = \"1 mm\"\n")).collect();
    let deep = format!("a = {}1{}", "[".repeat(20_000), "]".repeat(20_000));
    let long = format!("question = \"{}\"\n", "long ".repeat(300_000));
    let mut all = vec![
        made("many unknown keys", "scenarios", Wanted::Refused("unknown_0".into()), unknown),
        made("deep lists", "scenarios", Wanted::Refused(String::new()), deep),
        made("a long text", "scenarios", Wanted::Refused(String::new()), long),
        made("many words", "phrases", Wanted::Refused(String::new()), "propane 20 °C, ".repeat(4000)),
        made("a long number", "quantities", Wanted::Either, format!("{}.5 mm", "9".repeat(100_000))),
        made("a long pipe", "pipes", Wanted::Refused(String::new()), "22 x 1 ".repeat(4000)),
    ];
    all.extend(kept_lines().into_iter().map(|(name, wanted, input)| made(name, "kept", wanted, input)));
    if let Some(pipe) = waiting_pipe() {
        let path = pipe.display().to_string();
        all.push(made(
            "like a pipe",
            "scenarios",
            Wanted::Refused("regular file".into()),
            format!("like = \"{path}\""),
        ));
        all.push(made("a pipe", "files", Wanted::Refused("regular file".into()), path));
    }
    all
}

/// Kept lines that were believed although they were none of that map, or too short.
fn kept_lines() -> Vec<(&'static str, Wanted, String)> {
    let (map, other) = (&kept::MAPS[1], &kept::MAPS[3]);
    let text = |lines: &[&str]| format!("1\n{}\n", lines.join("\n"));
    let cells = &map.known.columns[&0];
    let shortened = column_line(&map.owner, 0, &cells[1..]).expect("a column");
    let first = &map.lines[0];
    vec![
        (
            "a whole kept map",
            Wanted::Taken(String::new()),
            text(&map.lines.iter().map(String::as_str).collect::<Vec<_>>()),
        ),
        ("a shortened column", Wanted::Refused("line 2 is damaged".into()), text(&[first, shortened.trim_end()])),
        ("a line of another map", Wanted::Refused("line 2 is damaged".into()), text(&[first, &other.lines[1]])),
        ("another map", Wanted::Refused("none of it is used".into()), text(&[&other.lines[0], &other.lines[1]])),
    ]
}

/// A pipe to which nobody writes, where the system has such.
fn waiting_pipe() -> Option<PathBuf> {
    let path = std::env::temp_dir().join(format!("quietseat-fuzz-{}", std::process::id()));
    let made = std::process::Command::new("mkfifo").arg(&path).status().ok()?;
    made.success().then_some(path)
}

/// Replays all; what no longer comes as wanted.
pub(crate) fn replayed(targets: &[Target]) -> Vec<String> {
    let known = all();
    let wrong = Mutex::new(Vec::new());
    watched(1, |bench| {
        for case in &known {
            let Some(target) = targets.iter().find(|target| target.name == case.target) else {
                wrong.lock().expect("no panic before").push(format!("{}: no target {}", case.name, case.target));
                continue;
            };
            let judged = bench.judge(target, &case.input, || format!("{} of the corpus", case.name));
            if let Some(what) = against(&case.wanted, &judged) {
                wrong.lock().expect("no panic before").push(format!("{} ({}): {what}", case.name, case.target));
            }
        }
    });
    if let Some(pipe) = known.iter().find(|case| case.name == "a pipe") {
        let _ = std::fs::remove_file(&pipe.input);
    }
    say(&format!("fuzz: {} of the corpus replayed", known.len()));
    wrong.into_inner().expect("no panic before")
}

fn against(wanted: &Wanted, judged: &Result<Answer, String>) -> Option<String> {
    match (wanted, judged) {
        (_, Err(breach)) => Some(breach.clone()),
        (Wanted::Either, Ok(_)) => None,
        (Wanted::Taken(words), Ok(Answer::Taken(text))) | (Wanted::Refused(words), Ok(Answer::Refused(text))) => {
            (!text.contains(words.as_str())).then(|| format!("wanted \"{words}\" in \"{}\"", first(text)))
        }
        (wanted, Ok(answer)) => Some(format!("wanted {wanted:?}, came {}", first(&format!("{answer:?}")))),
    }
}

fn first(text: &str) -> String {
    text.chars().take(300).collect()
}

#[test]
fn a_head_says_what_is_wanted() {
    assert_eq!(wanted_of("taken: 30 °C"), Some(Wanted::Taken("30 °C".to_owned())));
    assert_eq!(wanted_of("refused"), Some(Wanted::Refused(String::new())));
    let taken = Ok(Answer::Taken("30 °C".to_owned()));
    assert!(against(&Wanted::Taken("30".to_owned()), &taken).is_none());
    assert!(against(&Wanted::Taken("31".to_owned()), &taken).is_some());
    assert!(against(&Wanted::Refused(String::new()), &taken).is_some());
    assert!(against(&Wanted::Either, &Err("a panic".to_owned())).is_some());
}
