//! Files of others: however large, long, deep or spiteful, they are refused in few words, at their place, in little time, and
//! nothing of a file that the scenario's author could not read is shown.

use crate::demo;
use quietseat::scenario::{Document, Problems, echo};
use std::path::{Path, PathBuf};

fn refused(text: impl Into<String>) -> Problems {
    Document::from_text("scenarios/attack.toml", text).scenario().expect_err("it is no scenario")
}

/// A folder of its own, taken away in the end.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Folder {
        let path = std::env::temp_dir().join(format!("quietseat-foreign-{name}-{}", std::process::id()));
        std::fs::create_dir_all(path.join("inside")).expect("a folder can be made");
        Folder(path)
    }

    fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.0.join(name);
        std::fs::write(&path, text).expect("a file can be written");
        path
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// What is told of a file.
fn told(path: &Path) -> String {
    match Document::open(path) {
        Ok(document) => document.scenario().expect_err("it is no scenario").to_string(),
        Err(problems) => problems.to_string(),
    }
}

/// Nothing in it acts on a terminal, and no line is longer than a message may be.
fn harmless(text: &str) {
    for line in text.lines() {
        assert!(!line.contains(char::is_control), "{line:?}");
        assert!(line.chars().count() < 2300, "{} characters: {line:.200}", line.chars().count());
        let excerpt = line.split_once(" | ").filter(|(number, _)| number.trim().chars().all(|c| c.is_ascii_digit()));
        assert!(excerpt.is_none_or(|(_, shown)| shown.chars().count() <= 104), "{line}");
    }
}

/// Where the time for a file grew with the square of its faults, this would not end within the day.
#[test]
fn every_attack_ends_in_few_words() {
    let many = |count: usize, line: &dyn Fn(usize) -> String| (0..count).map(line).collect::<String>();
    let attacks = [
        ("keys", many(90_000, &|n| format!("k{n}=1\n"))),
        ("the same key", "a=1\n".repeat(250_000)),
        ("the same table", "[valve]\nattitude=1\n".repeat(50_000)),
        ("tables", many(80_000, &|n| format!("[t{n}]\n"))),
        ("lists of tables", "[[t]]\n".repeat(150_000)),
        ("brackets", "[".repeat(1_000_000)),
        ("quotation marks", "\"".repeat(1_000_000)),
        ("ends of lines", "\n".repeat(1_000_000)),
        ("returns", "\r".repeat(1_000_000)),
        ("signs", "=".repeat(1_000_000)),
        ("lines of signs", "= = =\n".repeat(160_000)),
        ("a deep key", format!("{}a=1", "a.".repeat(400_000))),
        ("a deep heading", format!("[{}a]", "a.".repeat(400_000))),
        ("deep lists", format!("a={}{}", "[".repeat(10_000), "]".repeat(10_000))),
        ("deep tables", format!("a={}1{}", "{a=".repeat(10_000), "}".repeat(10_000))),
        ("deep tables of ours", "valve={valve=".repeat(70_000)),
        ("a long key", format!("{}=1", "k".repeat(900_000))),
        ("a long value", format!("atmosphere=\"{}\"", "9".repeat(900_000))),
        ("a long unit", format!("atmosphere=\"1 {}\"", "b".repeat(900_000))),
        ("a long state", format!("fluid.state=\"{}\"", "water ".repeat(150_000))),
        ("a long pipe", format!("upstream.pipe=\"{}\"\nupstream.length=\"1 m\"", "22 x ".repeat(150_000))),
        ("a long axis", format!("map.x.path=\"{}\"", "a.".repeat(400_000))),
        ("a long like", format!("like=\"{}\"", "a/".repeat(400_000))),
        ("control signs", "\"\\u001b]0;x\\u0007\"=1\nlike=\"\\u001b[2J\"\n\"a\u{1b}[31mb\"=2\n#\u{1b}[2J\n".to_owned()),
    ];
    for (name, text) in attacks {
        let problems = refused(text);
        let shown = problems.to_string();
        assert!(problems.0.len() <= 50, "{name}: {}", problems.0.len());
        assert!(shown.len() < 100_000 && !shown.is_empty(), "{name}: {} bytes", shown.len());
        harmless(&shown);
    }
}

