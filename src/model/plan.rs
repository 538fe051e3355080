//! The plan: what is written to plan.json, drawn in the book and replayed by the referee.

use crate::model::certificate::Certificate;
use crate::model::saw::CleanEdges;
use crate::units::{Cents, Length};
use serde::{Deserialize, Serialize};

/// One part at its place on a sheet.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Place {
    /// The part's mark.
    pub mark: String,
    /// Corner nearest the origin: [along x, along y].
    pub at: [Length; 2],
    /// Cut size as placed: [along x, along y].
    pub size: [Length; 2],
    /// True where the part's own length does not run along x.
    pub turned: bool,
}

/// What remains of a sheet when every cut is made.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Leftover {
    /// Corner nearest the origin.
    pub at: [Length; 2],
    /// [along x, along y].
    pub size: [Length; 2],
    /// True if it is worth a place on the rack.
    pub keep: bool,
}

/// Which saw makes a cut.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SawAt {
    /// Her own.
    Home,
    /// The store's.
    Store,
}

/// One edge-to-edge cut.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Cut {
    /// Its number on this sheet, from 1: the order it is made in.
    pub n: u32,
    /// True where the blade runs across x (a crosscut of the sheet), false where along x (a rip).
    pub across: bool,
    /// Where the kept side ends; the kerf lies beyond.
    pub at: Length,
    /// The piece it divides: [x0, y0, x1, y1].
    pub of: [Length; 4],
    /// Its kerf, where it differs from the plan's.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub kerf: Option<Length>,
    /// Which saw, where it is not her own.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub saw: Option<SawAt>,
}

/// One layout and how many sheets are cut by it.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct SheetPlan {
    /// Stock row of this size.
    pub item: String,
    /// Mark of the offcut used, or null for a bought or in-hand sheet.
    pub rack: Option<String>,
    /// How many are cut alike.
    pub count: u32,
    /// [length along x, width along y].
    pub size: [Length; 2],
    /// Taken off x0, x1, y0, y1.
    pub clean_edge: CleanEdges,
    /// Parts.
    pub places: Vec<Place>,
    /// What remains.
    pub left: Vec<Leftover>,
    /// The cuts, in the order they are made.
    pub cuts: Vec<Cut>,
}

/// A piece of a stick.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct PlannedPiece {
    /// The part's mark.
    pub mark: String,
    /// Its length.
    pub length: Length,
}

/// One way of cutting a stick and how many are cut by it.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct StickPlan {
    /// Stock row of this length.
    pub item: String,
    /// Mark of the rack piece used, if any.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rack: Option<String>,
    /// Length of the stick.
    pub length: Length,
    /// How many are cut alike.
    pub count: u32,
    /// Pieces in the order they are cut.
    pub pieces: Vec<PlannedPiece>,
    /// What remains.
    pub left: Length,
}

/// A part that could not be placed.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Unplaced {
    /// Its mark.
    pub mark: String,
    /// How many.
    pub count: u32,
    /// Why, and the way out.
    pub why: String,
}

/// What a material comes to.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
pub struct ItemResult {
    /// The code its parts name first.
    pub item: String,
    /// Pieces to buy: used less in hand, rack pieces not counted.
    pub sheets: u32,
    /// Proved lower bound on it.
    pub at_least: u32,
    /// True only if `proof` shows that no plan costs less (one size: needs fewer).
    pub proved: bool,
    /// One plain sentence made from the certificate.
    pub why: String,
    /// What is bought costs; null where a price is missing.
    pub cost_cents: Option<Cents>,
    /// With several sizes: proved lower bound on the cost.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub cost_at_least_cents: Option<Cents>,
    /// Work steps spent searching.
    pub searched: u64,
    /// The certificate.
    pub proof: Certificate,
}

/// What a fence or stop is set for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SettingKind {
    /// Clean-up cut of one edge.
    Clean,
    /// A rip: fence.
    Rip,
    /// A crosscut: stop.
    Stop,
}

/// One cut made at a setting.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct SettingPiece {
    /// Index into `Plan::sheets`.
    pub sheet: usize,
    /// Which of the sheets cut alike, from 1; 0 = all of them.
    pub copy: u32,
    /// Cut number on that sheet (for clean-up cuts: 0).
    pub cut: u32,
    /// What comes free, in words: marks or `strip`.
    pub gives: String,
}

/// One line of the settings page: set once, make these cuts.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Setting {
    /// Its number, from 1.
    pub n: u32,
    /// Material, by the code of `ItemResult`.
    pub item: String,
    /// Rip, stop or clean.
    pub kind: SettingKind,
    /// What the fence or stop is set to.
    pub size: Length,
    /// True where the same setting was used before: a piece was not yet free then.
    pub again: bool,
    /// The cuts.
    pub pieces: Vec<SettingPiece>,
}

/// The whole plan of one route.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
pub struct Plan {
    /// `nookwright plan 1`.
    pub format: String,
    /// Eight characters made from the plan itself: hexadecimal digits of the SHA-256 of its JSON with this left empty.
    pub plan_number: String,
    /// `1/80000 mm`.
    pub length_unit: String,
    /// The route it is for.
    pub route: String,
    /// Her saw's kerf.
    pub kerf: Length,
    /// Sheet layouts.
    pub sheets: Vec<SheetPlan>,
    /// Stick layouts.
    pub sticks: Vec<StickPlan>,
    /// What fits nothing.
    pub unplaced: Vec<Unplaced>,
    /// One entry for each material.
    pub items: Vec<ItemResult>,
    /// The settings page.
    pub settings: Vec<Setting>,
}

impl Plan {
    /// Nothing planned yet.
    pub fn empty(route: &str, kerf: Length) -> Self {
        Self {
            format: "nookwright plan 1".into(),
            plan_number: String::new(),
            length_unit: "1/80000 mm".into(),
            route: route.into(),
            kerf,
            sheets: Vec::new(),
            sticks: Vec::new(),
            unplaced: Vec::new(),
            items: Vec::new(),
            settings: Vec::new(),
        }
    }
}
