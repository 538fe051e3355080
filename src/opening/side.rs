//! A row on a side wall, against the walls around it: gaps behind it and at its ends, the head, a shim under each corner of a box.
//!
//! Owns the turn from the two planes that were read to the four corners of a box: between the front plane and the back plane floor
//! and ceiling are taken as straight. Left and right are as seen facing the wall. It judges nothing.

use super::places::{floor, foot};
use super::shape::{Face, Plane, Shape, Side};
use super::sit::{Row, plane_of};
use super::soffit;
use super::stays::stands_off;
use super::survey::Survey;
use super::trace::{Trace, scale};
use crate::model::{Opening, Run, WallSide};
use crate::units::{Length, Tape};
use serde::Serialize;

/// A gap and where it was reckoned: at a depth reading by its name, or at the front edge of the opening.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct GapAt {
    /// Where.
    pub at: String,
    /// How much.
    pub gap: Length,
}

/// One size for each corner of a box, facing it.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize)]
pub struct Corners {
    /// In front, at the left.
    pub left_front: Length,
    /// In front, at the right.
    pub right_front: Length,
    /// Against the wall, at the left.
    pub left_back: Length,
    /// Against the wall, at the right.
    pub right_back: Length,
}

impl Corners {
    /// In the order in which they are named.
    pub fn all(&self) -> [Length; 4] {
        [
            self.left_front,
            self.right_front,
            self.left_back,
            self.right_back,
        ]
    }
}

/// One box of the row.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct SideBox {
    /// Its name.
    pub name: String,
    /// Shim under each corner; nothing at the highest floor of the opening.
    pub shims: Corners,
    /// Gap above each corner, under a soffit to the soffit; one that meets no corner counts at all four.
    pub head_gap: Corners,
}

/// A row on the left or the right wall.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct SideRow {
    /// left or right.
    pub wall: String,
    /// Width of its boxes together.
    pub total_width: Length,
    /// Top of the base below the level line, everywhere.
    pub base_below_line: Length,
    /// How far they stand off that wall because of base or crown that stays: part of the gaps behind them.
    pub stands_off: Length,
    /// Between the boxes and the wall behind them at each height that was read, at the front of the opening.
    pub behind_gap: Vec<Length>,
    /// The same at the back of the opening; empty = not read.
    pub behind_gap_back: Vec<Length>,
    /// At the left end of the row.
    pub left_gap: Vec<GapAt>,
    /// At the right end of the row.
    pub right_gap: Vec<GapAt>,
    /// Left to right.
    pub boxes: Vec<SideBox>,
}

impl SideRow {
    /// A line for the row, and one for each box.
    pub fn in_words(&self, tape: Tape) -> Vec<String> {
        let range = |list: &[Length]| match (list.iter().min(), list.iter().max()) {
            (Some(a), Some(b)) if a == b => tape.print(*a),
            (Some(a), Some(b)) => format!("{} to {}", tape.print(*a), tape.print(*b)),
            _ => "not read".into(),
        };
        let end = |list: &[GapAt]| range(&list.iter().map(|g| g.gap).collect::<Vec<_>>());
        let mut list = vec![format!(
            "On the {} wall, facing it: gap behind {} at the front, {} at the back; at the left end {}, at the right end {}; top of the base {} below the level line.",
            self.wall,
            range(&self.behind_gap),
            range(&self.behind_gap_back),
            end(&self.left_gap),
            end(&self.right_gap),
            tape.print(self.base_below_line)
        )];
        if self.stands_off.is_positive() {
            list.push(format!(
                "It stands {} off the {} wall, and as far from what it meets in its corner, for base or crown that stays; where that comes off, it goes back by as much.",
                tape.print(self.stands_off),
                self.wall
            ));
        }
        list.extend(self.boxes.iter().map(|b| {
            let [lf, rf, lb, rb] = b.shims.all().map(|l| tape.print(l));
            format!(
                "{}: shims {lf} left front, {rf} right front, {lb} left back, {rb} right back; gap above {}.",
                b.name,
                range(&b.head_gap.all())
            )
        }));
        list
    }
}

/// The side of the opening a side wall is.
pub(crate) fn side_of(wall: WallSide) -> Option<Side> {
    match wall {
        WallSide::Back => None,
        WallSide::Left => Some(Side::Left),
        WallSide::Right => Some(Side::Right),
    }
}

