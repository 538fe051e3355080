//! Rows of holes for shelf pins: all from one datum, the bottom edge of the side, so that shelves line up from side to side and
//! from box to box.

use super::facts::Inside;
use crate::model::{BoxPlan, PinRules, Run};
use crate::units::{Length, Tape, Unit};
use serde::Serialize;

/// Kept free at each end of a side where she names no first hole: 64 mm. Common practice, no source.
const END: Length = Length::mm(64);

/// The rows of one box.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub struct PinHoles {
    /// From the bottom edge of the side to the first hole.
    pub first: Length,
    /// From hole to hole.
    pub pitch: Length,
    /// From the front edge to the front row, and from the back edge to the back row.
    pub inset: Length,
    /// Holes in one row.
    pub in_row: i64,
    /// Rows: two on each face that looks into a bay. Left and right faces are mirrored.
    pub rows: i64,
    /// All holes of the box.
    pub holes: i64,
    /// Pins: four for each loose shelf.
    pub pins: i64,
    /// Holes to be filled if only those with a pin are to stay.
    pub to_fill: i64,
}

/// A size of a row of holes in words: a pitch that is off by a hair is off by half an inch after forty holes, so one that is
/// on no 1/64 in is said in millimetres, to the tenth.
pub fn pin_size(tape: Tape, size: Length) -> String {
    if tape.unit == Unit::Inch && size % Length::INCH_64 == Length::ZERO {
        return format!("{} in", tape.print_exact(size));
    }
    let tenths = Tape {
        unit: Unit::Mm,
        mark: Length::MM / 10,
    };
    let metric = tenths.print_with_unit(size);
    if tape.unit == Unit::Mm {
        return metric;
    }
    let fine = Tape {
        unit: Unit::Inch,
        mark: Length::INCH_64,
    };
    format!("{metric} ({})", fine.print_with_unit(size))
}

/// Holes in a side so high: first hole, how many. Balanced (as much above the last as below the first) where she names no first.
fn row(rules: &PinRules, high: Length) -> (Length, i64) {
    let pitch = rules.pitch.units().max(1);
    let end = rules.first.unwrap_or(END);
    let holes = ((high - end * 2).units().div_euclid(pitch) + 1).max(0);
    let first = rules
        .first
        .unwrap_or_else(|| (high - rules.pitch * (holes - 1).max(0)) / 2);
    (first, holes)
}

/// The rows of a box; `None` where it has no loose shelves.
pub fn pin_holes(run: &Run, plan: &BoxPlan, inside: &Inside) -> Option<PinHoles> {
    let rules = &run.build.pins;
    let bays = inside.bays.len() as i64;
    let shelves = i64::from(plan.loose_shelves) * bays;
    if shelves == 0 {
        return None;
    }
    let (first, in_row) = row(rules, inside.outside.height);
    let rows = 4 * bays;
    let holes = in_row * rows;
    Some(PinHoles {
        first,
        pitch: rules.pitch,
        inset: rules.inset,
        in_row,
        rows,
        holes,
        pins: 4 * shelves,
        to_fill: (holes - 4 * shelves).max(0),
    })
}
