//! The terminal: what it can show, and the only way to it. Data that cannot be written are a failure; talk that nobody hears is
//! none.

use super::outcome::Failure;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use quietseat::output::text::Colouring;
use quietseat::quote;
use std::fmt::Display;
use std::io::{self, ErrorKind, IsTerminal, Write};

/// Narrowest and widest text, columns.
const WIDTHS: (usize, usize) = (60, 110);

/// Columns to write in: as the environment says, else 100.
pub(super) fn width() -> usize {
    let stated = std::env::var("COLUMNS").ok().and_then(|text| text.parse().ok());
    stated.unwrap_or(100_usize).clamp(WIDTHS.0, WIDTHS.1)
}

/// Colour only on terminals, and not where NO_COLOR is set.
pub(super) fn colouring() -> Colouring {
    let wanted = io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    if wanted { Colouring::Coloured } else { Colouring::Plain }
}

/// Data, on stdout.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    written(out.write_all(text.as_bytes()).and_then(|()| out.flush()))
}

/// What became of data written to stdout: a reader that has gone away (a closed pipe) has what it wanted.
pub(super) fn written(result: io::Result<()>) -> Result<(), Failure> {
    match result {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Failure(format!("cannot write to standard output: {error}; send it to where there is room")))
        }
        _ => Ok(()),
    }
}

/// Talk, a line on stderr; where nobody can hear it, the work goes on.
pub(super) fn say(line: impl Display) {
    let _ = writeln!(io::stderr().lock(), "{}", quote::harmless_lines(&line.to_string()));
}

/// A bar of progress on stderr; none where that is no terminal or quiet is wanted.
pub(super) fn progress(quiet: bool, length: u64, template: &str) -> ProgressBar {
    let hidden = quiet || !io::stderr().is_terminal();
    let target = if hidden { ProgressDrawTarget::hidden() } else { ProgressDrawTarget::stderr() };
    let style = ProgressStyle::with_template(template);
    let bar = ProgressBar::with_draw_target(Some(length), target);
    bar.with_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()))
}
