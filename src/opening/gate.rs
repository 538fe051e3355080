//! The doorway on the floor, turned so that its wall is the far end of `z`, whichever wall it stands in: what faces it, what stands
//! beside it and what stands in its own wall are then measured alike.
//!
//! Seen from outside, looking in through the door: `x` runs to the right, `z` towards her. Where she does not say where it stands,
//! it is taken to stand in the middle of its wall, and that is said.

use super::floor::Foot;
use crate::model::{Doorway, Opening, WallSide};
use crate::units::Length;

/// How a wall lies to the doorway.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Role {
    /// Opposite.
    Facing,
    /// At its left (0) or right (1), looking in.
    Beside(usize),
    /// The door stands in it.
    Own,
}

/// The doorway with its jambs, and the floor as turned.
pub(super) struct Gate<'a> {
    pub(super) door: &'a Doorway,
    pub(super) jambs: [Length; 2],
    pub(super) floor: Foot,
}

impl Gate<'_> {
    /// Nothing where its width or the depth was not read.
    pub(super) fn of(opening: &Opening, floor: Foot) -> Option<Gate<'_>> {
        let door = opening.doorway.as_ref()?;
        let turned = turn(&door.wall, &floor);
        let wide = door.width?;
        if !(floor.z[1] - floor.z[0]).is_positive() {
            return None;
        }
        let middle = match door.wall.as_str() {
            "left" => door.middle_along(floor.z),
            "right" => -door.middle_along(floor.z),
            _ => door.middle_along(floor.x),
        };
        let from = middle - wide / 2;
        Some(Gate {
            door,
            jambs: [from, from + wide],
            floor: turned,
        })
    }
    /// True if there is wall beside it.
    pub(super) fn has_wall(&self) -> bool {
        self.jambs[1] - self.jambs[0] < self.floor.x[1] - self.floor.x[0]
    }
    pub(super) fn turned(&self, foot: &Foot) -> Foot {
        turn(&self.door.wall, foot)
    }
    pub(super) fn role(&self, wall: WallSide) -> Role {
        role(&self.door.wall, wall)
    }
    /// Its wall, in words.
    pub(super) fn wall(&self) -> &'static str {
        match self.door.wall.as_str() {
            "left" => "left wall",
            "right" => "right wall",
            _ => "front",
        }
    }
    /// Said where its place is not hers.
    pub(super) fn taken(&self) -> String {
        if self.door.from_left.is_some() {
            String::new()
        } else {
            format!(", taking it to stand in the middle of the {}", self.wall())
        }
    }
}

/// How a wall lies to a doorway in that one.
pub(super) fn role(door: &str, wall: WallSide) -> Role {
    match (door, wall) {
        ("left", WallSide::Right) | ("right", WallSide::Left) => Role::Facing,
        ("left", WallSide::Left) | ("right", WallSide::Right) => Role::Own,
        ("left", WallSide::Back) => Role::Beside(0),
        ("right", WallSide::Back) => Role::Beside(1),
        (_, WallSide::Back) => Role::Facing,
        (_, WallSide::Left) => Role::Beside(0),
        (_, WallSide::Right) => Role::Beside(1),
    }
}

/// A place on the floor as the door sees it.
pub(super) fn turn(wall: &str, foot: &Foot) -> Foot {
    let back = |[a, b]: [Length; 2]| [-b, -a];
    match wall {
        "left" => Foot {
            x: foot.z,
            z: back(foot.x),
        },
        "right" => Foot {
            x: back(foot.z),
            z: foot.x,
        },
        _ => *foot,
    }
}

/// A place as the door sees it, on the floor again.
pub(super) fn turn_back(wall: &str, foot: &Foot) -> Foot {
    let back = |[a, b]: [Length; 2]| [-b, -a];
    match wall {
        "left" => Foot {
            x: back(foot.z),
            z: foot.x,
        },
        "right" => Foot {
            x: foot.z,
            z: back(foot.x),
        },
        _ => *foot,
    }
}