#[test]
fn the_first_fifty_problems_are_listed_and_the_others_counted() {
    let keys: String = (0..1000).map(|n| format!("k{n}=1\n")).collect();
    let problems = refused(format!("{keys}{}", demo::text("water-bang")));
    assert_eq!((problems.0.len(), problems.1), (50, 950));
    assert!(problems.0.iter().zip(1..).all(|(problem, line)| problem.position == Some((line, 1))));
    assert!(problems.to_string().ends_with("\nand 950 more problems: mend these first"));
    let few = refused(format!("k=1\n{}", demo::text("water-bang")));
    assert_eq!((few.0.len(), few.1), (1, 0));
}

#[test]
fn a_long_line_is_shown_around_its_fault() {
    let text = demo::text("water-bang")
        .replace("lift = \"3 mm\"", &format!("lift = \"3 mm{}\" # {}", " ".repeat(3000), "x".repeat(3000)));
    assert!(Document::from_text("x.toml", text.clone()).scenario().is_ok(), "blanks around a value are none of it");
    let shown = refused(text.replace("lift = \"3 mm", "lift = \"3 kg")).to_string();
    let lines: Vec<&str> = shown.lines().collect();
    assert_eq!(lines.len(), 3, "{shown}");
    assert!(lines[1].contains("lift = \"3 kg") && lines[1].ends_with('…'), "{shown}");
    let column = lines[2].chars().position(|c| c == '^').expect("a mark");
    assert_eq!(lines[1].chars().nth(column), Some('"'), "{shown}");
    assert!(lines[2].chars().count() <= lines[1].chars().count(), "{shown}");
}

#[test]
fn names_in_quotation_marks_are_no_paths() {
    let shown = refused(format!("\"valve.main.lift\" = \"3 mm\"\n\"\" = 1\n{}", demo::text("water-bang"))).to_string();
    assert!(shown.contains("unknown key `valve.main.lift` at the head of the file; write it without quotation marks"));
    assert!(shown.contains("unknown key `` at the head of the file; known here: "), "{shown}");
}

#[test]
fn free_text_cannot_act_on_the_terminal() {
    let question = "question = \"\\u001b]0;stolen\\u0007 why?\"\n";
    let rest: String = demo::text("water-bang")
        .lines()
        .filter(|line| !line.starts_with("question"))
        .map(|l| format!("{l}\n"))
        .collect();
    let document = Document::from_text("a\u{1b}b.toml", format!("{question}{rest}"));
    let (scenario, _) = document.scenario().unwrap_or_else(|problems| panic!("{problems}"));
    assert_eq!(scenario.question, "�]0;stolen� why?");
    assert_eq!(scenario.name, "a�b");
}

#[test]
fn thousands_of_settings_are_read_one_after_the_other() {
    let document = demo::open("water-bang");
    let good: Vec<String> = (1..20_000).map(|n| format!("valve.main.mass={} g", 40.0 + f64::from(n) * 1e-3)).collect();
    let last = document.with_settings(&good).expect("each is sound");
    assert_eq!(last.settings().len(), good.len());
    assert_eq!(last.scenario().expect("sound").0.valve.main.mass, 59.999e-3);
    let bad: Vec<String> = (0..50_000).map(|n| format!("valve.k{n}=1")).collect();
    let problems = document.with_settings(&bad).expect_err("none is a path");
    assert_eq!((problems.0.len(), problems.1), (50, 49_950));
    let long = format!("{}={}\u{1b}[2J", "k".repeat(100_000), "v".repeat(100_000));
    let one = document.with_setting(&long).expect_err("no path").to_string();
    assert!(one.chars().count() < 400 && one.contains('…') && !one.contains(char::is_control), "{one}");
    let value = document.with_setting(&format!("valve.main.mass={} kg", "9".repeat(100_000))).expect_err("too much");
    assert!(value.to_string().chars().count() < 400, "{value}");
}

