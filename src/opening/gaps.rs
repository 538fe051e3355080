//! Gaps that nothing closes.

use crate::model::{Job, Part, Run, WallSide};

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
