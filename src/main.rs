//! The command `quietseat`.

#![deny(clippy::print_stdout, clippy::print_stderr)]

mod cli;

fn main() -> std::process::ExitCode {
    cli::run()
}
