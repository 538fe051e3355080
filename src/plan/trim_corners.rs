//! Where two rows of a route meet in a corner: the gap between them, which a strip covers.

use crate::model::{CornerGap, Job, WallSide};
use crate::opening::{Row, Side, Survey, row, walls};
use crate::units::Length;

/// The corners of a route that are in use, left first.
pub(super) fn corner_gaps(job: &Job, survey: &Survey, route: &str) -> Vec<CornerGap> {
    let runs = job.runs.iter().filter(|r| r.route == route);
    let placed: Vec<(&crate::model::Run, Row)> = runs
        .filter_map(|run| Some((run, row(job, survey, run, &job.listed_frames(run))?)))
        .filter(|(_, row)| !row.boxes.is_empty())
        .collect();
    let most = survey.largest_box;
    let (Some(width), Some(depth)) = (most.width, most.depth) else {
        return Vec::new();
    };
    let deep: Vec<_> = placed
        .iter()
        .map(|(run, row)| (*run, row.depth()))
        .collect();
    let of = |wall: WallSide| {
        placed
            .iter()
            .find(|(r, _)| r.wall == wall)
            .map(|(_, row)| row)
    };
    let gap = |corner: &crate::opening::CornerUse| {
        let (wall, side) = match corner.corner.as_str() {
            "left" => (WallSide::Left, Side::Left),
            _ => (WallSide::Right, Side::Right),
        };
        let (back, beside) = (of(WallSide::Back)?, of(wall)?);
        let (start, end) = beside.ends()?;
        let gap = if corner.back_goes_through {
            let off = if side == Side::Left {
                depth - end
            } else {
                start
            };
            off - back.depth()
        } else {
            let bottom = -survey.shape.least_down()?;
            let least = survey.shape.least_gap(side, bottom, back.top())?;
            let (left, right) = back.ends()?;
            let off = match side {
                Side::Left => left + least,
                Side::Right => survey.shape.apart()? + least - right,
            };
            off - beside.depth()
        };
        let top = |r: &Row| r.height();
        Some(CornerGap {
            name: corner.corner.clone(),
            gap: gap.at_least_zero(),
            height: top(back).min(top(beside)),
        })
    };
    let found = walls(&deep, width, depth).corners;
    found.iter().filter_map(gap).collect::<Vec<CornerGap>>()
}

/// An end of a row this far from its wall stands open: nothing closes it. Common practice, no source.
const OPEN: Length = Length::inches(6);

/// True for an end whose gap is too wide to be closed by a strip.
pub(super) fn stands_open(gaps: &[Length]) -> bool {
    gaps.iter().min().is_some_and(|g| *g > OPEN)
}
