//! Chooses the frames of runs with `units = "best"`, once, so that every verb works on the same ones: joins the survey, the
//! verdict on single frames, the counting of wants and the search.

use super::filling::{fillings, held, without_price};
use crate::mixes::best_mixes;
use crate::model::mix::{Amounts, MixKind, MixRow, MixTask, MixWall, Mixes};
use crate::model::{Job, PrefabKind, PrefabUnit, Run, RunUnits, WallSide};
use crate::opening::{
    Holds, Row, Survey, boxes_hold, fit, frames_hold, free_along, kept, met, row, survey_shown,
    walls, width_over,
};
use crate::units::Length;

/// How many are shown.
const FEW: usize = 3;
/// Most of one frame.
const MOST: i64 = 1_000;
/// Work steps for one route: a catalogue of a dozen frames stays far below.
const STEPS: u64 = 20_000_000;

/// Puts the best mix into every run that leaves its frames open; says for each such route what was found. A run whose
/// readings do not suffice keeps `best`.
pub fn choose_mixes(job: &mut Job) -> Vec<Mixes> {
    let open = |r: &Run| !r.has_boxes() && r.units == RunUnits::Best;
    let mut names: Vec<String> = Vec::new();
    for r in job.runs.iter().filter(|r| open(r)) {
        if !names.contains(&r.route) {
            names.push(r.route.clone());
        }
    }
    let mut all = Vec::new();
    let Some(opening) = &job.opening else {
        return all;
    };
    if job.prefab.is_empty() {
        return all;
    }
    let survey = survey_shown(opening, job.project.tape, job.project.tape);
    for route in names {
        let at: Vec<usize> = (0..job.runs.len())
            .filter(|i| job.runs[*i].route == route && open(&job.runs[*i]))
            .collect();
        let mixes = choose(job, &survey, &route, &at);
        if let Some(best) = mixes.best.first() {
            let mut extras = Some(best.extras.clone());
            for (i, r) in at.iter().zip(&best.rows) {
                let run = &mut job.runs[*i];
                run.units = RunUnits::Listed(r.units.clone());
                // Loose parts are counted once for a route: they go with its first row that has frames.
                if run.extras.is_empty() && !r.units.is_empty() {
                    run.extras = extras.take().unwrap_or_default();
                }
            }
            let empty = |r: &Run| r.units == RunUnits::Listed(Vec::new());
            job.runs
                .retain(|r| r.route != route || r.has_boxes() || !empty(r));
        }
        all.push(mixes);
    }
    all
}

