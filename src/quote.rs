//! Words of others inside our own sentences: no control sign of them reaches a terminal, and no more of them is repeated than
//! a sentence can hold.

use std::borrow::Cow;

/// Characters of a name or a value that are repeated at most.
const LONGEST_WORD: usize = 80;

/// Characters of a file's path that are repeated at most.
const LONGEST_PATH: usize = 240;

/// Characters of a whole message at most; far above any of our own.
const LONGEST_MESSAGE: usize = 2000;

/// A name or a value, cut where it is long.
pub fn word(text: &str) -> Cow<'_, str> {
    cut(text, LONGEST_WORD)
}

/// A path, cut in its middle where it is long: its end tells most.
pub fn path(text: &str) -> Cow<'_, str> {
    let Some((half, _)) = text.char_indices().nth(LONGEST_PATH) else {
        return harmless(text);
    };
    let tail = text.char_indices().rev().nth(LONGEST_PATH / 2).map_or(half, |(at, _)| at);
    let head = text.char_indices().nth(LONGEST_PATH / 2).map_or(half, |(at, _)| at);
    Cow::Owned(format!("{}…{}", harmless(&text[..head]), harmless(&text[tail.max(head)..])))
}

/// A whole message.
pub fn message(text: &str) -> Cow<'_, str> {
    cut(text, LONGEST_MESSAGE)
}

fn cut(text: &str, most: usize) -> Cow<'_, str> {
    match text.char_indices().nth(most) {
        Some((end, _)) => Cow::Owned(format!("{}…", harmless(&text[..end]))),
        None => harmless(text),
    }
}

/// The same text with a sign of its own for each character that would act on the terminal, one for one.
pub fn harmless(text: &str) -> Cow<'_, str> {
    if text.contains(acts) { Cow::Owned(text.replace(acts, "\u{fffd}")) } else { Cow::Borrowed(text) }
}

/// The same for text that may have several lines.
pub fn harmless_lines(text: &str) -> Cow<'_, str> {
    let acts_in_lines = |c: char| acts(c) && c != '\n' && c != '\t';
    if text.contains(acts_in_lines) { Cow::Owned(text.replace(acts_in_lines, "\u{fffd}")) } else { Cow::Borrowed(text) }
}

/// Is it too long to be a name, or does it hold signs that no name has?
pub fn is_no_name(text: &str) -> bool {
    text.chars().nth(2 * LONGEST_WORD).is_some() || text.contains(|c: char| acts(c) && !c.is_whitespace())
}

/// Does a character act on a terminal: a control sign, an end of line, or one that turns the direction of writing?
fn acts(c: char) -> bool {
    c.is_control() || matches!(c, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_signs_are_replaced_one_for_one() {
        assert_eq!(harmless("a\u{1b}[31mb\u{9b}2J\u{202e}c\n"), "a�[31mb�2J�c�");
        assert_eq!(harmless_lines("two\nlines\u{7}"), "two\nlines�");
        assert!(matches!(harmless("22 × 1 µm °C"), Cow::Borrowed(_)));
    }

    #[test]
    fn long_texts_are_cut() {
        let long = "ü".repeat(10_000);
        assert_eq!(word(&long).chars().count(), LONGEST_WORD + 1);
        assert!(word(&long).ends_with('…'));
        let shown = path(&format!("/start/{long}/end.toml")).into_owned();
        assert!(shown.starts_with("/start/") && shown.ends_with("/end.toml") && shown.chars().count() < 250, "{shown}");
        assert_eq!(path("scenarios/a.toml"), "scenarios/a.toml");
        assert!(is_no_name(&long) && is_no_name("R\u{1b}32") && !is_no_name("R32 liquid,\t30 °C"));
    }
}
