//! Gathers mistakes and cautions while the readers read on. Owns their order and their number; the words come from where
//! the problem is found.

use crate::model::{Problem, Severity, Spot};
use std::collections::BTreeMap;

/// Problems kept for each file; what comes after is only counted, so that a ruined file of 100 000 rows still gives a
/// list that can be read.
const MOST_PER_FILE: usize = 1_000;

/// Why a value is no good: the part of a problem that does not know its place.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Wrong {
    /// One sentence.
    pub(crate) why: String,
    /// What would be right.
    pub(crate) expected: String,
    /// How to mend it.
    pub(crate) fix: String,
}

impl Wrong {
    pub(crate) fn new(
        why: impl Into<String>,
        expected: impl Into<String>,
        fix: impl Into<String>,
    ) -> Self {
        Self {
            why: why.into(),
            expected: expected.into(),
            fix: fix.into(),
        }
    }
}

impl From<crate::units::SizeError> for Wrong {
    fn from(e: crate::units::SizeError) -> Self {
        Self {
            why: e.why,
            expected: e.expected,
            fix: e.fix,
        }
    }
}

/// All problems so far.
#[derive(Default)]
pub(crate) struct Report {
    problems: Vec<Problem>,
    counts: BTreeMap<(String, Severity), usize>,
    mistakes: usize,
    rounded: Option<(Spot, String, usize)>,
}

impl Report {
    /// Nothing is planned until it is mended.
    pub(crate) fn mistake(&mut self, spot: Spot, found: impl Into<String>, wrong: Wrong) {
        self.mistakes += 1;
        self.add(Severity::Mistake, spot, found.into(), wrong);
    }

    /// Said, and the work goes on.
    pub(crate) fn caution(&mut self, spot: Spot, found: impl Into<String>, wrong: Wrong) {
        self.add(Severity::Caution, spot, found.into(), wrong);
    }

    fn add(&mut self, severity: Severity, spot: Spot, found: String, wrong: Wrong) {
        let count = self
            .counts
            .entry((spot.file.clone(), severity))
            .or_default();
        *count += 1;
        if *count <= MOST_PER_FILE {
            let Wrong { why, expected, fix } = wrong;
            self.problems.push(Problem {
                severity,
                spot,
                found,
                why,
                expected,
                fix,
            });
        }
    }

    /// A decimal that lies between two whole units was moved to the nearer one; said once for the whole job.
    pub(crate) fn rounded(&mut self, spot: Spot, text: &str) {
        match &mut self.rounded {
            Some((_, _, more)) => *more += 1,
            None => self.rounded = Some((spot, text.to_owned(), 0)),
        }
    }

    /// How many mistakes there are so far.
    pub(crate) fn mistakes(&self) -> usize {
        self.mistakes
    }

    /// Mistakes first; then file by file, row by row.
    pub(crate) fn finish(mut self) -> Vec<Problem> {
        if let Some((spot, text, more)) = self.rounded.take() {
            let others = if more == 0 {
                String::new()
            } else {
                format!(" {more} more sizes were treated alike.")
            };
            let wrong = Wrong::new(
                format!(
                    "This decimal is not on a whole unit of 1/80 000 mm, so the nearest one was taken.{others}"
                ),
                "a fraction, a millimetre size or a short decimal",
                "nothing, if a hair more or less is all right.",
            );
            self.caution(spot, text, wrong);
        }
        for ((file, severity), count) in std::mem::take(&mut self.counts) {
            if count > MOST_PER_FILE {
                let word = if severity == Severity::Mistake {
                    "mistakes"
                } else {
                    "cautions"
                };
                self.problems.push(Problem {
                    severity,
                    spot: Spot {
                        file,
                        ..Spot::default()
                    },
                    found: format!("{} more {word}", count - MOST_PER_FILE),
                    why: format!("The first {MOST_PER_FILE} are listed above."),
                    expected: "a file with fewer".into(),
                    fix: "mend those above first, then check again.".into(),
                });
            }
        }
        let mut files: Vec<String> = Vec::new();
        for problem in &self.problems {
            if !files.contains(&problem.spot.file) {
                files.push(problem.spot.file.clone());
            }
        }
        // A file's own problems stand together in the order of its rows, what its cross checks found among them.
        self.problems.sort_by_key(|p| {
            let file = files.iter().position(|f| *f == p.spot.file);
            (p.severity, file, p.spot.row.unwrap_or(0))
        });
        self.problems
    }
}
