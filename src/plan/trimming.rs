//! A route trimmed: facts from the survey and the row, pieces and covers from the trim room, scribe strips from the opening,
//! and the pieces planned from sticks like any other parts, checked by the referee.

use super::bare_fronts::bare_fronts;
use super::make::{PlanError, make_plan};
use super::rooms::crowded_boxes;
use super::trim_blanks::{closings, left_open, narrow_rips, own_blanks};
use super::trim_corners::{corner_gaps, placed};
use super::trim_fronts::{beside_fronts, frames_with_doors, seam_fronts};
use super::trim_sides::{no_blank, no_head, side_facts, side_head_of};
use crate::model::task::SolveOptions;
use crate::model::{
    Band, Closing, Cover, DoorLay, Grain, HeadFollows, ItemResult, Job, OldMoulding, Part,
    PartSize, PrefabKind, Run, SidesAt, SidesFollow, StickPlan, StockRow, TrimFacts, TrimPiece,
    Unplaced, WallSide,
};
use crate::opening::{
    Face, Row, Scribe, Side, Survey, corner_by, cut_round, gaps_over, reach, row, scribes, shims,
    side_gaps, stands_off, stands_open, studs_on, survey_by, trim_beyond,
};
use crate::trim::{covers, foot_cover, trim};
use crate::units::Length;
use serde::Serialize;

/// Words that name base, and crown.
pub(super) const BASE: [&str; 2] = ["base", "skirting"];
pub(super) const CROWN: [&str; 4] = ["crown", "cornice", "coving", "cove"];

/// A scribe strip; see [`Scribe`].
pub type ScribeStrip = Scribe;

/// Everything said of a route's trim.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct TrimPlan {
    /// The route.
    pub route: String,
    /// Pieces.
    pub pieces: Vec<TrimPiece>,
    /// Scribe strips.
    pub scribes: Vec<ScribeStrip>,
    /// Widths that cover each gap.
    pub covers: Vec<Cover>,
    /// Which piece comes from which stick.
    pub sticks: Vec<StickPlan>,
    /// What each moulding comes to, with its proof.
    pub items: Vec<ItemResult>,
    /// Pieces that fit no stick.
    pub unplaced: Vec<Unplaced>,
    /// Short sentences.
    pub notes: Vec<String>,
    /// What stays open or raw in the finished piece.
    pub cautions: Vec<String>,
    /// Strips of boxes that neither the cut list nor a board gives.
    #[serde(skip)]
    pub unclosed: Vec<Closing>,
    /// Sticks that were taken shorter for the car; these stand among the notes, too.
    #[serde(skip)]
    pub on_sticks: Vec<String>,
}

