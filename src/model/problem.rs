//! A mistake or caution in one of her files: always five parts. Wording is made where the problem is found, layout in `cli`.

use serde::Serialize;

/// How bad it is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Nothing is planned or written until it is mended.
    Mistake,
    /// Said, and the work goes on (a failure with `--strict`).
    Caution,
}

/// Where in a file.
#[derive(Clone, PartialEq, Eq, Debug, Default, Serialize)]
pub struct Spot {
    /// File name as she knows it, e.g. `parts.csv`.
    pub file: String,
    /// Row as the spreadsheet counts it (1 = the heading); in a TOML file the line.
    pub row: Option<usize>,
    /// Column heading, or `[table] key` in a TOML file.
    pub column: Option<String>,
    /// The row itself, as it stands in the file (cut to a readable length around the cell).
    pub line: Option<String>,
    /// Where the cell stands in `line`, in characters: start and length, for the caret.
    pub caret: Option<(usize, usize)>,
}

/// One mistake or caution.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Problem {
    /// Mistake or caution.
    pub severity: Severity,
    /// Where.
    pub spot: Spot,
    /// What was found, as she wrote it.
    pub found: String,
    /// One sentence: why that is no good.
    pub why: String,
    /// What was expected.
    pub expected: String,
    /// How to mend it.
    pub fix: String,
}
