//! The opening as she measured it: every reading under its own path, `?` kept as not taken.

use super::old_trim::ExistingTrim;
use crate::units::Length;

/// One reading; `None` = `?`, not measured yet.
pub type Reading = Option<Length>;

/// A reading at a place along a line, e.g. down to the floor 34 1/2 from the left.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Station {
    /// Path of the reading, e.g. `level_line.down_to_floor.left` or `level_line.down_to_floor[2]`.
    pub path: String,
    /// Distance from the left wall; `None` = by name: left at the wall, middle halfway, right at the wall.
    pub from_left: Option<Length>,
    /// `left`, `middle`, `right`, or empty for a numbered station.
    pub name: String,
    /// Read at the front edge plane.
    pub front: Reading,
    /// Read at the back wall plane, where taken.
    pub back: Reading,
}

/// `[opening.level_line]`.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct LevelLine {
    /// From the line down to the floor.
    pub down_to_floor: Vec<Station>,
    /// From the line up to the ceiling.
    pub up_to_ceiling: Vec<Station>,
}

/// `[opening.plumb_lines]`: two plumb lines, gaps read from each out to its wall.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct PlumbLines {
    /// Distance between the two lines.
    pub apart: Reading,
    /// Heights above the floor at that side's own plumb line.
    pub height: Vec<Length>,
    /// Gap left at each height, front plane.
    pub left_gap: Vec<Reading>,
    /// Gap right at each height, front plane.
    pub right_gap: Vec<Reading>,
    /// Gap left at each height, back plane; empty = not taken.
    pub left_gap_back: Vec<Reading>,
    /// Gap right at each height, back plane; empty = not taken.
    pub right_gap_back: Vec<Reading>,
}

/// `[opening.back_wall]`: gaps behind a straightedge at one height.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct BackWall {
    /// Height of the straightedge.
    pub height: Option<Length>,
    /// Stations.
    pub from_left: Vec<Length>,
    /// Gap behind the straightedge.
    pub gap: Vec<Reading>,
}

/// `[opening.tape]`: plain tape readings that overlap the others on purpose.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct TapeReadings {
    /// Heights at which the width was taken.
    pub width_at: Vec<Length>,
    /// The widths.
    pub width: Vec<Reading>,
    /// Low left to high right.
    pub diagonal_up_right: Option<Reading>,
    /// Low right to high left.
    pub diagonal_up_left: Option<Reading>,
    /// Depths as (name or path, reading): left, middle, right, or low/high pairs.
    pub depth: Vec<(String, Reading)>,
    /// Floor-to-ceiling heights by tape, where taken, as (name, reading).
    pub height: Vec<(String, Reading)>,
}

/// Which wall.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum WallSide {
    /// The back wall.
    #[default]
    Back,
    /// The left wall.
    Left,
    /// The right wall.
    Right,
}

impl WallSide {
    /// `back`, `left`, `right`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Back => "back",
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

/// A corner of the opening.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Corner {
    /// Floor, left.
    LowLeft,
    /// Floor, right.
    LowRight,
    /// Ceiling, left.
    HighLeft,
    /// Ceiling, right.
    HighRight,
}

/// `[[opening.keep_clear]]`: an outlet, switch, vent, pipe, hatch or door swing.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct KeepClear {
    /// What it is.
    pub what: String,
    /// On which wall.
    pub wall: WallSide,
    /// From the left end of that wall.
    pub from_left: Reading,
    /// Up from the floor.
    pub up: Reading,
    /// Its width.
    pub width: Reading,
    /// Its height.
    pub height: Reading,
    /// How far it sticks out.
    pub reach: Length,
}

/// `[[opening.studs]]`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Studs {
    /// On which wall.
    pub wall: WallSide,
    /// Their centres from the left end of that wall.
    pub from_left: Vec<Length>,
    /// Up from the floor to where they were found, and the distances taken; `None` = not said.
    pub height: Reading,
    /// How they were found.
    pub found_by: String,
}

/// `[[opening.way_in]]`: a door, a stair, a ceiling on the way.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WayIn {
    /// What it is.
    pub what: String,
    /// Clear width, where it has one.
    pub width: Reading,
    /// Clear height.
    pub height: Reading,
    /// Room to turn: a length she measured, where given.
    pub turn: Reading,
    /// Which of these she gave as not measured yet; others without a size are not asked for.
    pub not_taken: Vec<&'static str>,
}