/// Trim of a route. `Err` only where the stick plan fails its check.
pub fn trim_job(job: &Job, route: &str, options: &SolveOptions) -> Result<TrimPlan, PlanError> {
    let mut out = TrimPlan {
        route: route.into(),
        pieces: Vec::new(),
        scribes: Vec::new(),
        covers: Vec::new(),
        sticks: Vec::new(),
        items: Vec::new(),
        unplaced: Vec::new(),
        notes: Vec::new(),
        cautions: Vec::new(),
        unclosed: Vec::new(),
        on_sticks: Vec::new(),
    };
    out.cautions = crowded_boxes(job, route);
    let Some(opening) = &job.opening else {
        out.notes
            .push("The job has no opening: nothing to trim it to.".into());
        return Ok(out);
    };
    let survey = survey_by(opening, job.project.tape);
    let listed: Vec<&Part> = job.route_parts(route).collect();
    out.cautions
        .extend(bare_fronts(job, route, &listed, Some(&survey)));
    let runs = || job.runs.iter().filter(|r| r.route == route);
    let found = runs().filter(|r| r.wall == WallSide::Back).find_map(|run| {
        let row = row(job, &survey, run, &job.listed_frames(run))?;
        (!row.boxes.is_empty()).then_some((run, row))
    });
    let Some((run, row)) = found else {
        let any = runs().any(|r| r.wall == WallSide::Back);
        let why = if any {
            "No run on the back wall can be placed: readings or sizes are missing."
        } else {
            "No run stands on the back wall: rows on side walls alone are not trimmed here. Measure their pieces in place."
        };
        out.notes.push(why.into());
        return Ok(out);
    };
    let lap = side_thick(job, run);
    let facts = facts(job, route, (run, &row, lap), &survey);
    let hidden = foot_hidden(job, &listed, &facts);
    out.scribes = closing_strips(job, &survey, &row, (&facts, lap, hidden));
    out.notes.extend(own_blanks(
        &mut out.scribes,
        &listed,
        None,
        job.project.tape,
    ));
    narrow_rips(job, &mut out.scribes);
    out.notes.extend(left_open(job, &out.scribes));
    let facts = TrimFacts {
        closings: closings(job, run, &listed, &out.scribes),
        ..facts
    };
    for (side, height) in [Side::Left, Side::Right].into_iter().zip(facts.heights) {
        let to = height
            .unwrap_or_default()
            .max(row.base_height + row.height());
        let reach = [Length::ZERO, to];
        let said = trim_beyond(&survey.shape, side, reach, job.project.tape);
        out.notes.extend(said);
    }
    out.covers = covers(&facts, &job.stock);
    if !run.has_boxes() && row.boxes.len() > 1 && has_loose_doors(job, run) {
        out.notes.push(
            "No strip is planned over the seams of the frames: the doors lie over them. Seams that stay open want one as wide as both sides."
                .into(),
        );
    }
    let said = frames_with_doors(job, run, has_loose_doors(job, run));
    out.cautions.extend(said);
    let trimmed = trim(&facts, &job.stock);
    out.notes.extend(trimmed.notes);
    out.cautions.extend(trimmed.cautions);
    out.pieces = trimmed.pieces;
    if run.has_boxes() {
        out.unclosed = trimmed.unclosed;
    }
    let rows = placed(job, &survey, route);
    for on in &rows {
        let Some(beside) = side_facts(job, &survey, &rows, on, &facts) else {
            continue;
        };
        let mut heads: Vec<Scribe> = Vec::new();
        match side_head_of(job, &survey, &rows, on) {
            Some(Ok(strip)) => heads.push(strip.following(&job.trim)),
            Some(Err(why)) => out.notes.push(no_head(on.0.wall, &why)),
            None => {}
        }
        let of_row = format!("{} row", on.0.wall.word());
        let own = own_blanks(&mut heads, &listed, Some(&of_row), job.project.tape);
        narrow_rips(job, &mut heads);
        out.notes.extend(left_open(job, &heads));
        let blanks = match own {
            Some(_) => Vec::new(),
            None => closings(job, on.0, &listed, &heads),
        };
        if blanks.is_empty() && own.is_none() {
            for strip in &mut heads {
                strip.warnings.push(no_blank(job, strip));
            }
        }
        let beside = TrimFacts {
            closings: blanks,
            ..beside
        };
        let over = covers(&beside, &job.stock).into_iter();
        let over = over.filter(|c| c.what == "head gap");
        out.covers.extend(over.zip(&heads).map(|(c, s)| Cover {
            what: format!("{} gap", s.strip),
            ..c
        }));
        out.scribes.extend(heads);
        out.notes.extend(own);
        let trimmed = trim(&beside, &job.stock);
        out.cautions.extend(trimmed.cautions);
        if on.0.has_boxes() {
            out.unclosed.extend(trimmed.unclosed);
        }
        for note in trimmed.notes {
            if !out.notes.contains(&note) {
                out.notes.push(note);
            }
        }
        out.pieces.extend(trimmed.pieces.into_iter().map(|mut p| {
            if !p.what.contains(" row ") {
                p.what = format!("{}, {of_row}", p.what);
            }
            p
        }));
    }
    let stands_back = run.base_setback.is_positive() && out.pieces.iter().any(|p| p.what == "base");
    for strip in out.scribes.iter_mut().filter(|s| !s.is_head()) {
        strip.foot = foot_words(job, strip, hidden, stands_back);
    }
    let prefix = free_prefix(job);
    let mut first = 1;
    for piece in &mut out.pieces {
        let last = first + piece.how_many - 1;
        piece.mark = if last > first {
            format!("{prefix}{first}-{last}")
        } else {
            format!("{prefix}{first}")
        };
        first = last + 1;
    }
    if out.pieces.is_empty() {
        return Ok(out);
    }
    out.notes.push(
        "At the mitre saw: hands well clear of the blade, short pieces clamped and not held, eyes and ears protected; follow the saw's manual.".into(),
    );
    // The pieces alone, planned from sticks as any parts are.
    let mut pieces_only = job.clone();
    pieces_only.parts = out.pieces.iter().map(|p| part(route, p)).collect();
    let made = make_plan(&pieces_only, route, options, &mut |_| {})?;
    out.notes.extend(made.on_sticks.iter().cloned());
    out.on_sticks = made.on_sticks;
    let plan = made.plan;
    (out.sticks, out.items, out.unplaced) = (plan.sticks, plan.items, plan.unplaced);
    Ok(out)
}

