//! Where the opening goes on a route: the inside of its boxes or frames, and what is lost around and in them.
//!
//! Owns how the loss is split. The opening is the largest level and plumb box; each box takes its column from floor to head.

use crate::boxes::{Inside, Outside};
use crate::model::{Job, PrefabUnit, Run, SpaceUse, WallSide};
use crate::opening::{Standing, Survey, clear_height, row};
use crate::units::Length;

/// `None` where a size is not known, or the route stands out of the opening.
pub(super) fn space_use(job: &Job, survey: &Survey, route: &str) -> Option<SpaceUse> {
    let most = survey.largest_box;
    let [w, h, d] = [most.width?, most.height?, most.depth?];
    let (mut inside, mut above, mut under, mut columns, mut outer) = (0, 0, 0, 0, 0);
    let (mut behind, mut side_rows) = (0, false);
    for run in job.runs.iter().filter(|r| r.route == route) {
        let frames = job.listed_frames(run);
        let row = row(job, survey, run, &frames)?;
        side_rows |= run.wall != WallSide::Back;
        for (i, stands) in row.boxes.iter().enumerate() {
            let clear = if run.has_boxes() {
                box_clear(job, run, i, stands)?
            } else {
                frame_clear(frames.get(i)?)?
            };
            let base = row.base_height;
            let (wide, deep) = (stands.width, stands.depth);
            inside += volume(clear);
            outer += volume([wide, stands.height, deep]);
            above += volume([wide, h - base - stands.height, deep]);
            under += volume([wide, base, deep]);
            columns += volume([wide, h, deep]);
            behind += volume([wide, h, d - deep]);
        }
    }
    if outer == 0 {
        return None;
    }
    if side_rows {
        // Of a row on a side wall nothing is behind that is not beside another.
        behind = 0;
    }
    let beside = volume([w, h, d]) - columns - behind;
    SpaceUse::of([inside, above, under, beside, behind, outer - inside])
}

fn volume(size: [Length; 3]) -> i128 {
    size.iter().map(|l| i128::from(l.units())).product()
}

fn box_clear(job: &Job, run: &Run, i: usize, stands: &Standing) -> Option<[Length; 3]> {
    let outside = Outside {
        width: stands.width,
        height: stands.height,
        depth: stands.depth,
    };
    let inside = Inside::of(job, run, run.boxes.get(i)?, outside).ok()?;
    Some([inside.width, inside.height, inside.deep])
}

/// As its row says; the back is as thick as the row makes it.
fn frame_clear(frame: &PrefabUnit) -> Option<[Length; 3]> {
    let deep = frame.inside_depth.or(frame.depth)?;
    Some([frame.inside_width?, clear_height(frame), deep])
}
