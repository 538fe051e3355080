//! What an iteration tears out: subtrees around a piece, single pieces, now and then a whole sheet.

use super::tree::Bin;
use crate::solve::rng::Rng;

/// Sheets that are torn at, at most. [default: 4] [range: 2 to 8]
const SHEETS: u32 = 4;
/// Pieces torn out of all of them, at most. [default: 10] [range: 4 to 20]
const PIECES: u32 = 10;
/// How often a sheet is emptied, in a thousand. [default: 120] [range: 0 to 300]
const WHOLE: u32 = 120;
/// How often a subtree goes rather than single pieces, in a thousand. [default: 600] [range: 200 to 900]
const SUBTREE: u32 = 600;

/// One sheet to be torn at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Hit {
    pub bin: usize,
    pieces: u32,
    way: Way,
    seed: u64,
}

#[derive(Clone, Copy, Debug)]
enum Way {
    All,
    Subtree,
    Pieces,
}

/// The choice, and marks for the sheet at hand.
#[derive(Default)]
pub(crate) struct Ruin {
    pub hits: Vec<Hit>,
    /// By position on the sheet: goes.
    pub drop: Vec<bool>,
    pub scratch: Vec<u16>,
    leaves: Vec<usize>,
}

impl Ruin {
    /// Chooses sheets and how each is torn at.
    pub(crate) fn choose(&mut self, bins: &[Bin], rng: &mut Rng) {
        self.hits.clear();
        let filled = bins.iter().filter(|b| !b.is_empty()).count() as u32;
        if filled == 0 {
            return;
        }
        let sheets = 1 + rng.below(SHEETS.min(filled));
        let mut pieces = 1 + rng.below(PIECES);
        for left in (1..=sheets).rev() {
            let mut bin = rng.index(bins.len());
            while bins[bin].is_empty() {
                bin = (bin + 1) % bins.len();
            }
            if self.hits.iter().any(|h| h.bin == bin) {
                continue;
            }
            let share = pieces.div_ceil(left).max(1);
            pieces -= share.min(pieces);
            let way = if rng.chance(WHOLE) {
                Way::All
            } else if rng.chance(SUBTREE) {
                Way::Subtree
            } else {
                Way::Pieces
            };
            self.hits.push(Hit {
                bin,
                pieces: share,
                way,
                seed: rng.next_u64(),
            });
        }
    }

    /// Marks in `drop` what goes from the sheet of hit `n`.
    pub(crate) fn mark(&mut self, n: usize, bin: &Bin) {
        let hit = self.hits[n];
        self.drop.clear();
        self.leaves.clear();
        self.leaves.extend(bin.leaves());
        let mut rng = Rng::new(&[hit.seed]);
        match hit.way {
            Way::All => self.drop.resize(bin.nodes.len(), true),
            Way::Subtree => {
                self.drop.resize(bin.nodes.len(), false);
                let mut at = self.leaves[rng.index(self.leaves.len())];
                // Up while the subtree stays about as small as asked for.
                while at > 0 {
                    let parent = bin.nodes[at].parent as usize;
                    if u32::from(bin.nodes[parent].len) > hit.pieces + hit.pieces / 2 + 1 {
                        break;
                    }
                    at = parent;
                }
                let end = at + bin.nodes[at].len as usize;
                self.drop[at..end].fill(true);
            }
            Way::Pieces => {
                self.drop.resize(bin.nodes.len(), false);
                for _ in 0..hit.pieces {
                    let at = self.leaves[rng.index(self.leaves.len())];
                    self.drop[at] = true;
                }
            }
        }
    }
}
