//! The opening as a shape: two upright planes (front and back), each with two walls, a floor and a ceiling.
//!
//! Owns where every reading stands. `y` is up from the level line, `x` is right from the left plumb line; a reading's height is
//! up from the floor at that side's own plumb line. It judges nothing and repairs nothing; a reading not taken is left out.

use super::trace::Trace;
use crate::model::{Opening, Reading, Station};
use crate::units::Length;

/// The left or the right wall.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

/// The front or the back plane of the opening.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Face {
    /// At the front edge.
    Front,
    /// At the back wall.
    Back,
}

/// Stands in for a width that is not known yet, only to put stations in order.
const SOME_WIDTH: Length = Length::inches(72);

/// One upright plane of the opening.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Plane {
    /// Distance between the plumb lines.
    pub apart: Option<Length>,
    /// Gap of the left wall by height above the floor at the left plumb line.
    pub left: Trace,
    /// Gap of the right wall by height above the floor at the right plumb line.
    pub right: Trace,
    /// Down to the floor, by `x`.
    pub floor: Trace,
    /// Up to the ceiling, by `x`.
    pub ceiling: Trace,
    /// Where height nought of the left readings lies, as `y`.
    pub left_zero: Length,
    /// Where height nought of the right readings lies, as `y`.
    pub right_zero: Length,
}

impl Plane {
    /// The gaps of a side by `y`.
    pub fn wall(&self, side: Side) -> Trace {
        let (trace, zero) = match side {
            Side::Left => (&self.left, self.left_zero),
            Side::Right => (&self.right, self.right_zero),
        };
        Trace::new(trace.points().iter().map(|&(h, g)| (h + zero, g)).collect())
    }
    /// Where a wall stands at `y`, as `x`.
    pub fn wall_x(&self, side: Side, y: Length) -> Option<Length> {
        match side {
            Side::Left => self.left.plumb_at(y - self.left_zero).map(|g| -g),
            Side::Right => Some(self.apart? + self.right.plumb_at(y - self.right_zero)?),
        }
    }
    /// The corner where a wall meets the floor (`low`) or the ceiling, as (x, y).
    pub fn corner(&self, side: Side, low: bool) -> Option<(Length, Length)> {
        let end = |trace: &Trace| {
            let p = match side {
                Side::Left => trace.points().first(),
                Side::Right => trace.points().last(),
            };
            p.copied()
        };
        // The level line's end reading stands at the wall, or so near it that its own slope carries it there.
        let (trace, up) = if low {
            (&self.floor, -1)
        } else {
            (&self.ceiling, 1)
        };
        let (_, first) = end(trace)?;
        let x = self.wall_x(side, first * up)?;
        let y = trace.at(x)? * up;
        Some((self.wall_x(side, y)?, y))
    }
    /// Width from wall to wall at a height, by the plumb lines.
    pub fn width_at(&self, height: Length) -> Option<Length> {
        Some(self.apart? + self.left.plumb_at(height)? + self.right.plumb_at(height)?)
    }
}

/// The whole opening.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Shape {
    /// The front plane.
    pub front: Plane,
    /// The back plane, where anything was read there.
    pub back: Option<Plane>,
}

