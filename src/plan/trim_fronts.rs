//! What doors and drawer fronts leave free for strips that stand before the boxes.

use crate::boxes::door_gap;
use crate::model::{BoxPlan, DoorLay, Job, Run, SidesAt, StockRow};
use crate::units::Length;

fn has_fronts(b: &BoxPlan) -> bool {
    b.doors > 0 || b.drawers > 0
}

/// Over the side of each end box, from its outside face. Overlay fronts end half their gap from it; a door wants its whole gap free
/// beside it, a drawer comes straight out. Inset fronts leave the side's own thickness.
pub(super) fn beside_fronts(job: &Job, run: &Run, side_thick: Length) -> [Option<Length>; 2] {
    let free = |b: &BoxPlan| match run.build.door_lay {
        DoorLay::Inset => side_thick,
        DoorLay::Overlay if b.doors > 0 => -(door_gap(job, run) / 2),
        DoorLay::Overlay => Length::ZERO,
    };
    let end = |b: Option<&BoxPlan>| b.filter(|b| has_fronts(b)).map(free);
    [end(run.boxes.first()), end(run.boxes.last())]
}

/// How far a strip over a seam may stand into a box before inset fronts: what their gap has beyond what the hinges need, or where their
/// row does not say it, half the gap (common practice, no source). `None` = no fronts beside a seam that takes a strip.
pub(super) fn seam_fronts(job: &Job, run: &Run) -> Option<Length> {
    let beside: Vec<&BoxPlan> = run.open_seams().into_iter().flatten().collect();
    let gap = door_gap(job, run);
    let hinge = run.build.hinge.as_deref().and_then(|h| job.stock_row(h));
    let needs = hinge.and_then(StockRow::thickness);
    let into = match needs.filter(|_| beside.iter().any(|b| b.doors > 0)) {
        Some(needs) => gap - needs,
        None => gap / 2,
    };
    beside.into_iter().any(has_fronts).then_some(into)
}

/// Said of bought frames with doors whose side strips lap the frames: which frame a door hangs on is not written.
pub(super) fn frames_with_doors(job: &Job, run: &Run, doors: bool) -> Option<String> {
    (!run.has_boxes() && doors && job.trim.sides_at == SidesAt::Lap).then(|| {
        "Doors are bought for the frames, and the side strips lap the frames at both ends: a door hung at an end would lie over the same edge and not open. Let the strips stop there: sides_at = \"beside\" under [trim].".into()
    })
}
