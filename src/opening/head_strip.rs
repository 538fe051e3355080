//! Where the closings of a row on the back wall begin and end, and the line of the ceiling over it. Owns the one length of head strip,
//! head moulding and base: to a wall where the row is closed to it, to the row's own end where it stands open.

use super::gaps::stands_open;
use super::shape::{Face, Shape, Side};
use super::sit::{Row, side_gaps};
use crate::units::Length;

/// A reading so near the end of a closed row was taken in its corner.
const IN_CORNER: Length = Length::in_64(32);

/// `x` of the left and the right end, along the floor (`low`) or under the ceiling; `None` where a wall it meets was not read.
pub fn reach(shape: &Shape, row: &Row, low: bool) -> Option<(Length, Length)> {
    let (left, right) = row.ends()?;
    let edge = |side: Side, own: Length| match open(shape, row, side) {
        true => Some(own),
        false => Some(shape.front.corner(side, low)?.0),
    };
    Some((edge(Side::Left, left)?, edge(Side::Right, right)?))
}

fn open(shape: &Shape, row: &Row, side: Side) -> bool {
    stands_open(&side_gaps(shape, row, side, Face::Front))
}

/// The ceiling over a row.
pub(super) struct HeadLine {
    /// The gap at each reading over it, from its left end.
    pub(super) read: Vec<(Length, Length)>,
    /// The gap at its two ends.
    pub(super) ends: Vec<(Length, Length)>,
}

impl HeadLine {
    /// `None` where the ceiling was not read.
    pub(super) fn over(shape: &Shape, row: &Row) -> Option<Self> {
        let points = shape.front.ceiling.points();
        let whole = (points.first()?.0, points.last()?.0);
        let (left, right) = reach(shape, row, false).unwrap_or(whole);
        let closed = [Side::Left, Side::Right].map(|side| !open(shape, row, side));
        let place = |x: Length| match x {
            x if closed[0] && (x - left).abs() <= IN_CORNER => left,
            x if closed[1] && (x - right).abs() <= IN_CORNER => right,
            x => x,
        };
        let over = points.iter().map(|(x, up)| (place(*x), *up));
        let over = over.filter(|(x, _)| left <= *x && *x <= right);
        let from_left = |(x, up): (Length, Length)| (x - left, up - row.top());
        let ends = [left, right].map(|x| Some((x, shape.front.ceiling.at(x)?)));
        Some(Self {
            read: over.map(from_left).collect(),
            ends: ends.into_iter().flatten().map(from_left).collect(),
        })
    }
}

/// The gap over the row, front, wherever it was read over it and at its own ends: none of it where the row does not reach.
pub fn gaps_over(shape: &Shape, row: &Row) -> Vec<Length> {
    let Some(line) = HeadLine::over(shape, row) else {
        return Vec::new();
    };
    line.read.iter().chain(&line.ends).map(|g| g.1).collect()
}
