//! What the saw is set to. Corner angles in degrees; the saw's scale reads 0 for a square cut.

use crate::units::Length;

/// Crown lying flat on the table: the saw's mitre and its tilt, in degrees.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Crown {
    /// Mitre.
    pub(super) mitre: f64,
    /// Tilt.
    pub(super) bevel: f64,
}

/// For a corner, and a spring angle between the back of the moulding and the wall (38 for 52/38 crown).
pub(super) fn crown_flat(corner: f64, spring: f64) -> Crown {
    let (half, s) = ((corner / 2.0).to_radians(), spring.to_radians());
    Crown {
        mitre: (s.sin() / half.tan()).atan().to_degrees(),
        bevel: (s.cos() * half.cos()).asin().to_degrees(),
    }
}

/// How far crown stands out along the ceiling and down the wall, from the width of its face.
pub(super) fn crown_stands(face: Length, spring: f64) -> [Length; 2] {
    let s = spring.to_radians();
    [part(face, s.sin()), part(face, s.cos())]
}

/// To the nearest quarter of a degree, as a mitre saw's scale is marked.
pub(super) fn quarter(degrees: f64) -> f64 {
    (degrees * 4.0).round() / 4.0
}

/// How much longer one edge of a flat piece is than the other where it meets a corner on the half angle.
pub(super) fn mitre_adds(across: Length, corner: f64) -> Length {
    part(across, 1.0 / (corner / 2.0).to_radians().tan())
}

/// How far the two halves of a scarf lie over each other.
pub(super) fn scarf_overlap(thick: Length, degrees: f64) -> Length {
    part(thick, degrees.to_radians().tan())
}

fn part(of: Length, ratio: f64) -> Length {
    Length::from_units((of.units() as f64 * ratio).round() as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Table of corner and flat-cut settings: crown angle tables S55 (38) and S56 (spring 52 by its own count), 0.005.
    #[test]
    fn printed_crown_tables() {
        for (corner, spring, mitre, bevel) in [
            (90.0, 38.0, 31.6190, 33.8629),
            (135.0, 38.0, 14.3064, 17.5512),
            (45.0, 38.0, 56.0670, 46.7210),
            (2.0, 52.0, 88.73106, 37.99318),
        ] {
            let c = crown_flat(corner, spring);
            assert!((c.mitre - mitre).abs() < 0.005, "{corner} {c:?}");
            assert!((c.bevel - bevel).abs() < 0.005, "{corner} {c:?}");
        }
    }

    /// Saw operators' manuals S53, S54: 31.62/33.85, 31.6/33.9 at 52/38, 35.3/30 at 45/45, within 0.05.
    #[test]
    fn saw_manuals() {
        for (spring, mitre, bevel) in [(38.0, 31.62, 33.85), (38.0, 31.6, 33.9), (45.0, 35.3, 30.0)]
        {
            let c = crown_flat(90.0, spring);
            assert!((c.mitre - mitre).abs() <= 0.05 && (c.bevel - bevel).abs() <= 0.05);
        }
    }

    /// By hand: a face of 3 5/8 at 38 stands 3.625 x sin 38 = 2.232 out and 3.625 x cos 38 = 2.857 down.
    #[test]
    fn crown_in_its_corner() {
        let [out, down] = crown_stands(Length::in_64(232), 38.0).map(Length::as_inches);
        assert!((out - 2.232).abs() < 0.0005 && (down - 2.857).abs() < 0.0005);
    }

    /// The mistake the words guard against: 52 entered where 38 is meant gives 38.24 and 25.81 at a square corner.
    #[test]
    fn the_wrong_spring_shows() {
        let c = crown_flat(90.0, 52.0);
        assert!((c.mitre - 38.24).abs() < 0.005 && (c.bevel - 25.81).abs() < 0.005);
    }

    /// 5/8 thick: 0.625 at 90, 0.259 at 135; scarf 0.625 at 45, 0.361 at 30. By hand from the tangents.
    #[test]
    fn mitres_and_scarfs_by_hand() {
        let t = Length::in_64(40);
        for (corner, adds) in [(90.0, 0.625), (135.0, 0.259)] {
            assert!((mitre_adds(t, corner).as_inches() - adds).abs() < 0.0005);
        }
        for (degrees, over) in [(45.0, 0.625), (30.0, 0.361)] {
            assert!((scarf_overlap(t, degrees).as_inches() - over).abs() < 0.0005);
        }
        assert_eq!(
            [quarter(44.643), quarter(45.592), quarter(44.625)],
            [44.75, 45.5, 44.75]
        );
    }
}
