//! Trim of the rows on the side walls: base and shoe from the corner to the front, strips over seams, and head strip, head moulding and
//! crown where the ceiling was read at the front and at the back.

use super::trim_corners::{Placed, meets_back_row};
use super::trim_fronts::seam_fronts;
use super::trimming::{BASE, CROWN, behind, old_stays, over_doors, seams, side_thick};
use crate::model::{Job, Run, TrimFacts, WallSide};
use crate::opening::{NoHead, Row, Scribe, Survey, side_head, stands_off, stands_open};
use crate::units::Length;

/// What an end meets where no other row is in its corner.
const BACK_WALL: &str = "back wall";

/// Whether an end stands open, how far it is from what it meets, and what that is.
type End = (bool, Length, &'static str);

/// The left and the right end, facing the row.
fn ends_of(
    job: &Job,
    survey: &Survey,
    placed: &[Placed],
    (run, row): (&Run, &Row),
) -> Option<[End; 2]> {
    let depth = survey.largest_box.depth?;
    let (start, end) = row.ends()?;
    let (corner, front) = match run.wall {
        WallSide::Left => (depth - end, start),
        WallSide::Right => (start, depth - end),
        WallSide::Back => return None,
    };
    let (corner, meets) = match meets_back_row(survey, placed, run.wall) {
        Some(deep) => (corner - deep, "row on the back wall"),
        None => (corner, BACK_WALL),
    };
    let door = job.opening.as_ref().is_some_and(|o| o.doorway.is_some());
    let open_front = !door || stands_open(&[front]);
    let mut ends = [
        (open_front, front, "front wall"),
        (stands_open(&[corner]), corner, meets),
    ];
    if run.wall == WallSide::Right {
        ends.reverse();
    }
    Some(ends)
}

/// How far trim goes on past each end of the row.
fn beyond(ends: &[End; 2]) -> [Length; 2] {
    ends.map(|(open, far, _)| {
        if open {
            Length::ZERO
        } else {
            far.at_least_zero()
        }
    })
}

/// The head strip of a row on a side wall; `None` where it has no ends.
pub(super) fn side_head_of(
    job: &Job,
    survey: &Survey,
    placed: &[Placed],
    (run, row): &Placed,
) -> Option<Result<Scribe, NoHead>> {
    let ends = ends_of(job, survey, placed, (run, row))?;
    let opening = job.opening.as_ref()?;
    side_head(
        (opening, survey, job.project.tape),
        (run, row),
        beyond(&ends),
    )
}

/// Why head strip, head moulding and crown of a row are not made, and what would give them.
pub(super) fn no_head(wall: WallSide, why: &NoHead) -> String {
    let what = format!(
        "Head strip, head moulding and crown of the row on the {} wall are not made",
        wall.word()
    );
    match why {
        NoHead::NotRead(list) => format!(
            "{what}: the ceiling is not read at the front and at the back there. Take these readings (under [opening.level_line], up_to_ceiling = {{ left = [\"front\", \"back\"] }} and so on), or measure the pieces in place: {}.",
            list.join("; ")
        ),
        NoHead::Soffit => format!("{what}: a soffit hangs over it. Measure them in place."),
    }
}

/// Said of a head strip that no row of her list stands for.
pub(super) fn no_blank(job: &Job, strip: &Scribe) -> String {
    let tape = job.project.tape;
    format!(
        "The {} strip has no blank in the cut list: name strips in its [[run]], or list one {} x {} in the box face, as \"head scribe blank{}\".",
        strip.strip,
        tape.print_up(strip.blank[1]),
        tape.print_up(strip.blank[0]),
        strip.strip.strip_prefix("head").unwrap_or_default()
    )
}

/// Facts of a row on a side wall, from those of the route; `None` where the depth was not read.
pub(super) fn side_facts(
    job: &Job,
    survey: &Survey,
    placed: &[Placed],
    on: &Placed,
    route: &TrimFacts,
) -> Option<TrimFacts> {
    let (run, row) = on;
    let ends = ends_of(job, survey, placed, (run, row))?;
    // Where the back row goes through there is no wall to meet, and no old base of the front is asked for.
    let walls = [0, 1].map(|n: usize| Some(WallSide::Back).filter(|_| ends[n].2 == BACK_WALL));
    let reach: Length = beyond(&ends).into_iter().sum();
    let head = side_head_of(job, survey, placed, on).and_then(Result::ok);
    let head_gaps = head.as_ref().map_or_else(Vec::new, |s| {
        let all = s.ordinates.iter().chain(&s.ends);
        all.map(|o| o.width).collect()
    });
    Some(TrimFacts {
        box_height: row.height(),
        base_height: row.base_height,
        base_setback: run.base_setback,
        seams: seams(job, run, row.boxes.len()),
        floor_width: Some(row.width() + reach),
        head_width: head.map(|s| s.blank[1]),
        heights: [None, None],
        head_corners: [None, None],
        side_gaps: [Vec::new(), Vec::new()],
        head_gaps,
        over_doors: over_doors(job, run, side_thick(job, run)),
        side_thick: side_thick(job, run),
        beside_fronts: [None; 2],
        seam_fronts: seam_fronts(job, run),
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
        crown_stays: old_stays(job, walls, &CROWN),
        cover: run.build.cover.clone(),
        ..route.clone()
    })
}
