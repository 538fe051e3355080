//! What a run drew of a row, the record of it, and the steps by which two such rows differ.

use crate::model::{Band, Grain, Part, PartSize};
use crate::units::Length;
use serde::{Deserialize, Serialize};

/// What the run drew of a row: all that its cut and its banding hang on.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct DrawnRow {
    pub(super) mark: String,
    pub(super) what: String,
    #[serde(rename = "box")]
    pub(super) in_box: String,
    pub(super) route: Option<String>,
    how_many: u32,
    length: Length,
    width: Option<Length>,
    item: String,
    grain: String,
    band: [bool; 4],
}

/// What the runs drew last time.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Record {
    pub(super) format: String,
    pub(super) rows: Vec<DrawnRow>,
}

impl Record {
    pub(super) const FORMAT: &str = "nookwright drawn parts 1";

    /// From the bytes of the file; `None` where it is no such record.
    pub fn read(bytes: &[u8]) -> Option<Self> {
        serde_json::from_slice::<Self>(bytes)
            .ok()
            .filter(|r| r.format == Self::FORMAT)
    }
}

/// Its length, and its width where it is a panel.
pub(super) fn sizes(p: &Part) -> (Length, Option<Length>) {
    match p.size {
        PartSize::Panel { length, width } => (length, Some(width)),
        PartSize::Piece { length } => (length, None),
    }
}

impl DrawnRow {
    pub(super) fn of(p: &Part) -> Self {
        let (length, width) = sizes(p);
        let Band {
            front,
            back,
            left,
            right,
        } = p.band;
        let grain = match p.grain {
            Grain::Length => "length",
            Grain::Width => "width",
            Grain::Any => "any",
        };
        Self {
            mark: p.mark.clone(),
            what: p.what.clone(),
            in_box: p.in_box.clone(),
            route: p.route.clone(),
            how_many: p.how_many,
            length,
            width,
            item: p.item.clone(),
            grain: grain.to_owned(),
            band: [front, back, left, right],
        }
    }
    /// True if the cut and the banding are alike; mark, words and note are hers to change.
    pub(super) fn same(&self, o: &Self) -> bool {
        let key = |r: &Self| {
            (
                r.how_many,
                r.length,
                r.width,
                r.item.clone(),
                r.grain.clone(),
                r.band,
            )
        };
        key(self) == key(o)
    }
    /// In which ways it differs from another.
    pub(super) fn steps(&self, o: &Self) -> Vec<Step> {
        let mut out = Vec::new();
        if self.how_many != o.how_many {
            out.push(Step::Count);
        }
        out.push(Step::Size(o.length - self.length));
        match (self.width, o.width) {
            (Some(a), Some(b)) => out.push(Step::Size(b - a)),
            (None, None) => {}
            (a, b) => out.push(Step::Word(format!("width {a:?} {b:?}"))),
        }
        out.retain(|s| *s != Step::Size(Length::ZERO));
        let mut word = |name: &str, from: String, to: String| {
            if from != to {
                out.push(Step::Word(format!("{name} {from} {to}")));
            }
        };
        word("item", self.item.clone(), o.item.clone());
        word("grain", self.grain.clone(), o.grain.clone());
        word("band", format!("{:?}", self.band), format!("{:?}", o.band));
        out
    }
}

/// One way in which a row differs from what the run draws.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Step {
    /// In number: a run and she change it alike, so it tells nothing.
    Count,
    /// In length or width, by so much.
    Size(Length),
    /// In a word: from one to another.
    Word(String),
}

impl Step {
    /// True if one change of a run makes both; `near`: both rows are of one box, where a size may be parted among bays or doors.
    pub(super) fn goes_with(&self, o: &Self, near: bool) -> bool {
        match (self, o) {
            (Self::Size(a), Self::Size(b)) => {
                a == b || (near && (part_of(*a, *b) || part_of(*b, *a)))
            }
            (Self::Word(a), Self::Word(b)) => a == b,
            _ => false,
        }
    }
}

/// True if `a` is a half, a third or a quarter of `b`, to the mark to which bays and fronts are parted.
fn part_of(a: Length, b: Length) -> bool {
    (2..=4).any(|n| (a * n - b).abs() <= Length::INCH_64 * n)
        && a.abs() > Length::INCH_64
        && a.is_positive() == b.is_positive()
}
