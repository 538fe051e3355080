//! The program: hands the command line to the library and takes its exit code back.
#![forbid(unsafe_code)]

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(nookwright::cli::run(std::env::args_os()))
}