/// Trim of every route, in the order of the job.
pub fn trim_routes(job: &Job, options: &SolveOptions) -> Result<Vec<TrimPlan>, PlanError> {
    let routes = job.routes().into_iter();
    routes.map(|r| trim_job(job, r, options)).collect()
}

/// Stock rows that the route's parts are cut from, in every size on sale.
pub(super) fn listed(job: &Job, route: &str) -> Vec<String> {
    let rows = || {
        job.route_parts(route)
            .filter_map(|p| job.stock_row(&p.item))
    };
    let of_parts = |row: &&StockRow| rows().any(|r| r.item == row.item || r.same_material(row));
    job.stock
        .iter()
        .filter(of_parts)
        .map(|r| r.item.clone())
        .collect()
}

/// How far up from the floor a moulding covers the feet of the side strips of the row on the back wall: one that is planned, or a
/// piece of her cut list that is named as base.
fn foot_hidden(job: &Job, listed: &[&Part], facts: &TrimFacts) -> Length {
    let base = |what: &str| {
        let what = what.to_lowercase();
        BASE.iter().any(|w| what.contains(w))
    };
    let hers = listed
        .iter()
        .filter(|p| matches!(p.size, PartSize::Piece { .. }) && base(&p.what))
        .filter(|_| !facts.base_setback.is_positive())
        .filter_map(|p| job.stock_row(&p.item)?.width);
    let planned = foot_cover(facts, &job.stock);
    hers.max().map_or(planned, |wide| wide.max(planned))
}

/// The strips that close a row to walls and head, as they are wanted; none where the row stands open.
fn closing_strips(
    job: &Job,
    survey: &Survey,
    row: &Row,
    (facts, lap, hidden): (&TrimFacts, Length, Length),
) -> Vec<Scribe> {
    let open = |name: &str| match name {
        "left" => facts.open[0],
        "right" => facts.open[1],
        _ => false,
    };
    let whole = scribes(&survey.shape, row, strip_lap(job, lap), hidden);
    let closing = whole.iter().filter(|s| !open(&s.strip)).cloned();
    let following = closing.map(|s| s.following(&job.trim)).collect();
    cut_round(following, &whole, survey, row)
}

/// The same strips for a run whose parts are being drawn.
pub(super) fn strips_of(job: &Job, survey: &Survey, run: &Run, row: &Row) -> Vec<Scribe> {
    let route = run.route.as_str();
    let lap = side_thick(job, run);
    let facts = facts(job, route, (run, row, lap), survey);
    let listed: Vec<&Part> = job.route_parts(route).collect();
    let hidden = foot_hidden(job, &listed, &facts);
    closing_strips(job, survey, row, (&facts, lap, hidden))
}

