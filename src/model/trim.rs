//! Trim of a route: facts of the opening and the row, the pieces that close it, and the widths that cover its gaps.

use crate::model::run::{Meeting, SidesAt};
use crate::units::{Length, Tape};
use serde::Serialize;

/// What the pieces are reckoned from. Sizes as read; `left` comes first in pairs.
#[derive(Clone, PartialEq, Debug)]
pub struct TrimFacts {
    /// For sizes in words.
    pub tape: Tape,
    /// How much too long a piece between two walls is cut.
    pub spring: Length,
    /// How mouldings meet in an inside corner.
    pub meeting: Meeting,
    /// Degrees between the back of crown and the wall, where its row does not say.
    pub crown_spring: u32,
    /// True if a long piece may be made of two.
    pub joints_allowed: bool,
    /// Where the side strips stop.
    pub sides_at: SidesAt,
    /// Height of the boxes.
    pub box_height: Length,
    /// Height of the base at the highest floor.
    pub base_height: Length,
    /// How far the base stands back.
    pub base_setback: Length,
    /// Thickness of a box side.
    pub side_thick: Length,
    /// Joints between two boxes.
    pub seams: u32,
    /// Wall to wall at the floor.
    pub floor_width: Option<Length>,
    /// Wall to wall under the ceiling.
    pub head_width: Option<Length>,
    /// Floor to ceiling at each wall.
    pub heights: [Option<Length>; 2],
    /// Corner between each wall and the ceiling, in degrees.
    pub head_corners: [Option<f64>; 2],
    /// Gap beside the row at each reading.
    pub side_gaps: [Vec<Length>; 2],
    /// Gap above the row at each reading.
    pub head_gaps: Vec<Length>,
    /// From the box tops down to what doors leave free for a moulding before them, 0 = they come up to the tops; `None` = no
    /// doors.
    pub over_doors: Option<Length>,
    /// Over the side of each end box, from its outside face, what its fronts leave free for a strip that stands before it; less than
    /// nothing where a door wants room beyond. `None` = no fronts there.
    pub beside_fronts: [Option<Length>; 2],
    /// How far a strip over a seam may stand into a box beside fronts; `None` = none are beside a seam that takes one.
    pub seam_fronts: Option<Length>,
    /// Gap under the base at each reading.
    pub foot_gaps: Vec<Length>,
    /// Studs of the back wall, from its left end.
    pub studs: Vec<Length>,
    /// Width of the row.
    pub row_width: Length,
    /// Depth of the row.
    pub row_depth: Length,
    /// How far its backs stand off the wall behind them for base or crown that stays.
    pub off_wall: Length,
    /// Old base and old crown that stay on that wall.
    pub behind_stays: [Option<OldMoulding>; 2],
    /// Ends of the row that stand open, too far from a wall to be closed.
    pub open: [bool; 2],
    /// What its two ends meet, in words.
    pub ends_at: [String; 2],
    /// Strips that neither a part nor a sheet gives.
    pub closings: Vec<Closing>,
    /// Corners where two rows meet.
    pub corners: Vec<CornerGap>,
    /// Old base that stays on the walls that its left and right end meet.
    pub base_stays: [Option<OldMoulding>; 2],
    /// Old crown that does.
    pub crown_stays: [Option<OldMoulding>; 2],
    /// Stock row she names for strips over seams.
    pub cover: Option<String>,
    /// Stock rows that the route's cut list names already: her rows win.
    pub listed: Vec<String>,
}

/// An old moulding that stays on a wall.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct OldMoulding {
    /// How far it stands out from the wall; `None` = not measured.
    pub thick: Option<Length>,
    /// Its height, of crown how far it comes down; `None` = not measured.
    pub high: Option<Length>,
}

/// A strip that nothing gives yet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Closing {
    /// left, right, head.
    pub name: String,
    /// Width of its blank.
    pub width: Length,
    /// Length of its blank.
    pub length: Length,
}

/// The gap between two rows in a corner.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CornerGap {
    /// left, right.
    pub name: String,
    /// From the end of one row to the front of the other.
    pub gap: Length,
    /// Height of the lower of the two.
    pub height: Length,
}

/// How an end is cut.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum EndCut {
    /// Square.
    Square,
    /// Square against a wall.
    Butt,
    /// On the half angle.
    Mitre,
    /// To the profile of the piece that runs through.
    Cope,
    /// A long slanting joint over a stud.
    Scarf,
}

/// One end of a piece.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct TrimEnd {
    /// How it is cut.
    pub cut: EndCut,
    /// The true local corner in degrees; `None` = it meets no corner, or the corner was not read.
    pub corner: Option<f64>,
    /// The saw's mitre scale, to the nearest quarter of a degree, 0 = square.
    pub saw: f64,
    /// The saw's tilt for crown cut flat; 0 otherwise.
    pub bevel: f64,
    /// In words: what it meets.
    pub note: String,
}

impl TrimEnd {
    /// `mitre 44.75, head`.
    pub fn in_words(&self) -> String {
        let cut = match self.cut {
            EndCut::Square => "square",
            EndCut::Butt => "butt",
            EndCut::Mitre => "mitre",
            EndCut::Cope => "cope",
            EndCut::Scarf => "scarf",
        };
        let set = match (self.saw, self.bevel) {
            (0.0, _) => String::new(),
            (saw, 0.0) => format!(" {saw}"),
            (saw, bevel) => format!(" {saw}, tilt {bevel}"),
        };
        format!("{cut}{set}, {}", self.note)
    }
}

/// One piece, or several alike.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct TrimPiece {
    /// Written on it.
    pub mark: String,
    /// Stock row.
    pub item: String,
    /// Plain name.
    pub what: String,
    /// How many.
    pub how_many: u32,
    /// Longest edge, spring included: what is cut.
    pub long_point: Length,
    /// Shortest edge.
    pub short_point: Length,
    /// The opening it closes, without spring.
    pub between: Length,
    /// Behind other pieces: not painted.
    pub hidden: bool,
    /// Left end, or the foot of an upright.
    pub left: TrimEnd,
    /// Right end, or the head of an upright.
    pub right: TrimEnd,
}

/// One gap, seam, head or foot, and what covers it.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Cover {
    /// Which.
    pub what: String,
    /// Least width that covers it.
    pub least: Length,
    /// Greatest width that still keeps the reveal.
    pub most: Length,
    /// Stock rows that qualify.
    pub items: Vec<String>,
    /// What to look for where none does.
    pub look_for: Option<String>,
}
