//! The fit: each route as it would stand in the surveyed opening, what will not work, and the smallest changes that mend it.
//!
//! Owns the shape of the result and the verdict. Side and head gaps, depth, standing up and the way in each can say no; cautions
//! never do. Loads, sag and parts are other rooms' work.

use super::clear::{self, CutOut};
use super::closed;
use super::corner::{self, Walls};
use super::door;
use super::doorway;
use super::fixing::{self, Fixing};
use super::fronts::judge_fronts;
use super::hanging;
use super::hung::{self, Sitting};
use super::judge::{Verdict, judge_door, judge_row, judge_walls};
use super::judge_way::judge_way;
use super::order::Step;
use super::places::{self, Above};
use super::reach;
use super::setting::judge_setting;
use super::shape::{Face, Side};
use super::side::{self, SideRow};
use super::sit::{self, Row};
use super::stand::{Passage, StandUp};
use super::stays;
use super::stays_said;
use super::survey::Survey;
use super::unmeasured::{unmeasured, unmeasured_ways};
use super::unread;
use super::wants::{self, Holds, WantMet};
use super::ways::{self, StandingWay};
use crate::model::{Job, Opening, PrefabUnit, Run, WallSide};
use crate::units::{Length, Tape};
use serde::Serialize;

/// One route in the opening.
#[derive(Clone, PartialEq, Debug, Serialize, Default)]
pub struct RouteFit {
    /// Its name.
    pub route: String,
    /// True if it can be brought in, stood up and set.
    pub fits: bool,
    /// Why not; null where it fits.
    pub why_not: Option<String>,
    /// The smallest changes that would mend it.
    pub mends: Vec<String>,
    /// Left gap at each height, front plane.
    pub left_gap: Vec<Length>,
    /// Right gap at each height, front plane.
    pub right_gap: Vec<Length>,
    /// Left gap at each height, back plane; empty = not read.
    pub left_gap_back: Vec<Length>,
    /// Right gap at each height, back plane; empty = not read.
    pub right_gap_back: Vec<Length>,
    /// Gap above the tallest box at each ceiling station.
    pub head_gap: Vec<Length>,
    /// Shim at each floor station, front plane.
    pub shims: Vec<Length>,
    /// Shim at each floor station, back plane; empty = not read.
    pub shims_back: Vec<Length>,
    /// Shim under the left and right side of each box.
    pub box_shims: Vec<[Length; 2]>,
    /// Top of the base below the level line, everywhere.
    pub base_below_line: Option<Length>,
    /// Total width of the boxes.
    pub total_width: Length,
    /// True if every box can be got upright in its place, one way or another, with the earlier ones standing.
    pub can_be_stood: bool,
    /// Standing the boxes up, those of one height and depth together, the hardest first.
    pub stand_up: Vec<StandUp>,
    /// Boxes, sheets and cartons through doors and stairs.
    pub way_in: Vec<Passage>,
    /// Rows on the left and the right wall: gaps, head and shims.
    pub side_rows: Vec<SideRow>,
    /// Holes for what is to be kept clear.
    pub cut_outs: Vec<CutOut>,
    /// Studs behind each box, those that take a screw and those that do not; none where no studs are marked.
    pub fixing: Vec<Fixing>,
    /// Shelf length it gives.
    pub shelf_length: Length,
    /// Hanging length it gives.
    pub hanging_length: Length,
    /// Rails that do not count towards it, each with the reason.
    pub rails_not_counted: Vec<String>,
    /// Wants, met or short.
    pub wants: Vec<WantMet>,
    /// Boxes in the order they are set: from the end where the floor is highest, unless one would shut out another.
    pub setting_order: Vec<String>,
    /// The same, each box checked with the earlier ones standing; empty where the depth or the ceiling was not read.
    pub setting: Vec<Step>,
    /// More walls than one.
    pub walls: Option<Walls>,
    /// The clear way to stand in before each run.
    pub standing_ways: Vec<StandingWay>,
    /// What is as it should be and worth knowing.
    pub notes: Vec<String>,
    /// Short cautions.
    pub cautions: Vec<String>,
    /// True where readings or sizes are missing without which nothing can be said.
    #[serde(skip)]
    pub not_known: bool,
    /// How far the back row stands off its wall, for drawings.
    #[serde(skip)]
    pub off_back: Length,
    /// How much further its base frame does, for drawings.
    #[serde(skip)]
    pub base_off_back: Length,
    /// Boxes on the left and the right wall, for drawings.
    #[serde(skip)]
    pub above: Vec<Above>,
    /// The row on the back wall, for drawings and strips.
    #[serde(skip)]
    pub row: Option<Row>,
}

