//! The head of a row on a side wall, in the plane of its fronts.
//!
//! Owns its line: from the front plane to the back plane the ceiling is straight between what was read in both, at the place where the
//! fronts stand. Without a reading at the back there is no such line, and none is made up; under a soffit neither.

use super::head_strip::HeadLine;
use super::places::{floor, foot};
use super::reading;
use super::scribes::{Scribe, head};
use super::shape::{Face, station_x};
use super::side::between;
use super::sit::Row;
use super::soffit::over_foot;
use super::survey::Survey;
use crate::model::{Opening, Run, WallSide};
use crate::units::{Length, Tape};

/// Why there is no head strip over a row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NoHead {
    /// These readings are not taken, in words.
    NotRead(Vec<String>),
    /// A soffit hangs over it.
    Soffit,
}

/// The head strip of a row on a side wall, from its left end, facing it; `beyond`: how far it goes on past the row to what it meets at
/// each end. `None` for a row on the back wall, or where the opening is not read enough to place it.
pub fn side_head(
    (opening, survey, tape): (&Opening, &Survey, Tape),
    (run, row): (&Run, &Row),
    beyond: [Length; 2],
) -> Option<Result<Scribe, NoHead>> {
    let ground = floor(survey, &[(run, row)])?;
    let front = match run.wall {
        WallSide::Left => ground.x[0] + row.depth(),
        WallSide::Right => ground.x[1] - row.depth(),
        WallSide::Back => return None,
    };
    let missing = not_read((opening, survey, tape), front);
    if !missing.is_empty() {
        return Some(Err(NoHead::NotRead(missing)));
    }
    let feet = row.boxes.iter().map(|b| foot(&ground, run.wall, b));
    if feet
        .into_iter()
        .any(|f| !over_foot(opening, &survey.shape, &f).is_empty())
    {
        return Some(Err(NoHead::Soffit));
    }
    let deep = survey.largest_box.depth.filter(|d| d.is_positive())?;
    let (start, end) = row.ends()?;
    let (from, to) = (start - beyond[0], end + beyond[1]);
    // Facing the left wall its left end is at the front; facing the right one, at the back.
    let out = |at: Length| match run.wall {
        WallSide::Left => deep - at,
        _ => at,
    };
    let gap = |at: Length| {
        let up = between(survey, |p| &p.ceiling, front, out(at))?;
        Some((at - from, up - row.top()))
    };
    let planes = [Length::ZERO, deep].into_iter();
    let read = planes.filter(|at| from <= *at && *at <= to).map(gap);
    let line = HeadLine {
        read: read.collect::<Option<_>>()?,
        ends: [from, to].into_iter().map(gap).collect::<Option<_>>()?,
    };
    let mut made = head(line);
    made.strip = format!("head, {} row", run.wall.word());
    Some(Ok(made))
}

/// Of the readings of the ceiling that a place hangs on, those beside it, which are not taken at the front or at the back.
fn not_read((opening, survey, tape): (&Opening, &Survey, Tape), x: Length) -> Vec<String> {
    let stations = &opening.level_line.up_to_ceiling;
    let apart = survey.shape.apart().unwrap_or_default();
    let n = stations.len();
    let at = |i: usize| station_x(&stations[i], i, n, (Length::ZERO, apart));
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by_key(|i| at(*i));
    let upper = order.partition_point(|i| at(*i) < x).clamp(1, n.max(1));
    let beside = order.iter().take(upper + 1).skip(upper - 1);
    let wanted = beside.flat_map(|i| {
        [
            (stations[*i].front, reading::ReadingAt::Up(Face::Front, *i)),
            (stations[*i].back, reading::ReadingAt::Up(Face::Back, *i)),
        ]
    });
    let open = wanted.filter(|(read, _)| read.is_none());
    open.map(|(_, which)| reading::words(opening, which, tape))
        .collect()
}
