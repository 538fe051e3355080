//! Out of square by the tape: corners from sides and diagonals, the second diagonal from the first, shims from gauges and wedges.
//!
//! Owns small geometry for pages and checks. Floating point in inches and degrees; nothing here is turned back into a part size.
//! Textbook trigonometry (law of cosines; a parallelogram's diagonals).

use crate::units::Length;

/// The corner, in degrees, between sides `a` and `b` of a triangle whose third side (the diagonal) is `d`; `None` where no such
/// triangle exists.
pub fn corner_by_triangle(a: f64, b: f64, d: f64) -> Option<f64> {
    let cos = (a * a + b * b - d * d) / (2.0 * a * b);
    (a > 0.0 && b > 0.0 && cos.abs() <= 1.0).then(|| cos.acos().to_degrees())
}

/// A frame whose opposite sides are equal: its corner in degrees (the one the shorter diagonal faces is below 90) and how far it
/// leans over the height `b`.
pub fn lean_by_diagonals(a: f64, b: f64, d1: f64, d2: f64) -> Option<(f64, f64)> {
    let cos = (d2 * d2 - d1 * d1) / (4.0 * a * b);
    (a > 0.0 && b > 0.0 && cos.abs() <= 1.0).then(|| (cos.acos().to_degrees(), b * cos.abs()))
}

/// Four sides and the diagonal from low left to high right fix an opening's shape: its low corners in degrees, and what the other
/// diagonal must read. A reading that is off by more than the tape can explain is a slip.
pub fn second_diagonal(
    bottom: f64,
    right: f64,
    top: f64,
    left: f64,
    up_right: f64,
) -> Option<(f64, f64, f64)> {
    let below = corner_by_triangle(bottom, up_right, right)?;
    let above = corner_by_triangle(left, up_right, top)?;
    let low_left = below + above;
    let low_right = corner_by_triangle(bottom, right, up_right)?;
    let angle = low_left.to_radians();
    let other = (left * angle.cos() - bottom).hypot(left * angle.sin());
    Some((low_left, low_right, other))
}

/// Thickness of two equal wedges pushed together from opposite sides until they overlap by `overlap`.
pub fn opposed_wedges(butt: Length, long: Length, overlap: Length) -> Option<Length> {
    if !long.is_positive() || overlap < Length::ZERO || overlap > long {
        return None;
    }
    // Each is as thick as its share of the length; together they are even along the overlap.
    Some(super::trace::scale(butt, overlap, long))
}

/// Flat shims that make up a gap, largest first, from gauges of these thicknesses; what is left is thinner than the thinnest.
/// Gauges of 1/16, 1/8 and 1/4 in: S48.
pub fn shim_stack(gap: Length, gauges: &[Length]) -> (Vec<Length>, Length) {
    let mut sizes: Vec<Length> = gauges.iter().copied().filter(|g| g.is_positive()).collect();
    sizes.sort_unstable_by(|a, b| b.cmp(a));
    let (mut stack, mut left) = (Vec::new(), gap);
    for size in sizes {
        while left >= size && stack.len() < 64 {
            stack.push(size);
            left -= size;
        }
    }
    (stack, left)
}

#[cfg(test)]
mod tests {
    use super::super::samples::inch;
    use super::*;

    fn near(a: f64, b: f64, by: f64) {
        assert!((a - b).abs() <= by, "{a} is not {b}");
    }

    /// Trade note 4a-4c, derived there by hand; 96 x 120 / 27648 is exact.
    #[test]
    fn corners_by_hand() {
        let (corner, lean) = lean_by_diagonals(72.0, 96.0, 120.25, 119.75).unwrap();
        near(corner, 90.2487, 0.0001);
        near(lean, 96.0 * 120.0 / 27_648.0, 1e-9);
        near(
            corner_by_triangle(72.0, 96.0, 120.25).unwrap(),
            90.2489,
            0.0001,
        );
        near(
            corner_by_triangle(36.0, 48.0, 60.25).unwrap(),
            90.498,
            0.001,
        );
        near(
            corner_by_triangle(36.0, 48.0, 59.75).unwrap(),
            89.504,
            0.001,
        );
        assert_eq!(corner_by_triangle(36.0, 48.0, 90.0), None);
    }

    /// Trade note 4d: coordinates A(0,0) B(72,0) C(72.1667, 95.9999) D(0.4168, 96.1241).
    #[test]
    fn the_second_diagonal_finds_the_slip() {
        let (a, b, d) = second_diagonal(72.0, 96.0, 71.75, 96.125, 120.10).unwrap();
        near(a, 89.7515, 0.0001);
        near(b, 90.0995, 0.0001);
        near(d, 119.850, 0.0005);
        near((72.0_f64 - 0.4168).hypot(96.1241), d, 0.001);
    }

    /// Trade note 5b and 5c, derived there by hand.
    #[test]
    fn shims_by_hand() {
        let gauges = ["1/16", "1/8", "1/4"].map(inch);
        let (stack, left) = shim_stack(inch("5/16"), &gauges);
        assert_eq!(
            (stack, left),
            (vec![inch("1/4"), inch("1/16")], Length::ZERO)
        );
        assert_eq!(
            opposed_wedges(inch("1/4"), inch("8"), inch("6")),
            Some(inch("3/16"))
        );
    }
}