/// Every route.
#[derive(Clone, PartialEq, Debug, Serialize, Default)]
pub struct Fit {
    /// In the order of the job's routes.
    pub routes: Vec<RouteFit>,
}

/// How each route of the job sits in the surveyed opening.
pub fn fit(job: &Job, survey: &Survey) -> Fit {
    fit_shown(job, survey, job.project.tape)
}

/// The same, its words in the sizes of another tape.
pub fn fit_shown(job: &Job, survey: &Survey, shown: Tape) -> Fit {
    let Some(opening) = &job.opening else {
        return Fit::default();
    };
    let routes = job.routes();
    Fit {
        routes: routes
            .iter()
            .filter(|name| job.runs.iter().any(|r| r.route == **name))
            .map(|name| fit_route(job, opening, survey, (name, shown)))
            .collect(),
    }
}

fn fit_route(
    job: &Job,
    opening: &Opening,
    survey: &Survey,
    (route, tape): (&str, Tape),
) -> RouteFit {
    let runs: Vec<&Run> = job.runs.iter().filter(|r| r.route == route).collect();
    let mut out = RouteFit {
        route: route.to_owned(),
        fits: true,
        can_be_stood: true,
        ..RouteFit::default()
    };
    let mut verdict = Verdict::new(tape);
    let mut holds = Holds::default();
    let mut depths: Vec<(&Run, Length)> = Vec::new();
    let mut rows: Vec<(&Run, Row)> = Vec::new();
    let mut sitting: Vec<Sitting<'_>> = Vec::new();
    // A loose part goes into any frame of its kind, on whichever wall it stands.
    let (mut all_frames, mut loose) = (Vec::new(), Vec::new());
    for run in &runs {
        let frames = job.listed_frames(run);
        let Some(row) = sit::row(job, survey, run, &frames).filter(|r| !r.boxes.is_empty()) else {
            out.not_known = true;
            verdict.no(
                "The readings or the run's sizes do not suffice to place its boxes.".into(),
                "Take the missing readings, or list the boxes or frames.".into(),
            );
            continue;
        };
        if run.has_boxes() {
            holds = holds.and(wants::boxes_hold(job, run, &row));
        } else {
            all_frames.extend(&frames);
            loose.extend(run.extras.iter().cloned());
        }
        depths.push((run, row.depth()));
        if run.wall == WallSide::Back && out.row.is_none() {
            place(&mut out, survey, (run, &row));
            let keeps = sit::keeps(job, survey, run);
            judge_row(&mut verdict, survey, (run, &row), keeps);
            judge_fronts(&mut verdict, job, &survey.shape, (run, &row));
            judge_door(&mut verdict, opening, survey, (run, &row));
            out.row = Some(row.clone());
        }
        out.side_rows
            .extend(side::side_row(opening, survey, run, &row));
        if run.wall != WallSide::Back {
            out.above.extend(places::above(survey, run, &row));
        }
        keep_clear(&mut out, (job, opening, survey), (run, &row, &frames), tape);
        let mut said = unread::boxes_beyond(opening, &row, tape);
        let rails = hanging::rails_that_do_not_count(job, run, (&row, &frames), tape);
        said.extend(rails.iter().cloned());
        out.rails_not_counted.extend(rails);
        for caution in said {
            if !out.cautions.contains(&caution) {
                out.cautions.push(caution);
            }
        }
        judge_way(
            &mut out,
            &mut verdict,
            (job, opening, survey),
            (run, &row, &frames),
        );
        rows.push((run, row.clone()));
        sitting.push((run, row, frames));
    }
    holds = holds.and(wants::frames_hold(job, &all_frames, &loose));
    let side_runs = depths.iter().any(|(r, _)| r.wall != WallSide::Back);
    if let (true, Some(w), Some(d)) = (
        side_runs,
        survey.largest_box.width,
        survey.largest_box.depth,
    ) {
        let walls = corner::walls(&depths, w, d);
        judge_walls(&mut verdict, job, survey, &runs, &walls);
        if walls.clear_way.is_some_and(|c| c < corner::CLEAR_WAY) {
            out.cautions.push(format!(
                "Only {} clear between the runs; 36 in is the least to stand and reach in.",
                tape.print(walls.clear_way.unwrap_or_default())
            ));
        }
        out.walls = Some(walls);
    }
    out.cautions
        .extend(reach::behind_others(survey, &rows, tape));
    door::judge_side_rows(&mut verdict, &mut out.cautions, (opening, survey), &rows);
    around(&mut out, &mut verdict, (job, opening, survey), &sitting);
    judge_setting(&mut out, &mut verdict, (opening, survey), &rows);
    out.shelf_length = holds.shelf;
    out.hanging_length = holds.hanging;
    out.wants = wants::met(job.want.as_ref(), holds, job.project.tape);
    out.cautions.extend(closed::in_words_alone(job));
    out.cautions.extend(general_cautions(opening, survey));
    out.fits = verdict.reasons.is_empty();
    out.why_not = (!out.fits).then(|| verdict.reasons.join(" "));
    verdict.mends.truncate(3);
    out.mends = verdict.mends;
    out
}

