//! Where every box of a route stands, seen from above.
//!
//! Owns the turn from a wall's own measure (from its left end, facing it) to the floor's. A row's backs stand at the tightest place
//! of the wall behind them, off it by the thickness of base or crown that stays there.

use super::floor::Foot;
use super::shape::Side;
use super::sit::{Row, Standing};
use super::stays::{Span, keeps_off, stands_off};
use super::survey::Survey;
use crate::model::{Run, WallSide};
use crate::units::Length;

/// What a box covers of the floor, for a plan: `x` from the left plumb line, `z` from the back wall to the front.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Above {
    /// Its wall.
    pub wall: WallSide,
    /// As it stands in its row, from the left end of its wall.
    pub standing: Standing,
    /// From and to.
    pub x: [Length; 2],
    /// From and to.
    pub z: [Length; 2],
}

/// Every box of a row, for a plan.
pub(crate) fn above(survey: &Survey, run: &Run, row: &Row) -> Vec<Above> {
    let all = places(survey, run, row).unwrap_or_default();
    let one = |p: Placed| Above {
        wall: p.wall,
        standing: p.standing,
        x: p.foot.x,
        z: p.foot.z,
    };
    all.into_iter().map(one).collect()
}

/// One box in its place.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Placed {
    pub(crate) wall: WallSide,
    /// Counted from 1 at the left end of its wall.
    pub(crate) number: usize,
    pub(crate) standing: Standing,
    pub(crate) base_height: Length,
    pub(crate) foot: Foot,
}

/// The floor that boxes may stand on: that between the walls, less base or crown that stays and holds their backs off; on a wall
/// without a row, what stays there. `None` without a row.
pub(crate) fn floor(survey: &Survey, rows: &[(&Run, &Row)]) -> Option<Foot> {
    let top = rows.iter().map(|(_, row)| row.top()).max()?;
    let Foot { x, z } = between_walls(survey, top)?;
    let whole = Span {
        bottom: rows.iter().map(|(_, row)| row.base_height).min()?,
        top: rows.iter().filter_map(|(_, row)| row.span().top).max(),
    };
    let off = |wall| {
        let on = rows.iter().filter(|(run, _)| run.wall == wall);
        let backs = on.map(|(run, row)| stands_off(survey, run, row.span()));
        backs
            .min()
            .unwrap_or_else(|| keeps_off(survey, wall, whole))
    };
    Some(Foot {
        x: [x[0] + off(WallSide::Left), x[1] - off(WallSide::Right)],
        z: [z[0] + off(WallSide::Back), z[1]],
    })
}

/// The floor of the opening between the tightest places of its walls, from the back wall to the front; of no depth where none
/// was read.
pub(crate) fn between_walls(survey: &Survey, top: Length) -> Option<Foot> {
    let shape = &survey.shape;
    let bottom = -shape.least_down()?;
    let left = -shape.least_gap(Side::Left, bottom, top)?;
    let right = shape.apart()? + shape.least_gap(Side::Right, bottom, top)?;
    Some(Foot {
        x: [left, right],
        z: [Length::ZERO, survey.largest_box.depth.unwrap_or_default()],
    })
}

/// The boxes of a row, left to right.
pub(crate) fn places(survey: &Survey, run: &Run, row: &Row) -> Option<Vec<Placed>> {
    let floor = floor(survey, &[(run, row)])?;
    let placed = row.boxes.iter().enumerate().map(|(i, b)| Placed {
        wall: run.wall,
        number: i + 1,
        standing: b.clone(),
        base_height: row.base_height,
        foot: foot(&floor, run.wall, b),
    });
    Some(placed.collect())
}

/// What a box covers of the floor.
pub(crate) fn foot(floor: &Foot, wall: WallSide, b: &Standing) -> Foot {
    let front = floor.z[1];
    match wall {
        WallSide::Back => Foot {
            x: [b.x, b.x + b.width],
            z: [floor.z[0], floor.z[0] + b.depth],
        },
        WallSide::Left => Foot {
            x: [floor.x[0], floor.x[0] + b.depth],
            z: [front - b.x - b.width, front - b.x],
        },
        WallSide::Right => Foot {
            x: [floor.x[1] - b.depth, floor.x[1]],
            z: [b.x, b.x + b.width],
        },
    }
}
