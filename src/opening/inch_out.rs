//! A reading that stands an inch or more off the straight line between those beside it, as one does that was taken from the 1 inch
//! mark, and not so much that it is doubted outright.
//!
//! Owns a question, no verdict: floors and walls may dip by an inch, so the survey is not called wrong for it and plans are not
//! provisional. Asked where nothing exact overlaps the reading, the other plane does not show the same, and she has not read it twice.

use super::jumps::{Point, through};
use super::reading::ReadingAt as At;
use crate::units::{Length, Tape};

/// By so much less than an inch a reading may stand off that is asked about: the line between its neighbours is no nearer. Common
/// practice, no source.
const NEAR: Length = Length::in_64(12);

/// One reading to be looked at again.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct InchOut {
    pub(crate) at: At,
    /// Over where positive.
    pub(crate) by: Length,
    /// What the two beside it make of it.
    pub(crate) about: Length,
}

impl InchOut {
    pub(crate) fn words(&self, tape: Tape) -> String {
        let way = if self.by.is_positive() {
            "over"
        } else {
            "under"
        };
        format!(
            "{} {way} the straight line between the readings beside it ({}). Was the tape started at the 1 inch mark? Read it again; if it stands, name it in read_twice under [opening].",
            tape.print(self.by.abs()),
            tape.print(self.about)
        )
    }
}

/// Every such reading of one surface and plane; a doubted neighbour is no witness.
pub(super) fn inch_out(line: &[Point], doubted: &dyn Fn(At) -> bool) -> Vec<InchOut> {
    let sure: Vec<&Point> = line.iter().filter(|p| !doubted(p.at)).collect();
    let an_inch = |off: Length| off.abs() >= Length::INCH - NEAR;
    let asked = sure.windows(3).filter_map(|w| {
        let [a, p, b] = w else { return None };
        let straight = through(a, b, p.along);
        let by = p.value - straight;
        // The other plane dips there, too.
        let twin = p
            .twin
            .is_some_and(|t| (p.value - t).abs() < Length::INCH - NEAR);
        (!p.vouched && !twin && an_inch(by)).then_some(InchOut {
            at: p.at,
            by,
            about: straight - p.under,
        })
    });
    asked.collect()
}
