//! Arguments, and one file for each command. Data go to stdout, talk to stderr.

mod arguments;
mod check;
mod closing;
mod document;
mod fluid;
mod interrupt;
mod map;
mod resume;
mod run;
mod stability;
mod surge;
mod terminal;
mod threads;
mod validate;
mod watch;

pub(crate) use arguments::Strict;
use arguments::{Arguments, Command};
use clap::Parser;
use clap::error::ErrorKind;
use quietseat::file::write;
use std::fmt;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Exit code where all was done, whatever the verdict.
const DONE: u8 = 0;
/// Exit code where all was done, and a tolerance is broken or, with `--strict`, the verdict is adverse.
const ADVERSE: u8 = 1;
/// Exit code where it could not be done.
const NOT_DONE: u8 = 2;

/// Why a command could not be done.
pub(crate) struct Failure(pub(crate) String);

impl<E: fmt::Display> From<E> for Failure {
    fn from(error: E) -> Self {
        Failure(error.to_string())
    }
}

/// What a finished command tells the shell.
pub(crate) enum Outcome {
    /// The work is done.
    Done,
    /// The work is done, and a script is to hear of its result: a broken tolerance, or an adverse verdict under `--strict`.
    Adverse,
}

impl Outcome {
    /// That of a verdict: a fault of the valve is no fault of the program, so that only scripts that ask for it hear of it.
    pub(crate) fn of_verdict(adverse: bool, asked: &Strict) -> Outcome {
        if adverse && asked.strict { Outcome::Adverse } else { Outcome::Done }
    }
}

/// Write files that belong together, whole; their paths.
fn written(files: Vec<(PathBuf, Vec<u8>)>) -> Result<Vec<PathBuf>, Failure> {
    interrupt::unbroken(|| Ok(write::write_all(&files)?))?;
    Ok(files.into_iter().map(|(path, _)| path).collect())
}

/// A folder that cannot be written into is found out before the work, not after it.
fn probe(folder: &Path) -> Result<(), Failure> {
    interrupt::unbroken(|| {
        write::probe(folder).map_err(|error| Failure(format!("{error}; --out names another folder")))
    })
}

/// The end of a command that has both files and words: where one fails, the other is there all the same.
fn finished(files: Result<Vec<PathBuf>, Failure>, printed: Result<(), Failure>, quiet: bool) -> Result<(), Failure> {
    for file in files.iter().flatten().filter(|_| !quiet) {
        terminal::say(format!("wrote {}", file.display()));
    }
    match (files, printed) {
        (Err(Failure(one)), Err(Failure(other))) => Err(Failure(format!("{one}; and {other}"))),
        (files, printed) => files.and(printed),
    }
}

/// Parse the arguments, carry out the command, and turn its outcome into an exit code.
pub(crate) fn run() -> ExitCode {
    let outcome = match interrupt::listen() {
        Ok(()) => Arguments::try_parse().map_or_else(|unread| answered(&unread), |arguments| carried_out(&arguments)),
        Err(error) => Err(Failure(format!("cannot listen for Ctrl-C: {error}"))),
    };
    ExitCode::from(match outcome {
        Ok(Outcome::Done) => DONE,
        Ok(Outcome::Adverse) => ADVERSE,
        Err(Failure(message)) => {
            if !message.is_empty() {
                terminal::say(format!("quietseat: {message}"));
            }
            NOT_DONE
        }
    })
}

/// Help and version go to stdout, what is wrong with the arguments goes to stderr.
fn answered(unread: &clap::Error) -> Result<Outcome, Failure> {
    let printed = unread.print().and_then(|()| io::stdout().flush());
    if unread.kind() == ErrorKind::UnknownArgument {
        terminal::say(
            "\nA value or a file name with a blank in it stands in quotation marks: --set 'valve.bleed.diameter=0.7 mm'",
        );
    }
    if unread.use_stderr() {
        return Err(Failure(String::new()));
    }
    terminal::written(printed).map(|()| Outcome::Done)
}

fn carried_out(arguments: &Arguments) -> Result<Outcome, Failure> {
    match &arguments.command {
        Command::Check(check) => check::run(check),
        Command::Run(run) => run::run(run),
        Command::Map(map) => map::run(map),
        Command::Validate(validate) => validate::run(validate),
        Command::Stability(stability) => stability::run(stability),
        Command::Closing(study) => closing::run(study),
        Command::Surge(asked) => surge::run(asked),
        Command::Fluids(fluids) => fluid::list(fluids),
        Command::Fluid(asked) => fluid::run(asked),
    }
}
