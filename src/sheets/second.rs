//! Second aims: at the same price, a plan that is easier to cut and leaves more worth keeping.
//!
//! The same tearing out and putting back, but only results that place everything count, and what is made small is one
//! weighted sum of cuts, fence settings, narrow rips and (with a minus) the largest leftover.

use super::packing::Packing;
use super::problem::{Price, Problem};
use super::recreate::Search;
use super::tree::{Bin, Dir, Node};
use crate::model::KeepRule;
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use crate::units::Length;

/// Weight of a cut. [default: 100] [range: 0 to 300]
const CUT: i64 = 100;
/// Weight of a fence setting that no other sheet of the job uses. [default: 250] [range: 0 to 600]
const RIP_SETTING: i64 = 250;
/// Weight of a setting on each further sheet that uses it. [default: 40] [range: 0 to 200]
const RIP_AGAIN: i64 = 40;
/// Weight of a narrow rip from a piece that is itself narrow. [default: 300] [range: 0 to 1000]
const NARROW: i64 = 300;
/// Weight of the job's largest leftover worth keeping, for one whole sheet. [default: 20,000] [range: 5,000 to 50,000]
const LEFTOVER: i64 = 20_000;
/// How far back a result may be as bad as. [default: 50] [range: 1 to 500]
const HISTORY: usize = 50;

/// What counts as narrow and what as worth keeping, in the search's units.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Taste {
    /// Narrowest safe rip.
    pub narrow: i32,
    pub keep: KeepRule,
    pub unit: i64,
    pub kerf: i64,
}

/// What one sheet adds.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
struct Share {
    weight: i64,
    /// Fence settings, each once.
    rips: Vec<i32>,
    /// Largest leftover worth keeping, in thousandths of its sheet.
    left: i64,
}

/// The score of a packing, kept up to date sheet by sheet.
struct Score {
    shares: Vec<Share>,
    /// Settings and on how many sheets each is used, by size.
    settings: Vec<(i32, u32)>,
    rips: i64,
    weight: i64,
}

impl Score {
    fn new(problem: &Problem, taste: &Taste, bins: &[Bin]) -> Self {
        let mut score = Self {
            shares: Vec::new(),
            settings: Vec::new(),
            rips: 0,
            weight: 0,
        };
        for (i, bin) in bins.iter().enumerate() {
            score.set(i, share(problem, taste, bin));
        }
        score
    }

    /// Replaces a sheet's share and gives the old one.
    fn set(&mut self, bin: usize, new: Share) -> Share {
        if self.shares.len() <= bin {
            self.shares.resize(bin + 1, Share::default());
        }
        let old = std::mem::replace(&mut self.shares[bin], new);
        self.weight += self.shares[bin].weight - old.weight;
        for size in &old.rips {
            if let Ok(at) = self.settings.binary_search_by_key(size, |s| s.0) {
                self.settings[at].1 -= 1;
                self.rips -= RIP_AGAIN;
                if self.settings[at].1 == 0 {
                    self.rips -= RIP_SETTING - RIP_AGAIN;
                    self.settings.remove(at);
                }
            }
        }
        for size in &self.shares[bin].rips {
            match self.settings.binary_search_by_key(size, |s| s.0) {
                Ok(at) => {
                    self.settings[at].1 += 1;
                    self.rips += RIP_AGAIN;
                }
                Err(at) => {
                    self.settings.insert(at, (*size, 1));
                    self.rips += RIP_SETTING;
                }
            }
        }
        old
    }

    fn total(&self) -> i64 {
        let left = self.shares.iter().map(|s| s.left).max().unwrap_or(0);
        self.weight + self.rips - LEFTOVER * left / 1000
    }
}

