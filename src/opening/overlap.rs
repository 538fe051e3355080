//! Overlaps: every reading that can also be reckoned from others becomes an equation, with the most that rounding can part them.
//!
//! Owns the equations and their tolerances: tape widths against gaps and the distance between the plumb lines, diagonals against
//! the corners, heights by tape against down plus up, depths against the straightedge. It does not say which reading is wrong.
//! Method: each tolerance is half a tape mark for every reading in the equation, weighted by how far it pulls the answer (measured
//! by moving that reading a little), and a little more where the answer has to be carried beyond the last reading.

use super::depth;
use super::reading::{self, ReadingAt as At};
use super::shape::{Shape, Side};
use super::trace::{Trace, hypotenuse, scale};
use crate::model::Opening;
use crate::units::Length;

/// One overlap: a tape reading, and the readings it can be reckoned from.
#[derive(Clone, PartialEq, Debug)]
pub struct Overlap {
    /// The reading that is checked.
    pub read_at: At,
    /// What was read.
    pub read: Length,
    /// What the other readings make of it.
    pub expected: Length,
    /// The most that honest rounding can part the two.
    pub tolerance: Length,
    /// How far one inch more in a reading moves read less expected, in inches.
    pub pull: Vec<(At, f64)>,
}

impl Overlap {
    /// Read less expected.
    pub fn off_by(&self) -> Length {
        self.read - self.expected
    }
    /// True where the two agree as nearly as the tape can tell.
    pub fn agrees(&self) -> bool {
        self.off_by().abs() <= self.tolerance
    }
    /// True where a slip of one inch in that reading would show in this overlap.
    pub fn would_show(&self, at: At) -> bool {
        let tolerance = self.tolerance.as_inches();
        self.pull
            .iter()
            .any(|(a, p)| *a == at && p.abs() > tolerance)
    }
    /// How far that reading pulls.
    pub fn pull_of(&self, at: At) -> f64 {
        self.pull
            .iter()
            .find(|(a, _)| *a == at)
            .map_or(0.0, |(_, p)| *p)
    }
}

/// What the other readings make of a tape reading; `None` where they cannot.
pub(crate) fn expected(o: &Opening, shape: &Shape, at: At) -> Option<Length> {
    match at {
        At::Width(i) => shape.front.width_at(*o.tape.width_at.get(i)?),
        At::DiagonalUpRight => diagonal(shape, Side::Left),
        At::DiagonalUpLeft => diagonal(shape, Side::Right),
        At::Height(i) => height(o, shape, i),
        At::Depth(i) => depth::by_straightedge(o, shape, i),
        _ => None,
    }
}

/// From the low corner on one side to the high corner on the other.
fn diagonal(shape: &Shape, low: Side) -> Option<Length> {
    let high = if low == Side::Left {
        Side::Right
    } else {
        Side::Left
    };
    let ((x0, y0), (x1, y1)) = (
        shape.front.corner(low, true)?,
        shape.front.corner(high, false)?,
    );
    Some(hypotenuse(x1 - x0, y1 - y0))
}

/// Floor to ceiling at the place a tape height names.
fn height(o: &Opening, shape: &Shape, i: usize) -> Option<Length> {
    let name = &o.tape.height.get(i)?.0;
    let named = |list: &[crate::model::Station]| {
        let s = list
            .iter()
            .find(|s| !s.name.is_empty() && name.ends_with(&s.name))?;
        s.front
    };
    if let (Some(d), Some(u)) = (
        named(&o.level_line.down_to_floor),
        named(&o.level_line.up_to_ceiling),
    ) {
        return Some(d + u);
    }
    let (left, right) = (
        shape.front.wall_x(Side::Left, Length::ZERO)?,
        shape.front.wall_x(Side::Right, Length::ZERO)?,
    );
    let x = match name.as_str() {
        n if n.ends_with("left") => left,
        n if n.ends_with("right") => right,
        n if n.ends_with("middle") => (left + right) / 2,
        _ => return None,
    };
    Some(shape.front.floor.at(x)? + shape.front.ceiling.at(x)?)
}

