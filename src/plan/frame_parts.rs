//! Base and strips of routes with bought frames, as parts: they are cut from the sheet that the run names, so they are planned,
//! printed and counted like any others.

use super::trimming::{side_thick, strips_of};
use crate::boxes::{FramesRow, Ladder, Strip, drawn_around};
use crate::model::{Job, Part, Run, StockKind, WallSide};
use crate::opening::{Row, Survey, base_ends, base_notch, row, survey_by};
use crate::units::Length;

/// Adds them to the job, once its frames are chosen. Where her list has rows for the base or the strips of a route, those are hers
/// and nothing is added; a row that cannot be placed yet, and a run without a sheet, add nothing either.
pub fn add_frame_parts(job: &mut Job) {
    let Some(opening) = &job.opening else { return };
    let survey = survey_by(opening, job.project.tape);
    let mut drawn: Vec<&str> = Vec::new();
    let runs = job.runs.clone();
    for run in runs.iter().filter(|r| !r.has_boxes()) {
        let strips = run.wall == WallSide::Back && !drawn.contains(&run.route.as_str());
        let rows = of_run(job, &survey, run, strips);
        if strips && !rows.is_empty() {
            drawn.push(&run.route);
        }
        job.parts.extend(rows);
    }
}

/// The base under a row of frames, from the sheet its run names, and what base that stays on the wall takes of its depth.
pub(super) fn base_under(
    job: &Job,
    survey: &Survey,
    run: &Run,
    row: &Row,
) -> Option<(Ladder, Length)> {
    let item = run.material.as_deref()?;
    let thick = side_thick(job, run);
    let stays = base_notch(survey, run, row.span());
    let off = stays.map_or(Length::ZERO, |n| n.deep);
    let between = row.depth() - run.base_setback - off - thick * 2;
    let based = row.base_height.is_positive() && between.is_positive();
    let widths: Vec<Length> = row.boxes.iter().map(|b| b.width).collect();
    let ends = base_ends(survey, run, row);
    let ladder = || {
        Ladder::new(
            (job, item),
            (&widths, ends),
            [between, row.base_height],
            thick,
        )
    };
    based.then(|| (ladder(), off))
}

fn of_run(job: &Job, survey: &Survey, run: &Run, strips: bool) -> Vec<Part> {
    let frames = job.listed_frames(run);
    let item = run.material.as_deref().unwrap_or_default();
    let sheet = job
        .stock_row(item)
        .is_some_and(|r| r.kind == StockKind::Sheet);
    let Some(row) = row(job, survey, run, &frames).filter(|r| sheet && !r.boxes.is_empty()) else {
        return Vec::new();
    };
    // What was drawn for another row of the route is no row of hers.
    let hers = |place: &str| {
        let mut rows = job.route_parts(&run.route);
        rows.any(|p| p.in_box == place && p.row > 0)
    };
    let base = base_under(job, survey, run, &row).filter(|_| !hers("base"));
    let around = FramesRow {
        base: base.map(|(ladder, _)| ladder),
    };
    let closed = |s: &Strip| s.length.is_positive() && s.width.is_positive();
    let wanted: Vec<Strip> = if strips && !hers("face") {
        let all = strips_of(job, survey, run, &row).into_iter();
        all.filter(|s| s.widest().is_some_and(|w| w > Length::ZERO))
            .map(|s| Strip {
                place: s.strip,
                width: s.blank[0],
                length: s.blank[1],
            })
            .filter(closed)
            .collect()
    } else {
        Vec::new()
    };
    let mut rows = drawn_around(job, (&run.route, item), &around, &wanted);
    for part in &mut rows {
        // No run of boxes draws them, and none takes them out.
        part.by_hand = true;
    }
    rows
}
