//! The fit: each route as it would stand in the surveyed opening, what will not work, and the smallest changes that mend it.
//!
//! Owns the shape of the result and the verdict. Side and head gaps, depth, standing up and the way in each can say no; cautions
//! never do. Loads, sag and parts are other rooms' work: `sag` is filled by whoever joins them.

use super::clear::{self, CutOut};
use super::corner::{self, Walls};
use super::shape::{Face, Side};
use super::sit::{self, Row};
use super::stand::{self, Passage, StandUp};
use super::survey::{Survey, width_over};
use super::wants::{self, Holds, WantMet};
use crate::model::{Job, Opening, PrefabUnit, Run, StandsOn, StockKind, WallSide};
use crate::units::{Length, Tape};
use serde::Serialize;

/// Sag of one shelf, filled in by the room that reckons it.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Sag {
    /// Which shelf.
    pub shelf: String,
    /// Clear span.
    pub span: Length,
    /// Load, in words.
    pub load: String,
    /// Deflection in inches.
    pub deflection_in: f64,
    /// The limit applied, in words.
    pub limit: String,
    /// In words.
    pub verdict: String,
}

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
    /// Standing the tallest box up.
    pub stand_up: Vec<StandUp>,
    /// Boxes, sheets and cartons through doors and stairs.
    pub way_in: Vec<Passage>,
    /// Holes for what is to be kept clear.
    pub cut_outs: Vec<CutOut>,
    /// Shelf length it gives.
    pub shelf_length: Length,
    /// Hanging length it gives.
    pub hanging_length: Length,
    /// Wants, met or short.
    pub wants: Vec<WantMet>,
    /// Sag of shelves.
    pub sag: Vec<Sag>,
    /// Boxes in the order they are set: from the end where the floor is highest.
    pub setting_order: Vec<String>,
    /// More walls than one.
    pub walls: Option<Walls>,
    /// Short cautions.
    pub cautions: Vec<String>,
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
    let Some(opening) = &job.opening else {
        return Fit::default();
    };
    let routes = job.routes();
    Fit {
        routes: routes
            .iter()
            .filter(|name| job.runs.iter().any(|r| r.route == **name))
            .map(|name| fit_route(job, opening, survey, name))
            .collect(),
    }
}

fn fit_route(job: &Job, opening: &Opening, survey: &Survey, route: &str) -> RouteFit {
    let runs: Vec<&Run> = job.runs.iter().filter(|r| r.route == route).collect();
    let mut out = RouteFit {
        route: route.to_owned(),
        fits: true,
        ..RouteFit::default()
    };
    let mut verdict = Verdict::new(job.project.tape);
    let mut holds = Holds::default();
    let mut depths: Vec<(&Run, Length)> = Vec::new();
    for run in &runs {
        let frames = sit::listed_frames(job, run);
        let Some(row) = sit::row(job, survey, run, &frames).filter(|r| !r.boxes.is_empty()) else {
            verdict.no(
                "The readings or the run's sizes do not suffice to place its boxes.".into(),
                "Take the missing readings, or list the boxes or frames.".into(),
            );
            continue;
        };
        holds = holds.and(if run.has_boxes() {
            wants::boxes_hold(job, run, &row)
        } else {
            wants::frames_hold(job, &frames, &run.extras)
        });
        depths.push((run, row.depth()));
        if run.wall == WallSide::Back && out.row.is_none() {
            place(&mut out, opening, survey, &row);
            judge_row(&mut verdict, survey, run, &row);
            out.row = Some(row.clone());
        }
        judge_way(
            &mut out,
            &mut verdict,
            job,
            opening,
            survey,
            run,
            &row,
            &frames,
        );
    }
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
                job.project.tape.print(walls.clear_way.unwrap_or_default())
            ));
        }
        out.walls = Some(walls);
    }
    out.shelf_length = holds.shelf;
    out.hanging_length = holds.hanging;
    out.wants = wants::met(job.want.as_ref(), holds);
    out.cautions.extend(general_cautions(opening, survey));
    out.fits = verdict.reasons.is_empty();
    out.why_not = (!out.fits).then(|| verdict.reasons.join(" "));
    verdict.mends.truncate(3);
    out.mends = verdict.mends;
    out
}

