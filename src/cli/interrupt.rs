//! Ctrl-C and its like, and the system's limit on the size of a file.

use super::outcome::Failure;
use std::io;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Instant;

/// What is known of being asked to end.
struct State {
    /// When the program was asked to.
    asked: Option<Instant>,
    /// Does it end at once? Not while it writes, and not where it stops by itself.
    at_once: bool,
}

static STATE: Mutex<State> = Mutex::new(State { asked: None, at_once: true });

/// Asked again after this, the program ends at once. Sooner is the same question: a shell and what it runs may both pass it on.
#[cfg(unix)]
const AGAIN: std::time::Duration = std::time::Duration::from_secs(1);

/// Exit code of a program that was asked to end twice: 128 and the number of the signal, as shells count.
#[cfg(unix)]
const ENDED_BY_SIGNAL: i32 = 128;

fn state() -> MutexGuard<'static, State> {
    STATE.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Listen from now on.
#[cfg(unix)]
pub(super) fn listen() -> io::Result<()> {
    use signal_hook::consts::{SIGINT, SIGTERM, SIGXFSZ};
    // Without it a file that grows beyond the limit ends the program without a word; with it the write fails and says why.
    signal_hook::flag::register(SIGXFSZ, std::sync::Arc::default())?;
    let mut signals = signal_hook::iterator::Signals::new([SIGINT, SIGTERM])?;
    std::thread::Builder::new().name("interrupt".into()).spawn(move || {
        for signal in signals.forever() {
            asked_by(signal);
        }
    })?;
    Ok(())
}

#[cfg(unix)]
fn asked_by(signal: i32) {
    // Held to the end: no file is begun meanwhile.
    let mut state = state();
    if state.at_once {
        let _ = signal_hook::low_level::emulate_default_handler(signal);
    }
    match state.asked {
        Some(before) if before.elapsed() > AGAIN => {
            super::terminal::say("ended at once; what was kept before stays");
            std::process::exit(ENDED_BY_SIGNAL + signal);
        }
        Some(_) => {}
        None => {
            state.asked = Some(Instant::now());
            super::terminal::say("stopping, as soon as what is at work is finished; Ctrl-C once more ends at once");
        }
    }
}

/// Elsewhere the system ends the program at once; files are whole all the same.
#[cfg(not(unix))]
pub(super) fn listen() -> io::Result<()> {
    Ok(())
}

/// Was the program asked to end?
pub(super) fn asked() -> bool {
    state().asked.is_some()
}

/// From now on the command stops by itself when asked to.
pub(super) fn hold() {
    state().at_once = false;
}

/// Do something that must not be broken off, such as writing files; asked to end meanwhile, the program ends after it.
pub(super) fn unbroken<T>(work: impl FnOnce() -> Result<T, Failure>) -> Result<T, Failure> {
    let before = std::mem::replace(&mut state().at_once, false);
    let done = work();
    state().at_once = before;
    match (before && asked(), done) {
        (true, Ok(_)) => Err(Failure("interrupted; what was being written is whole".into())),
        (_, done) => done,
    }
}
