//! Colours of a terminal.

use crate::output::appearance::terminal_colour;
use crate::verdict::Behaviour;

/// Are colours written?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colouring {
    /// Plain text.
    Plain,
    /// With the colour codes of a text terminal.
    Coloured,
}

pub(super) fn painted(words: &str, behaviour: Behaviour, colouring: Colouring) -> String {
    tinted(words, terminal_colour(behaviour), colouring)
}

/// In a colour of the 256 of a terminal.
pub(super) fn tinted(words: &str, colour: u8, colouring: Colouring) -> String {
    match colouring {
        Colouring::Plain => words.to_owned(),
        Colouring::Coloured => format!("\u{1b}[38;5;{colour}m{words}\u{1b}[0m"),
    }
}
