//! Rust code as words and signs, as far as the house's checks need it: what a file defines, and what it imports.

use std::collections::BTreeSet;

/// Words and signs of a file without comments, texts and tests.
pub(crate) struct Tokens(Vec<String>);

/// A name and the path from the top of the crate that it stands for; of a glob the name is `*`.
pub(crate) struct Import {
    pub(crate) name: String,
    pub(crate) path: Vec<String>,
}

impl Tokens {
    pub(crate) fn of(text: &str) -> Tokens {
        Tokens(without_tests(&split(text)))
    }

    /// Names of items.
    pub(crate) fn defined(&self) -> BTreeSet<String> {
        let item = |word: &str| ["fn", "struct", "enum", "union", "trait", "type", "const", "static"].contains(&word);
        let items = self.0.windows(2).filter(|pair| item(&pair[0])).map(|pair| pair[1].clone());
        let macros = self.0.windows(3).filter(|three| three[0] == "macro_rules").map(|three| three[2].clone());
        items.chain(macros).collect()
    }

    /// Imports of a module, by `use` and by paths in the code. `child` tells whether a name is one of its own modules.
    pub(crate) fn imports(&self, module: &[String], child: &dyn Fn(&str) -> bool) -> Vec<Import> {
        let mut found = Vec::new();
        let mut at = 0;
        while at < self.0.len() {
            // `pub(in crate::room)` says who may see an item, not what it needs.
            let free = at == 0 || !["::", "in"].contains(&self.0[at - 1].as_str());
            if self.0[at] == "use" && self.0.get(at + 1).is_some_and(|next| next != "<") {
                at = self.tree(at + 1, &[], &mut found);
            } else if free && self.leads(at, child) {
                at = self.path(at, &mut found);
            } else {
                at += 1;
            }
        }
        found
            .into_iter()
            .filter_map(|(name, path)| Some(Import { name, path: from_top(&path, module, child)? }))
            .collect()
    }

    /// Whether a path of the crate begins here.
    fn leads(&self, at: usize, child: &dyn Fn(&str) -> bool) -> bool {
        let word = self.0[at].as_str();
        let known = ["super", "self", "crate"].contains(&word) || child(word);
        known && self.0.get(at + 1).is_some_and(|next| next == "::")
    }

    /// A path in the code; where it ends.
    fn path(&self, from: usize, found: &mut Vec<(String, Vec<String>)>) -> usize {
        let mut path = vec![self.0[from].clone()];
        let mut at = from + 1;
        while self.0.get(at).is_some_and(|next| next == "::") && self.0.get(at + 1).is_some_and(|next| is_word(next)) {
            path.push(self.0[at + 1].clone());
            at += 2;
        }
        found.push((String::new(), path));
        at
    }

    /// A tree of `use`; where it ends.
    fn tree(&self, from: usize, before: &[String], found: &mut Vec<(String, Vec<String>)>) -> usize {
        let mut path = before.to_vec();
        let mut at = from;
        loop {
            match self.0.get(at).map_or(";", String::as_str) {
                "::" => at += 1,
                "{" => {
                    at += 1;
                    while self.0.get(at).is_some_and(|next| next != "}") {
                        at = if self.0[at] == "," { at + 1 } else { self.tree(at, &path, found) };
                    }
                    return at + 1;
                }
                "as" => {
                    found.push((self.0[at + 1].clone(), path));
                    return at + 2;
                }
                word if is_word(word) || word == "*" => {
                    path.push(word.to_owned());
                    at += 1;
                }
                _ => {
                    if path.len() > 1 && path.last().is_some_and(|last| last == "self") {
                        path.pop();
                    }
                    found.push((path.last().cloned().unwrap_or_default(), path));
                    return at;
                }
            }
        }
    }
}

/// A path as seen in a module, from the top of the crate; `None` for one of another crate.
fn from_top(path: &[String], module: &[String], child: &dyn Fn(&str) -> bool) -> Option<Vec<String>> {
    match path.first()?.as_str() {
        "crate" => return Some(path[1..].to_vec()),
        "self" => return Some([module, &path[1..]].concat()),
        "super" => {}
        first => return child(first).then(|| [module, path].concat()),
    }
    let up = path.iter().take_while(|word| *word == "super").count();
    Some([module.get(..module.len().checked_sub(up)?)?, &path[up..]].concat())
}