#[test]
fn a_like_that_is_no_sensible_file_is_refused_at_its_key() {
    let folder = Folder::new("like");
    let big = folder.write("big.toml", &"#".repeat(1_000_001));
    assert!(told(&big).contains("it has 1000001 bytes, and at most 1000000 are read"), "{}", told(&big));
    for (like, wanted) in [
        ("big.toml", "it has 1000001 bytes"),
        ("nowhere.toml", "check its name and folder"),
        ("inside", "it is a folder"),
    ] {
        let shown = told(&folder.write("top.toml", &format!("like = \"{like}\"\n")));
        assert!(shown.contains(&format!("top.toml:1:8: cannot read {}", folder.0.join(like).display())), "{shown}");
        assert!(shown.contains(wanted) && shown.matches("cannot").count() == 1, "{shown}");
    }
    for like in ["3", "\"\"", "[\"a.toml\"]", "true"] {
        let shown =
            Document::from_text("scenarios/x.toml", format!("like = {like}\n{}", demo::text("water-bang"))).scenario();
        let shown = shown.expect_err("it is like nothing").to_string();
        assert!(
            shown.starts_with("scenarios/x.toml:1:8: like: found ") && shown.contains("the name of a file"),
            "{shown}"
        );
    }
    if cfg!(unix) {
        let shown = told(&folder.write("top.toml", "like = \"/dev/zero\"\n"));
        assert!(shown.contains("cannot read /dev/zero: it is a device, a pipe or a socket"), "{shown}");
    }
    for number in 0..40 {
        folder.write(&format!("{number}.toml"), &format!("like = \"{}.toml\"\n", number + 1));
    }
    folder.write("40.toml", &demo::text("water-bang"));
    let shown = told(&folder.0.join("0.toml"));
    assert!(shown.contains("15.toml:1:8: the chain of `like` has more than 16 files"), "{shown}");
    assert!(Document::open(folder.0.join("26.toml")).expect("read").scenario().is_ok(), "fifteen files are a chain");
}

#[test]
fn nothing_of_a_file_outside_the_folder_is_shown_but_what_it_states() {
    let folder = Folder::new("outside");
    let secret = "SECRET";
    let outside = folder.0.join("outside.toml");
    let top = |like: &str| folder.write("inside/top.toml", &format!("like = \"{like}\"\n"));
    let good = demo::text("water-bang");
    for (name, text) in [
        ("no TOML", format!("root:{secret}:0:0\n{secret}\n[{secret}\n'{secret}'='\n")),
        ("unknown keys", format!("{secret} = 1\n[{secret}.a]\n[valve]\n{secret}=\"{secret}\"\n")),
        ("a value", good.replace("lift = \"3 mm\"", &format!("lift = \"{secret}\""))),
        ("a unit", good.replace("lift = \"3 mm\"", &format!("lift = \"3 {secret}\""))),
        ("a word", good.replace("attitude = \"upright\"", &format!("attitude = \"{secret}\""))),
        ("a path", good.replace("path = \"duty.cycle_rate\"", &format!("path = \"{secret}\""))),
        ("a fluid", good.replace("name = \"water\"", &format!("name = \"{secret}\""))),
        ("another file", format!("like = \"{secret}\"\n{good}")),
    ] {
        assert!(text.contains(secret), "{name}");
        std::fs::write(&outside, &text).expect("written");
        for like in ["../outside.toml".to_owned(), outside.display().to_string()] {
            let shown = told(&top(&like));
            assert!(!shown.contains(secret) && shown.contains("is not repeated here"), "{name}: {shown}");
            assert!(shown.contains("outside.toml:"), "{name}: {shown}");
        }
        assert!(told(&outside).contains(secret), "{name}: opened by itself it is quoted");
    }
    std::fs::write(&outside, good).expect("written");
    let document = Document::open(top("../outside.toml")).expect("read");
    let rows = echo(&document).unwrap_or_else(|problems| panic!("{problems}"));
    let lift = rows.iter().find(|row| row.path == "valve.main.lift").expect("a row");
    assert!(lift.typed.starts_with("\"3 mm\" (in ") && lift.typed.ends_with("outside.toml)"), "{}", lift.typed);
    folder.write("inside/base.toml", &demo::text("water-bang"));
    let rows = echo(&Document::open(top("base.toml")).expect("read")).expect("sound");
    assert!(rows.iter().all(|row| !row.typed.contains("(in ")));
}

#[cfg(unix)]
#[test]
fn a_link_leads_outside_as_well() {
    let folder = Folder::new("link");
    let outside = folder.write("outside.toml", "SECRET = 1\n");
    std::os::unix::fs::symlink(outside, folder.0.join("inside/link.toml")).expect("a link can be made");
    let shown = told(&folder.write("inside/top.toml", "like = \"link.toml\"\n"));
    assert!(!shown.contains("SECRET") && shown.contains("link.toml:1:1: unknown key: "), "{shown}");
}
