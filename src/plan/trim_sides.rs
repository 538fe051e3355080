//! Trim of the rows on the side walls: base and shoe from the corner to the front, strips over seams. Head and crown there hang on
//! readings along the depth that nobody takes; they are measured in place.

use super::trim_corners::{Placed, meets_back_row};
use super::trimming::{BASE, behind, old_stays, seams};
use crate::model::{Job, TrimFacts, WallSide};
use crate::opening::{Survey, stands_off, stands_open};
use crate::units::Length;

/// Facts of a row on a side wall, from those of the route; `None` where the depth was not read.
pub(super) fn side_facts(
    job: &Job,
    survey: &Survey,
    placed: &[Placed],
    (run, row): &Placed,
    route: &TrimFacts,
) -> Option<TrimFacts> {
    let depth = survey.largest_box.depth?;
    let (start, end) = row.ends()?;
    let (corner, front) = match run.wall {
        WallSide::Left => (depth - end, start),
        WallSide::Right => (start, depth - end),
        WallSide::Back => return None,
    };
    let (corner, meets) = match meets_back_row(survey, placed, run.wall) {
        Some(deep) => (corner - deep, "row on the back wall"),
        None => (corner, "back wall"),
    };
    let door = job.opening.as_ref().is_some_and(|o| o.doorway.is_some());
    let open_front = !door || stands_open(&[front]);
    let open_corner = stands_open(&[corner]);
    let mut ends = [
        (open_front, front, "front wall"),
        (open_corner, corner, meets),
    ];
    // Where the back row goes through there is no wall to meet, and no old base of the front is asked for.
    let mut walls = [None, Some(WallSide::Back).filter(|_| meets == "back wall")];
    if run.wall == WallSide::Right {
        ends.reverse();
        walls.reverse();
    }
    let reach: Length = ends
        .iter()
        .filter(|e| !e.0)
        .map(|e| e.1.at_least_zero())
        .sum();
    Some(TrimFacts {
        box_height: row.height(),
        base_height: row.base_height,
        base_setback: run.base_setback,
        seams: seams(job, run, row.boxes.len()),
        floor_width: Some(row.width() + reach),
        head_width: None,
        heights: [None, None],
        head_corners: [None, None],
        side_gaps: [Vec::new(), Vec::new()],
        head_gaps: Vec::new(),
        over_doors: None,
        foot_gaps: Vec::new(),
        // Where its studs are from the corner is not asked for.
        studs: Vec::new(),
        row_width: row.width(),
        row_depth: row.depth(),
        off_wall: stands_off(survey, run, row.span()),
        behind_stays: behind(job, run.wall),
        open: ends.map(|e| e.0),
        ends_at: ends.map(|e| e.2.to_owned()),
        closings: Vec::new(),
        corners: Vec::new(),
        base_stays: old_stays(job, walls, &BASE),
        crown_stays: [None; 2],
        cover: run.build.cover.clone(),
        ..route.clone()
    })
}
