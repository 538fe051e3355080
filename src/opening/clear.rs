//! Things to keep clear (outlets, vents, hatches, pipes) and studs, against the boxes as they will stand.
//!
//! Owns the overlap test and the cut-out, measured from the box's own edges so that it does not depend on the wall. Where wiring
//! is behind a box, local codes and a licensed person have the last word.

use super::fixing::Fixing;
use super::floor::Foot;
use super::places::{self, Placed};
use super::shape::{Shape, Side};
use super::side;
use super::sit::{Row, Standing};
use super::studs::leaning;
use super::survey::Survey;
use crate::model::{KeepClear, Opening, Run, WallSide};
use crate::units::{Length, Tape};
use serde::Serialize;

/// A thing behind a box, and the hole it needs.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct CutOut {
    /// The thing.
    pub what: String,
    /// The wall it is on: back, left or right.
    pub wall: String,
    /// The box it falls behind.
    pub in_box: String,
    /// Which box that is, counted from 1 at the left: frames of one kind share a name.
    pub box_number: usize,
    /// From the box's left outside edge to the hole.
    pub from_left_edge: Length,
    /// From the box's bottom edge up to the hole.
    pub from_bottom_edge: Length,
    /// Width of the hole that lies in this box.
    pub width: Length,
    /// Height of the hole that lies in this box.
    pub height: Length,
    /// True where it runs under a box side or past its edge: the box must move or be notched.
    pub at_a_side: bool,
}

impl CutOut {
    /// Where to cut, from the box's own edges.
    pub fn in_words(&self, tape: Tape) -> String {
        let on = match self.wall.as_str() {
            "back" => String::new(),
            wall => format!(" on the {wall} wall"),
        };
        format!(
            "Cut-out for {} in box {} from the left{on}, {}: {} from its left edge, {} up from its bottom edge, {} wide, {} high.",
            self.what,
            self.box_number,
            self.in_box,
            tape.print(self.from_left_edge),
            tape.print(self.from_bottom_edge),
            tape.print(self.width),
            tape.print(self.height)
        )
    }
}

/// Thickness taken for a box side when judging whether a hole meets it: 3/4 in.
const SIDE: Length = Length::in_64(48);

/// Its lower left corner along the wall and up from the level line, its width and its height.
type Spot = (Length, Length, Length, Length);

/// Where a thing is, along a wall as the boxes of a row on that wall are.
fn place(opening: &Opening, survey: &Survey, k: &KeepClear) -> Option<Spot> {
    let (shape, up) = (&survey.shape, k.up?);
    let Some(side) = side::side_of(k.wall) else {
        return place_at_back(shape, k, up);
    };
    let depth = survey.largest_box.depth?;
    let along = along_side(opening, survey, side, k.from_left?)?;
    let z = if side == Side::Left {
        depth - along
    } else {
        along
    };
    let x = shape.front.corner(side, true)?.0;
    let y = up - side::between(survey, |p| &p.floor, x, z)?;
    Some((along, y, k.width?, k.height?))
}

/// A place on a side wall as the boxes of its row are counted.
pub(super) fn along_side(
    opening: &Opening,
    survey: &Survey,
    side: Side,
    from: Length,
) -> Option<Length> {
    let depth = survey.largest_box.depth?;
    Some(match side {
        Side::Left => from,
        // Rows are counted from where the back wall stands nearest, the thing from the corner itself.
        Side::Right => {
            let corner = side::depths(opening, side).map(|d| d.1).min();
            from - (corner.unwrap_or(depth) - depth)
        }
    })
}

fn place_at_back(shape: &Shape, k: &KeepClear, up: Length) -> Option<Spot> {
    let behind = shape.behind();
    // From the left wall at that height, where it meets the back wall.
    let gap = behind.left.plumb_at(up).unwrap_or_default();
    let x = k.from_left? - gap;
    let y = up - behind.floor.at(x)?;
    Some((x, y, k.width?, k.height?))
}

/// What falls behind a box of a row on that wall.
pub fn cut_outs(opening: &Opening, survey: &Survey, wall: WallSide, row: &Row) -> Vec<CutOut> {
    let bottom = -row.base_below_line;
    let mut list = Vec::new();
    for k in opening.keep_clear.iter().filter(|k| k.wall == wall) {
        let Some((x, y, width, height)) = place(opening, survey, k) else {
            continue;
        };
        for (i, b) in row.boxes.iter().enumerate() {
            let (left, right) = (x.max(b.x), (x + width).min(b.x + b.width));
            let (low, high) = (y.max(bottom), (y + height).min(bottom + b.height));
            if left < right && low < high {
                list.push(CutOut {
                    what: k.what.clone(),
                    wall: wall.word().into(),
                    in_box: b.name.clone(),
                    box_number: i + 1,
                    from_left_edge: left - b.x,
                    from_bottom_edge: low - bottom,
                    width: right - left,
                    height: high - low,
                    at_a_side: left - b.x < SIDE || b.x + b.width - right < SIDE,
                });
            }
        }
    }
    list
}

