//! Arguments as typed: the switches every verb has, and values read from them. No files, no smart objects.

use super::verbs::Verb;
use crate::model::task::SolveOptions;
use crate::model::{Effort, Paper};
use crate::units::{Length, ReadAs, Unit, parse_length};
use clap::{Args, CommandFactory, Parser, ValueEnum};
use std::path::PathBuf;

/// Fits built-ins into an opening that is not square.
///
/// Reads the files of a job folder, plans sheets and sticks and says how good the plan is, prices each route, and prints
/// a book to work from at the saw. Sizes are read as you write them: 23 1/4, 2' 3 1/2", 590 mm.
#[derive(Parser)]
#[command(
    name = "nookwright",
    version,
    arg_required_else_help = true,
    max_term_width = 96
)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct Cli {
    #[command(flatten)]
    pub(crate) common: Common,
    #[command(subcommand)]
    pub(crate) verb: Verb,
}

const EXIT_CODES: &str = "Exit codes: 0 done; 1 the job as described will not work; 2 typed wrongly; \
3 a mistake in a file, nothing written; 4 survey readings disagree; 5 a missing price or reading would mislead; \
6 could not read or write; 70 our fault.";

/// Switches of every verb.
#[derive(Args, Clone, Debug)]
pub(crate) struct Common {
    /// The job folder [default: where you are]
    #[arg(long = "in", value_name = "FOLDER", global = true)]
    pub(crate) folder: Option<PathBuf>,
    /// Show sizes in this unit; with a bare cut list also how its bare numbers are read
    #[arg(long, value_name = "UNIT", value_enum, global = true)]
    pub(crate) units: Option<UnitWord>,
    /// Print one JSON document on standard output, and nothing else there
    #[arg(long, global = true)]
    pub(crate) json: bool,
    /// Say no cautions and show no progress
    #[arg(long, short, global = true)]
    pub(crate) quiet: bool,
    /// Cautions count as failures
    #[arg(long, global = true)]
    pub(crate) strict: bool,
    /// Plain letters only: no lines drawn, no bold, for screen readers and old printers
    #[arg(long, global = true)]
    pub(crate) plain: bool,
    /// Threads to share the work among; the answer does not depend on it [default: one for each core]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256), global = true)]
    pub(crate) threads: Option<u16>,
    /// How hard to look for a better plan, counted in steps of work and never in seconds
    #[arg(long, value_enum, default_value_t = EffortWord::Normal, global = true)]
    pub(crate) effort: EffortWord,
}

impl Common {
    pub(crate) fn options(&self) -> SolveOptions {
        let cores = || std::thread::available_parallelism().map_or(1, usize::from);
        SolveOptions {
            effort: match self.effort {
                EffortWord::Quick => Effort::Quick,
                EffortWord::Normal => Effort::Normal,
                EffortWord::Thorough => Effort::Thorough,
            },
            threads: self.threads.map_or_else(cores, usize::from),
            second_aims: true,
        }
    }
    pub(crate) fn unit(&self) -> Option<Unit> {
        self.units.map(UnitWord::unit)
    }
}

/// `--units`
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub(crate) enum UnitWord {
    /// Inches and fractions
    Inch,
    /// Millimetres
    Mm,
}

impl UnitWord {
    pub(crate) const fn unit(self) -> Unit {
        match self {
            Self::Inch => Unit::Inch,
            Self::Mm => Unit::Mm,
        }
    }
}

/// `--effort`
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub(crate) enum EffortWord {
    /// An answer at once
    Quick,
    /// The usual
    Normal,
    /// For the last sheet and the proof
    Thorough,
}

/// `--paper`
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub(crate) enum PaperWord {
    /// 8 1/2 x 11 in
    Letter,
    /// 210 x 297 mm
    A4,
}

impl PaperWord {
    pub(crate) const fn paper(self) -> Paper {
        match self {
            Self::Letter => Paper::Letter,
            Self::A4 => Paper::A4,
        }
    }
}

/// A size typed on the command line; a bare number is in `unit`.
pub(crate) fn size(text: &str, unit: Unit) -> Result<Length, String> {
    let how = ReadAs {
        unit,
        ..ReadAs::default()
    };
    let length = parse_length(text, how).map_err(|e| format!("{text:?}: {e}."))?;
    if length.abs() > Length::LIMIT {
        return Err(format!(
            "{text:?}: this is longer than 100 m, the most a size may be. Fix: check the figure and its unit."
        ));
    }
    Ok(length)
}

/// The whole command, for help, completions and the manual page.
pub fn command() -> clap::Command {
    Cli::command()
}