/// Every overlap of the opening, in the order of the tape readings.
pub fn overlaps(o: &Opening, mark: Length) -> Vec<Overlap> {
    let shape = Shape::of(o);
    let places = reading::all(o);
    let mut found: Vec<Overlap> = places
        .iter()
        .filter(|at| is_tape(**at))
        .filter_map(|at| {
            Some(Overlap {
                read_at: *at,
                read: reading::get(o, *at)?,
                expected: expected(o, &shape, *at)?,
                tolerance: slack(o, &shape, *at, mark),
                pull: Vec::new(),
            })
        })
        .collect();
    measure_pulls(o, &places, &mut found);
    for overlap in &mut found {
        let sum: f64 = overlap.pull.iter().map(|(_, p)| p.abs()).sum();
        // Half a mark for each reading, by its pull; the sum is at most a few dozen, so the cast is safe.
        let rounding = (mark.units() as f64 * sum / 2.0).ceil() as i64;
        overlap.tolerance += Length::from_units(rounding);
    }
    found
}

fn is_tape(at: At) -> bool {
    matches!(
        at,
        At::Width(_) | At::DiagonalUpRight | At::DiagonalUpLeft | At::Depth(_) | At::Height(_)
    )
}

/// Moves every reading a quarter inch in turn and sees which overlaps move.
fn measure_pulls(o: &Opening, places: &[At], found: &mut [Overlap]) {
    let step = Length::INCH / 4;
    let mut moved = o.clone();
    for &at in places {
        let Some(was) = reading::get(o, at) else {
            continue;
        };
        reading::put(&mut moved, at, was + step);
        let shape = Shape::of(&moved);
        for overlap in found.iter_mut() {
            let read = if overlap.read_at == at {
                overlap.read + step
            } else {
                overlap.read
            };
            let Some(now) = expected(&moved, &shape, overlap.read_at) else {
                continue;
            };
            let change = (read - now) - overlap.off_by();
            let pull = change.units() as f64 / step.units() as f64;
            if pull.abs() > 0.002 {
                overlap.pull.push((at, pull));
            }
        }
        reading::put(&mut moved, at, was);
    }
}

/// What may part the two beside rounding: a reading carried beyond the last station, or put between two of them.
fn slack(o: &Opening, shape: &Shape, at: At, mark: Length) -> Length {
    let front = &shape.front;
    let floor_out = match (front.floor.most(), front.floor.least()) {
        (Some(a), Some(b)) => a - b,
        _ => Length::ZERO,
    };
    // Beyond the last reading a wall may go on at its own slope or straight up: that much is unknown.
    let beyond = |t: &Trace, h: Length| {
        let per_inch = t.steepest() + Length::INCH / 100;
        scale(t.beyond(h), per_inch, Length::INCH)
    };
    // Heights are read from two floors; a tape held level between them is out by the slope of the wall.
    let tilt = scale(
        front.left.steepest().max(front.right.steepest()),
        floor_out,
        Length::INCH,
    );
    match at {
        At::Width(i) => {
            let h = o.tape.width_at.get(i).copied().unwrap_or_default();
            let on_station = |t: &Trace| t.points().iter().any(|p| p.0 == h);
            let between = if on_station(&front.left) && on_station(&front.right) {
                Length::ZERO
            } else {
                mark
            };
            tilt + between + beyond(&front.left, h) + beyond(&front.right, h)
        }
        At::DiagonalUpRight | At::DiagonalUpLeft => {
            let top = |zero: Length| front.ceiling.most().unwrap_or_default() - zero;
            [Length::ZERO, top(front.left_zero)]
                .map(|h| beyond(&front.left, h))
                .into_iter()
                .chain([Length::ZERO, top(front.right_zero)].map(|h| beyond(&front.right, h)))
                .sum::<Length>()
                / 2
                + mark / 4
        }
        At::Depth(_) => mark,
        _ => Length::ZERO,
    }
}
