//! Areas of bought frames and of what closes the gaps around them.
//!
//! `frames = "what shows"`: the front edges of the frames; the inside keeps the factory's finish. `"every face"`: the inner
//! faces of sides, top, bottom and back, and both faces of every shelf, too. `"none"`: nothing of the frames.

use super::surfaces::{Around, Piles, ground_of};
use crate::model::{FrameFaces, Ground, Job, PaintedAt, PrefabKind, PrefabUnit, Run};
use crate::units::Length;

/// Thickness of a frame's board where inside and outside width do not tell it. Common practice, no source.
const BOARD: Length = Length::in_64(40);

/// Loose units of a run by kind, with their count.
pub(super) fn extras_of<'a>(
    job: &'a Job,
    run: &'a Run,
) -> impl Iterator<Item = (&'a PrefabUnit, i64)> {
    let extras = run.extras.iter().filter(|_| !run.has_boxes());
    extras.filter_map(|(code, n)| {
        let unit = job.prefab.iter().find(|u| u.unit == *code)?;
        Some((unit, i64::from(*n)))
    })
}

/// Thickness of a frame's sides.
fn board(frame: &PrefabUnit) -> Length {
    let both = frame.width.zip(frame.inside_width).map(|(o, i)| o - i);
    both.filter(|b| b.is_positive()).map_or(BOARD, |b| b / 2)
}

pub(super) fn add(job: &Job, route: &str, around: &Around, piles: &mut Piles) {
    let tape = piles.tape;
    let runs = || {
        job.runs
            .iter()
            .filter(|r| r.route == route && !r.has_boxes())
    };
    let item = runs().find_map(|r| r.material.as_deref());
    let ground = ground_of(item.and_then(|i| job.stock_row(i)));
    for base in &around.bases {
        let pile = piles.of("base fronts", ground, PaintedAt::Bench, "one face");
        pile.faces(tape, item.unwrap_or_default(), 1.0, *base);
    }
    let thick = item
        .and_then(|i| job.stock_row(i)?.thickness())
        .unwrap_or(BOARD);
    for strip in &around.strips {
        let pile = piles.of(
            "strips and fillers",
            ground,
            PaintedAt::InPlace,
            "one face, one long edge",
        );
        pile.faces(
            tape,
            item.unwrap_or_default(),
            1.0,
            [strip.length, strip.width],
        );
        pile.edge(strip.length, thick, true);
    }
    if job.finish.frames == FrameFaces::None {
        return;
    }
    for run in runs() {
        for frame in job.listed_frames(run) {
            one(job, frame, piles);
        }
        for (unit, n) in extras_of(job, run) {
            if unit.kind == PrefabKind::Door {
                let pile = piles.of(
                    "doors of the frames",
                    Ground::Factory,
                    PaintedAt::Apart,
                    "one face",
                );
                let size = [
                    unit.height.unwrap_or_default(),
                    unit.width.unwrap_or_default(),
                ];
                pile.faces(tape, &unit.unit, n as f64, size);
            } else if unit.kind == PrefabKind::Shelf && job.finish.frames == FrameFaces::Every {
                shelf(unit, n as f64, piles);
            }
        }
    }
}

fn one(job: &Job, frame: &PrefabUnit, piles: &mut Piles) {
    let tape = piles.tape;
    let (wide, high) = (
        frame.width.unwrap_or_default(),
        frame.height.unwrap_or_default(),
    );
    let deep = frame.depth.unwrap_or_default();
    let thick = board(frame);
    let inside = frame
        .inside_width
        .unwrap_or((wide - thick * 2).at_least_zero());
    let pile = piles.of(
        "front edges of frames",
        Ground::Factory,
        PaintedAt::InPlace,
        "sides, top and bottom",
    );
    pile.faces(tape, &frame.unit, 2.0, [high, thick]);
    pile.faces(tape, &frame.unit, 2.0, [inside, thick]);
    if job.finish.frames != FrameFaces::Every {
        return;
    }
    let clear = frame
        .inside_height
        .unwrap_or((high - thick * 2).at_least_zero());
    let inner = frame.inside_depth.unwrap_or(deep);
    let pile = piles.of(
        "inner faces of frames",
        Ground::Factory,
        PaintedAt::InPlace,
        "sides, top, bottom, back",
    );
    pile.faces(tape, &frame.unit, 2.0, [clear, inner]);
    pile.faces(tape, &frame.unit, 2.0, [inside, inner]);
    pile.faces(tape, &frame.unit, 1.0, [clear, inside]);
    if frame.shelves_in_box > 0 {
        let pile = piles.of(
            "shelves of frames",
            Ground::Factory,
            PaintedAt::Apart,
            "both faces, front edge",
        );
        pile.faces(
            tape,
            &frame.unit,
            2.0 * f64::from(frame.shelves_in_box),
            [inside, inner],
        );
        pile.edge(
            inside * i64::from(frame.shelves_in_box),
            frame.shelf_thick.unwrap_or(thick),
            false,
        );
    }
}

fn shelf(unit: &PrefabUnit, count: f64, piles: &mut Piles) {
    let tape = piles.tape;
    let (long, deep) = (
        unit.width.unwrap_or_default(),
        unit.depth.unwrap_or_default(),
    );
    let pile = piles.of(
        "shelves of frames",
        Ground::Factory,
        PaintedAt::Apart,
        "both faces, front edge",
    );
    pile.faces(tape, &unit.unit, 2.0 * count, [long, deep]);
    pile.edge(
        long * (count as i64),
        unit.shelf_thick.unwrap_or(BOARD),
        false,
    );
}
