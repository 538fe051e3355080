//! From a run to the rows of its cut list.

mod around;
mod carcass;
mod fronts;
mod letters;
mod row;

pub(super) use carcass::back_width;
pub(super) use carcass::rail_length;
pub use fronts::door_gap;
pub(super) use fronts::{DoorPlace, doors_of, packer_wide};

use super::facts::{FramesRow, Inside, Room, Strip, outsides};
use super::ladder::Ladder;
use crate::model::{Job, Part, Problem, Run};
use crate::units::Length;

/// The cut list of every run of boxes, in the order of the runs; `rooms` has one entry for each run of the job (a missing one
/// counts as nothing known). Comes back with everything that cannot be built, if anything.
pub fn drawn(job: &Job, rooms: &[Room]) -> Result<Vec<Part>, Vec<Problem>> {
    let mut rows = row::Rows::new(job);
    let mut letters = letters::Letters::default();
    let usual = job.parts_route();
    let unknown = Room::default();
    for (i, run) in job.runs.iter().enumerate().filter(|(_, r)| r.has_boxes()) {
        let room = rooms.get(i).unwrap_or(&unknown);
        rows.route = (run.route != usual).then(|| run.route.clone());
        let sides = if i == 0 || job.runs[..i].iter().all(|r| !r.has_boxes()) {
            "sides".to_owned()
        } else {
            format!("sides {}", i + 1)
        };
        let sizes = match outsides(job, run, room) {
            Ok(sizes) => sizes,
            Err(wrong) => {
                rows.wrong.extend(wrong);
                continue;
            }
        };
        let mut boxes = Vec::new();
        for (plan, outside) in run.boxes.iter().zip(sizes) {
            match Inside::of(job, run, plan, outside) {
                Ok(inside) => {
                    rows.start(&plan.name, &letters.take(&plan.name));
                    carcass::carcass(&mut rows, run, plan, &inside, &sides);
                    fronts::fronts(&mut rows, run, plan, &inside);
                    boxes.push(inside);
                }
                Err(wrong) => rows.wrong.extend(wrong),
            }
        }
        if boxes.len() == run.boxes.len() {
            rows.start("base", "P");
            around::base(&mut rows, run, &boxes, room);
            around::strips(&mut rows, run, &boxes, room);
        }
    }
    let mut wrong: Vec<Problem> = Vec::new();
    for p in rows.wrong {
        if !wrong.contains(&p) {
            wrong.push(p);
        }
    }
    if wrong.is_empty() {
        Ok(rows.rows)
    } else {
        Err(wrong)
    }
}

/// The rows of base and strips around a row of bought frames, cut from `item`; their marks go on from those of the job's list.
pub fn drawn_around(
    job: &Job,
    (route, item): (&str, &str),
    frames: &FramesRow,
    strips: &[Strip],
) -> Vec<Part> {
    let mut rows = row::Rows::new(job);
    rows.beside = &job.parts;
    rows.route = Some(route.to_owned());
    around::of_frames(&mut rows, item, frames, strips);
    rows.rows
}

/// The base under a run of boxes, and what base that stays on the wall takes of its depth; `None` where there is none, or its boxes
/// cannot be drawn yet.
pub fn run_base(job: &Job, run: &Run, room: &Room) -> Option<(Ladder, Length)> {
    let sizes = outsides(job, run, room).ok()?;
    let thick = job.stock_row(run.material.as_deref()?)?.thickness()?;
    let widths: Vec<Length> = sizes.iter().map(|o| o.width).collect();
    let deep = sizes.first()?.depth;
    let found = around::ladder_of((job, run, room), &widths, (deep, thick));
    found.filter(|(base, _)| base.between.is_positive())
}
