//! Where nobody measured a wall: above its last reading and below its first it is taken to stand plumb (`Trace::plumb_at`), and
//! that is said in one way wherever it matters.

use super::shape::{Shape, Side};
use super::sit::Row;
use crate::model::Opening;
use crate::units::{Length, Tape};

/// A wall that would be further off than this at its own slope is worth a line: what a strip is marked to.
const MATTERS: Length = Length::in_64(2);

/// `walls`: such as `The left wall is`; `what`: such as `the boxes reach`.
fn words(walls: &str, edge: Length, what: &str, reach: Length, tape: Tape) -> String {
    let (to, place) = if reach > edge {
        ("up", "above the last")
    } else {
        ("down", "below the first")
    };
    format!(
        "{walls} read {to} to {} and {what} {}: {place} reading a wall is taken to stand plumb.",
        tape.print(edge),
        tape.print(reach)
    )
}

/// Boxes that reach higher than the highest reading of both side walls, or stand lower than the lowest.
pub(crate) fn boxes_beyond(opening: &Opening, row: &Row, tape: Tape) -> Vec<String> {
    let lines = &opening.plumb_lines;
    let read = |i: &usize| {
        [&lines.left_gap, &lines.right_gap]
            .iter()
            .all(|gaps| gaps.get(*i).is_some_and(Option::is_some))
    };
    let heights = || {
        (0..lines.height.len())
            .filter(read)
            .map(|i| lines.height[i])
    };
    let (Some(lowest), Some(highest)) = (heights().min(), heights().max()) else {
        return Vec::new();
    };
    let (foot, top) = (row.base_height, row.base_height + row.height());
    let ends = [
        (highest, top, top > highest, "near their tops"),
        (lowest, foot, foot < lowest, "near their feet"),
    ];
    let said = ends
        .into_iter()
        .filter(|e| e.2)
        .map(|(edge, reach, _, place)| {
            format!(
                "{} If it leans in, they may not go; take a reading {place}.",
                words("The side walls are", edge, "the boxes reach", reach, tape)
            )
        });
    said.collect()
}

/// A side wall where trim from `from` to `to` (up from the floor) runs beyond its readings, and its slope would matter there.
pub fn trim_beyond(shape: &Shape, side: Side, [from, to]: [Length; 2], tape: Tape) -> Vec<String> {
    let (wall, name) = match side {
        Side::Left => (&shape.front.left, "The left wall is"),
        Side::Right => (&shape.front.right, "The right wall is"),
    };
    let points = wall.points();
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return Vec::new();
    };
    [(first.0, from), (last.0, to)]
        .into_iter()
        .filter(|(_, reach)| wall.lean_at(*reach) > MATTERS)
        .map(|(edge, reach)| {
            format!(
                "{} Going on at its slope it would be {} off that: take a reading there before cutting.",
                words(name, edge, "the trim reaches", reach, tape),
                tape.for_scribing().print(wall.lean_at(reach))
            )
        })
        .collect()
}
