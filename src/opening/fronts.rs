//! Fronts that lie over the box sides where the side strips lap them: both want the same edge.

use super::gaps::stands_open;
use super::judge::Verdict;
use super::shape::{Face, Shape, Side};
use super::sit::{Row, side_gaps};
use crate::model::{DoorLay, Job, Run, SidesAt};

/// Says which end boxes cannot have both, and what mends it.
pub(crate) fn judge_fronts(v: &mut Verdict, job: &Job, shape: &Shape, (run, row): (&Run, &Row)) {
    if run.build.door_lay != DoorLay::Overlay || job.trim.sides_at != SidesAt::Lap {
        return;
    }
    let row_of = |item: &Option<String>| item.as_deref().and_then(|m| job.stock_row(m));
    let thick = row_of(&run.material).and_then(|r| r.thickness());
    for (side, end, name) in [
        (Side::Left, run.boxes.first(), "left"),
        (Side::Right, run.boxes.last(), "right"),
    ] {
        let Some(b) = end.filter(|b| b.doors + b.drawers > 0) else {
            continue;
        };
        let gaps = side_gaps(shape, row, side, Face::Front);
        if gaps.is_empty() || stands_open(&gaps) {
            continue;
        }
        v.no(
            format!(
                "The fronts of box {} lie over the front of its {name} side, and the {name} strip laps the same edge: both do not go.",
                b.name
            ),
            "Let the strips stop at the outside face of the boxes: sides_at = \"beside\" under [trim].".into(),
        );
        v.mend("Set the fronts in: door_lay = \"inset\" in the [[run]].".into());
        let less = thick.map_or_else(String::new, |t| format!(" by {}", v.up(t)));
        v.mend(format!(
            "Make the fronts at the {name} end narrower{less}, with hinges for so much less overlay: rows of parts.csv marked keep."
        ));
    }
}