fn place(out: &mut RouteFit, survey: &Survey, (run, row): (&Run, &Row)) {
    let shape = &survey.shape;
    out.total_width = row.width();
    out.off_back = stays::stands_off(survey, run, row.span());
    let behind = stays::base_notch(survey, run, row.span());
    out.base_off_back = behind.map_or(Length::ZERO, |n| n.deep);
    out.left_gap = sit::side_gaps(shape, row, Side::Left, Face::Front);
    out.right_gap = sit::side_gaps(shape, row, Side::Right, Face::Front);
    out.left_gap_back = sit::side_gaps(shape, row, Side::Left, Face::Back);
    out.right_gap_back = sit::side_gaps(shape, row, Side::Right, Face::Back);
    out.head_gap = sit::head_gaps(shape, row, Face::Front);
    out.shims = sit::shims(shape, Face::Front);
    out.shims_back = sit::shims(shape, Face::Back);
    out.box_shims = row
        .boxes
        .iter()
        .filter_map(|b| sit::box_shims(shape, b, Face::Front))
        .collect();
    out.base_below_line = Some(row.base_below_line);
}

/// Clothes that hang out of their boxes, the doorway, and the clear way before each run.
fn around(
    out: &mut RouteFit,
    verdict: &mut Verdict,
    (job, opening, survey): (&Job, &Opening, &Survey),
    rows: &[Sitting<'_>],
) {
    let tape = verdict.tape();
    let hung = hung::hung_out(job, survey, rows);
    let mut planned: Vec<doorway::Planned<'_>> = Vec::new();
    for (run, row, _) in rows {
        let placed = places::places(survey, run, row).unwrap_or_default();
        let plan = |i| run.boxes.get(i);
        planned.extend(placed.into_iter().enumerate().map(|(i, p)| (p, plan(i))));
    }
    let all: Vec<_> = planned.iter().map(|p| p.0.clone()).collect();
    let standing: Vec<(&Run, &Row)> = rows.iter().map(|(run, row, _)| (*run, row)).collect();
    let Some(floor) = places::floor(survey, &standing) else {
        return;
    };
    out.cautions
        .extend(hung::cautions(&hung, &all, (opening, survey), tape));
    out.cautions
        .extend(door::clothes(opening, &floor, &hung, tape));
    let cautions = doorway::cautions(opening, floor, (&planned, &hung), tape);
    out.cautions.extend(cautions);
    doorway::judge_shut(verdict, opening, floor, &planned);
    // Before a row on the back wall alone she stands in front of the opening, unless its door is in a side wall.
    let door = opening.doorway.as_ref().map(|d| d.wall.as_str());
    let aside = door.is_some_and(|wall| wall != "front");
    let back_alone = !aside && rows.iter().all(|r| r.0.wall == WallSide::Back);
    if survey.largest_box.depth.is_none() || back_alone {
        return;
    }
    let runs: Vec<&Run> = rows.iter().map(|r| r.0).collect();
    out.standing_ways = ways::ways(&floor, &runs, (&all, &hung), door);
    let wide = out.walls.as_ref().and_then(|w| w.clear_way);
    for w in out
        .standing_ways
        .iter()
        .filter(|w| aside || w.wall != "back")
    {
        // Without the clothes it has been said already.
        let said = w.wall != "back" && wide.is_some_and(|c| c < corner::CLEAR_WAY);
        if w.clear < corner::CLEAR_WAY && !said {
            out.cautions.push(format!(
                "Only {} to stand in between the {} wall's boxes, with what hangs out of them, and {}; 36 in is the least.",
                tape.print(w.clear),
                w.wall,
                w.to
            ));
        }
    }
}

/// Things to keep clear and studs, against a row on any wall.
fn keep_clear(
    out: &mut RouteFit,
    (job, opening, survey): (&Job, &Opening, &Survey),
    (run, row, frames): (&Run, &Row, &[&PrefabUnit]),
    tape: Tape,
) {
    let keeps = sit::keeps(job, survey, run);
    out.cautions
        .extend(stays_said::said(survey, run, row, (keeps, tape)));
    out.notes
        .extend(stays_said::clear_of_crown(survey, run, row, tape));
    let found = clear::cut_outs(opening, survey, run.wall, row);
    let fixing = if opening.studs.is_empty() {
        Vec::new()
    } else {
        fixing::fixings(job, (opening, survey), (run, row), frames)
    };
    let mut said = clear::cautions(opening, run.wall, (&found, &fixing), tape);
    let ends = clear::at_ends(opening, survey, run, row);
    said.extend(ends.iter().map(|e| e.in_words(tape)));
    out.cut_outs.extend(found);
    out.fixing.extend(fixing);
    for caution in said {
        if !out.cautions.contains(&caution) {
            out.cautions.push(caution);
        }
    }
}

fn general_cautions(opening: &Opening, survey: &Survey) -> Vec<String> {
    let mut list = Vec::new();
    if survey.is_provisional() {
        list.push("PROVISIONAL: some readings are missing or disagree.".into());
    }
    let open = unmeasured(opening);
    if !open.is_empty() {
        list.push(format!(
            "Not measured, so no cut-out, notch or step in the ceiling is reckoned for it: {}. Measure it before you cut.",
            open.join(", ")
        ));
    }
    if opening.way_in.is_empty() {
        list.push(
            "No doors, stairs or ceilings on the way in are given: measure them before building."
                .into(),
        );
    }
    let ways = unmeasured_ways(opening);
    if !ways.is_empty() {
        list.push(format!(
            "Not measured, so nothing is held against it: {}. Measure it before you build.",
            ways.join(", ")
        ));
    }
    if survey.shape.back.is_none() {
        list.push("Shims and gaps at the back are not known: only the front was read.".into());
    }
    list
}
