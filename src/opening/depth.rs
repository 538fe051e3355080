//! Depth: tape depths, and the belly of the back wall behind a straightedge.
//!
//! Owns how the two go together: the straightedge is a straight line, tied down by the depths at the left and the right; the wall
//! lies behind it by the gaps. Depths without a height in their name serve every straightedge.

use super::shape::{Shape, Side};
use super::trace::{Trace, scale};
use crate::model::{BackWall, Opening};
use crate::units::Length;

/// Where along the back wall a depth was taken, from the left wall.
pub(super) fn place(name: &str, width: Length) -> Option<Length> {
    if name.ends_with("left") {
        Some(Length::ZERO)
    } else if name.ends_with("right") {
        Some(width)
    } else if name.ends_with("middle") {
        Some(width / 2)
    } else {
        None
    }
}

/// `low`, `high`, or nothing: the word for the height in a depth's name.
pub(super) fn level(name: &str) -> Option<bool> {
    if name.contains("low") {
        Some(true)
    } else if name.contains("high") {
        Some(false)
    } else {
        None
    }
}

fn width(shape: &Shape) -> Option<Length> {
    let x = |side| shape.front.wall_x(side, Length::ZERO);
    Some(x(Side::Right)? - x(Side::Left)?)
}

/// True where a depth with that name belongs to that straightedge.
fn belongs(o: &Opening, wall: &BackWall, name: &str) -> bool {
    let heights = || o.back_wall.iter().filter_map(|w| w.height);
    match level(name) {
        Some(low) if o.back_wall.len() > 1 => {
            let wanted = if low {
                heights().min()
            } else {
                heights().max()
            };
            wall.height == wanted
        }
        _ => true,
    }
}

fn gaps(wall: &BackWall) -> Trace {
    Trace::new(
        wall.from_left
            .iter()
            .zip(&wall.gap)
            .filter_map(|(x, g)| g.map(|g| (*x, g)))
            .collect(),
    )
}

/// The straightedge as a line of depths at the left and the right, from the depths there less the gaps.
fn straightedge(o: &Opening, wall: &BackWall, width: Length) -> Option<(Length, Length)> {
    let gap = gaps(wall);
    let at = |side: &str| {
        o.tape
            .depth
            .iter()
            .filter(|(n, d)| n.ends_with(side) && belongs(o, wall, n) && d.is_some())
            .find_map(|(n, d)| Some((*d)? - gap.at(place(n, width)?)?))
    };
    Some((at("left")?, at("right")?))
}

fn depth_at(wall: &BackWall, line: (Length, Length), x: Length, width: Length) -> Option<Length> {
    let straight = line.0 + scale(line.1 - line.0, x, width);
    Some(straight + gaps(wall).at(x)?)
}

/// What the straightedges make of a depth between left and right. Where they differ, anything from the least to the most of
/// them will do, and the nearest to the reading is given.
pub(crate) fn by_straightedge(o: &Opening, shape: &Shape, i: usize) -> Option<Length> {
    let (name, read) = o.tape.depth.get(i)?;
    let width = width(shape).filter(|w| w.is_positive())?;
    let x = place(name, width)?;
    if x == Length::ZERO || x == width {
        return None;
    }
    let reckoned: Vec<Length> = o
        .back_wall
        .iter()
        .filter(|w| belongs(o, w, name))
        .filter_map(|w| depth_at(w, straightedge(o, w, width)?, x, width))
        .collect();
    let (least, most) = (*reckoned.iter().min()?, *reckoned.iter().max()?);
    Some((*read)?.clamp(least, most))
}

/// The least depth: of the tape readings, and of the back wall's belly at each station of a straightedge.
pub(crate) fn least(o: &Opening, shape: &Shape) -> Option<Length> {
    let read = o.tape.depth.iter().filter_map(|d| d.1);
    let bellies = o.back_wall.iter().filter_map(|wall| {
        let width = width(shape).filter(|w| w.is_positive())?;
        let line = straightedge(o, wall, width)?;
        gaps(wall)
            .points()
            .iter()
            .filter(|(x, _)| *x >= Length::ZERO && *x <= width)
            .filter_map(|(x, _)| depth_at(wall, line, *x, width))
            .min()
    });
    read.chain(bellies).min()
}
