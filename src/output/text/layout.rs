//! Lines and columns of a text of limited width.

/// Narrowest width that is respected; below it words would break.
pub(super) const NARROWEST: usize = 30;

/// A sentence in lines of at most `width` characters, each ending with a line break.
pub fn paragraph(text: &str, width: usize) -> String {
    wrap(text, width.max(NARROWEST)).into_iter().map(|line| line + "\n").collect()
}

pub(in crate::output) fn length(text: &str) -> usize {
    text.chars().count()
}

pub(in crate::output) fn padded(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(length(text))))
}

pub(super) fn shortened(text: &str, width: usize) -> String {
    if length(text) <= width {
        return text.to_owned();
    }
    let kept: String = text.chars().take(width.saturating_sub(1)).collect();
    kept + "…"
}

/// Breaks a text at its spaces into lines of at most `width` characters, and inside a word that is longer.
pub(in crate::output) fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        if !line.is_empty() && length(&line) + 1 + length(word) > width {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        for c in word.chars() {
            if length(&line) >= width {
                lines.push(std::mem::take(&mut line));
            }
            line.push(c);
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}
