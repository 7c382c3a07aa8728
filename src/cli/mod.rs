//! Arguments, and one file for each command. Data go to stdout, talk to stderr.

mod arguments;
mod check;
mod closing;
mod document;
mod faults;
mod files;
mod fluid;
mod heat;
mod interrupt;
mod map;
mod outcome;
mod resume;
mod run;
mod stability;
mod surge;
mod terminal;
mod threads;
mod validate;
mod watch;

use arguments::{Arguments, Command};
use clap::Parser;
use clap::error::ErrorKind;
use outcome::{Failure, Outcome};
use std::io::{self, Write};
use std::process::ExitCode;

/// Exit code where all was done, whatever the verdict.
const DONE: u8 = 0;
/// Exit code where all was done, and a tolerance is broken or, with `--strict`, the verdict is adverse.
const ADVERSE: u8 = 1;
/// Exit code where it could not be done.
const NOT_DONE: u8 = 2;

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
        Command::Faults(study) => faults::run(study),
        Command::Surge(asked) => surge::run(asked),
        Command::Heat(study) => heat::run(study),
        Command::Fluids(fluids) => fluid::list(fluids),
        Command::Fluid(asked) => fluid::run(asked),
    }
}