/// Where the lower end of a side strip goes. Under boxes whose base stands back the moulding does, too: the strip then comes down
/// in front of it, in the plane of the boxes.
fn foot_words(job: &Job, strip: &Scribe, hidden: Length, stands_back: bool) -> String {
    let tape = job.project.tape.for_scribing();
    if strip.cut_round.iter().any(|c| c.ends_on_it) {
        "on top of the base that stays on the wall".into()
    } else if strip.foot_open && hidden.is_positive() {
        "to the floor: the base does not reach up to the highest floor, scribe it to the floor, too"
            .into()
    } else if strip.foot_open && stands_back {
        "to the floor: the base stands back and does not cover it, scribe it to the floor, too"
            .into()
    } else if strip.foot_open {
        "to the floor: no base covers it, scribe it to the floor, too".into()
    } else if strip.foot_up >= Length::in_64(2) {
        format!(
            "behind the base, level with the highest floor: {} above the lowest under it",
            tape.print(strip.foot_up)
        )
    } else {
        "to the floor, behind the base".into()
    }
}

/// Letters for the marks of trim that no mark of her list begins with, followed by a figure.
fn free_prefix(job: &Job) -> &'static str {
    let taken = |prefix: &str| {
        let rest = job.parts.iter().filter_map(|p| p.mark.strip_prefix(prefix));
        rest.into_iter()
            .any(|r| r.starts_with(|c: char| c.is_ascii_digit()))
    };
    let free = ["T", "TR", "TRIM"].into_iter().find(|p| !taken(p));
    free.unwrap_or("TRIM-")
}

/// Thickness of a box side; of a frame's, the usual 18 mm (common practice, no source).
pub(super) fn side_thick(job: &Job, run: &Run) -> Length {
    let row = run.material.as_deref().and_then(|m| job.stock_row(m));
    row.and_then(|r| r.thickness()).unwrap_or(Length::mm(18))
}

/// From the tops down to where doors leave room before them: overlay doors come up to the tops but for their gap, which is left to
/// open them; a top board shows over inset ones; doors of frames stand in the middle of their height.
pub(super) fn over_doors(job: &Job, run: &Run, side_thick: Length) -> Option<Length> {
    if run.has_boxes() {
        let doors = run.boxes.iter().any(|b| b.doors > 0);
        return doors.then_some(match run.build.door_lay {
            DoorLay::Overlay => Length::ZERO,
            DoorLay::Inset => side_thick,
        });
    }
    let frames = job.listed_frames(run);
    let tallest = frames.iter().filter_map(|f| f.height).max()?;
    let doors = run.extras.iter().filter(|(_, n)| *n > 0);
    let doors = doors.filter_map(|(code, _)| job.prefab.iter().find(|u| u.unit == *code));
    let high = doors.filter(|u| u.kind == PrefabKind::Door);
    let high = high.filter_map(|u| u.height).max()?;
    Some(((tallest - high) / 2).at_least_zero())
}

/// Doors are bought for the frames of the run.
fn has_loose_doors(job: &Job, run: &Run) -> bool {
    let door = |code: &str| {
        let unit = job.prefab.iter().find(|u| u.unit == code);
        unit.is_some_and(|u| u.kind == PrefabKind::Door)
    };
    run.extras.iter().any(|(code, n)| *n > 0 && door(code))
}

/// Seams of a row that a strip goes over; those under overlay fronts take none.
pub(super) fn seams(job: &Job, run: &Run, standing: usize) -> u32 {
    let open = match run.has_boxes() {
        true => run.open_seams().len(),
        // Which frames the doors hang on is not said, so none is taken to be free.
        false if has_loose_doors(job, run) => 0,
        false => standing.saturating_sub(1),
    };
    u32::try_from(open).unwrap_or(0)
}

/// How far side strips lie over the box sides.
pub(super) fn strip_lap(job: &Job, side_thick: Length) -> Length {
    match job.trim.sides_at {
        SidesAt::Lap => side_thick,
        SidesAt::Beside => Length::ZERO,
    }
}

