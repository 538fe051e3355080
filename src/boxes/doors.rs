//! Where the doors of a box stand, for its drawings.

use super::draw::{door_gap, doors_of};
use super::drawers::{face, places};
use super::facts::Inside;
use crate::model::{BoxPlan, DoorLay, Job, Run};
use crate::units::Length;

/// One door as it is seen from the front.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct DoorFront {
    /// From the left edge and the bottom edge of the box to its own.
    pub at: [Length; 2],
    /// Width and height.
    pub size: [Length; 2],
    /// True where it hangs at its left edge, false at its right; `None` = by itself, so she chooses.
    pub hung_left: Option<bool>,
}

/// The doors of a box: over its drawers, row on row from the bottom, left to right.
pub(super) fn door_fronts(job: &Job, run: &Run, plan: &BoxPlan, inside: &Inside) -> Vec<DoorFront> {
    let found = doors_of(job, run, plan, inside);
    let Some(rows) = found.first().map(|d| d.rows) else {
        return Vec::new();
    };
    let all: usize = found.iter().map(|d| d.columns).sum();
    let gap = door_gap(job, run);
    let bays = places(run, inside);
    let whole = || match run.build.door_lay {
        DoorLay::Overlay => vec![[Length::ZERO, inside.outside.width]],
        DoorLay::Inset => {
            let half = run.build.door_gap / 2;
            vec![[
                inside.thick + half,
                inside.outside.width - inside.thick - half,
            ]]
        }
    };
    let across = if (plan.doors as usize).is_multiple_of(bays.len()) {
        bays
    } else {
        whole()
    };
    let columns = (all / across.len().max(1)).max(1);
    let foot = match run.build.door_lay {
        DoorLay::Overlay => Length::ZERO,
        DoorLay::Inset => inside.thick + run.build.door_gap / 2,
    };
    // Before drawers inside, doors close the whole face.
    let under = inside.drawers.iter().filter(|_| !inside.drawers_inside);
    let drawers: Length = under.copied().sum();
    let high = (face(run, inside)[1] - drawers) / rows as i64;
    let mut list = Vec::new();
    for row in 0..rows {
        for [from, to] in &across {
            let wide = (*to - *from) / columns as i64;
            for column in 0..columns {
                let left = *from + wide * column as i64;
                let low = foot + drawers + high * row as i64;
                list.push(DoorFront {
                    at: [left + gap / 2, low + gap / 2],
                    size: [wide - gap, high - gap],
                    hung_left: (columns == 2).then_some(column == 0),
                });
            }
        }
    }
    list
}
