//! A row of the cut list.

use crate::units::Length;

/// How a part lies to the face grain.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Grain {
    /// Its length runs along the grain.
    #[default]
    Length,
    /// Its width runs along the grain.
    Width,
    /// It may be turned.
    Any,
}

/// Which edges of a part are banded.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct Band {
    /// One edge along the part's `length`.
    pub front: bool,
    /// The other edge along the part's `length`.
    pub back: bool,
    /// One edge along the part's `width`.
    pub left: bool,
    /// The other edge along the part's `width`.
    pub right: bool,
}

/// What is cut for a row.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum PartSize {
    /// A panel cut from a sheet.
    Panel {
        /// Along `length` as written in the row.
        length: Length,
        /// Across it.
        width: Length,
    },
    /// A piece cut from a stick of a moulding or board.
    Piece {
        /// Its (long-point) length.
        length: Length,
    },
}

/// One row of parts.csv.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Part {
    /// Written on the part. Unique in the list (the reader refuses doubles).
    pub mark: String,
    /// Plain name.
    pub what: String,
    /// Which box it belongs to, `base`, `face`, or empty.
    pub in_box: String,
    /// The route it belongs to; `None` = the first run that has boxes.
    pub route: Option<String>,
    /// How many the job needs.
    pub how_many: u32,
    /// Extra ones to cut.
    pub spare: u32,
    /// As written in the row, before banding is taken off.
    pub size: PartSize,
    /// The stock row it is cut from (any size of that material will do).
    pub item: String,
    /// How it lies to the grain.
    pub grain: Grain,
    /// Edges banded.
    pub band: Band,
    /// The banding's stock row.
    pub band_item: Option<String>,
    /// True: `size` is the finished size and the cut size is smaller by the banding on each banded edge.
    pub band_in_size: bool,
    /// Group of parts that must come off one setting; rows with the same text share it.
    pub match_group: Option<String>,
    /// Never redrawn from the run.
    pub keep: bool,
    /// True if she wrote the row herself (`from = hand`).
    pub by_hand: bool,
    /// Printed on the label.
    pub note: String,
    /// Row in the file, as the spreadsheet counts (0 = not from a file).
    pub row: usize,
}

impl Part {
    /// How many are cut: needed and spare.
    pub fn count(&self) -> u32 {
        self.how_many + self.spare
    }
}
