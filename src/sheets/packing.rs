//! A set of sheets with pieces on them, what it costs, and what is not on it yet.
//!
//! Keeps the books (sheets used of each kind, price, absent pieces) while sheets open, fill and empty; decides nothing
//! except which place on the open sheets scores best.

use super::places::{self, Place, Score};
use super::problem::{Price, Problem};
use super::tree::{Bin, Node};
use crate::solve::rng::Rng;

/// Sheets, and what is not on them.
#[derive(PartialEq, Eq, Debug, Default)]
pub(crate) struct Packing {
    /// Open sheets; a sheet without pieces counts as not used and may change its kind.
    pub bins: Vec<Bin>,
    /// How many of each kind hold something.
    pub used: Vec<u32>,
    /// What they cost.
    pub price: Price,
    /// Types of the pieces not placed.
    pub absent: Vec<u32>,
    /// Their area.
    pub absent_area: i64,
}

// By hand, so that copying reuses memory.
impl Clone for Packing {
    fn clone(&self) -> Self {
        let mut to = Self::default();
        to.clone_from(self);
        to
    }
    fn clone_from(&mut self, from: &Self) {
        self.bins.clone_from(&from.bins);
        self.used.clone_from(&from.used);
        self.price = from.price;
        self.absent.clone_from(&from.absent);
        self.absent_area = from.absent_area;
    }
}

/// Where a piece would go.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Spot {
    pub bin: usize,
    pub place: Place,
    pub second_way: bool,
}

/// How many candidates in a thousand are overlooked on purpose.
pub(crate) struct Blink<'a> {
    pub per_mille: u32,
    pub rng: &'a mut Rng,
}

impl Packing {
    /// Nothing placed.
    pub(crate) fn empty(problem: &Problem) -> Self {
        let absent: Vec<u32> = problem
            .counts
            .iter()
            .enumerate()
            .flat_map(|(t, n)| std::iter::repeat_n(t as u32, *n as usize))
            .collect();
        Self {
            bins: Vec::new(),
            used: vec![0; problem.sheets.len()],
            price: Price::default(),
            absent_area: absent.iter().map(|t| problem.items[*t as usize].area).sum(),
            absent,
        }
    }

    /// What one more sheet of a kind would cost; `None` if there is none left.
    pub(crate) fn price_of_next(&self, problem: &Problem, kind: usize) -> Option<Price> {
        let sheet = &problem.sheets[kind];
        if self.used[kind] < sheet.free.min(sheet.limit) {
            Some(sheet.from_hand)
        } else if self.used[kind] < sheet.limit {
            Some(sheet.bought)
        } else {
            None
        }
    }

    /// What taking one sheet of a kind away would save.
    pub(crate) fn price_of_last(&self, problem: &Problem, kind: usize) -> Price {
        let sheet = &problem.sheets[kind];
        if self.used[kind] <= sheet.free {
            sheet.from_hand
        } else {
            sheet.bought
        }
    }

    /// Opens a sheet; it must hold something at once, for the books count it as used from here on.
    pub(crate) fn open(&mut self, problem: &Problem, kind: usize) -> usize {
        let price = self
            .price_of_next(problem, kind)
            .expect("the caller has asked for the price of this kind");
        let slot = self.free_slot();
        if slot == self.bins.len() {
            self.bins.push(Bin::new(problem, kind));
        } else {
            self.bins[slot].reset(problem, kind);
        }
        self.price = self.price.plus(price);
        self.used[kind] += 1;
        slot
    }

    /// Position that the next opened sheet takes.
    pub(crate) fn free_slot(&self) -> usize {
        self.bins
            .iter()
            .position(Bin::is_empty)
            .unwrap_or(self.bins.len())
    }

    /// Counts a sheet that has just lost its last piece as not used.
    pub(crate) fn closed(&mut self, problem: &Problem, kind: usize) {
        self.price = self.price.minus(self.price_of_last(problem, kind));
        self.used[kind] -= 1;
    }

    /// Takes the pieces of a sheet away.
    pub(crate) fn clear_bin(&mut self, problem: &Problem, bin: usize) {
        let b = &mut self.bins[bin];
        if b.is_empty() {
            return;
        }
        let kind = b.kind;
        self.absent_area += b.filled;
        self.absent
            .extend(b.nodes.iter().filter(|n| n.is_leaf()).map(|n| n.piece().0));
        b.reset(problem, kind);
        self.closed(problem, kind);
    }

