//! Runs on more than one wall: which goes through into the corner, the dead corner, and the clear way between facing runs.
//!
//! Owns the lengths left on each wall. By default the deeper run goes through; at one depth the back run does.
//! Least clear way to stand in: 36 in, S60.

use crate::model::{Run, WallSide};
use crate::units::Length;
use serde::Serialize;

/// Least clear way in front of a run.
pub(crate) const CLEAR_WAY: Length = Length::inches(36);

/// One corner between the back run and a side run.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct CornerUse {
    /// left or right.
    pub corner: String,
    /// True if the back run goes through.
    pub back_goes_through: bool,
    /// Width and depth of the dead corner: reached only from the run that goes through.
    pub dead: [Length; 2],
}

/// What two or three walls of runs leave.
#[derive(Clone, PartialEq, Eq, Debug, Default, Serialize)]
pub struct Walls {
    /// Length left for the back run.
    pub back_length: Length,
    /// Length left for the left run, from the front.
    pub left_length: Length,
    /// Length left for the right run, from the front.
    pub right_length: Length,
    /// Corners in use.
    pub corners: Vec<CornerUse>,
    /// Clear way between left and right runs, or from a side run to the wall opposite.
    pub clear_way: Option<Length>,
    /// Clear depth from the back run to the front.
    pub clear_depth: Length,
}

/// Lengths and corners for runs of these depths in an opening of this width and depth.
pub fn walls(runs: &[(&Run, Length)], width: Length, depth: Length) -> Walls {
    let of = |wall: WallSide| {
        runs.iter()
            .filter(|(r, _)| r.wall == wall)
            .max_by_key(|(_, d)| *d)
            .copied()
    };
    let back = of(WallSide::Back);
    let back_depth = back.map_or(Length::ZERO, |b| b.1);
    let mut out = Walls {
        back_length: width,
        left_length: depth,
        right_length: depth,
        corners: Vec::new(),
        clear_way: None,
        clear_depth: depth - back_depth,
    };
    let mut side_depths = Length::ZERO;
    for (wall, name) in [(WallSide::Left, "left"), (WallSide::Right, "right")] {
        let Some((side, side_depth)) = of(wall) else {
            continue;
        };
        side_depths += side_depth;
        let length = if wall == WallSide::Left {
            &mut out.left_length
        } else {
            &mut out.right_length
        };
        let Some((back_run, _)) = back else { continue };
        let back_goes_through = match (back_run.through, side.through) {
            (Some(b), _) => b,
            (None, Some(s)) => !s,
            (None, None) => back_depth >= side_depth,
        };
        if back_goes_through {
            *length -= back_depth;
        } else {
            out.back_length -= side_depth;
        }
        out.corners.push(CornerUse {
            corner: name.into(),
            back_goes_through,
            dead: [side_depth, back_depth],
        });
    }
    if side_depths.is_positive() {
        out.clear_way = Some(width - side_depths);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::opening::samples::{inch, run};

    #[test]
    fn a_u_of_runs_by_hand() {
        let mut left = run("u");
        left.wall = WallSide::Left;
        let mut right = run("u");
        right.wall = WallSide::Right;
        let back = run("u");
        let w = walls(
            &[
                (&back, inch("23 1/4")),
                (&left, inch("16")),
                (&right, inch("24")),
            ],
            inch("96"),
            inch("72"),
        );
        // The back goes through on the left (23 1/4 over 16), the right run through on the right (24 over 23 1/4).
        assert_eq!(w.left_length, inch("48 3/4"));
        assert_eq!(w.right_length, inch("72"));
        assert_eq!(w.back_length, inch("72"));
        assert_eq!(w.clear_way, Some(inch("56")));
        assert_eq!(w.corners[0].dead, [inch("16"), inch("23 1/4")]);
    }
}
