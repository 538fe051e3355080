//! What can be wrong with a plan, each with the figures that show it. Owns the sentences; decides nothing.

use crate::units::{Cents, Length};

fn mm(l: Length) -> String {
    format!("{:.4} mm", l.as_mm())
}

/// One thing wrong. `sheet` and `stick` are places in the plan's lists, from 0.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Fault {
    /// A number no plan can have.
    #[error("{what} is outside what any plan can hold")]
    OutOfRange {
        /// Which number.
        what: String,
    },
    /// A field that must have one value has another.
    #[error("{what} reads {found}, and must read {expected}")]
    Field {
        /// Which.
        what: String,
        /// As it is.
        found: String,
        /// As it must be.
        expected: String,
    },
    /// A sheet or stick that the job does not have for this material.
    #[error("{item}{} is not stock that this material may be cut from", rack.as_ref().map(|r| format!(" ({r})")).unwrap_or_default())]
    UnknownStock {
        /// Stock row.
        item: String,
        /// Rack mark.
        rack: Option<String>,
    },
    /// What is said to be made or left of a plan that was begun is not what its cuts leave.
    #[error("{what}: {why}")]
    Midway {
        /// Which piece, cut or sheet.
        what: String,
        /// What is wrong with it.
        why: String,
    },
    /// A rack piece that is promised, spent, only mentioned, or of another material or thickness.
    #[error("rack piece {rack} may not be planned on: {why}")]
    RackPiece {
        /// Its mark.
        rack: String,
        /// Why.
        why: String,
    },
    /// A sheet's size is not the stock's.
    #[error("sheet {sheet} is {} x {}, its stock row is {} x {}", mm(found[0]), mm(found[1]), mm(expected[0]), mm(expected[1]))]
    SheetSize {
        /// Which.
        sheet: usize,
        /// In the plan.
        found: [Length; 2],
        /// In the facts.
        expected: [Length; 2],
    },
    /// The clean edges of a sheet are not what the saw takes off.
    #[error("sheet {sheet}: its clean edges are not the ones this saw leaves")]
    CleanEdge {
        /// Which.
        sheet: usize,
    },
    /// More of a kind used than there are.
    #[error("{used} of {item} are used, and there are only {there}")]
    TooMany {
        /// Stock row or rack mark.
        item: String,
        /// Used.
        used: u64,
        /// In hand and to be had.
        there: u64,
    },
    /// A count of none.
    #[error("{what} is made 0 times")]
    NoCount {
        /// Which sheet or stick.
        what: String,
    },
    /// A sheet or stick that nothing is cut from.
    #[error("nothing is cut from {what}")]
    NothingCut {
        /// Which.
        what: String,
    },
    /// Cut numbers are not 1, 2, 3 ...
    #[error("sheet {sheet}: the cut numbers do not run 1, 2, 3 ...: {n} is missing")]
    CutNumbers {
        /// Which.
        sheet: usize,
        /// Missing number.
        n: u32,
    },
    /// A cut of a piece that is not free when its turn comes.
    #[error("sheet {sheet}, cut {n}: no such piece is free then")]
    CutNotFree {
        /// Which.
        sheet: usize,
        /// Cut.
        n: u32,
    },
    /// A cut that does not divide its piece.
    #[error("sheet {sheet}, cut {n}: it does not lie inside its piece")]
    CutOutside {
        /// Which.
        sheet: usize,
        /// Cut.
        n: u32,
    },
    /// A cut's kerf is none of the saws'.
    #[error("sheet {sheet}, cut {n}: a kerf of {} is not that saw's", mm(*kerf))]
    CutKerf {
        /// Which.
        sheet: usize,
        /// Cut.
        n: u32,
        /// As written.
        kerf: Length,
    },
    /// A piece is turned at the saw more often than the rules allow.
    #[error("sheet {sheet}, cut {n}: the cutting direction changes too often")]
    Turns {
        /// Which.
        sheet: usize,
        /// Cut.
        n: u32,
    },
    /// The first cuts go the wrong way.
    #[error("sheet {sheet}, cut {n}: the first cuts go the other way at this saw")]
    FirstCut {
        /// Which.
        sheet: usize,
        /// Cut.
        n: u32,
    },
    /// A cut asked of the store's saw that should not be, or that leaves what the car does not take; cut 0 = all of them.
    #[error("sheet {sheet}, store cut {n}: {why}")]
    StoreCut {
        /// Which.
        sheet: usize,
        /// Cut.
        n: u32,
        /// What is wrong.
        why: String,
    },
    /// A part no row asks for.
    #[error("{mark} is cut, and no row of this material asks for it")]
    UnknownPart {
        /// Its mark.
        mark: String,
    },
    /// A part is not the size its row asks.
    #[error("{mark} is cut {} x {}, its row asks for {} x {} there", mm(found[0]), mm(found[1]), mm(expected[0]), mm(expected[1]))]
    PartSize {
        /// Its mark.
        mark: String,
        /// As placed.
        found: [Length; 2],
        /// As asked.
        expected: [Length; 2],
    },
    /// A part lies against the grain.
    #[error("sheet {sheet}: {mark} lies across the grain it must follow")]
    AcrossGrain {
        /// Which.
        sheet: usize,
        /// Mark.
        mark: String,
    },
    /// Two parts overlap.
    #[error("sheet {sheet}: {one} and {other} overlap")]
    Overlap {
        /// Which.
        sheet: usize,
        /// Mark.
        one: String,
        /// Mark.
        other: String,
    },
    /// A part reaches over the clean edge or off the sheet.
    #[error("sheet {sheet}: {mark} reaches into an edge that is cleaned off")]
    OverEdge {
        /// Which.
        sheet: usize,
        /// Mark.
        mark: String,
    },
    /// The cuts do not free a part at its size.
    #[error("sheet {sheet}: the cuts do not free {mark} at exactly its size")]
    NotFreed {
        /// Which.
        sheet: usize,
        /// Mark.
        mark: String,
    },
    /// A leftover that does not remain.
    #[error("sheet {sheet}: the leftover at {}, {} is not what remains there", mm(at[0]), mm(at[1]))]
    LeftoverWrong {
        /// Which.
        sheet: usize,
        /// Where.
        at: [Length; 2],
    },
    /// Something remains that the plan does not name.
    #[error("sheet {sheet}: a piece remains at {}, {} that is not named", mm(at[0]), mm(at[1]))]
    LeftoverMissing {
        /// Which.
        sheet: usize,
        /// Where.
        at: [Length; 2],
    },
    /// The keep mark of a leftover goes against the rule.
    #[error("sheet {sheet}: the leftover at {}, {} is {}worth keeping by the rule", mm(at[0]), mm(at[1]), if *keep { "not " } else { "" })]
    KeepWrong {
        /// Which.
        sheet: usize,
        /// Where.
        at: [Length; 2],
        /// What the plan says.
        keep: bool,
    },
    /// Fewer or more of a part than asked.
    #[error("{mark}: {asked} asked, {cut} cut and {unplaced} named as not placed")]
    PartCount {
        /// Its mark.
        mark: String,
        /// Asked, spares included.
        asked: u64,
        /// Cut.
        cut: u64,
        /// Named as unplaced.
        unplaced: u64,
    },
    /// A part is given up though it would fit.
    #[error("{mark} is named as not placed, and it fits {on}")]
    Placeable {
        /// Its mark.
        mark: String,
        /// On what.
        on: String,
    },
    /// A part is said to fit nothing, or to have found all stock used up, and the other is true.
    #[error("{mark} is not placed for another reason than the plan gives")]
    UnplacedReason {
        /// Its mark.
        mark: String,
    },
    /// A stick holds more than its length.
    #[error("stick {stick} holds {} with its kerfs, and is {} long", mm(*used), mm(*length))]
    StickOverfull {
        /// Which.
        stick: usize,
        /// Pieces and kerfs.
        used: Length,
        /// Its length.
        length: Length,
    },
    /// A stick's leftover is wrong.
    #[error("stick {stick} leaves {}, not {}", mm(*expected), mm(*found))]
    StickLeft {
        /// Which.
        stick: usize,
        /// In the plan.
        found: Length,
        /// Worked out.
        expected: Length,
    },
    /// Pieces that must come off one stick do not.
    #[error("{mark} and the pieces it belongs with come off different sticks")]
    NotTogether {
        /// A mark of the group.
        mark: String,
    },
    /// Something free lies unused while its like is bought.
    #[error("{free} is in hand and unused, while {bought} is bought for what would fit on it")]
    FreeUnused {
        /// What is free.
        free: String,
        /// What is bought.
        bought: String,
    },
    /// The number to buy is wrong.
    #[error("{item}: {found} to buy by the plan, {expected} by its own sheets")]
    BoughtCount {
        /// Material.
        item: String,
        /// In the plan.
        found: u64,
        /// Counted.
        expected: u64,
    },
    /// The cost is wrong.
    #[error("{item}: costs {} by the plan, {} by the prices", show(*found), show(*expected))]
    Cost {
        /// Material.
        item: String,
        /// In the plan.
        found: Option<Cents>,
        /// Worked out.
        expected: Option<Cents>,
    },
    /// A bound above what is bought, or above what its certificate shows.
    #[error("{item}: at least {claimed} is claimed, and only {shown} is shown")]
    BoundTooHigh {
        /// Material.
        item: String,
        /// Claimed.
        claimed: i64,
        /// Shown, or bought.
        shown: i64,
    },
    /// `proved` without a certificate that shows it.
    #[error(
        "{item}: said to be proved, and the certificate shows no more than {shown} against {bought}"
    )]
    NotProved {
        /// Material.
        item: String,
        /// Shown.
        shown: i64,
        /// What the plan comes to.
        bought: i64,
    },
    /// A certificate that is false.
    #[error("{item}: the certificate is false: {why}")]
    FalseCertificate {
        /// Material.
        item: String,
        /// What is wrong with it.
        why: String,
    },
    /// A certificate too large to check.
    #[error("{item}: the certificate takes more work to check than the referee is given")]
    Uncheckable {
        /// Material.
        item: String,
    },
    /// A material without a result, or a result without a material.
    #[error("{item}: {why}")]
    Item {
        /// Material.
        item: String,
        /// What is wrong.
        why: String,
    },
    /// A line of the settings page is wrong.
    #[error("setting {n}: {why}")]
    Setting {
        /// Its number.
        n: u32,
        /// What is wrong.
        why: String,
    },
    /// A cut that no setting makes.
    #[error("sheet {sheet}: cut {n} is on no line of the settings page")]
    CutWithoutSetting {
        /// Which.
        sheet: usize,
        /// Cut.
        n: u32,
    },
}

fn show(c: Option<Cents>) -> String {
    c.map_or_else(|| "nothing known".into(), Cents::print)
}