fn is_word(token: &str) -> bool {
    token.starts_with(|c: char| c.is_alphabetic() || c == '_')
}

/// Leaves out each item under `#[cfg(test)]`: up to its `;`, or to the brace that closes it.
fn without_tests(tokens: &[String]) -> Vec<String> {
    let mark = ["#", "[", "cfg", "(", "test", ")", "]"];
    let (mut kept, mut at) = (Vec::new(), 0);
    while at < tokens.len() {
        if tokens[at..].iter().take(mark.len()).eq(mark.iter()) {
            at = end_of_item(tokens, at + mark.len());
        } else {
            kept.push(tokens[at].clone());
            at += 1;
        }
    }
    kept
}

fn end_of_item(tokens: &[String], from: usize) -> usize {
    let mut depth = 0;
    for (at, token) in tokens.iter().enumerate().skip(from) {
        match token.as_str() {
            "{" => depth += 1,
            "}" => depth -= 1,
            _ => {}
        }
        if depth == 0 && (token == "}" || token == ";") {
            return at + 1;
        }
    }
    tokens.len()
}

/// Words, `::` and single signs; comments and texts left out.
fn split(text: &str) -> Vec<String> {
    let signs: Vec<char> = text.chars().collect();
    let (mut tokens, mut at) = (Vec::new(), 0);
    while at < signs.len() {
        let rest = &signs[at..];
        let skipped = skipped(rest);
        if skipped > 0 {
            at += skipped;
            continue;
        }
        let word = rest.iter().take_while(|c| c.is_alphanumeric() || **c == '_').count();
        let length = if word > 0 { word } else { 1 + usize::from(rest.starts_with(&[':', ':'])) };
        if !rest[0].is_whitespace() {
            tokens.push(rest[..length].iter().collect());
        }
        at += length;
    }
    tokens
}

/// Length of the comment, text or single sign in quotation marks that begins here; 0 where none does.
fn skipped(rest: &[char]) -> usize {
    let until = |from: usize, end: &[char]| {
        let found = rest[from..].windows(end.len()).position(|window| window == end);
        found.map_or(rest.len(), |at| from + at + end.len())
    };
    match rest {
        ['/', '/', ..] => until(2, &['\n']),
        ['/', '*', ..] => until(2, &['*', '/']),
        ['r', '"', ..] => until(2, &['"']),
        ['r', '#', '"', ..] => until(3, &['"', '#']),
        ['"', ..] => quoted(rest),
        ['\'', '\\', _, ..] => until(3, &['\'']),
        ['\'', _, '\'', ..] => 3,
        _ => 0,
    }
}

/// Length of a text with its escapes.
fn quoted(rest: &[char]) -> usize {
    let mut at = 1;
    while at < rest.len() && rest[at] != '"' {
        at += if rest[at] == '\\' { 2 } else { 1 };
    }
    (at + 1).min(rest.len())
}

#[test]
fn texts_comments_and_tests_are_left_out() {
    let text = "use a::b; // use c::d;\nlet x = \"use \\\"e::f\"; let c = '\"'; /* g */ r#\"h\"#\n#[cfg(test)]\nmod t { fn i() {} }\nfn j<'k>() {}";
    assert_eq!(Tokens::of(text).0.join(" "), "use a :: b ; let x = ; let c = ; fn j < ' k > ( ) { }");
    let items = "struct A;\nconst fn b() {}\nenum C {}\nmacro_rules! d { () => {}; }";
    assert_eq!(Tokens::of(items).defined(), ["A", "C", "b", "d", "fn"].map(str::to_owned).into());
}

#[test]
fn a_tree_of_imports_is_unfolded() {
    let tokens = Tokens::of(
        "use super::{self, a::{B, c as D}, e::*};\nuse std::fs;\nfn f() { inner::g::<u8>() + crate::h::I::J }",
    );
    let module = ["room", "this"].map(str::to_owned);
    let found = tokens.imports(&module, &|name| name == "inner");
    let shown: Vec<String> = found.iter().map(|i| format!("{} = {}", i.name, i.path.join("::"))).collect();
    let wanted =
        ["room = room", "B = room::a::B", "D = room::a::c", "* = room::e::*", " = room::this::inner::g", " = h::I::J"];
    assert_eq!(shown, ["super = room"].into_iter().chain(wanted.into_iter().skip(1)).collect::<Vec<_>>());
}
