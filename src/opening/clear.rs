//! Things to keep clear (outlets, vents, hatches, pipes) and studs, against the boxes as they will stand.
//!
//! Owns the overlap test and the cut-out, measured from the box's own edges so that it does not depend on the wall. Where wiring
//! is behind a box, local codes and a licensed person have the last word.

use super::shape::Shape;
use super::sit::{Row, Standing};
use crate::model::{KeepClear, Opening, WallSide};
use crate::units::{Length, Tape};
use serde::Serialize;

/// A thing behind a box, and the hole it needs.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct CutOut {
    /// The thing.
    pub what: String,
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
        format!(
            "Cut-out for {} in box {} from the left, {}: {} from its left edge, {} up from its bottom edge, {} wide, {} high.",
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

/// `x` and `y` of the thing's lower left corner and its size.
fn place(shape: &Shape, k: &KeepClear) -> Option<(Length, Length, Length, Length)> {
    let front = &shape.front;
    let up = k.up?;
    // From the left wall at that height.
    let gap = front.left.at(up).unwrap_or_default();
    let x = k.from_left? - gap;
    let y = up - front.floor.at(x)?;
    Some((x, y, k.width?, k.height?))
}

/// What falls behind a box of the row.
pub fn cut_outs(opening: &Opening, shape: &Shape, row: &Row) -> Vec<CutOut> {
    let bottom = -row.base_below_line;
    let mut list = Vec::new();
    for k in opening
        .keep_clear
        .iter()
        .filter(|k| k.wall == WallSide::Back)
    {
        let Some((x, y, width, height)) = place(shape, k) else {
            continue;
        };
        for (i, b) in row.boxes.iter().enumerate() {
            let (left, right) = (x.max(b.x), (x + width).min(b.x + b.width));
            let (low, high) = (y.max(bottom), (y + height).min(bottom + b.height));
            if left < right && low < high {
                list.push(CutOut {
                    what: k.what.clone(),
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

/// Studs behind each box, from the box's own left edge.
pub fn studs_behind(opening: &Opening, shape: &Shape, b: &Standing) -> Vec<Length> {
    let mut list: Vec<Length> = opening
        .studs
        .iter()
        .filter(|s| s.wall == WallSide::Back)
        .flat_map(|s| &s.from_left)
        .map(|from| shape.x_from_left(*from) - b.x)
        .filter(|at| at.is_positive() && *at < b.width)
        .collect();
    list.sort_unstable();
    list
}

fn is_lamp(what: &str) -> bool {
    let what = what.to_lowercase();
    ["light", "lamp"].iter().any(|w| what.contains(w))
}

/// Short cautions about what stands out into the boxes, the base and the fixing.
pub(crate) fn cautions(
    opening: &Opening,
    shape: &Shape,
    row: &Row,
    cut_outs: &[CutOut],
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
    if opening.studs.is_empty() {
        list.push("No studs are marked: find them before setting. Every box is screwed to studs before it is loaded.".into());
    } else {
        for b in &row.boxes {
            if studs_behind(opening, shape, b).is_empty() {
                list.push(format!(
                    "No stud behind {}: screw it to its neighbours and to blocking fixed across the studs.",
                    b.name
                ));
            }
        }
    }
    list
}