    /// The best place for a type among the open sheets. Adds the places looked at to `steps`.
    pub(crate) fn best_spot(
        &mut self,
        problem: &Problem,
        bins: std::ops::Range<usize>,
        item: u32,
        score: Score,
        blink: Option<&mut Blink<'_>>,
        steps: &mut u64,
    ) -> Option<Spot> {
        // One copy of the loops for each score.
        let all = (bins, blink, steps);
        match score {
            Score::Area => self.best_by(problem, item, all, |p, s| Score::Area.of(p, s)),
            Score::Side => self.best_by(problem, item, all, |p, s| Score::Side.of(p, s)),
            Score::Mismatch => self.best_by(problem, item, all, |p, s| Score::Mismatch.of(p, s)),
            Score::MismatchAndArea => {
                self.best_by(problem, item, all, |p, s| Score::MismatchAndArea.of(p, s))
            }
        }
    }

    fn best_by(
        &mut self,
        problem: &Problem,
        item: u32,
        (bins, mut blink, steps): (std::ops::Range<usize>, Option<&mut Blink<'_>>, &mut u64),
        score: impl Fn(&Place, (i32, i32)) -> i64,
    ) -> Option<Spot> {
        let mut best: Option<Spot> = None;
        let mut least = i64::MAX;
        let piece = &problem.items[item as usize];
        let ways = &piece.ways[..if piece.turns { 2 } else { 1 }];
        let first = bins.start;
        let mut looked = 0;
        for (n, b) in self.bins[bins].iter_mut().enumerate() {
            looked += 1;
            if b.is_empty() || b.is_hopeless(item) {
                continue;
            }
            let mut hopeless = true;
            for (second, way) in ways.iter().enumerate() {
                if way.0 > b.widest || way.1 > b.tallest {
                    continue;
                }
                looked += b.rooms.len() as u64 / 2;
                hopeless &= b.scan(problem, *way, |place| {
                    let s = score(&place, *way);
                    let blinks = |b: &mut &mut Blink<'_>| b.rng.chance(b.per_mille);
                    if s < least && !blink.as_mut().is_some_and(blinks) {
                        least = s;
                        best = Some(Spot {
                            bin: first + n,
                            place,
                            second_way: second == 1,
                        });
                    }
                });
            }
            if hopeless {
                b.note_hopeless(item);
            }
        }
        *steps += looked;
        best.filter(|s| self.bins[s.bin].takes_more())
    }

    /// Puts a piece at a spot. It must have been taken off the absent list by the caller.
    pub(crate) fn put(&mut self, problem: &Problem, item: u32, spot: &Spot) {
        let size = problem.items[item as usize].ways[usize::from(spot.second_way)];
        self.bins[spot.bin].insert(problem, spot.place, Node::leaf(item, spot.second_way, size));
    }

    /// The first spot on a sheet just opened; `None` if the kind does not take the piece.
    pub(crate) fn spot_on_empty(
        &self,
        problem: &Problem,
        bin: usize,
        item: u32,
        second_way_first: bool,
    ) -> Option<Spot> {
        spot_on(problem, &self.bins[bin], item, second_way_first).map(|(place, second_way)| Spot {
            bin,
            place,
            second_way,
        })
    }

    /// The same plan in the books of another problem, whose pieces differ in what they count only.
    pub(crate) fn counted_for(&self, problem: &Problem) -> Self {
        let area = |t: u32| problem.items[t as usize].area;
        let mut packing = self.clone();
        for bin in &mut packing.bins {
            let leaves = bin.nodes.iter().filter(|n| n.is_leaf());
            bin.filled = leaves.map(|n| area(n.piece().0)).sum();
        }
        packing.absent_area = packing.absent.iter().map(|t| area(*t)).sum();
        packing
    }

    /// Drops empty slots.
    pub(crate) fn tidy(&mut self) {
        self.bins.retain(|b| !b.is_empty());
    }

    /// True if this packing is better: fewer pieces missing (by area), then cheaper.
    pub(crate) fn better_than(&self, other: &Self) -> bool {
        (self.absent_area, self.price) < (other.absent_area, other.price)
    }

    /// Nothing is missing.
    pub(crate) fn is_whole(&self) -> bool {
        self.absent.is_empty()
    }
}

fn spot_on(
    problem: &Problem,
    bin: &Bin,
    item: u32,
    second_way_first: bool,
) -> Option<(Place, bool)> {
    let item = &problem.items[item as usize];
    let ways: &[bool] = match (item.turns, second_way_first) {
        (false, _) => &[false],
        (true, false) => &[false, true],
        (true, true) => &[true, false],
    };
    ways.iter().find_map(|second| {
        bin.places(problem)
            .find(|p| places::fits(p, item.ways[usize::from(*second)]))
            .map(|p| (p, *second))
    })
}
