//! What the terminal can show.

use quietseat::output::text::Colouring;
use std::io::{IsTerminal, Write};

/// Narrowest and widest text, columns.
const WIDTHS: (usize, usize) = (60, 110);

/// Columns to write in: as the environment says, else 100.
pub(super) fn width() -> usize {
    let stated = std::env::var("COLUMNS").ok().and_then(|text| text.parse().ok());
    stated.unwrap_or(100_usize).clamp(WIDTHS.0, WIDTHS.1)
}

/// Colour only on terminals, and not where NO_COLOR is set.
pub(super) fn colouring() -> Colouring {
    let wanted = std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    if wanted { Colouring::Coloured } else { Colouring::Plain }
}

/// Print on stdout; a reader that has gone away (a closed pipe) is no fault.
pub(super) fn print(text: &str) {
    let mut out = std::io::stdout().lock();
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}
