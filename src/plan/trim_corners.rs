//! Where two rows of a route meet in a corner: the gap between them, which a strip covers.

use crate::model::{CornerGap, Job, Run, WallSide};
use crate::opening::{CornerUse, Row, Side, Survey, row, walls};
use crate::units::Length;

/// A run and its row as it stands.
pub(super) type Placed<'a> = (&'a Run, Row);

/// The rows of a route that can be placed.
pub(super) fn placed<'a>(job: &'a Job, survey: &Survey, route: &str) -> Vec<Placed<'a>> {
    let runs = job.runs.iter().filter(|r| r.route == route);
    runs.filter_map(|run| Some((run, row(job, survey, run, &job.listed_frames(run))?)))
        .filter(|(_, row)| !row.boxes.is_empty())
        .collect()
}

/// The corners in use, left first.
fn in_use(survey: &Survey, placed: &[Placed]) -> Vec<CornerUse> {
    let most = survey.largest_box;
    let deep: Vec<(&Run, Length)> = placed
        .iter()
        .map(|(run, row)| (*run, row.depth()))
        .collect();
    match (most.width, most.depth) {
        (Some(width), Some(depth)) => walls(&deep, width, depth).corners,
        _ => Vec::new(),
    }
}

fn of<'a>(placed: &'a [Placed], wall: WallSide) -> Option<&'a Row> {
    placed
        .iter()
        .find(|(r, _)| r.wall == wall)
        .map(|(_, row)| row)
}

/// How deep the back row is where it goes through into the corner of that wall; `None` = the side row reaches the back wall.
pub(super) fn meets_back_row(survey: &Survey, placed: &[Placed], wall: WallSide) -> Option<Length> {
    let name = if wall == WallSide::Left {
        "left"
    } else {
        "right"
    };
    let corners = in_use(survey, placed);
    let corner = corners
        .iter()
        .find(|c| c.corner == name && c.back_goes_through);
    corner.and(of(placed, WallSide::Back)).map(Row::depth)
}

/// The gaps in the corners of a route, left first.
pub(super) fn corner_gaps(survey: &Survey, placed: &[Placed]) -> Vec<CornerGap> {
    let Some(depth) = survey.largest_box.depth else {
        return Vec::new();
    };
    let of = |wall| of(placed, wall);
    let gap = |corner: &CornerUse| {
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
    in_use(survey, placed).iter().filter_map(gap).collect()
}
