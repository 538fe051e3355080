//! Clothes on a rail that take more depth than their box has: how far they hang out in front of it, and into what.
//!
//! A hanger stands against the back at the best; what it is deeper than the inside hangs out in front, between the sides of the box.
//! Heights are left out: what stands there is taken to stand as high as the clothes hang.

use super::floor::Foot;
use super::places::{self, Placed};
use super::sit::Row;
use super::survey::Survey;
use super::wants;
use crate::model::{Job, Opening, PrefabKind, PrefabUnit, Run, WallSide};
use crate::units::{Length, Tape};

/// A row, and the frames it is made of where they are bought.
pub(crate) type Sitting<'a> = (&'a Run, Row, Vec<&'a PrefabUnit>);

/// The clothes of one box.
#[derive(Clone, Debug)]
pub(crate) struct Hung {
    /// The box they hang in.
    pub(crate) at: Placed,
    /// How far they hang out in front of it.
    pub(crate) out: Length,
    /// The floor in front of it that they hang over.
    pub(crate) strip: Foot,
    /// What a hanger takes.
    hanger: Length,
}

/// Clothes that hang out in front of their boxes, of every row of a route.
pub(crate) fn hung_out(job: &Job, survey: &Survey, rows: &[Sitting<'_>]) -> Vec<Hung> {
    let hanger = wants::hung(job.want.as_ref()).1;
    let mut list = Vec::new();
    for (run, row, frames) in rows {
        let insides: Vec<Option<(Length, Length)>> = if run.has_boxes() {
            let within = wants::within(job, run, row).into_iter();
            within
                .map(|(plan, w)| plan.rail.then_some((w.depth, w.board)))
                .collect()
        } else {
            let inside = |f: &&PrefabUnit| {
                let side =
                    |width: Length| (width - f.inside_width?.min(width)).units().checked_div(2);
                let board = f
                    .width
                    .and_then(side)
                    .map_or(Length::ZERO, Length::from_units);
                has_rail(job, run, f).then_some((f.inside_depth?, board))
            };
            frames.iter().map(inside).collect()
        };
        let placed = places::places(survey, run, row).unwrap_or_default();
        for (at, inside) in placed.into_iter().zip(insides) {
            let Some((depth, board)) = inside.filter(|(depth, _)| *depth < hanger) else {
                continue;
            };
            let out = hanger - depth;
            list.push(Hung {
                strip: strip(&at, out, board),
                at,
                out,
                hanger,
            });
        }
    }
    list
}

/// True if a rail of the run may hang in that frame.
fn has_rail(job: &Job, run: &Run, frame: &PrefabUnit) -> bool {
    run.extras.iter().filter(|(_, n)| *n > 0).any(|(code, _)| {
        let unit = job.prefab.iter().find(|u| u.unit == *code);
        unit.is_some_and(|u| {
            u.kind == PrefabKind::Rail && u.fits.as_ref().is_none_or(|f| *f == frame.unit)
        })
    })
}

/// In front of a box, as far out, between its sides.
pub(crate) fn strip(b: &Placed, out: Length, board: Length) -> Foot {
    let between = |[from, to]: [Length; 2]| [from + board, to - board];
    let Foot { x, z } = b.foot;
    match b.wall {
        WallSide::Back => Foot {
            x: between(x),
            z: [z[1], z[1] + out],
        },
        WallSide::Left => Foot {
            x: [x[1], x[1] + out],
            z: between(z),
        },
        WallSide::Right => Foot {
            x: [x[0] - out, x[0]],
            z: between(z),
        },
    }
}

/// How far a strip reaches into something in front of its box, and over how much of its length.
fn into(h: &Hung, o: &Foot) -> Option<[Length; 2]> {
    let over = |a: [Length; 2], c: [Length; 2]| a[1].min(c[1]) - a[0].max(c[0]);
    h.strip.meets(o).then(|| match h.at.wall {
        WallSide::Back => [
            h.strip.z[1] - o.z[0].max(h.strip.z[0]),
            over(h.strip.x, o.x),
        ],
        WallSide::Left => [
            h.strip.x[1] - o.x[0].max(h.strip.x[0]),
            over(h.strip.z, o.z),
        ],
        WallSide::Right => [
            o.x[1].min(h.strip.x[1]) - h.strip.x[0],
            over(h.strip.z, o.z),
        ],
    })
}

/// A caution for everything that clothes hang into: a box on another wall, the door that has to shut before them.
pub(crate) fn cautions(
    hung: &[Hung],
    all: &[Placed],
    (opening, survey): (&Opening, &Survey),
    tape: Tape,
) -> Vec<String> {
    let mut list = Vec::new();
    for h in hung {
        let lead = format!(
            "Clothes on the rail of {} on the {} wall take {} and hang {} out of its front",
            h.at.standing.name,
            h.at.wall.word(),
            tape.print(h.hanger),
            tape.print(h.out)
        );
        for o in all.iter().filter(|o| o.wall != h.at.wall) {
            let Some([deep, wide]) = into(h, &o.foot) else {
                continue;
            };
            let by = tape.print_up(deep);
            list.push(format!(
                "{lead}: {by} into {} on the {} wall, over {} of the rail. Hangers {by} narrower, {} set {by} further off, or a rail {} shorter would do.",
                o.standing.name,
                o.wall.word(),
                tape.print(wide),
                o.standing.name,
                tape.print_up(wide)
            ));
        }
        let door = opening.doorway.as_ref().filter(|d| d.wall == "front");
        let front = survey.largest_box.depth.filter(|d| d.is_positive());
        let past = front.map(|f| h.strip.z[1] - f).filter(|p| p.is_positive());
        if let (Some(_), Some(past), WallSide::Back) = (door, past, h.at.wall) {
            let by = tape.print_up(past);
            list.push(format!(
                "{lead}, {by} past the front of the opening: a door does not shut on them. Hangers {by} narrower would do, or clothes hung slanting or facing the front."
            ));
        }
    }
    list
}