fn choose(job: &Job, survey: &Survey, route: &str, at: &[usize]) -> Mixes {
    let mut out = Mixes {
        route: route.to_owned(),
        ..Mixes::default()
    };
    let room = survey.largest_box;
    let (Some(width), Some(height), Some(depth)) = (room.width, room.height, room.depth) else {
        out.left_out.push(
            "Width, height or depth of the opening is not read yet: no frames can be chosen."
                .into(),
        );
        out.not_known = true;
        return out;
    };
    let open: Vec<&Run> = at.iter().map(|i| &job.runs[*i]).collect();
    let others: Vec<(&Run, Row)> = job
        .runs
        .iter()
        .filter(|r| r.route == route && !open.iter().any(|o| std::ptr::eq(*o, *r)))
        .filter_map(|r| Some((r, row(job, survey, r, &job.listed_frames(r))?)))
        .collect();
    let wall_taken = |r: &&Run| {
        open.iter().filter(|o| o.wall == r.wall).count()
            + others.iter().filter(|o| o.0.wall == r.wall).count()
            > 1
    };
    if open.iter().any(wall_taken) || open.iter().any(|r| r.from_left.is_some()) {
        out.left_out.push("Frames are chosen only for a run that has its wall to itself and no from_left: list them in units.".into());
        return out;
    }
    if open.len() > 1 && open.iter().any(|r| !r.extras.is_empty()) {
        out.left_out.push("Leave extras out where frames are chosen for several walls, or list the frames in units.".into());
        return out;
    }
    let room_for = |run: &Run, f: &PrefabUnit| -> Option<Length> {
        let mut alone = job.clone();
        alone.runs = vec![Run {
            units: RunUnits::Listed(vec![f.unit.clone()]),
            extras: Vec::new(),
            ..run.clone()
        }];
        let base = job.base_under(run, &[f]);
        let head = height - base - f.height?;
        if head < run.head_gap_least || !fit(&alone, survey).routes.first()?.fits {
            return None;
        }
        // Alone on its wall: what others in its corners take is held against each mix.
        let [left, right] = kept(&alone, survey, &alone.runs[0]);
        if run.wall != WallSide::Back {
            return Some(depth - left - right);
        }
        let down = survey.shape.least_down()?;
        let wide = width_over(&survey.shape, -down, base - down + f.height?)?;
        Some(wide - left - right)
    };
    let wanted = amounts(&met(job.want.as_ref(), Holds::default(), job.project.tape));
    let mut task = MixTask {
        kinds: Vec::new(),
        walls: open
            .iter()
            .map(|r| MixWall {
                wall: r.wall,
                room: Vec::new(),
            })
            .collect(),
        wanted,
        start: [0; 4],
        steps: STEPS,
    };
    for (run, row) in &others {
        let holds = if run.has_boxes() {
            boxes_hold(job, run, row)
        } else {
            frames_hold(job, &job.listed_frames(run), &run.extras)
        };
        let gives = held(holds);
        task.start = std::array::from_fn(|i| task.start[i] + gives[i]);
    }
    let mut partly = false;
    for (code, _) in open.iter().flat_map(|r| &r.extras) {
        let unit = job.prefab.iter().find(|u| u.unit == *code);
        if unit.is_some_and(|u| u.kind != PrefabKind::Frame && u.fits.is_none()) {
            partly = true;
            out.left_out.push(format!(
                "{code}: it names no frame in fits, so what it adds is not weighed in choosing the frames."
            ));
        }
    }
    for f in job.prefab.iter().filter(|u| u.kind == PrefabKind::Frame) {
        let (Some(w), Some(_), Some(price)) =
            (f.width.filter(|w| w.is_positive()), f.height, f.price)
        else {
            out.left_out.push(format!(
                "{}: its width, height or price is missing.",
                f.unit
            ));
            out.not_known = true;
            continue;
        };
        let rooms: Vec<Option<Length>> = open.iter().map(|r| room_for(r, f)).collect();
        let most: i64 = rooms.iter().flatten().map(|r| r.units() / w.units()).sum();
        if most == 0 {
            out.left_out.push(format!(
                "{}: it does not fit, or cannot be brought in and stood up.",
                f.unit
            ));
            continue;
        }
        let fixed = open
            .iter()
            .find(|r| !r.extras.is_empty())
            .map(|r| r.extras.as_slice());
        let deep = |r: &Run| f.depth.or(r.box_depth).unwrap_or(depth - Length::INCH);
        partly |= most > MOST;
        if fixed.is_none() {
            out.left_out.extend(without_price(job, f, wanted));
        }
        task.kinds.push(MixKind {
            code: f.unit.clone(),
            width: w,
            depth: open.iter().map(|r| deep(r)).max().unwrap_or_default(),
            options: (1..=most.min(MOST))
                .map(|n| fillings(job, f, n as u32, (price.likely, wanted, fixed)))
                .collect(),
        });
        for (wall, r) in task.walls.iter_mut().zip(rooms) {
            wall.room.push(r);
        }
    }
    let lengths = |depths: &[Length]| -> Vec<Length> {
        let mut all: Vec<(&Run, Length)> =
            others.iter().map(|(r, row)| (*r, row.depth())).collect();
        all.extend(
            open.iter()
                .copied()
                .zip(depths.iter().copied())
                .filter(|(_, d)| d.is_positive()),
        );
        let left = walls(&all, width, depth);
        let side = all.iter().any(|(r, _)| r.wall != WallSide::Back);
        let of = |r: &&Run| match r.wall {
            WallSide::Back if side => left.back_length,
            WallSide::Back => width,
            WallSide::Left => left.left_length,
            WallSide::Right => left.right_length,
        };
        open.iter().map(of).collect()
    };
    let fits = |runs: Vec<Run>| {
        let with = Job {
            runs,
            ..job.clone()
        };
        fit(&with, survey).routes.first().is_none_or(|r| r.fits)
    };
    let mut beside: Vec<Run> = others.iter().map(|(r, _)| (*r).clone()).collect();
    if !fits(beside.clone()) {
        // What is wrong with those is said of them, not of the frames.
        beside.clear();
    }
    // Frames that go in one by one may still shut each other out.
    let stands = |rows: &[MixRow]| {
        let with = open.iter().zip(rows).filter(|(_, r)| !r.units.is_empty());
        let chosen = with.map(|(run, r)| Run {
            units: RunUnits::Listed(r.units.clone()),
            ..(*run).clone()
        });
        fits(chosen.chain(beside.iter().cloned()).collect())
    };
    (out.best, out.complete) = best_mixes(&task, FEW, &lengths, &stands);
    out.complete &= !partly;
    for m in &mut out.best {
        let chosen = open.iter().zip(&m.rows).map(|(run, r)| Run {
            units: RunUnits::Listed(r.units.clone()),
            ..(*run).clone()
        });
        let runs: Vec<Run> = chosen.chain(beside.iter().cloned()).collect();
        let with = Job {
            runs,
            ..job.clone()
        };
        let stands =
            |r: &Run| r.has_boxes() || !matches!(&r.units, RunUnits::Listed(u) if u.is_empty());
        if !with
            .runs
            .iter()
            .any(|r| r.wall != WallSide::Back && stands(r))
        {
            continue;
        }
        // In a corner base or crown that stays takes its part of what is left, too.
        for (run, r) in with.runs.iter().zip(&mut m.rows) {
            let stands = with.listed_frames(run).into_iter().filter_map(|f| f.width);
            let free = free_along(&with, survey, run).width;
            let left = free.map(|f| f - stands.sum::<Length>());
            r.unused = left.map_or(r.unused, |l| r.unused.min(l).at_least_zero());
        }
        m.unused = m.rows.iter().map(|r| r.unused).sum();
    }
    for (run, r) in out
        .best
        .iter_mut()
        .flat_map(|m| open.iter().zip(&mut m.rows))
    {
        let tall = r
            .units
            .iter()
            .filter_map(|c| job.prefab.iter().find(|u| u.unit == *c)?.height)
            .max();
        let frames = r.units.iter();
        let frames = frames.filter_map(|c| job.prefab.iter().find(|u| u.unit == *c));
        let base = job.base_under(run, &frames.collect::<Vec<_>>());
        r.head_gap = tall.map(|t| height - base - t);
    }
    out
}

/// Shelf, hanging, drawers, closed space, as wanted.
fn amounts(list: &[crate::opening::WantMet]) -> Amounts {
    ["shelf", "hanging", "drawers", "closed"].map(|what| {
        let want = list.iter().find(|w| w.what == what);
        want.map_or(0, |w| w.wanted)
    })
}
