//! How the boxes of a run are built, beside their outside sizes.

use crate::units::{Length, Unit};

/// What stands on a shelf, as a load.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum ShelfLoad {
    /// 25 lb on each square foot: a shelf of a closet well filled.
    #[default]
    Usual,
    /// Folded clothes.
    Clothes,
    /// Shoes.
    Shoes,
    /// Towels and bed linen.
    Linens,
    /// Books.
    Books,
    /// Files and papers.
    Files,
}

/// Hinges of a door: by its height 2 up to 40 in, 3 up to 60, 4 up to 80, then 5; by its weight 2 up to 15 lb, 3 up to 30, 4 up to
/// 45, and one more for every 15 lb over that; whichever is more. Common practice, no source.
pub fn hinges(height: Length, grams: i64) -> u32 {
    const EACH_15_LB: i64 = 6_804;
    let steps = [40, 60, 80].map(Length::inches);
    let by_height = 2 + steps.iter().filter(|h| height > **h).count() as u32;
    let by_weight = 1 + u32::try_from((grams + EACH_15_LB - 1) / EACH_15_LB).unwrap_or(1);
    by_height.max(by_weight)
}

/// How doors lie to the box.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum DoorLay {
    /// In front of the sides.
    #[default]
    Overlay,
    /// Between the sides.
    Inset,
}

/// Rows of holes for shelf pins. All sides of a run are drilled from the bottom edge, so that shelves line up from box to box.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct PinRules {
    /// From hole to hole: 32 mm, or what her jig has.
    pub pitch: Length,
    /// From the bottom edge of the side to the first hole; `None` = as much as is left above the last.
    pub first: Option<Length>,
    /// From the front edge to the front row, and from the back edge to the back row.
    pub inset: Length,
}

impl Default for PinRules {
    /// The 32 mm system: pitch 32, row 37 from the edge (S64).
    fn default() -> Self {
        Self {
            pitch: Length::mm(32),
            first: None,
            inset: Length::mm(37),
        }
    }
}

/// `[[run]]`: rules for every box of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BuildRules {
    /// Height of the nailer inside the back; zero = none.
    pub nailer: Length,
    /// What stands on its shelves.
    pub load: ShelfLoad,
    /// Holes for pins.
    pub pins: PinRules,
    /// Stock row the strips at walls and head are cut from; `None` = none are drawn.
    pub strips: Option<String>,
    /// Stock row of the strips over the joint of two boxes; `None` = none.
    pub cover: Option<String>,
    /// Stock row of the hanging rails; `None` = bought whole.
    pub rail: Option<String>,
    /// How doors lie.
    pub door_lay: DoorLay,
    /// Between two doors or drawer fronts, and from an inset one to the box.
    pub door_gap: Length,
    /// Stock row of doors and drawer fronts; `None` = as the boxes.
    pub door_item: Option<String>,
    /// Stock row of the hinges: its `thick` = the gap that a door needs beside it to swing.
    pub hinge: Option<String>,
    /// Stock row of the slides: its `length` is the drawer's, its `thick` the room at each side.
    pub slide: Option<String>,
    /// Stock row of the drawers' sides; `None` = as the boxes.
    pub drawer_item: Option<String>,
    /// True: its backs are notched round base and crown that stay; `None` = boxes as the trim says, bought frames not.
    pub notch: Option<bool>,
}

impl Default for BuildRules {
    fn default() -> Self {
        Self {
            nailer: Length::in_64(240),
            load: ShelfLoad::Usual,
            pins: PinRules::default(),
            strips: None,
            cover: None,
            rail: None,
            door_lay: DoorLay::Overlay,
            door_gap: Length::in_64(8),
            door_item: None,
            hinge: None,
            slide: None,
            drawer_item: None,
            notch: None,
        }
    }
}

/// `[[run.box]]`: what is inside, beside shelves and rail.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct BoxInside {
    /// Uprights that part the inside into bays of one width; shelves are counted for each bay.
    pub partitions: u32,
    /// What stands on its shelves; `None` = as the run says.
    pub load: Option<ShelfLoad>,
    /// Heights of the drawer fronts, lowest first; empty = 8 in each.
    pub drawer_heights: Vec<Length>,
    /// True: the drawers run behind its doors, without fronts of their own; the heights are then the room each takes.
    pub drawers_inside: bool,
}

impl BoxInside {
    /// Clear widths of its bays between sides so far apart: equal, on whole 1/64 in or 1/10 mm; what is left over is in the last.
    pub fn bays(&self, unit: Unit, width: Length, thick: Length) -> Vec<Length> {
        let n = i64::from(self.partitions) + 1;
        let clear = (width - thick * i64::from(self.partitions)).at_least_zero();
        let each = unit.on_grid(clear / n);
        let mut bays = vec![each; n as usize];
        if let Some(last) = bays.last_mut() {
            *last = clear - each * (n - 1);
        }
        bays
    }
}
