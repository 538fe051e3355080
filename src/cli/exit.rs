//! How a run ends: the one table of exit codes, and what can stop a verb early.

use crate::files::read::ReadError;
use crate::files::write::WriteError;
use crate::model::Problem;

/// Exit codes. Scripts lean on them; they never change their meaning.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(crate) enum Exit {
    /// Did it; cautions may have been said.
    Done = 0,
    /// The job as described will not work.
    WillNotWork = 1,
    /// The command was typed wrongly.
    Typed = 2,
    /// A mistake in a file; nothing was written.
    Mistake = 3,
    /// Survey readings disagree: some must be taken again.
    Disagree = 4,
    /// A price or reading is missing and an answer would mislead.
    Missing = 5,
    /// Could not read or write.
    Files = 6,
    /// Our fault.
    Fault = 70,
}

/// What stops a verb before its end.
#[derive(Debug)]
pub(crate) enum Stop {
    /// Typed wrongly in a way that only shows while running.
    Typed(String),
    /// Mistakes in her files (with `--strict` cautions too).
    Problems(Vec<Problem>),
    /// With `--strict`: survey readings disagree. The paths of those to take again.
    Disagree(Vec<String>),
    /// A file could not be read.
    Read(ReadError),
    /// A file could not be written.
    Write(WriteError),
    /// Standard output could not be written.
    Output(std::io::Error),
    /// Our fault, in words.
    Fault(String),
}

impl Stop {
    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::Typed(_) => Exit::Typed,
            Self::Problems(_) => Exit::Mistake,
            Self::Disagree(_) => Exit::Disagree,
            Self::Read(_) | Self::Write(_) | Self::Output(_) => Exit::Files,
            Self::Fault(_) => Exit::Fault,
        }
    }
}

impl From<ReadError> for Stop {
    fn from(e: ReadError) -> Self {
        Self::Read(e)
    }
}
impl From<WriteError> for Stop {
    fn from(e: WriteError) -> Self {
        Self::Write(e)
    }
}
