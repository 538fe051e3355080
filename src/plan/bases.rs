//! The base under each row of a route: its boards from the run, the height it is levelled to and the shims under its crosspieces from
//! the readings.

use super::frame_parts::base_under;
use super::rooms::room;
use crate::boxes::{Ladder, Room, run_base};
use crate::model::{Job, Part, PartSize, Run, WallSide};
use crate::opening::{Face, Row, Survey, row, shim_at, survey_by};
use crate::units::Length;
use serde::Serialize;

/// A base.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Base {
    /// Its route.
    pub route: String,
    /// Its wall: back, left or right.
    pub wall: String,
    /// What stands on it, left to right.
    pub under: Vec<String>,
    /// Its boards.
    #[serde(flatten)]
    pub ladder: Ladder,
    /// How far its front stands back from the fronts of the boxes.
    pub setback: Length,
    /// How far base that stays on the wall holds it off.
    pub off_wall: Length,
    /// Its top below the level line, everywhere; null where the floor was not read.
    pub below_line: Option<Length>,
    /// Its top above the lowest floor under it that was read.
    pub above_lowest: Option<Length>,
    /// Shims under each crosspiece, at the front and at the back; null where the floor was not read there.
    pub shims: Vec<[Option<Length>; 2]>,
}

impl Base {
    /// Mark of the row of the cut list that is so long, of this base; `None` = there is none.
    pub fn mark(&self, job: &Job, long: Length) -> Option<String> {
        let is = |p: &&Part| {
            let size = match p.size {
                PartSize::Panel { length, width } => [length, width],
                PartSize::Piece { length } => [length, self.ladder.high],
            };
            p.in_box == "base" && size == [long, self.ladder.high]
        };
        job.route_parts(&self.route)
            .find(is)
            .map(|p| p.mark.clone())
    }
}

/// The bases of a route, in the order of its runs; a run without one, or whose row cannot be laid out yet, has none.
pub fn bases(job: &Job, route: &str) -> Vec<Base> {
    let opening = job.opening.as_ref();
    let survey = opening.map(|o| survey_by(o, job.project.tape));
    let runs = job.runs.iter().filter(|r| r.route == route);
    runs.filter_map(|run| of_run(job, survey.as_ref(), run))
        .collect()
}

fn of_run(job: &Job, survey: Option<&Survey>, run: &Run) -> Option<Base> {
    let frames = job.listed_frames(run);
    let row = survey.and_then(|s| row(job, s, run, &frames));
    let row = row.filter(|r| !r.boxes.is_empty());
    let (ladder, off_wall) = if run.has_boxes() {
        let room = survey.map_or_else(Room::default, |s| room(job, s, run));
        run_base(job, run, &room)?
    } else {
        base_under(job, survey?, run, row.as_ref()?)?
    };
    let under = match &row {
        Some(row) => row.boxes.iter().map(|b| b.name.clone()).collect(),
        None => run.boxes.iter().map(|b| b.name.clone()).collect(),
    };
    // The floor is read along the back wall; under a row on a side wall the shims of its boxes' corners tell.
    let read = survey.zip(row.as_ref());
    let (shims, lowest) = match read.filter(|_| run.wall == WallSide::Back) {
        Some((s, row)) => under_crosspieces(s, row, &ladder),
        None => (Vec::new(), None),
    };
    Some(Base {
        route: run.route.clone(),
        wall: run.wall.word().into(),
        under,
        setback: run.base_setback,
        off_wall,
        below_line: row.map(|r| r.base_below_line),
        above_lowest: lowest.map(|l| l + ladder.high),
        shims,
        ladder,
    })
}

/// Front and back shim under each crosspiece, and the largest under the whole base.
fn under_crosspieces(
    survey: &Survey,
    row: &Row,
    ladder: &Ladder,
) -> (Vec<[Option<Length>; 2]>, Option<Length>) {
    let shape = &survey.shape;
    let Some((left, right)) = row.ends() else {
        return (Vec::new(), None);
    };
    let (left, right) = (left + ladder.ends[0], right - ladder.ends[1]);
    let both = |x: Length| [Face::Front, Face::Back].map(|f| shim_at(shape, x, f));
    let shims: Vec<_> = ladder.crosspieces.iter().map(|m| both(left + *m)).collect();
    // Between stations the floor is straight: it is lowest at one of them or at an end of the base.
    let back = shape.back.as_ref();
    let points = [Some(&shape.front), back].into_iter().flatten();
    let stations = points.flat_map(|p| p.floor.points().iter().map(|s| s.0));
    let within = stations.filter(|x| *x > left && *x < right);
    let all = within.chain([left, right]).flat_map(both);
    (shims, all.flatten().max())
}