/// Reasons and mends as they are found.
struct Verdict {
    reasons: Vec<String>,
    mends: Vec<String>,
    tape: Tape,
}

impl Verdict {
    fn new(tape: Tape) -> Self {
        Self {
            reasons: Vec::new(),
            mends: Vec::new(),
            tape,
        }
    }
    fn no(&mut self, reason: String, mend: String) {
        if !self.reasons.contains(&reason) {
            self.reasons.push(reason);
        }
        self.mend(mend);
    }
    fn mend(&mut self, mend: String) {
        if !self.mends.contains(&mend) {
            self.mends.push(mend);
        }
    }
    fn up(&self, by: Length) -> String {
        // A size to be taken off goes up to the next half mark, so that it always suffices.
        let step = (self.tape.mark / 2).max(Length::from_units(1));
        let fine = Tape {
            mark: step,
            ..self.tape
        };
        let more = Length::from_units(by.units().div_euclid(step.units()) * step.units());
        fine.print(if more < by { more + step } else { more })
    }
}

fn place(out: &mut RouteFit, opening: &Opening, survey: &Survey, row: &Row) {
    let shape = &survey.shape;
    out.total_width = row.width();
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
    out.cut_outs = clear::cut_outs(opening, shape, row);
    out.cautions = clear::cautions(opening, shape, row, &out.cut_outs);
    let mut order: Vec<String> = row.boxes.iter().map(|b| b.name.clone()).collect();
    if out.box_shims.first().map(|s| s[0]) > out.box_shims.last().map(|s| s[1]) {
        order.reverse();
    }
    out.setting_order = order;
}

/// Width, height, depth of the row against the opening.
fn judge_row(v: &mut Verdict, survey: &Survey, run: &Run, row: &Row) {
    let shape = &survey.shape;
    let bottom = -shape.least_down().unwrap_or_default();
    if let (Some(width), Some((left, right))) = (width_over(shape, bottom, row.top()), row.ends()) {
        let over = row.width() + run.side_gap_least * 2 - width;
        let wall = |side| shape.least_gap(side, bottom, row.top()).unwrap_or_default();
        let apart = shape.apart().unwrap_or_default();
        let gap = (left + wall(Side::Left)).min(apart + wall(Side::Right) - right);
        if over.is_positive() {
            let by = v.up(over);
            v.no(
                format!("The boxes are {by} too wide for their least side gaps."),
                format!("Make the boxes {by} narrower in all."),
            );
        } else if gap < run.side_gap_least {
            let by = v.up(run.side_gap_least - gap);
            v.no(
                format!("The row stands {by} too near one wall."),
                format!(
                    "Move the row {by} away from it, or leave `from_left` out: then it is centred."
                ),
            );
        }
    }
    // Soffits lie in the largest box's height already; beside one the row may be taller.
    let head = survey
        .largest_box
        .height
        .map(|h| h - row.base_height - row.height());
    if let Some(head) = head.filter(|h| *h < run.head_gap_least) {
        let by = v.up(run.head_gap_least - head);
        v.no(
            format!("The boxes are {by} too tall for their least head gap."),
            format!("Make the boxes {by} lower, or the base by as much."),
        );
    }
    let room = survey.between_trim.or(Some(survey.largest_box));
    if let Some(over) = room
        .and_then(|b| b.depth)
        .map(|d| row.depth() - d)
        .filter(|o| o.is_positive())
    {
        let by = v.up(over);
        v.no(
            format!("The boxes are {by} deeper than the opening."),
            format!("Make the boxes {by} shallower, or let them stand out that much."),
        );
    }
    if let Some(thin) = survey.between_trim.and_then(|b| b.width) {
        let over = row.width() - thin;
        if over.is_positive() {
            let by = v.up(over);
            v.no(
                format!("Base or crown that stays leaves the boxes {by} too wide."),
                "Take the old base off where the boxes stand, or notch the end boxes round it."
                    .into(),
            );
        }
    }
}

