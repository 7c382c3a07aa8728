//! The command `quietseat`.

mod cli;

fn main() -> std::process::ExitCode {
    cli::run()
}
