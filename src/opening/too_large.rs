//! Whether a row is larger than the opening leaves it, in the words of the fit: what is drawn for it says the same.

use super::judge::{Verdict, judge_row};
use super::sit::Row;
use super::survey::Survey;
use crate::model::Run;
use crate::units::Tape;

/// Why a row on the back wall does not go in, and what would mend it; `None` = it goes in, or too little is read to tell.
pub fn too_large(survey: &Survey, run: &Run, row: &Row, tape: Tape) -> Option<[String; 2]> {
    let mut verdict = Verdict::new(tape);
    judge_row(&mut verdict, survey, run, row);
    let found = !verdict.reasons.is_empty();
    found.then(|| [verdict.reasons.join(" "), verdict.mends.join(" ")])
}
