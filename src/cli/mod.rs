//! The command line: arguments as typed, one file for each verb, exit codes, and what is shown where.
//!
//! Results go to standard output, progress and cautions to standard error. A verb gets a [`ctx::Ctx`] and gives back an
//! [`exit::Exit`]; everything that stops a run early is an [`exit::Stop`]. Adding a verb is one file in `verbs/` and one
//! line in the list there.

mod args;
mod ctx;
mod exit;
mod load;
mod plan_text;
mod planning;
mod problems;
mod rows;
mod run;
mod screen;
mod table;
mod verbs;

pub use args::command;
pub use run::run;
