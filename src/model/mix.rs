//! Choosing flat-pack frames: what may stand where and what each number of a frame can give; and the mixes found.

use crate::model::WallSide;
use crate::units::{Cents, Length};
use serde::Serialize;

/// Shelf length, hanging length (in units), drawers, closed space (in units).
pub type Amounts = [i64; 4];

/// One way of filling a number of equal frames with loose parts.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct MixOption {
    /// What it gives.
    pub gives: Amounts,
    /// Frames and parts together.
    pub cents: Cents,
    /// Loose parts by code and count.
    pub extras: Vec<(String, u32)>,
}

/// A frame that passes the way in and can be stood up.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MixKind {
    /// Its code.
    pub code: String,
    /// Outside width.
    pub width: Length,
    /// Outside depth.
    pub depth: Length,
    /// The ways to fill one of it, two of it, and so on; as many as can stand.
    pub options: Vec<Vec<MixOption>>,
}

/// A wall that takes frames.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MixWall {
    /// Which.
    pub wall: WallSide,
    /// For each kind, the width a row as tall as that kind may take, least gaps off; `None` = that kind cannot stand here.
    pub room: Vec<Option<Length>>,
}

/// What is asked.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MixTask {
    /// Frames to choose from.
    pub kinds: Vec<MixKind>,
    /// Walls that take them.
    pub walls: Vec<MixWall>,
    /// What is wanted of each; 0 = not wanted.
    pub wanted: Amounts,
    /// What other runs of the route give already.
    pub start: Amounts,
    /// Work steps before the search gives up being complete.
    pub steps: u64,
}

/// The frames on one wall.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct MixRow {
    /// back, left or right.
    #[serde(serialize_with = "wall_word")]
    pub wall: WallSide,
    /// Codes, in the order of prefab.csv.
    pub units: Vec<String>,
    /// Width not used, beyond the least gaps.
    pub unused: Length,
    /// Head gap over the tallest frame at the lowest ceiling; `None` = not known.
    pub head_gap: Option<Length>,
}

/// One mix.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Mix {
    /// Wall by wall; a wall may stay empty.
    pub rows: Vec<MixRow>,
    /// Loose parts by code and count.
    pub extras: Vec<(String, u32)>,
    /// Wants it leaves short.
    pub wants_short: u32,
    /// How short, in thousandths of each want, added up.
    pub short_thousandths: i64,
    /// Frames and loose parts, before tax.
    pub cents: Cents,
    /// Width not used, all walls.
    pub unused: Length,
}

/// The best few of a route.
#[derive(Clone, PartialEq, Eq, Debug, Default, Serialize)]
pub struct Mixes {
    /// The route.
    pub route: String,
    /// Best first; the first is used.
    pub best: Vec<Mix>,
    /// True if every mix was looked at or shown to be no better.
    pub complete: bool,
    /// Frames that were not tried, and why; or why none could be chosen.
    pub left_out: Vec<String>,
    /// True where a reading, size or price is missing without which a mix might stand here.
    #[serde(skip)]
    pub not_known: bool,
}

impl Mixes {
    /// True if it is known that no mix of the frames there are stands in the opening.
    pub fn none_fits(&self) -> bool {
        self.best.is_empty() && self.complete && !self.not_known
    }
}

fn wall_word<S: serde::Serializer>(wall: &WallSide, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(wall.word())
}
