//! A job in the middle: which cuts are made, what came out of them, and what is left to plan the rest on.
//!
//! A piece that is left of a started sheet counts like a piece on the rack: in hand, at no cost, cut from once. Its edges
//! are clean but for those it shares with the sheet's own edge where that was not cleaned.

use crate::model::saw::CleanEdges;
use crate::units::Length;
use serde::{Deserialize, Serialize};

/// One cut of a plan that is made.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Serialize, Deserialize)]
pub struct CutMade {
    /// Index into the plan's sheets.
    pub sheet: usize,
    /// Which of the sheets cut alike, from 1.
    pub copy: u32,
    /// The cut's number on that sheet.
    pub cut: u32,
}

/// A part or a piece that came free and is no good.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Spoiled {
    /// Index into the plan's sheets.
    pub sheet: usize,
    /// Which of the sheets cut alike, from 1.
    pub copy: u32,
    /// Its corner nearest the sheet's origin, by the plan.
    pub at: [Length; 2],
    /// What can still be cut from it, [along x, along y], its edges good; `None` = nothing.
    pub left: Option<[Length; 2]>,
}

/// What has happened to a plan so far.
#[derive(Clone, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Done {
    /// The cuts made, in the order they were made.
    pub cuts: Vec<CutMade>,
    /// What was spoiled.
    pub spoiled: Vec<Spoiled>,
}

/// Parts that are made and good.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct PartsMade {
    /// The part's mark.
    pub mark: String,
    /// How many.
    pub count: u32,
}

/// A piece that is left of a started sheet.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct StartedPiece {
    /// Its mark, unlike any other piece's: `2.1/3` is the third that is left of copy 1 of the plan's second sheet.
    pub mark: String,
    /// Stock row of the sheet.
    pub item: String,
    /// Index into the plan's sheets.
    pub sheet: usize,
    /// Which of the sheets cut alike, from 1.
    pub copy: u32,
    /// Where it lay: corner nearest the sheet's origin.
    pub at: [Length; 2],
    /// [along x, along y] of the sheet it came from.
    pub size: [Length; 2],
    /// What still comes off its edges before it is cut: x0, x1, y0, y1.
    pub clean_edge: CleanEdges,
}

/// Whole sheets, or pieces from the rack, that are no longer whole.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Opened {
    /// Stock row.
    pub item: String,
    /// Mark of the rack piece, if it is one.
    pub rack: Option<String>,
    /// How many.
    pub count: u32,
}

/// Where a job stands.
#[derive(Clone, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Midway {
    /// Good parts, by mark.
    pub made: Vec<PartsMade>,
    /// What is left of the started sheets.
    pub pieces: Vec<StartedPiece>,
    /// The sheets that were started.
    pub opened: Vec<Opened>,
}