fn facts(
    job: &Job,
    route: &str,
    (run, row, lap): (&Run, &Row, Length),
    survey: &Survey,
) -> TrimFacts {
    let shape = &survey.shape;
    let front = &shape.front;
    let heights = [Side::Left, Side::Right].map(|side| {
        let (low, high) = (front.corner(side, true)?, front.corner(side, false)?);
        Some(high.1 - low.1)
    });
    let side_gaps = [Side::Left, Side::Right].map(|s| side_gaps(shape, row, s, Face::Front));
    let open = [0, 1].map(|n: usize| stands_open(&side_gaps[n]));
    let width = |low: bool| reach(shape, row, low).map(|(left, right)| right - left);
    let follows = [
        job.trim.sides_follow == SidesFollow::Wall,
        job.trim.head_follows == HeadFollows::Ceiling,
    ];
    let head_corner = |side| corner_by(front, (side, false), None, follows);
    let opening = job.opening.as_ref();
    let sides = [Some(WallSide::Left), Some(WallSide::Right)];
    TrimFacts {
        tape: job.project.tape,
        spring: job.trim.spring,
        meeting: job.trim.meeting,
        crown_spring: job.trim.crown_spring,
        sides_at: job.trim.sides_at,
        joints_allowed: job.trim.joints_allowed,
        box_height: row.height(),
        base_height: row.base_height,
        base_setback: run.base_setback,
        side_thick: lap,
        seams: seams(job, run, row.boxes.len()),
        floor_width: width(true),
        head_width: width(false),
        heights,
        head_corners: [head_corner(Side::Left), head_corner(Side::Right)],
        side_gaps: [0, 1].map(|n: usize| {
            if open[n] {
                Vec::new()
            } else {
                side_gaps[n].clone()
            }
        }),
        head_gaps: gaps_over(shape, row),
        over_doors: over_doors(job, run, lap),
        beside_fronts: beside_fronts(job, run, lap),
        seam_fronts: seam_fronts(job, run),
        foot_gaps: shims(shape, Face::Front),
        studs: opening.map_or_else(Vec::new, |o| {
            let back = studs_on(o, WallSide::Back).into_iter();
            back.map(|s| s.from_left).collect()
        }),
        row_width: row.width(),
        row_depth: row.depth(),
        off_wall: stands_off(survey, run, row.span()),
        behind_stays: behind(job, run.wall),
        open,
        closings: Vec::new(),
        ends_at: ["left wall", "right wall"].map(String::from),
        corners: corner_gaps(survey, &placed(job, survey, route)),
        base_stays: old_stays(job, sides, &BASE),
        crown_stays: old_stays(job, sides, &CROWN),
        cover: run.build.cover.clone(),
        listed: listed(job, route),
    }
}

/// The old moulding of that kind that stays on each wall; `None` = no wall to meet.
pub(super) fn old_stays(
    job: &Job,
    walls: [Option<WallSide>; 2],
    words: &[&str],
) -> [Option<OldMoulding>; 2] {
    let old = job.opening.as_ref().map(|o| o.existing_trim.as_slice());
    let stays = |wall| {
        let old = old.unwrap_or_default().iter().filter(|t| {
            let what = t.what.to_lowercase();
            t.stay && t.is_on(wall) && words.iter().any(|w| what.contains(w))
        });
        let all: Vec<_> = old.collect();
        all.first().map(|_| OldMoulding {
            thick: all.iter().filter_map(|t| t.thick).max(),
            high: all.iter().filter_map(|t| t.height).max(),
        })
    };
    walls.map(|wall| wall.and_then(stays))
}

/// Old base and crown on the wall behind a row.
pub(super) fn behind(job: &Job, wall: WallSide) -> [Option<OldMoulding>; 2] {
    [&BASE[..], &CROWN[..]].map(|words| old_stays(job, [Some(wall), None], words)[0])
}

fn part(route: &str, piece: &TrimPiece) -> Part {
    Part {
        mark: piece.mark.clone(),
        what: piece.what.clone(),
        in_box: "face".into(),
        route: Some(route.into()),
        how_many: piece.how_many,
        spare: 0,
        size: PartSize::Piece {
            length: piece.long_point,
        },
        item: piece.item.clone(),
        grain: Grain::Length,
        band: Band::default(),
        band_item: None,
        band_in_size: false,
        match_group: None,
        keep: false,
        by_hand: false,
        note: String::new(),
        row: 0,
    }
}
