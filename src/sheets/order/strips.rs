//! A sheet as the saw sees it: pieces divided into strips, strips into parts, with the freedom of which end comes first.

use crate::model::{SawAt, SheetPlan};
use crate::units::Length;

/// [x0, y0, x1, y1]
pub(super) type Rect = [Length; 4];

/// What a strip turns out to be.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Holds {
    /// A finished part.
    Part(String),
    /// A piece that is cut up further: index into `Work::blocks`.
    Block(usize),
    /// What remains.
    Left,
}

/// One of the strips a block is divided into.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Strip {
    /// Where it begins, along the way the block is divided.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// What it is.
    pub holds: Holds,
}

impl Strip {
    /// What the fence or stop is set to for it.
    pub(super) fn size(&self) -> Length {
        self.to - self.from
    }
}

/// A piece divided by parallel cuts, all made by one saw.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Block {
    /// Its outline.
    pub rect: Rect,
    /// True where the cuts run across x.
    pub across: bool,
    /// Its strips in order, a kerf between neighbours.
    pub strips: Vec<Strip>,
    /// True where the last cut runs off the far edge and nothing remains beyond it.
    pub runs_off: bool,
    /// Kerf of its cuts.
    pub kerf: Length,
    /// The cuts' own kerf as written.
    pub own_kerf: Option<Length>,
    /// Who makes them.
    pub saw: Option<SawAt>,
}

/// All blocks of a sheet; the first is the sheet itself, and none where it is not cut.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Work {
    /// Blocks, a parent before what comes out of it.
    pub blocks: Vec<Block>,
}

impl Work {
    /// Reads the strips off a layout. `None` where its cuts do not follow from one another.
    pub(super) fn of(sheet: &SheetPlan, kerf: Length) -> Option<Self> {
        let c = sheet.clean_edge;
        let rect = [c[0], c[2], sheet.size[0] - c[1], sheet.size[1] - c[3]];
        let mut work = Self::default();
        let mut used = 0;
        work.divide(sheet, rect, kerf, &mut used)?;
        (used == sheet.cuts.len()).then_some(work)
    }

    fn divide(
        &mut self,
        sheet: &SheetPlan,
        rect: Rect,
        kerf: Length,
        used: &mut usize,
    ) -> Option<Holds> {
        let Some(cut) = sheet.cuts.iter().find(|c| c.of == rect) else {
            let here = |p: &&crate::model::Place| {
                p.at == [rect[0], rect[1]] && p.size == [rect[2] - rect[0], rect[3] - rect[1]]
            };
            return Some(
                (sheet.places.iter().find(here))
                    .map_or(Holds::Left, |p| Holds::Part(p.mark.clone())),
            );
        };
        let index = self.blocks.len();
        let mut block = Block {
            rect,
            across: cut.across,
            strips: Vec::new(),
            runs_off: false,
            kerf: cut.kerf.unwrap_or(kerf),
            own_kerf: cut.kerf,
            saw: cut.saw,
        };
        let mut ends = Vec::new();
        block.runs_off = !gather(sheet, &block, rect, used, &mut ends)?;
        self.blocks.push(block.clone());
        for (from, to) in ends {
            let mut inner = rect;
            let axis = usize::from(!block.across);
            (inner[axis], inner[axis + 2]) = (from, to);
            let holds = self.divide(sheet, inner, kerf, used)?;
            block.strips.push(Strip { from, to, holds });
        }
        self.blocks[index] = block;
        Some(Holds::Block(index))
    }
}

/// Collects the strips of a piece by following its cuts of one direction and saw. Some(false): the last cut runs off.
fn gather(
    sheet: &SheetPlan,
    block: &Block,
    rect: Rect,
    used: &mut usize,
    ends: &mut Vec<(Length, Length)>,
) -> Option<bool> {
    let axis = usize::from(!block.across);
    let (from, to) = (rect[axis], rect[axis + 2]);
    let alike = |c: &&crate::model::Cut| {
        c.of == rect && c.across == block.across && c.saw == block.saw && c.kerf == block.own_kerf
    };
    let Some(cut) = sheet.cuts.iter().find(alike) else {
        ends.push((from, to));
        return Some(true);
    };
    if cut.at <= from || cut.at >= to {
        return None;
    }
    *used += 1;
    let (mut low, mut high) = (rect, rect);
    low[axis + 2] = cut.at;
    high[axis] = cut.at + block.kerf;
    let before = (ends.len(), *used);
    if !gather(sheet, block, low, used, ends)? {
        // A cut that runs off inside the near side leaves more than a kerf to its neighbour: that side stays a piece of
        // its own.
        ends.truncate(before.0);
        *used = before.1;
        ends.push((from, cut.at));
    }
    if high[axis] >= to {
        return Some(false);
    }
    gather(sheet, block, high, used, ends)
}
