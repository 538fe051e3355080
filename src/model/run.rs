//! Runs of boxes or frames: what she wants to build, before it becomes parts.

use crate::model::build::{BoxInside, BuildRules, DoorLay};
use crate::model::opening::WallSide;
use crate::units::Length;

/// How a box's width is given.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum BoxWidth {
    /// Outside width.
    Width(Length),
    /// A share of what is left over.
    Share(u32),
}

/// `[[run.box]]`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BoxPlan {
    /// Its name.
    pub name: String,
    /// Outside width, or a share of the rest.
    pub width: BoxWidth,
    /// Shelves fastened in.
    pub fixed_shelves: u32,
    /// Shelves on pins.
    pub loose_shelves: u32,
    /// Heights of shelf tops from the box bottom, where given.
    pub shelf_heights: Vec<Length>,
    /// True if it has a hanging rail.
    pub rail: bool,
    /// Doors.
    pub doors: u32,
    /// Drawers of each bay.
    pub drawers: u32,
    /// May change places with a neighbour.
    pub swap: bool,
    /// What else is inside.
    pub inside: BoxInside,
}

impl BoxPlan {
    /// Drawers in all its bays.
    pub fn all_drawers(&self) -> u32 {
        self.drawers.saturating_mul(self.inside.partitions + 1)
    }
    /// Heights that the drawer fronts of a bay take with their gaps, lowest first.
    pub fn drawer_places(&self) -> Vec<Length> {
        if self.inside.drawer_heights.is_empty() {
            vec![DRAWER_FRONT; self.drawers as usize]
        } else {
            self.inside.drawer_heights.clone()
        }
    }
}

/// Which frames stand in a flat-pack run.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub enum RunUnits {
    /// Try every mix that fits.
    #[default]
    Best,
    /// These, left to right.
    Listed(Vec<String>),
}

/// `[[run]]`: one row of boxes or frames on one wall.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Run {
    /// Names the route it belongs to.
    pub route: String,
    /// Which wall it stands on.
    pub wall: WallSide,
    /// From the left end of that wall; `None` = centred in what is free.
    pub from_left: Option<Length>,
    /// Goes through into the corner.
    pub through: Option<bool>,
    /// The route the book prints.
    pub chosen: bool,
    /// Height of the base.
    pub base_height: Length,
    /// True where she gave that height herself.
    pub base_given: bool,
    /// How far the base stands back.
    pub base_setback: Length,
    /// Height of the boxes; `None` = fill the height less 2 in.
    pub box_height: Option<Length>,
    /// Depth of the boxes; `None` = fill the depth less 1 in.
    pub box_depth: Option<Length>,
    /// Least gap at each side.
    pub side_gap_least: Length,
    /// Least gap at the head.
    pub head_gap_least: Length,
    /// Stock row of the boxes.
    pub material: Option<String>,
    /// Stock row of the backs; `None` = no backs.
    pub back: Option<String>,
    /// rabbet, dado or butt.
    pub joint: String,
    /// `banded` (the fronts of shelves and partitions), `all banded` (of sides, top and bottom too), `lipped`, `frame`
    /// or `plain` (no banding).
    pub face: String,
    /// How its boxes are built.
    pub build: BuildRules,
    /// Boxes, left to right; empty for a flat-pack run.
    pub boxes: Vec<BoxPlan>,
    /// Frames, for a flat-pack run.
    pub units: RunUnits,
    /// Loose items by code and count.
    pub extras: Vec<(String, u32)>,
}

impl Run {
    /// True if she builds boxes; false if frames are bought.
    pub fn has_boxes(&self) -> bool {
        !self.boxes.is_empty()
    }
    /// Neighbours whose seam is free for a strip.
    pub fn open_seams(&self) -> Vec<[&BoxPlan; 2]> {
        self.seams(false)
    }
    /// Neighbours whose seam lies under the overlay fronts of at least one of them: no strip goes there.
    pub fn seams_under_fronts(&self) -> Vec<[&BoxPlan; 2]> {
        self.seams(true)
    }
    fn seams(&self, under: bool) -> Vec<[&BoxPlan; 2]> {
        let overlay = self.build.door_lay == DoorLay::Overlay;
        let fronts = |b: &BoxPlan| overlay && b.doors + b.drawers > 0;
        let pairs = self.boxes.windows(2).filter_map(|w| match w {
            [a, b] if (fronts(a) || fronts(b)) == under => Some([a, b]),
            _ => None,
        });
        pairs.collect()
    }
}

/// Height of a drawer front where none is given. Common practice, no source.
const DRAWER_FRONT: Length = Length::inches(8);

/// What the head strip follows.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum HeadFollows {
    /// The ceiling.
    #[default]
    Ceiling,
    /// A level line.
    Level,
}

/// What the side strips follow.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum SidesFollow {
    /// The wall.
    #[default]
    Wall,
    /// A plumb line.
    Plumb,
}

/// Where the straight edge of a side strip is.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum SidesAt {
    /// Over the front of the box side, as far as its inside face.
    #[default]
    Lap,
    /// Beside the box: it stops at the outside face, and fronts may lie over the side.
    Beside,
}

/// How two mouldings meet in an inside corner.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Meeting {
    /// On the half angle.
    Mitre,
    /// One cut to the profile of the other.
    #[default]
    Cope,
    /// Square against the other.
    Butt,
}

/// `[trim]`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TrimRules {
    /// What the head strip follows.
    pub head_follows: HeadFollows,
    /// What the side strips follow.
    pub sides_follow: SidesFollow,
    /// Where the side strips stop.
    pub sides_at: SidesAt,
    /// How much too long a piece between two walls is cut.
    pub spring: Length,
    /// How mouldings meet.
    pub meeting: Meeting,
    /// True if a long piece may be made of two.
    pub joints_allowed: bool,
    /// Degrees between the back of crown and the wall, where its row does not say.
    pub crown_spring: u32,
}

impl Default for TrimRules {
    fn default() -> Self {
        Self {
            head_follows: HeadFollows::Ceiling,
            sides_follow: SidesFollow::Wall,
            sides_at: SidesAt::Lap,
            spring: Length::in_64(4),
            meeting: Meeting::Cope,
            joints_allowed: true,
            crown_spring: 38,
        }
    }
}
