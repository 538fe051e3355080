//! What the opening leaves for each run, as the runs' parts are drawn from it.

use super::trim_corners::placed;
use super::trim_sides::side_head_of;
use super::trimming::strips_of;
use crate::boxes::{Room, Strip, crowded, outsides};
use crate::model::{Job, Run, WallSide};
use crate::opening::{
    Scribe, Survey, base_ends, base_notch, crown_notch, free_along, row, stands_off, survey_by,
    too_large,
};
use crate::units::Length;

/// One [`Room`] for each run of the job. A run on a side wall has a head strip where the ceiling was read over both its ends, and no
/// others; a job without an opening has empty rooms.
pub fn rooms(job: &Job) -> Vec<Room> {
    let survey = job.opening.as_ref().map(|o| survey_by(o, job.project.tape));
    let room = |run: &Run| {
        survey
            .as_ref()
            .map_or_else(Room::default, |s| room(job, s, run))
    };
    job.runs.iter().map(room).collect()
}

/// Shelves and drawers of a route's boxes that leave too little room.
pub fn crowded_boxes(job: &Job, route: &str) -> Vec<String> {
    let rooms = rooms(job);
    let runs = job.runs.iter().zip(&rooms);
    runs.filter(|(r, _)| r.route == route && r.has_boxes())
        .filter_map(|(run, room)| Some(crowded(job, run, &outsides(job, run, room).ok()?)))
        .flatten()
        .collect()
}

pub(super) fn room(job: &Job, survey: &Survey, run: &Run) -> Room {
    let most = free_along(job, survey, run);
    let mut room = Room {
        width: most.width,
        height: most.height,
        depth: most.depth,
        strips: Vec::new(),
        off_wall: Length::ZERO,
        base: None,
        base_ends: [Length::ZERO; 2],
        crown: None,
        too_large: None,
    };
    if run.has_boxes()
        && let Some(row) = row(job, survey, run, &[])
    {
        room.off_wall = stands_off(survey, run, row.span());
        room.base = base_notch(survey, run, row.span());
        room.base_ends = base_ends(survey, run, &row);
        room.crown = crown_notch(survey, run, row.span());
    }
    if !run.has_boxes() {
        return room;
    }
    let blank = |s: Scribe| Strip {
        place: s.strip,
        width: s.blank[0],
        length: s.blank[1],
    };
    if run.wall != WallSide::Back {
        if run.build.strips.is_some() {
            let rows = placed(job, survey, &run.route);
            let on = rows.iter().find(|(r, _)| std::ptr::eq(*r, run));
            let head = on.and_then(|on| side_head_of(job, survey, &rows, on)?.ok());
            let head = head
                .map(|s| s.following(&job.trim))
                .filter(|s| s.widest().is_some_and(Length::is_positive));
            room.strips.extend(head.map(blank));
        }
        return room;
    }
    if let Some(row) = row(job, survey, run, &[]) {
        room.too_large = too_large(job, survey, run, &row);
        let strips = strips_of(job, survey, run, &row);
        room.strips.extend(strips.into_iter().map(blank));
    }
    room
}
