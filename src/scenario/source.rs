//! A file as read, and how a piece of it is shown.

use std::ops::Range;

use crate::quote;

/// Characters of a line that are shown at most.
const LONGEST: usize = 100;

/// Characters shown in front of the marked piece where the line is longer.
const LEAD: usize = 40;

/// A file as read.
#[derive(Debug)]
pub(super) struct SourceFile {
    /// Name as it is shown.
    pub(super) name: String,
    /// Text.
    pub(super) text: String,
    /// It lies outside the folder of the scenario that was opened, so that none of its text is shown: who wrote the scenario
    /// may not have been allowed to read it.
    pub(super) foreign: bool,
    /// Where its lines start, so that a place is found without counting from the top.
    starts: Vec<usize>,
}

/// A line with a marked piece, cut where it is long.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Excerpt {
    /// The line.
    pub(super) text: String,
    /// Characters of it in front of the mark.
    pub(super) before: usize,
    /// Characters that are marked.
    pub(super) marked: usize,
}

impl SourceFile {
    pub(super) fn new(name: String, text: String, foreign: bool) -> SourceFile {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        SourceFile { name, text, foreign, starts }
    }

    /// Line and column, from 1.
    pub(super) fn position(&self, at: usize) -> (usize, usize) {
        let at = boundary(&self.text, at);
        let line = self.line(at);
        (line + 1, self.text[self.starts[line]..at].chars().count() + 1)
    }

    /// The first line of a piece of the text.
    pub(super) fn excerpt(&self, span: &Range<usize>) -> Excerpt {
        let start = boundary(&self.text, span.start);
        let line = self.line(start);
        let line_end = self.starts.get(line + 1).map_or(self.text.len(), |next| next - 1);
        let end = boundary(&self.text, span.end).clamp(start, line_end);
        let (head, tail) = (&self.text[self.starts[line]..start], &self.text[start..line_end]);
        let marked = self.text[start..end].trim_end().chars().take(LONGEST).count().max(1);
        let tail = tail.trim_end_matches('\r');
        let short = head.len() + tail.len() <= LONGEST || head.chars().chain(tail.chars()).nth(LONGEST).is_none();
        let (lead, room) = if short { (head.len(), LONGEST) } else { (LEAD, LONGEST - LEAD) };
        let (cut, before) = last_characters(head, lead);
        let front = if cut { "…" } else { "" };
        let behind = tail.char_indices().nth(room).map(|(at, _)| at);
        let text = match behind {
            Some(at) => format!("{front}{before}{}…", &tail[..at]),
            None => format!("{front}{before}{tail}"),
        };
        Excerpt {
            text: quote::harmless(&text.replace('\t', " ")).into_owned(),
            before: before.chars().count() + usize::from(cut),
            marked: marked.min(room),
        }
    }

    /// The line of a byte, to some length.
    pub(super) fn line_of(&self, at: usize) -> &str {
        let line = self.line(boundary(&self.text, at));
        let rest = &self.text[self.starts[line]..];
        let end = rest.find('\n').unwrap_or(rest.len()).min(boundary(rest, 10 * LONGEST));
        &rest[..end]
    }

    /// Index of the line of a byte.
    fn line(&self, at: usize) -> usize {
        self.starts.partition_point(|start| *start <= at).saturating_sub(1)
    }
}

/// Was something cut away, and what is left at the end.
fn last_characters(text: &str, most: usize) -> (bool, &str) {
    match text.char_indices().rev().nth(most.saturating_sub(1)) {
        Some((at, _)) if at > 0 && most > 0 => (true, &text[at..]),
        _ => (false, text),
    }
}

/// The nearest character boundary at or below a byte index.
fn boundary(text: &str, index: usize) -> usize {
    let mut index = index.min(text.len());
    while !text.is_char_boundary(index) {
        index -= 1;
    }
    index
}

#[cfg(test)]
mod tests {
    use super::*;

    fn excerpt(text: &str, marked: &str) -> Excerpt {
        let start = text.find(marked).expect("it is there");
        SourceFile::new("x".into(), text.into(), false).excerpt(&(start..start + marked.len()))
    }

    #[test]
    fn places_are_counted_in_lines_and_characters() {
        let file = SourceFile::new("x".into(), "a\r\nµ = 1\n".into(), false);
        for (at, wanted) in
            [(0, (1, 1)), (1, (1, 2)), (3, (2, 1)), (4, (2, 1)), (5, (2, 2)), (10, (3, 1)), (99, (3, 1))]
        {
            assert_eq!(file.position(at), wanted, "{at}");
        }
        assert_eq!(excerpt("one\ntwo = 2\r\nthree", "2"), Excerpt { text: "two = 2".into(), before: 6, marked: 1 });
    }

    #[test]
    fn the_marked_piece_of_a_long_line_is_shown() {
        let found = excerpt(&format!("{}HERE{}", "µ".repeat(500_000), "ü".repeat(500_000)), "HERE");
        assert_eq!(found.text, format!("…{}HERE{}…", "µ".repeat(LEAD), "ü".repeat(LONGEST - LEAD - 4)));
        assert_eq!((found.before, found.marked), (LEAD + 1, 4));
        let whole = excerpt(&"k".repeat(1000), &"k".repeat(1000));
        assert_eq!((whole.before, whole.marked, whole.text.chars().count()), (0, LONGEST - LEAD, LONGEST - LEAD + 1));
        let end = excerpt(&format!("{}E", "y".repeat(200)), "E");
        assert!(end.text.starts_with('…') && end.text.ends_with("yE") && end.before == LEAD + 1, "{end:?}");
    }
}
