//! Her saw, the store's saw, her car.

use crate::units::{Cents, Length};
use serde::{Deserialize, Serialize};

/// An edge of a sheet: `X0` is the short edge at x = 0, `Y1` the long edge at y = width.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Edge {
    /// x = 0
    X0,
    /// x = length
    X1,
    /// y = 0
    Y0,
    /// y = width
    Y1,
}

/// What is taken off each edge, in the order x0, x1, y0, y1: the clean-up cut's kerf is included.
pub type CleanEdges = [Length; 4];

/// Which way the first cuts across a whole sheet go; a piece of one, from the rack or the work in hand, is cut either way.
/// Where a part is as wide as the clean sheet (for a crosscut: as long), no first cut can go that way beside it, and on
/// that size of sheet either way will do.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum FirstCut {
    /// Along the sheet's length.
    Rip,
    /// Across it.
    Crosscut,
    /// Whichever is better, sheet by sheet.
    #[default]
    Either,
}

/// When a leftover is worth a place on the rack: at least one of the two sizes, either way round.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct KeepRule {
    /// Smaller and larger side of a panel worth keeping (6 x 12 in).
    pub panel: [Length; 2],
    /// Smaller and larger side of a strip worth keeping (3 x 24 in).
    pub strip: [Length; 2],
    /// Shortest stick worth keeping (24 in).
    pub stick: Length,
}

impl Default for KeepRule {
    fn default() -> Self {
        Self {
            panel: [Length::inches(6), Length::inches(12)],
            strip: [Length::inches(3), Length::inches(24)],
            stick: Length::inches(24),
        }
    }
}

impl KeepRule {
    /// True if a leftover of these two sides is worth keeping.
    pub fn keeps(&self, a: Length, b: Length) -> bool {
        let (small, large) = (a.min(b), a.max(b));
        [self.panel, self.strip]
            .iter()
            .any(|[s, l]| small >= *s && large >= *l)
    }
}

/// `[saw]`: her own saw and what she can handle alone.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Saw {
    /// What it is.
    pub what: String,
    /// Width of wood the blade takes.
    pub kerf: Length,
    /// Taken off each edge named in `clean_edges`.
    pub clean_edge: Length,
    /// The edges of a bought sheet that are cleaned.
    pub clean_edges: Vec<Edge>,
    /// Longest rip her saw can make; `None` = no limit given.
    pub longest_rip: Option<Length>,
    /// Narrower rips are named.
    pub narrowest_safe_rip: Length,
    /// Larger pieces are named: a second person.
    pub largest_alone: [Length; 2],
    /// How often the cutting direction may change, counting the first cuts as one; `None` = any.
    pub turns: Option<u8>,
    /// Which way the first cuts go.
    pub first: FirstCut,
    /// Which leftovers go on the rack.
    pub keep: KeepRule,
    /// The store's saw, where it is used.
    pub store: Option<StoreSaw>,
}

impl Saw {
    /// What comes off each edge of a bought sheet.
    pub fn bought_clean_edges(&self) -> CleanEdges {
        [Edge::X0, Edge::X1, Edge::Y0, Edge::Y1].map(|e| {
            if self.clean_edges.contains(&e) {
                self.clean_edge
            } else {
                Length::ZERO
            }
        })
    }
}

impl Default for Saw {
    fn default() -> Self {
        Self {
            what: String::new(),
            kerf: Length::in_64(8),
            clean_edge: Length::in_64(8),
            clean_edges: vec![Edge::X0, Edge::X1, Edge::Y0, Edge::Y1],
            longest_rip: None,
            narrowest_safe_rip: Length::in_64(96),
            largest_alone: [Length::inches(48), Length::inches(48)],
            turns: None,
            first: FirstCut::Either,
            keep: KeepRule::default(),
            store: None,
        }
    }
}

/// `[saw.store]`: what the store's saw will do.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StoreSaw {
    /// Its kerf.
    pub kerf: Length,
    /// How true its cuts are.
    pub true_to: Length,
    /// Cuts a sheet without charge.
    pub free_cuts_per_sheet: u32,
    /// Price of a further cut.
    pub price_per_cut: Cents,
    /// Smallest piece it will cut.
    pub smallest_piece: Option<Length>,
    /// True if it cuts mitres.
    pub mitres: bool,
    /// True if it is to cut sheets that are delivered, too.
    pub cut_delivered: bool,
}

/// One space in the car.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CarSpace {
    /// Its name.
    pub what: String,
    /// Length, width and height.
    pub size: [Length; 3],
}

/// `[car]` and `[[car.space]]`.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Car {
    /// The spaces; none = no car check.
    pub spaces: Vec<CarSpace>,
    /// Kept clear in each space, each way: nothing slides in that fills it to the last.
    pub clearance: Length,
    /// Load limit in grams.
    pub carries_grams: Option<i64>,
}

impl Car {
    /// What of a space may be filled: its three sides less the clearance.
    pub fn room(&self, space: &CarSpace) -> [Length; 3] {
        space
            .size
            .map(|side| (side - self.clearance).at_least_zero())
    }
}
