//! Text that is fitted into a width.

use super::canvas::{Anchor, Canvas, Direction, Lettering};
use super::colour::Colour;
use super::font::text_width;

/// Distance between two lines, as a multiple of the size.
pub const LINE_STEP: f64 = 1.3;

/// Lines of text that fill a width.
#[derive(Clone, Debug, PartialEq)]
pub struct Paragraph {
    /// The lines.
    pub lines: Vec<String>,
    /// Size, points.
    pub size: f64,
    /// Colour.
    pub colour: Colour,
}

impl Paragraph {
    /// Breaks a text into lines of at most `width` points.
    pub fn new(text: &str, size: f64, colour: Colour, width: f64) -> Paragraph {
        Paragraph { lines: wrap(text, size, width), size, colour }
    }

    /// Height, points; none for no text.
    pub fn height(&self) -> f64 {
        self.lines.len() as f64 * self.size * LINE_STEP
    }

    /// Draws it with its upper left corner at the point; returns where it ends below.
    pub fn draw(&self, canvas: &mut Canvas, left: f64, top: f64) -> f64 {
        let step = self.size * LINE_STEP;
        for (i, line) in self.lines.iter().enumerate() {
            let at = (left, top + step * (i as f64 + 0.5));
            canvas.text(line, at, lettering(self.size, self.colour, Anchor::Start));
        }
        top + self.height()
    }
}

/// Plain horizontal lettering.
pub fn lettering(size: f64, colour: Colour, anchor: Anchor) -> Lettering {
    Lettering { size, colour, anchor, direction: Direction::Across, halo: false }
}

/// Breaks a text at its spaces, and inside a word only where the word alone is too wide.
pub fn wrap(text: &str, size: f64, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if text_width(&longer, size) <= width {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        line = break_word(word, size, width, &mut lines);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

fn break_word(word: &str, size: f64, width: f64, lines: &mut Vec<String>) -> String {
    let mut piece = String::new();
    for c in word.chars() {
        piece.push(c);
        if text_width(&piece, size) > width && piece.chars().count() > 1 {
            piece.pop();
            lines.push(std::mem::replace(&mut piece, c.to_string()));
        }
    }
    piece
}

/// The text, shortened with an ellipsis where it is wider than `width`.
pub fn fitted(text: &str, size: f64, width: f64) -> String {
    if text_width(text, size) <= width {
        return text.to_owned();
    }
    let mut kept: Vec<char> = text.chars().collect();
    while !kept.is_empty() {
        kept.pop();
        let short: String = kept.iter().collect::<String>().trim_end().to_owned() + "…";
        if text_width(&short, size) <= width {
            return short;
        }
    }
    String::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_fits_and_no_word_is_lost() {
        let text = "why does the valve chatter at a differential of 0.15 bar and Donaudampfschifffahrtsgesellschaft";
        let lines = wrap(text, 9.0, 80.0);
        assert!(lines.iter().all(|l| text_width(l, 9.0) <= 80.0));
        let joined: String = lines.concat().split_whitespace().collect();
        assert_eq!(joined, text.split_whitespace().collect::<String>());
    }

    #[test]
    fn shortened_text_fits() {
        let short = fitted("differential pressure of the supply", 10.0, 60.0);
        assert!(short.ends_with('…') && text_width(&short, 10.0) <= 60.0);
        assert_eq!(fitted("x", 10.0, 0.0), "");
    }
}