impl WayIn {
    /// True for a ceiling alone: a place where boxes are stood up, not one they pass through.
    pub fn is_ceiling(&self) -> bool {
        self.width.is_none() && !self.not_taken.contains(&"width")
    }
}

/// Which way a door swings.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Swing {
    /// Into the opening.
    In,
    /// Out of it.
    Out,
    /// It does not.
    #[default]
    None,
}

/// `[opening.doorway]`: the opening's own door.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Doorway {
    /// Clear width.
    pub width: Reading,
    /// Clear height.
    pub height: Reading,
    /// Width of its casing.
    pub casing: Length,
    /// Which way it swings.
    pub swing: Swing,
    /// In which wall: front, left or right.
    pub wall: String,
    /// From the left wall, or in a side wall from that wall's left end facing it, to its nearer jamb; `None` = in the middle.
    pub from_left: Option<Length>,
}

impl Doorway {
    /// Its middle on its wall, which runs from one place to another: in the front from left to right, in a side wall from the back
    /// wall to the front. The middle of the wall where she does not say where it stands. The left end of the left wall is in front.
    pub fn middle_along(&self, [start, end]: [Length; 2]) -> Length {
        let stands = self.from_left.zip(self.width);
        stands.map_or((start + end) / 2, |(from, wide)| {
            if self.wall == "left" {
                end - from - wide / 2
            } else {
                start + from + wide / 2
            }
        })
    }
}

/// `[[opening.soffit]]`: a step or box in the ceiling.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Soffit {
    /// From the left wall.
    pub from_left: Reading,
    /// How wide.
    pub width: Reading,
    /// How far it comes down.
    pub down: Reading,
    /// How deep it is from the back wall; `None` = the whole depth.
    pub depth: Option<Length>,
}

/// A piece that comes off and is cut down for the new work: it joins the rack.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OldPiece {
    /// In her words.
    pub what: String,
    /// The stock row it is like.
    pub item: String,
    /// Sound length.
    pub length: Length,
    /// Sound width; `None` for a stick.
    pub width: Option<Length>,
    /// Its line in project.toml.
    pub line: usize,
}

/// `[opening.now]`: what is there today.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct OpeningNow {
    /// Comes off.
    pub comes_off: Vec<String>,
    /// Stays.
    pub stays: Vec<String>,
    /// Is used again.
    pub reuse: Vec<String>,
    /// What of it is of a stock row, so that it can be cut down: a rod, a shelf.
    pub old_stock: Vec<OldPiece>,
    /// Wall to patch, in her words.
    pub patch: String,
}

impl Opening {
    /// What is taken off before anything is set: what she lists, and old base or crown that does not stay. A piece of trim that
    /// her list names is counted once.
    pub fn comes_off(&self) -> Vec<String> {
        let mut all = self.now.comes_off.clone();
        for trim in self.existing_trim.iter().filter(|t| !t.stay) {
            let named = trim.what.trim().to_lowercase();
            if !all.iter().any(|a| a.to_lowercase().contains(&named)) {
                all.push(format!("old {}", trim.what.trim()));
            }
        }
        all
    }
}

/// `[opening]` and all below it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Opening {
    /// Its name.
    pub name: String,
    /// What the walls are made of.
    pub walls: String,
    /// Readings off the level line.
    pub level_line: LevelLine,
    /// Readings off the plumb lines.
    pub plumb_lines: PlumbLines,
    /// Straightedge readings of the back wall, one for each height.
    pub back_wall: Vec<BackWall>,
    /// Tape readings.
    pub tape: TapeReadings,
    /// Things to keep clear of.
    pub keep_clear: Vec<KeepClear>,
    /// Old base and crown.
    pub existing_trim: Vec<ExistingTrim>,
    /// Studs.
    pub studs: Vec<Studs>,
    /// Doors, stairs and ceilings on the way.
    pub way_in: Vec<WayIn>,
    /// Its own door.
    pub doorway: Option<Doorway>,
    /// Steps in the ceiling.
    pub soffits: Vec<Soffit>,
    /// Paths of readings that she took a second time and that stand.
    pub read_twice: Vec<String>,
    /// What is there now.
    pub now: OpeningNow,
}
