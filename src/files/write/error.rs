//! Why something could not be written. Every one of these leaves what was there as it was.

use std::path::{Path, PathBuf};

/// A failure to write. The caller ends with exit code 6.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum WriteError {
    /// The computer refused.
    #[error(
        "{} could not be {doing}: {why}. What was there before is as it was. \
         Fix: close it in other programs, and see that the folder may be written and the disk is not full.",
        .path.display()
    )]
    Io {
        /// Which file or folder.
        path: PathBuf,
        /// `written`, `read`, `moved`, `made`.
        doing: &'static str,
        /// What the computer said.
        why: std::io::Error,
    },
    /// Another run holds the folder.
    #[error("another run is at work in {}; this one stops. Fix: wait until it is done, then run again.", .0.display())]
    Busy(PathBuf),
    /// `--out` would replace a file of someone else's.
    #[error("{} was not made by this tool, so it is not replaced. Fix: name another folder with --out, or move the file.", .0.display())]
    NotOurs(PathBuf),
    /// A new job wants an empty folder.
    #[error("{} has something in it already, so nothing was written. Fix: name a folder that is new or empty.", .0.display())]
    NotEmpty(PathBuf),
    /// Something that is no folder stands where one is wanted.
    #[error("{} cannot be a folder, because a file stands there or above it. Fix: give another name.", .0.display())]
    NotAFolder(PathBuf),
    /// A workbook is never written.
    #[error("{} is a workbook, and workbooks are read but never written. Fix: save the sheet as .csv beside it and change that.", .0.display())]
    Workbook(PathBuf),
    /// Her file is stored in a way that cannot be kept exactly.
    #[error("{} is not stored as UTF-8, so it is not changed. Fix: save it as \"CSV UTF-8\" and run again.", .0.display())]
    Encoding(PathBuf),
    /// The row that should change is not there.
    #[error("{} has no row {row}. Fix: save the file, and run again.", .path.display())]
    NoRow {
        /// The file.
        path: PathBuf,
        /// As a spreadsheet counts.
        row: usize,
    },
}

impl WriteError {
    /// Wraps what the computer said.
    pub(crate) fn io<'a>(
        path: &'a Path,
        doing: &'static str,
    ) -> impl FnOnce(std::io::Error) -> Self + 'a {
        move |why| Self::Io {
            path: path.to_owned(),
            doing,
            why,
        }
    }
}
