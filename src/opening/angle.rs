//! Angles of the corners between walls, floor and ceiling. Owns how an upright and the piece across it lie there.

use super::shape::{Plane, Side};
use crate::units::Length;

/// The inside angle of a corner, in degrees to a thousandth; `piece` is how far along floor or ceiling the piece reaches,
/// the whole width where not given.
pub fn corner_angle(front: &Plane, side: Side, low: bool, piece: Option<Length>) -> Option<f64> {
    corner_by(front, (side, low), piece, [true, true])
}

/// The same where the upright follows the wall (`follows[0]`) or stands plumb, and the piece across follows floor or ceiling
/// (`follows[1]`) or lies level.
pub fn corner_by(
    front: &Plane,
    (side, low): (Side, bool),
    piece: Option<Length>,
    follows: [bool; 2],
) -> Option<f64> {
    let lean = if follows[0] {
        lean(front, side, low)?
    } else {
        0.0
    };
    let closing = if follows[1] {
        closing(front, side, low, piece)?
    } else {
        0.0
    };
    let degrees = 90.0 + lean.to_degrees() - closing.to_degrees();
    Some((degrees * 1000.0).round() / 1000.0)
}

/// Outward lean of the wall going away from the corner, in radians: through its last two readings.
fn lean(front: &Plane, side: Side, low: bool) -> Option<f64> {
    let wall = if side == Side::Left {
        &front.left
    } else {
        &front.right
    };
    let (change, run) = wall.end_piece(low)?;
    let lean = if low { change } else { -change }.as_inches() / run.as_inches();
    Some(lean.atan())
}

/// How far floor or ceiling closes the corner, in radians: by its chord over the piece.
fn closing(front: &Plane, side: Side, low: bool, piece: Option<Length>) -> Option<f64> {
    let (here, there) = (front.corner(side, low)?, front.corner(other(side), low)?);
    let there = match piece {
        None => there,
        Some(length) => {
            let x = if side == Side::Left {
                here.0 + length
            } else {
                here.0 - length
            };
            let trace = if low { &front.floor } else { &front.ceiling };
            let out = trace.at(x)?;
            (x, if low { -out } else { out })
        }
    };
    let run = (there.0 - here.0).abs().as_inches();
    let rise = (there.1 - here.1).as_inches();
    // Along the floor a rise closes the corner; along the ceiling a fall does.
    (run > 0.0).then(|| if low { rise } else { -rise }.atan2(run))
}

fn other(side: Side) -> Side {
    match side {
        Side::Left => Side::Right,
        Side::Right => Side::Left,
    }
}