/// Room for a hand at an outlet, a valve or a hatch; common practice, no source.
const HAND: Length = Length::inches(4);

/// Things on one wall that the end of a box on another wall covers, reaches into, or stands too near to get a hand at.
pub(crate) fn at_ends(opening: &Opening, survey: &Survey, run: &Run, row: &Row) -> Vec<End> {
    let Some(boxes) = places::places(survey, run, row) else {
        return Vec::new();
    };
    let bottom = -row.base_below_line;
    let mut list = Vec::new();
    for k in opening.keep_clear.iter().filter(|k| k.wall != run.wall) {
        let spot = place(opening, survey, k).and_then(|s| Some((s, over(survey, row, k, s)?)));
        let Some(((_, y, _, height), ground)) = spot else {
            continue;
        };
        for b in &boxes {
            let (low, high) = (y.max(bottom), (y + height).min(bottom + b.standing.height));
            if ground.meets(&b.foot) && low < high {
                list.push(End {
                    what: k.what.clone(),
                    wall: k.wall,
                    from_wall: from_wall(b, &ground),
                    from_bottom_edge: low - bottom,
                    size: [wide(b, &ground), high - low],
                    at: b.clone(),
                });
            }
        }
    }
    list
}

/// One such thing, measured on the end of the box.
pub(crate) struct End {
    what: String,
    wall: WallSide,
    at: Placed,
    from_wall: Length,
    from_bottom_edge: Length,
    size: [Length; 2],
}

impl End {
    pub(crate) fn in_words(&self, tape: Tape) -> String {
        format!(
            "{} on the {} wall is covered by the end of box {} from the left on the {} wall, {}: cut that end out {} from its back edge, {} up from its bottom edge, {} wide, {} high, or move the box.",
            self.what,
            self.wall.word(),
            self.at.number,
            self.at.wall.word(),
            self.at.standing.name,
            tape.print(self.from_wall),
            tape.print(self.from_bottom_edge),
            tape.print(self.size[0]),
            tape.print(self.size[1])
        )
    }
}

/// The floor in front of a thing, as far out as it reaches or a hand needs.
fn over(survey: &Survey, row: &Row, k: &KeepClear, (along, _, width, _): Spot) -> Option<Foot> {
    let floor = places::between_walls(survey, row.top())?;
    let there = Standing {
        name: String::new(),
        x: along,
        width,
        height: Length::ZERO,
        depth: k.reach.max(HAND),
    };
    Some(places::foot(&floor, k.wall, &there))
}

/// Along the box's depth, from its own back edge to the thing.
fn from_wall(b: &Placed, thing: &Foot) -> Length {
    let far = match b.wall {
        WallSide::Back => thing.z[0] - b.foot.z[0],
        WallSide::Left => thing.x[0] - b.foot.x[0],
        WallSide::Right => b.foot.x[1] - thing.x[1],
    };
    far.at_least_zero()
}

/// How much of the thing lies on the box's depth.
fn wide(b: &Placed, thing: &Foot) -> Length {
    let (a, c) = match b.wall {
        WallSide::Back => (thing.z, b.foot.z),
        _ => (thing.x, b.foot.x),
    };
    (a[1].min(c[1]) - a[0].max(c[0])).at_least_zero()
}

fn is_lamp(what: &str) -> bool {
    let what = what.to_lowercase();
    ["light", "lamp"].iter().any(|w| what.contains(w))
}

/// Short cautions about what stands out into the boxes, the base and the fixing.
pub(crate) fn cautions(
    opening: &Opening,
    wall: WallSide,
    (cut_outs, fixing): (&[CutOut], &[Fixing]),
    tape: Tape,
) -> Vec<String> {
    let mut list: Vec<String> = cut_outs
        .iter()
        .map(|c| {
            if c.at_a_side {
                format!("{} meets a side of box {}: move the boxes or change their widths.", c.what, c.in_box)
            } else {
                format!(
                    "{} falls behind box {}: cut the back out for it and keep it reachable. Switch the circuit off first; local codes and an electrician have the last word on wiring.",
                    c.what, c.in_box
                )
            }
        })
        .collect();
    for k in opening.keep_clear.iter().filter(|k| is_lamp(&k.what)) {
        // NEC 410.16(C), S67, as reprinted; named as a caution, not as an approval.
        list.push(format!(
            "{}: keep shelves and clothes 12 in away from a closed surface lamp, 6 in from a recessed or tube lamp. Local codes and an electrician have the last word.",
            k.what
        ));
    }
    list.extend(leaning(opening, wall, tape));
    if opening.studs.is_empty() {
        list.push("No studs are marked: find them before setting. Every box is screwed to studs before it is loaded.".into());
    } else {
        list.extend(fixing.iter().filter_map(|f| f.caution(tape)));
    }
    list
}
