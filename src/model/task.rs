//! What the optimisers are asked, and what they answer. Knows nothing of files, pages or money beyond a price a piece.

use crate::model::certificate::Certificate;
use crate::model::job::Effort;
use crate::model::part::Grain;
use crate::model::plan::{SheetPlan, StickPlan};
use crate::model::saw::{CleanEdges, FirstCut, KeepRule};
use crate::units::{Cents, Length};

/// One size of sheet of a material, or one piece on the rack.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SheetKind {
    /// Stock row.
    pub item: String,
    /// Mark of the rack piece; `None` = bought or in hand. A rack piece has `have = 1`, `at_most = Some(0)`.
    pub rack: Option<String>,
    /// [along x = the row's length, along y = its width].
    pub size: [Length; 2],
    /// Taken off x0, x1, y0, y1, clean-up kerf included.
    pub clean_edge: CleanEdges,
    /// True if the face grain runs along y.
    pub grain_along_y: bool,
    /// Price of one; `None` = no price known for this material (then every size of the task has none and fewest sheets,
    /// weighed by area where sizes differ, is the aim).
    pub cost: Option<Cents>,
    /// How many are in hand and cost nothing.
    pub have: u32,
    /// How many can be bought; `None` = any number.
    pub at_most: Option<u32>,
}

/// Pieces of one size and mark.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PieceKind {
    /// The part's mark.
    pub mark: String,
    /// How many.
    pub count: u32,
    /// Cut size: [the part's length, the part's width].
    pub size: [Length; 2],
    /// `Length`: its length runs along the sheet's grain; `Width`: its width does; `Any`: either.
    pub grain: Grain,
    /// Pieces with one group number come off one setting.
    pub match_group: Option<u32>,
}

/// The sheets of one material.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SheetTask {
    /// Sizes and rack pieces.
    pub kinds: Vec<SheetKind>,
    /// What is to be cut.
    pub pieces: Vec<PieceKind>,
    /// Lies between two pieces.
    pub kerf: Length,
    /// How often the cutting direction may change on a sheet, the first cuts counted as one; `None` = any.
    pub turns: Option<u8>,
    /// Which way the first cuts go.
    pub first: FirstCut,
    /// Which leftovers are worth keeping.
    pub keep: KeepRule,
    /// Narrower rips are avoided where another layout at the same cost does without.
    pub narrowest_safe_rip: Length,
}

/// A piece that fits no sheet, by index into `SheetTask::pieces`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct UnplacedPiece {
    /// Which.
    pub piece: usize,
    /// How many.
    pub count: u32,
    /// True: it fits no size at all. False: sizes it fits are limited and used up.
    pub fits_nothing: bool,
}

/// The answer for one material.
#[derive(Clone, PartialEq, Debug)]
pub struct SheetAnswer {
    /// Layouts, equal ones gathered.
    pub sheets: Vec<SheetPlan>,
    /// Pieces that could not be placed.
    pub unplaced: Vec<UnplacedPiece>,
    /// Lower bound on the number of sheets bought.
    pub at_least: u32,
    /// Lower bound on their cost in the task's own prices; `None` without prices.
    pub cost_at_least: Option<Cents>,
    /// True only if `certificate` shows that no plan costs less (without prices: needs fewer).
    pub proved: bool,
    /// What shows it.
    pub certificate: Certificate,
    /// Work steps spent.
    pub searched: u64,
}

/// One length of stick, or a piece on the rack.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StickKind {
    /// Stock row.
    pub item: String,
    /// Mark of the rack piece; then `have = 1`, `at_most = Some(0)`.
    pub rack: Option<String>,
    /// Its usable length.
    pub length: Length,
    /// Price of one; as for sheets.
    pub cost: Option<Cents>,
    /// How many are in hand and cost nothing.
    pub have: u32,
    /// How many can be bought; `None` = any number.
    pub at_most: Option<u32>,
}

/// Pieces of one length and mark.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StickPiece {
    /// The part's mark.
    pub mark: String,
    /// How many.
    pub count: u32,
    /// Length cut, mitre allowance included.
    pub length: Length,
    /// Pieces of one group must come off one stick (matching grain or profile).
    pub together: Option<u32>,
}

/// The sticks of one moulding or board.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StickTask {
    /// Lengths and rack pieces.
    pub kinds: Vec<StickKind>,
    /// What is to be cut.
    pub pieces: Vec<StickPiece>,
    /// Lies between two pieces.
    pub kerf: Length,
}

/// The answer for one moulding.
#[derive(Clone, PartialEq, Debug)]
pub struct StickAnswer {
    /// Ways of cutting, equal ones gathered.
    pub sticks: Vec<StickPlan>,
    /// Pieces that could not be placed, by index into `StickTask::pieces`.
    pub unplaced: Vec<UnplacedPiece>,
    /// Lower bound on the number bought.
    pub at_least: u32,
    /// Lower bound on their cost.
    pub cost_at_least: Option<Cents>,
    /// True only if `certificate` shows it.
    pub proved: bool,
    /// What shows it.
    pub certificate: Certificate,
    /// Work steps spent.
    pub searched: u64,
}

/// How the optimisers are run.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct SolveOptions {
    /// Work-step budget.
    pub effort: Effort,
    /// Threads to share the work among; the answer does not depend on it.
    pub threads: usize,
    /// At the same cost, also look for fewer cuts and settings and better leftovers.
    pub second_aims: bool,
}

impl Default for SolveOptions {
    fn default() -> Self {
        Self {
            effort: Effort::Normal,
            threads: 1,
            second_aims: true,
        }
    }
}
