//! Gaps that nothing closes.

use crate::model::{Job, Part, Run, WallSide};
use crate::units::Length;

/// A run of boxes whose gaps nothing closes: no strips are drawn and none stand in the cut list.
pub fn open_gaps(job: &Job, run: &Run) -> Option<String> {
    let closes = |p: &Part| {
        let what = p.what.to_lowercase();
        ["scribe", "filler"].iter().any(|w| what.contains(w))
    };
    let open = run.has_boxes()
        && run.wall == WallSide::Back
        && run.build.strips.is_none()
        && !job.route_parts(&run.route).any(closes);
    open.then(|| {
        format!(
            "Route {} draws no strips: its gaps at the walls and the head stay open. Name the sheet they are cut from as `strips` in its [[run]]. Its hours count scribing them; its sheets do not hold them yet.",
            run.route
        )
    })
}

/// An end of a row this far from its wall stands open: nothing closes it. Common practice, no source.
const OPEN: Length = Length::inches(6);

/// True for an end whose gap is too wide to be closed by a strip.
pub fn stands_open(gaps: &[Length]) -> bool {
    gaps.iter().min().is_some_and(|g| *g > OPEN)
}