/// Floor or ceiling away from the level line at a place: straight from the back plane (`z` nought) to the front one.
pub(crate) fn between(
    survey: &Survey,
    of: fn(&Plane) -> &Trace,
    x: Length,
    z: Length,
) -> Option<Length> {
    let front = of(&survey.shape.front).at(x)?;
    let depth = survey.largest_box.depth.filter(|d| d.is_positive());
    let back = survey.shape.back.as_ref().and_then(|p| of(p).at(x));
    match (back, depth) {
        (Some(back), Some(depth)) => Some(back + scale(front - back, z, depth)),
        _ => Some(front),
    }
}

/// How the row of a run on a side wall sits; nothing for one on the back wall, or where the depth was not read.
pub(crate) fn side_row(
    opening: &Opening,
    survey: &Survey,
    run: &Run,
    row: &Row,
) -> Option<SideRow> {
    let side = side_of(run.wall)?;
    let shape = &survey.shape;
    let least_down = shape.least_down()?;
    let ground = floor(survey, &[(run, row)])?;
    let tight = shape.least_gap(side, -least_down, row.top())?;
    let off = stands_off(survey, run, row.span());
    let behind = |face| behind(shape, side, face, tight - off);
    let (start, end) = row.ends()?;
    let corner_end = if side == Side::Left {
        survey.largest_box.depth? - end
    } else {
        start
    };
    let front_end = if side == Side::Left {
        start
    } else {
        survey.largest_box.depth? - end
    };
    let at_corner: Vec<GapAt> = depths(opening, side)
        .map(|(name, depth)| GapAt {
            at: name.clone(),
            gap: corner_end + depth - ground.z[1],
        })
        .collect();
    let at_front = vec![GapAt {
        at: "front edge".into(),
        gap: front_end,
    }];
    let (left_gap, right_gap) = if side == Side::Left {
        (at_front, at_corner)
    } else {
        (at_corner, at_front)
    };
    let boxes = row
        .boxes
        .iter()
        .map(|b| {
            let foot = foot(&ground, run.wall, b);
            let each = |f: &dyn Fn(Length, Length) -> Option<Length>| {
                let (near, far, left, right) = match side {
                    Side::Left => (foot.x[1], foot.x[0], foot.z[1], foot.z[0]),
                    Side::Right => (foot.x[0], foot.x[1], foot.z[0], foot.z[1]),
                };
                Some(Corners {
                    left_front: f(near, left)?,
                    right_front: f(near, right)?,
                    left_back: f(far, left)?,
                    right_back: f(far, right)?,
                })
            };
            let top = b.height - row.base_below_line;
            let under = soffit::over_foot(opening, shape, &foot);
            Some(SideBox {
                name: b.name.clone(),
                shims: each(&|x, z| {
                    let down = between(survey, |p| &p.floor, x, z)?;
                    Some((down - least_down).at_least_zero())
                })?,
                head_gap: each(&|x, z| {
                    let plain = between(survey, |p| &p.ceiling, x, z)?;
                    let soffit = under.iter().filter(|s| s.counts_at(x, z));
                    Some(soffit.map(|s| s.under).fold(plain, Length::min) - top)
                })?,
            })
        })
        .collect::<Option<Vec<_>>>()?;
    Some(SideRow {
        wall: run.wall.word().into(),
        total_width: row.width(),
        base_below_line: row.base_below_line,
        stands_off: off,
        behind_gap: behind(Face::Front),
        behind_gap_back: behind(Face::Back),
        left_gap,
        right_gap,
        boxes,
    })
}

/// The row's backs stand plumb at the tightest place of the wall: what is left at each height.
fn behind(shape: &Shape, side: Side, face: Face, tight: Length) -> Vec<Length> {
    plane_of(shape, face).map_or_else(Vec::new, |p| {
        let trace = match side {
            Side::Left => &p.left,
            Side::Right => &p.right,
        };
        trace.points().iter().map(|(_, g)| *g - tight).collect()
    })
}

/// The depth readings taken at a side wall.
pub(crate) fn depths(opening: &Opening, side: Side) -> impl Iterator<Item = (&String, Length)> {
    let word = match side {
        Side::Left => "left",
        Side::Right => "right",
    };
    opening
        .tape
        .depth
        .iter()
        .filter(move |(name, _)| name.ends_with(word))
        .filter_map(|(name, d)| Some((name, (*d)?)))
}
