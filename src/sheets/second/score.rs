//! What a plan is worth beside its price: the weights, and the sum of all sheets.

use super::tally::{self, Reading, Scratch, Tally};
use crate::model::KeepRule;
use crate::model::task::SheetTask;
use crate::sheets::instance::Instance;
use crate::sheets::places::{How, Place};
use crate::sheets::problem::Problem;
use crate::sheets::tree::{Bin, Dir};
use crate::units::Length;

/// Weight of a cut. [default: 100] [range: 0 to 300]
const CUT: i64 = 100;
/// Weight of a fence setting that no other sheet of the job uses. [default: 500] [range: 0 to 800]
const RIP_SETTING: i64 = 500;
/// Weight of a setting on each further sheet that uses it. [default: 50] [range: 0 to 200]
const RIP_AGAIN: i64 = 50;
/// Weight of a narrow rip from a piece that is itself narrow. [default: 300] [range: 0 to 1000]
const NARROW: i64 = 300;
/// Weight of the job's largest leftover worth keeping, for one whole sheet. More of it leaves the cuts
/// little room. [default: 40,000] [range: 5,000 to 100,000]
const LEFTOVER: i64 = 40_000;
/// Weight of all leftovers worth keeping, for one whole sheet. [default: 2,000] [range: 0 to 10,000]
const KEPT: i64 = 2_000;
/// What counts as narrow and what as worth keeping, in the search's units.
#[derive(Clone, Debug)]
pub(crate) struct Taste {
    /// Narrowest safe rip.
    pub narrow: i32,
    pub keep: KeepRule,
    pub unit: i64,
    pub kerf: i64,
    /// The direction of rips, by kind of sheet.
    pub rips: Vec<Dir>,
}

impl Taste {
    pub(crate) fn of(task: &SheetTask, instance: &Instance) -> Self {
        let unit = instance.unit.units();
        let narrow = (task.narrowest_safe_rip + task.kerf).units() / unit.max(1);
        Self {
            narrow: i32::try_from(narrow)
                .unwrap_or(i32::MAX / 4)
                .min(i32::MAX / 4),
            keep: task.keep,
            unit,
            kerf: task.kerf.units(),
            rips: (instance.kinds.iter())
                .map(|k| if k.transposed { Dir::Along } else { Dir::Down })
                .collect(),
        }
    }
}

impl Taste {
    /// True for a leftover of this size, a kerf included, that is worth keeping.
    pub(crate) fn keeps(&self, (w, h): (i32, i32)) -> bool {
        let real = |v: i32| Length::from_units(i64::from(v) * self.unit - self.kerf);
        self.keep.keeps(real(w), real(h))
    }
}

/// What one sheet adds.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Share {
    pub(super) weight: i64,
    /// Fence settings, each once.
    pub(super) rips: Vec<i32>,
    /// Largest leftover worth keeping, in thousandths of its sheet.
    pub(super) left: i64,
}

/// The score of a packing, kept up to date sheet by sheet.
pub(super) struct Score {
    pub(super) shares: Vec<Share>,
    /// Settings and on how many sheets each is used, by size.
    settings: Vec<(i32, u32)>,
    rips: i64,
    weight: i64,
}

impl Score {
    pub(super) fn new(scales: &mut Scales, bins: &[Bin]) -> Self {
        let mut score = Self {
            shares: Vec::new(),
            settings: Vec::new(),
            rips: 0,
            weight: 0,
        };
        for (i, bin) in bins.iter().enumerate() {
            score.set(i, scales.about(bin));
        }
        score
    }

    /// Replaces a sheet's share and gives the old one.
    pub(super) fn set(&mut self, bin: usize, new: Share) -> Share {
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

    pub(super) fn total(&self) -> i64 {
        let left = self.shares.iter().map(|s| s.left).max().unwrap_or(0);
        self.with_largest(left)
    }

    /// The total with this as the largest leftover.
    pub(super) fn with_largest(&self, left: i64) -> i64 {
        self.weight + self.rips - LEFTOVER * left / 1000
    }

    /// The largest leftover of all sheets but one.
    pub(super) fn largest_beside(&self, bin: usize) -> i64 {
        let others = self.shares.iter().enumerate().filter(|(i, _)| *i != bin);
        others.map(|(_, s)| s.left).max().unwrap_or(0)
    }
}

/// Reads sheets and weighs what is read.
pub(super) struct Scales<'a> {
    pub(super) problem: &'a Problem,
    pub(super) taste: &'a Taste,
    scratch: Scratch,
    pub(super) tally: Tally,
}

impl<'a> Scales<'a> {
    pub(super) fn new(problem: &'a Problem, taste: &'a Taste) -> Self {
        Self {
            problem,
            taste,
            scratch: Scratch::default(),
            tally: Tally::default(),
        }
    }

    pub(super) fn read(&mut self, bin: &Bin, trimmed: bool) {
        let sheet = &self.problem.sheets[bin.kind];
        let how = Reading {
            rip: self.taste.rips[bin.kind],
            narrow: self.taste.narrow,
            trimmed,
        };
        tally::read(bin, sheet.size, how, &mut self.scratch, &mut self.tally);
    }

    /// What is left of an area worth keeping, in thousandths of the sheet.
    fn worth(&self, kind: usize, (w, h): (i32, i32)) -> i64 {
        if !self.taste.keeps((w, h)) {
            return 0;
        }
        let (x, y) = self.problem.sheets[kind].size;
        i64::from(w) * i64::from(h) / (i64::from(x) * i64::from(y) / 1000).max(1)
    }

    fn share(&self, kind: usize) -> Share {
        let worth = |p: &(i32, i32)| self.worth(kind, *p);
        let sum: i64 = self.tally.left.iter().map(worth).sum();
        Share {
            weight: CUT * self.tally.cuts + NARROW * self.tally.slim - KEPT * sum / 1000,
            rips: self.tally.rips.clone(),
            left: self.tally.left.iter().map(worth).max().unwrap_or(0),
        }
    }

    /// What a sheet comes to with its leftovers in it.
    pub(super) fn with_leftovers(&mut self, bin: &Bin) -> Share {
        self.read(bin, false);
        self.share(bin.kind)
    }

    /// About what a sheet will come to, its leftovers not chosen yet.
    pub(super) fn about(&mut self, bin: &Bin) -> Share {
        if bin.is_empty() {
            return Share::default();
        }
        let trims = |p: &Place| p.how == How::Wrap && p.node == 0;
        let trimmed = bin.nodes[0].dir().is_some() && bin.places(self.problem).any(|p| trims(&p));
        self.read(bin, trimmed);
        let mut share = self.share(bin.kind);
        let room = bin.places(self.problem).filter(|p| p.exact == 0);
        let most = room.map(|p| self.worth(bin.kind, (p.w, p.h))).max();
        share.left = share.left.max(most.unwrap_or(0));
        share
    }
}
