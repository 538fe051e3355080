//! Whether a row is larger than the opening leaves it, in the words of the fit: what is drawn for it says the same.

use super::judge::{Verdict, judge_row};
use super::sit::{self, Row};
use super::survey::Survey;
use crate::model::{Job, Run};

/// Why a row on the back wall does not go in, and what would mend it; `None` = it goes in, or too little is read to tell.
pub fn too_large(job: &Job, survey: &Survey, run: &Run, row: &Row) -> Option<[String; 2]> {
    let mut verdict = Verdict::new(job.project.tape);
    let keeps = sit::keeps(job, survey, run);
    judge_row(&mut verdict, survey, (run, row), keeps);
    let found = !verdict.reasons.is_empty();
    found.then(|| [verdict.reasons.join(" "), verdict.mends.join(" ")])
}
