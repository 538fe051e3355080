//! Flat-pack frames and what goes into them: prefab.csv.

use crate::units::{Length, PriceRange};
use jiff::civil::Date;

/// What a row of prefab.csv is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum PrefabKind {
    /// A carcass.
    Frame,
    /// A loose shelf for a frame.
    Shelf,
    /// A hanging rail.
    Rail,
    /// A drawer.
    Drawer,
    /// A door.
    Door,
}

/// What a frame stands on.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum StandsOn {
    /// Its own feet.
    OwnFeet,
    /// A base she builds.
    #[default]
    Base,
    /// Nothing: it hangs on the wall.
    Wall,
}

/// A carton's three sizes, largest first.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Carton {
    /// Largest first.
    pub size: [Length; 3],
    /// Weight in grams, where given.
    pub grams: Option<i64>,
}

/// One row of prefab.csv.
#[derive(Clone, PartialEq, Debug)]
pub struct PrefabUnit {
    /// Her code for it, unique.
    pub unit: String,
    /// Frame, shelf, rail, drawer or door.
    pub kind: PrefabKind,
    /// Plain name.
    pub what: String,
    /// Outside width (of a shelf or rail: its length).
    pub width: Option<Length>,
    /// Outside height.
    pub height: Option<Length>,
    /// Outside depth.
    pub depth: Option<Length>,
    /// Clear width inside.
    pub inside_width: Option<Length>,
    /// Clear height inside.
    pub inside_height: Option<Length>,
    /// Clear depth inside.
    pub inside_depth: Option<Length>,
    /// Price of one; `None` = not known.
    pub price: Option<PriceRange>,
    /// When the price was read.
    pub priced_on: Option<Date>,
    /// Shelf length one adds.
    pub shelf_each: Option<Length>,
    /// Shelves that come in the carton.
    pub shelves_in_box: u32,
    /// Hanging length one adds.
    pub hanging_each: Option<Length>,
    /// The frame a loose item belongs to.
    pub fits: Option<String>,
    /// What a frame stands on.
    pub stands_on: StandsOn,
    /// True if it must be fixed to the wall.
    pub wall_fixing: bool,
    /// Where it needs closing pieces: sides, head, both, none.
    pub filler: String,
    /// Its carton.
    pub carton: Option<Carton>,
    /// Fronts of a drawer unit.
    pub drawer_fronts: u32,
    /// How far its feet screw out.
    pub foot_adjust: Option<Length>,
    /// Thickness of its shelves.
    pub shelf_thick: Option<Length>,
    /// What its shelves are made of.
    pub shelf_core: String,
    /// Factory finish.
    pub finish: String,
    /// Units delivered together.
    pub delivery_group: String,
    /// Where it is sold.
    pub store: String,
    /// Days from order to delivery.
    pub lead_days: u32,
    /// False takes it out of the sales tax.
    pub taxed: bool,
    /// Row in the file.
    pub row: usize,
}