/// Counts the cuts of a sheet as the tree gives them.
fn share(problem: &Problem, taste: &Taste, bin: &Bin) -> Share {
    let mut share = Share::default();
    if bin.is_empty() {
        return share;
    }
    let sheet = &problem.sheets[bin.kind];
    let cut = |dir: Dir, size: i32, of: i32, share: &mut Share| {
        if size >= of {
            return;
        }
        share.weight += CUT;
        if dir == Dir::Down {
            if let Err(at) = share.rips.binary_search(&size) {
                share.rips.insert(at, size);
            }
            if size < taste.narrow && of < 3 * taste.narrow {
                share.weight += NARROW;
            }
        }
    };
    for (i, node) in bin.nodes.iter().enumerate() {
        // The panel it is freed from: what its division measures across, and along, the room if it is the only one.
        let (dir, across) = if i == 0 {
            (Dir::Along, sheet.size.1)
        } else {
            let parent = &bin.nodes[node.parent as usize];
            let dir = parent.dir().unwrap_or(Dir::Along);
            let whole = if node.parent == 0 {
                match dir {
                    Dir::Along => sheet.size.1,
                    Dir::Down => sheet.size.0,
                }
            } else {
                parent.cross(dir)
            };
            (dir, whole)
        };
        let along = if i == 0 {
            sheet.size.0
        } else {
            run_of_panel(&bin.nodes, i, dir, sheet.size)
        };
        if i > 0 || node.is_leaf() {
            cut(dir, node.run(dir), along, &mut share);
        }
        if node.is_leaf() {
            cut(dir.other(), node.cross(dir), across, &mut share);
        }
    }
    let real = |v: i32| Length::from_units(i64::from(v) * taste.unit - taste.kerf);
    let area = i64::from(sheet.size.0) * i64::from(sheet.size.1);
    share.left = bin
        .places
        .iter()
        .filter(|p| p.exact == 0 && taste.keep.keeps(real(p.w), real(p.h)))
        .map(|p| i64::from(p.w) * i64::from(p.h) / (area / 1000).max(1))
        .max()
        .unwrap_or(0);
    share
}

/// What lies along the division from this member on: the last member of a division without room is freed by no cut.
fn run_of_panel(nodes: &[Node], i: usize, dir: Dir, sheet: (i32, i32)) -> i32 {
    let parent = nodes[i].parent as usize;
    let end = parent + nodes[parent].len as usize;
    let last = i + nodes[i].len as usize == end;
    if !last {
        return i32::MAX;
    }
    let whole = if parent == 0 {
        match dir {
            Dir::Along => sheet.0,
            Dir::Down => sheet.1,
        }
    } else {
        let above = nodes[parent].parent as usize;
        nodes[above].cross(dir.other()).max(nodes[parent].run(dir))
    };
    nodes[i].run(dir) + whole - nodes[parent].run(dir)
}

/// Looks for a plan at no higher price that suits better.
pub(crate) fn improve(
    problem: &Problem,
    taste: &Taste,
    packing: &mut Packing,
    rng: Rng,
    budget: &mut Budget,
) {
    if !packing.is_whole() || packing.bins.is_empty() {
        return;
    }
    let limit = packing.price.plus(Price {
        money: 0,
        in_hand: 1,
    });
    let mut search = Search::new(problem, packing, limit, rng);
    let mut score = Score::new(problem, taste, &search.now().bins);
    let mut now = score.total();
    let mut least = now;
    let mut history = [now; HISTORY];
    let mut turn = 0;
    let mut undo: Vec<(usize, Share)> = Vec::new();
    while !budget.is_empty() {
        let mut steps = 0;
        search.attempt(0, &mut steps);
        let slot = turn % HISTORY;
        turn += 1;
        if search.now().is_whole() {
            for bin in search.changed() {
                let bins = &search.now().bins;
                steps += 4 * bins[*bin].nodes.len() as u64;
                let old = score.set(*bin, share(problem, taste, &bins[*bin]));
                undo.push((*bin, old));
            }
            let new = score.total();
            if new <= now.max(history[slot]) {
                undo.clear();
                now = new;
                search.keep();
                if now < least {
                    least = now;
                    packing.clone_from(search.now());
                }
            } else {
                for (bin, old) in undo.drain(..).rev() {
                    score.set(bin, old);
                }
                search.undo();
            }
        } else {
            search.undo();
        }
        history[slot] = history[slot].min(now);
        budget.spend(steps);
    }
    packing.tidy();
}
