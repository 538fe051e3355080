//! What comes out of a tube, a tub and a bottle: lengths of bead, holes filled, area glued.

use std::f64::consts::PI;

/// A US gallon in cubic inches, exact by definition.
pub(super) const GALLON_CUBIC_INCHES: f64 = 231.0;
/// A US fluid ounce: the 128th part of a gallon.
const OUNCE: f64 = GALLON_CUBIC_INCHES / 128.0;

/// Cubic inches in a tube of so many fluid ounces: 10.1 oz are 18.227.
pub(super) fn tube_cubic_inches(ounces: f64) -> f64 {
    ounces * OUNCE
}

/// Section of a round bead, in square inches.
pub(super) fn round_bead(diameter: f64) -> f64 {
    PI * diameter * diameter / 4.0
}

/// Feet of bead of a section from so many cubic inches.
pub(super) fn bead_feet(cubic_inches: f64, section: f64) -> f64 {
    cubic_inches / section / 12.0
}

/// Filler in one hole 3/8 in across and 1/4 in deep, with what is wiped off again (times 1.75: common practice, no source).
pub(super) fn hole_filler() -> f64 {
    round_bead(3.0 / 8.0) * 0.25 * 1.75
}

/// Square feet that a gallon of glue covers; published 200 to 300 (an unsigned page), and 6 mil is 267 by arithmetic.
pub(super) const GLUE_SQ_FT: f64 = 200.0;