impl Shape {
    /// From her readings.
    pub fn of(opening: &Opening) -> Self {
        let plumb = &opening.plumb_lines;
        let pairs = |gaps: &[Reading]| {
            Trace::new(
                plumb
                    .height
                    .iter()
                    .zip(gaps)
                    .filter_map(|(h, g)| g.map(|g| (*h, g)))
                    .collect(),
            )
        };
        let front_walls = (pairs(&plumb.left_gap), pairs(&plumb.right_gap));
        let back_walls = (pairs(&plumb.left_gap_back), pairs(&plumb.right_gap_back));
        let apart = plumb.apart.or_else(|| apart_by_tape(opening, &front_walls));
        let level = &opening.level_line;
        let read_back = |stations: &[Station]| stations.iter().any(|s| s.back.is_some());
        let has_back = !back_walls.0.is_empty()
            || !back_walls.1.is_empty()
            || read_back(&level.down_to_floor)
            || read_back(&level.up_to_ceiling);
        let front = plane(opening, apart, front_walls.clone(), Face::Front);
        // A wall or station read in one plane only stands in for the other: nothing better is known.
        let or = |a: Trace, b: Trace| if a.is_empty() { b } else { a };
        let back = has_back.then(|| {
            let walls = (
                or(back_walls.0, front_walls.0),
                or(back_walls.1, front_walls.1),
            );
            plane(opening, apart, walls, Face::Back)
        });
        Self { front, back }
    }
    /// The planes there are, front first.
    pub fn planes(&self) -> impl Iterator<Item = &Plane> {
        std::iter::once(&self.front).chain(self.back.as_ref())
    }
    /// The plane at the back wall: the front one where nothing was read behind it.
    pub fn behind(&self) -> &Plane {
        self.back.as_ref().unwrap_or(&self.front)
    }
    /// Highest floor: the least distance down from the level line.
    pub fn least_down(&self) -> Option<Length> {
        self.planes().filter_map(|p| p.floor.least()).min()
    }
    /// Lowest ceiling: the least distance up from the level line.
    pub fn least_up(&self) -> Option<Length> {
        self.planes().filter_map(|p| p.ceiling.least()).min()
    }
    /// The least counted gap of a side for something standing from `bottom` to `top` (as `y`), over both planes.
    pub fn least_gap(&self, side: Side, bottom: Length, top: Length) -> Option<Length> {
        self.planes()
            .filter_map(|p| p.wall(side).least_over(bottom, top))
            .min()
    }
    /// The plumb lines' distance.
    pub fn apart(&self) -> Option<Length> {
        self.front.apart
    }
    /// `x` of a place given from the left wall at the floor.
    pub fn x_from_left(&self, from_left: Length) -> Length {
        let gap = self
            .front
            .left
            .plumb_at(Length::ZERO)
            .unwrap_or(Length::ZERO);
        from_left - gap
    }
}

/// Without a reading between the plumb lines, the tape widths less the gaps give one; the least is taken.
fn apart_by_tape(opening: &Opening, walls: &(Trace, Trace)) -> Option<Length> {
    opening
        .tape
        .width_at
        .iter()
        .zip(&opening.tape.width)
        .filter_map(|(h, w)| Some((*w)? - walls.0.plumb_at(*h)? - walls.1.plumb_at(*h)?))
        .min()
}

/// One plane: stations put at their places, heights hung from the floor at their own plumb line.
fn plane(opening: &Opening, apart: Option<Length>, walls: (Trace, Trace), face: Face) -> Plane {
    let level = &opening.level_line;
    let ends = |height: Length| {
        let left = -walls.0.plumb_at(height).unwrap_or(Length::ZERO);
        let right = apart.unwrap_or(SOME_WIDTH) + walls.1.plumb_at(height).unwrap_or(Length::ZERO);
        (left, right)
    };
    let read = |s: &Station| match face {
        Face::Front => s.front,
        Face::Back => s.back.or(s.front),
    };
    let line = |stations: &[Station], ends: (Length, Length)| {
        let n = stations.len();
        Trace::new(
            stations
                .iter()
                .enumerate()
                .filter_map(|(i, s)| read(s).map(|r| (station_x(s, i, n, ends), r)))
                .collect(),
        )
    };
    let floor = line(&level.down_to_floor, ends(Length::ZERO));
    let left_zero = -floor.at(Length::ZERO).unwrap_or(Length::ZERO);
    let right_zero = -floor
        .at(apart.unwrap_or(SOME_WIDTH))
        .unwrap_or(Length::ZERO);
    let top = level
        .up_to_ceiling
        .iter()
        .find_map(read)
        .map_or(Length::ZERO, |up| up - left_zero);
    let ceiling = line(&level.up_to_ceiling, ends(top));
    let (left, right) = walls;
    Plane {
        apart,
        left,
        right,
        floor,
        ceiling,
        left_zero,
        right_zero,
    }
}

/// `x` of a station: at its distance from the left wall, or by its name, or evenly by its number.
pub(crate) fn station_x(
    s: &Station,
    index: usize,
    count: usize,
    (left, right): (Length, Length),
) -> Length {
    if let Some(from_left) = s.from_left {
        return left + from_left;
    }
    match s.name.as_str() {
        "left" => left,
        "right" => right,
        "middle" => (left + right) / 2,
        _ if count > 1 => left + (right - left) * index as i64 / (count as i64 - 1),
        _ => (left + right) / 2,
    }
}
