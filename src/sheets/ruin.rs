//! What an iteration tears out: subtrees around a piece, single pieces, now and then a whole sheet. While pieces are missing,
//! rather where there is something to gain: on the emptier of two sheets, around the piece with more free room, pieces like one that
//! is missing.

use super::packing::Packing;
use super::problem::Problem;
use super::tree::{Bin, Node};
use crate::solve::rng::Rng;

/// Sheets that are torn at, at most. [default: 4] [range: 2 to 8]
const SHEETS: u32 = 4;
/// Pieces torn out of all of them, at most. [default: 10] [range: 4 to 20]
const PIECES: u32 = 10;
/// How often a sheet is emptied, in a thousand. [default: 120] [range: 0 to 300]
const WHOLE: u32 = 120;
/// How often a subtree goes rather than single pieces, in a thousand. [default: 600] [range: 200 to 900]
const SUBTREE: u32 = 600;

/// How often the emptier of two sheets is taken rather than any, in a thousand. [default: 500] [range: 0 to 1000]
const EMPTIER: u32 = 500;
/// How often a subtree goes around the looser of two pieces rather than around any, in a thousand. [default: 700] [range: 0 to
/// 1000]
const LOOSER: u32 = 700;
/// How often single pieces that go are like a certain one, in a thousand: pieces of like size change places, and the room
/// beside them changes. [default: 300] [range: 0 to 1000]
const ALIKE: u32 = 300;

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
    /// Pieces are missing: what is torn out is to make room for them.
    seeking: bool,
    /// Size of the piece that single pieces are to be like.
    like: Option<(i32, i32)>,
}

impl Ruin {
    /// Chooses sheets and how each is torn at.
    pub(crate) fn choose(&mut self, problem: &Problem, packing: &Packing, rng: &mut Rng) {
        let bins = &packing.bins[..];
        self.hits.clear();
        self.like = None;
        // Where nothing is missing (the second aims) no place is better than another.
        self.seeking = !packing.absent.is_empty();
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
            if self.seeking && rng.chance(EMPTIER) {
                let other = rng.index(bins.len());
                if !bins[other].is_empty() && bins[other].filled < bins[bin].filled {
                    bin = other;
                }
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
        if self.seeking && rng.chance(ALIKE) {
            let missing = packing.absent[rng.index(packing.absent.len())];
            self.like = Some(problem.items[missing as usize].ways[0]);
            if rng.chance(500) {
                let bin = &bins[self.hits[0].bin];
                let nth = rng.below(bin.pieces) as usize;
                let leaf = bin.leaves().nth(nth).map(|at| &bin.nodes[at]);
                self.like = leaf.map(|n| (n.w, n.h));
            }
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
                if self.seeking && rng.chance(LOOSER) {
                    let other = self.leaves[rng.index(self.leaves.len())];
                    if free_room(&bin.nodes[other]) > free_room(&bin.nodes[at]) {
                        at = other;
                    }
                }
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
                    let at = match self.like {
                        None => Some(self.leaves[rng.index(self.leaves.len())]),
                        Some(size) => self.most_like(size, bin, &mut rng),
                    };
                    if let Some(at) = at {
                        self.drop[at] = true;
                    }
                }
            }
        }
    }

    /// The piece most like one of this size that does not go yet, give or take some luck.
    fn most_like(&self, (w, h): (i32, i32), bin: &Bin, rng: &mut Rng) -> Option<usize> {
        let stays = self.leaves.iter().filter(|at| !self.drop[**at]);
        stays.copied().min_by_key(|at| {
            let n = &bin.nodes[*at];
            let apart = i64::from((n.w - w).abs()) + i64::from((n.h - h).abs());
            apart * i64::from(8 + rng.below(16))
        })
    }
}

/// Area of a node's room that it does not need.
fn free_room(n: &Node) -> i64 {
    i64::from(n.room_w) * i64::from(n.room_h) - i64::from(n.w) * i64::from(n.h)
}