/// Side runs against what the corner leaves them.
fn judge_walls(v: &mut Verdict, job: &Job, survey: &Survey, runs: &[&Run], walls: &Walls) {
    for run in runs {
        let length = match run.wall {
            WallSide::Back => walls.back_length,
            WallSide::Left => walls.left_length,
            WallSide::Right => walls.right_length,
        };
        let frames = sit::listed_frames(job, run);
        let Some(row) = sit::row(job, survey, run, &frames) else {
            continue;
        };
        let over = row.width() - length;
        if over.is_positive() {
            let by = v.up(over);
            v.no(
                format!(
                    "The run on the {:?} wall is {by} longer than the corner leaves it.",
                    run.wall
                )
                .to_lowercase(),
                format!("Shorten it by {by}, or let it go through into the corner."),
            );
        }
    }
}

/// Standing up, and the way in, of the boxes, frames, sheets and cartons of one run.
#[allow(clippy::too_many_arguments)]
fn judge_way(
    out: &mut RouteFit,
    v: &mut Verdict,
    job: &Job,
    opening: &Opening,
    survey: &Survey,
    run: &Run,
    row: &Row,
    frames: &[&PrefabUnit],
) {
    let stands = stand::stand_up(opening, survey, row);
    if !stand::can_be_stood(&stands) {
        let short = stands
            .iter()
            .map(|s| s.short_by)
            .filter(|s| s.is_positive())
            .min()
            .unwrap_or_default();
        let by = v.up(short);
        v.no(
            format!("The tallest box can nowhere be stood up: {by} short."),
            format!("Make the boxes {by} lower, or build them in two, one on the other."),
        );
    } else if stands.iter().any(|s| s.place == stand::ON_BASE && !s.goes) {
        out.cautions.push(
            "Stand each box up off the base, then lift it on: it cannot be tilted up on the base. Two people."
                .into(),
        );
    }
    if run.has_boxes() || frames.iter().any(|f| f.carton.is_none()) {
        let things: Vec<_> = row
            .boxes
            .iter()
            .map(|b| (format!("box {}", b.name), [b.height, b.width, b.depth]))
            .collect();
        for p in stand::way_in(opening, &things)
            .into_iter()
            .filter(|p| !p.goes)
        {
            v.no(
                format!(
                    "{} does not go through the {}: {}.",
                    p.what, p.through, p.how
                ),
                "Put the boxes together inside, from parts that pass.".into(),
            );
        }
        out.way_in.extend(stand::way_in(opening, &things));
    }
    let mut things: Vec<(String, [Length; 3])> = frames
        .iter()
        .filter_map(|f| Some((format!("carton of {}", f.unit), f.carton?.size)))
        .collect();
    if run.has_boxes() {
        things.extend(job.stock.iter().filter_map(|s| {
            let ours = [&run.material, &run.back]
                .iter()
                .any(|m| m.as_deref() == Some(&*s.item));
            if !ours || s.kind != StockKind::Sheet {
                return None;
            }
            Some((
                format!("sheet {}", s.item),
                [s.length?, s.width?, s.thickness()?],
            ))
        }));
    }
    for p in stand::way_in(opening, &things) {
        if !p.goes {
            v.no(
                format!(
                    "{} does not go through the {}: {}.",
                    p.what, p.through, p.how
                ),
                "Have the sheets cut smaller at the store, or unpack the carton outside.".into(),
            );
        }
        if !out.way_in.contains(&p) {
            out.way_in.push(p);
        }
    }
    if frames.iter().any(|f| f.stands_on == StandsOn::OwnFeet) {
        let most = sit::shims(&survey.shape, Face::Front)
            .into_iter()
            .max()
            .unwrap_or_default();
        for f in frames
            .iter()
            .filter(|f| f.foot_adjust.is_some_and(|a| a < most))
        {
            out.cautions.push(format!(
                "The feet of {} do not screw out far enough for this floor: shim under them.",
                f.unit
            ));
        }
    }
    for s in stands {
        if !out.stand_up.contains(&s) {
            out.stand_up.push(s);
        }
    }
}

fn general_cautions(opening: &Opening, survey: &Survey) -> Vec<String> {
    let mut list = Vec::new();
    if survey.is_provisional() {
        list.push("PROVISIONAL: some readings are missing or disagree.".into());
    }
    if opening.way_in.is_empty() {
        list.push(
            "No doors, stairs or ceilings on the way in are given: measure them before building."
                .into(),
        );
    }
    if survey.shape.back.is_none() {
        list.push("Shims and gaps at the back are not known: only the front was read.".into());
    }
    list
}
