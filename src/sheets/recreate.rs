//! Ruin and recreate: tear some pieces out, put everything missing back in another order, keep the result unless it is
//! clearly worse.
//!
//! The price is held below a limit throughout, so some pieces are always missing; what is made small is their area
//! (goal-driven search: Gardeyn & Wauters, EJOR 301 (2022)). A result is kept if it misses no more area than now, or than
//! some hundred steps ago (late acceptance: Burke & Bykov, EJOR 258 (2017)). When nothing is missing the limit drops.

use super::packing::{Blink, Packing};
use super::places::{SCORES, Score, takes};
use super::problem::{ORDERS, Price, Problem};
use super::ruin::Ruin;
use super::tree::Bin;
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;

/// How far back a result may be as bad as. [default: 200] [range: 1 to 2000; hardly matters]
const HISTORY: usize = 200;
/// Candidates overlooked on purpose, in a thousand. [default: 20] [range: 0 to 50]
const BLINK: u32 = 20;
/// How often pieces are ordered by area, in a thousand; else by one of the other rules. [default: 600] [range: 300 to 900]
const BY_AREA: u32 = 600;
/// How often the order is disturbed, in a thousand. [default: 100] [range: 0 to 300]
const DISTURBED: u32 = 100;

/// A search in progress.
pub(crate) struct Search<'a> {
    problem: &'a Problem,
    rng: Rng,
    now: Packing,
    /// The price must stay below this.
    limit: Price,
    history: Vec<i64>,
    turn: usize,
    // Undo: copies of the sheets that an iteration has touched, and the books before it.
    spare: Vec<Bin>,
    touched: Vec<usize>,
    is_touched: Vec<bool>,
    before: Books,
    ruin: Ruin,
    order: Vec<u32>,
}

#[derive(Default)]
struct Books {
    used: Vec<u32>,
    price: Price,
    absent: Vec<u32>,
    absent_area: i64,
}

impl<'a> Search<'a> {
    /// A search from a packing for one whose price is below `limit`.
    pub(crate) fn new(problem: &'a Problem, from: &Packing, limit: Price, rng: Rng) -> Self {
        let mut search = Self {
            problem,
            rng,
            now: from.clone(),
            limit,
            history: vec![0; HISTORY],
            turn: 0,
            spare: Vec::new(),
            touched: Vec::new(),
            is_touched: Vec::new(),
            before: Books::default(),
            ruin: Ruin::default(),
            order: Vec::new(),
        };
        for bin in &mut search.now.bins {
            bin.refresh(problem);
        }
        search.meet_limit();
        search
    }

    /// The state now: what it misses is missing.
    pub(crate) fn now(&self) -> &Packing {
        &self.now
    }

    /// Lowers the limit and gives up sheets until it is met.
    pub(crate) fn lower(&mut self, limit: Price) {
        self.limit = limit;
        self.meet_limit();
    }

    fn meet_limit(&mut self) {
        // How much money may be spent: below the limit's own where nothing in hand is left to save.
        let mut less = self.limit;
        if less.in_hand <= 0 {
            less.money = less.money.saturating_sub(1);
        }
        while self.now.price >= self.limit {
            // The sheet that costs most for what is on it.
            let worst = (0..self.now.bins.len())
                .filter(|b| !self.now.bins[*b].is_empty())
                .filter(|b| {
                    let saved = self.now.price_of_last(self.problem, self.now.bins[*b].kind);
                    saved.money > 0 || self.now.price.money <= less.money
                })
                .min_by_key(|b| {
                    let bin = &self.now.bins[*b];
                    let price = self.now.price_of_last(self.problem, bin.kind);
                    let worth = price.money.saturating_mul(1 << 10) / 100 + price.in_hand;
                    (i128::from(bin.filled) << 20) / i128::from(worth.max(1))
                });
            let Some(worst) = worst else { break };
            self.now.clear_bin(self.problem, worst);
        }
        self.history.fill(self.now.absent_area);
    }

    /// Searches until nothing is missing (true) or the budget is spent (false).
    pub(crate) fn run(&mut self, budget: &mut Budget) -> bool {
        while !self.now.is_whole() {
            if budget.is_empty() {
                return false;
            }
            budget.spend(self.step());
        }
        // Where nothing could be given up the limit is not met.
        self.now.price < self.limit
    }

    /// The same, and copies to `best` every state that misses less than it.
    pub(crate) fn run_keeping(&mut self, budget: &mut Budget, best: &mut Packing) -> bool {
        while !self.now.is_whole() && !budget.is_empty() {
            budget.spend(self.step());
            if self.now.absent_area < best.absent_area {
                best.clone_from(&self.now);
            }
        }
        self.now.is_whole() && self.now.price < self.limit
    }

    /// Tears out and puts back once, without deciding; gives the sheets that changed. [`Search::keep`] or
    /// [`Search::undo`] must follow. Gives up when more than `most` area is missing.
    pub(crate) fn attempt(&mut self, most: i64, steps: &mut u64) {
        *steps += 40;
        self.before.used.clone_from(&self.now.used);
        self.before.price = self.now.price;
        self.before.absent.clone_from(&self.now.absent);
        self.before.absent_area = self.now.absent_area;
        self.ruin();
        self.recreate(most, steps);
    }

    /// Positions of the sheets that the last attempt changed.
    pub(crate) fn changed(&self) -> &[usize] {
        &self.touched
    }

    /// The attempt stands.
    pub(crate) fn keep(&mut self) {
        self.touched.clear();
        self.is_touched.fill(false);
    }

    /// One iteration; gives the work steps it took.
    fn step(&mut self) -> u64 {
        let mut steps = 0;
        let slot = self.turn % HISTORY;
        self.turn += 1;
        let most = self.history[slot].max(self.now.absent_area);
        self.attempt(most, &mut steps);
        if self.now.absent_area <= most {
            self.keep();
        } else {
            self.undo();
        }
        if self.now.absent_area < self.history[slot] {
            self.history[slot] = self.now.absent_area;
        }
        steps
    }

    fn ruin(&mut self) {
        let mut ruin = std::mem::take(&mut self.ruin);
        ruin.choose(self.problem, &self.now, &mut self.rng);
        for n in 0..ruin.hits.len() {
            let bin = ruin.hits[n].bin;
            self.touch(bin);
            ruin.mark(n, &self.now.bins[bin]);
            let kind = self.now.bins[bin].kind;
            let Packing {
                bins,
                absent,
                absent_area,
                ..
            } = &mut self.now;
            bins[bin].remove(self.problem, &ruin.drop, &mut ruin.scratch, |item| {
                absent.push(item);
                *absent_area += self.problem.items[item as usize].area;
            });
            if bins[bin].is_empty() {
                self.now.closed(self.problem, kind);
            }
        }
        self.ruin = ruin;
    }

    fn touch(&mut self, bin: usize) {
        while self.spare.len() < self.now.bins.len() {
            self.spare.push(Bin::default());
        }
        self.is_touched.resize(self.now.bins.len(), false);
        if !self.is_touched[bin] {
            self.is_touched[bin] = true;
            self.touched.push(bin);
            self.spare[bin].clone_from(&self.now.bins[bin]);
        }
    }

    /// As it was before the attempt.
    pub(crate) fn undo(&mut self) {
        for bin in self.touched.drain(..) {
            self.is_touched[bin] = false;
            std::mem::swap(&mut self.spare[bin], &mut self.now.bins[bin]);
        }
        self.now.used.clone_from(&self.before.used);
        self.now.price = self.before.price;
        self.now.absent.clone_from(&self.before.absent);
        self.now.absent_area = self.before.absent_area;
    }

    /// Puts back what fits; gives up as soon as more than `most` area cannot be placed.
    fn recreate(&mut self, most: i64, steps: &mut u64) {
        let problem = self.problem;
        let mut order = std::mem::take(&mut self.order);
        order.clear();
        order.append(&mut self.now.absent);
        let rule = if self.rng.chance(BY_AREA) {
            0
        } else {
            self.rng.index(ORDERS)
        };
        order.sort_unstable_by_key(|t| problem.rank[rule][*t as usize]);
        if self.rng.chance(DISTURBED) {
            disturb(&mut order, &mut self.rng);
        }
        let score = SCORES[self.rng.index(SCORES.len())];
        let mut missing = 0;
        let mut unfit = u32::MAX;
        for (n, item) in order.iter().enumerate() {
            if *item != unfit && self.place(*item, score, steps) {
                self.now.absent_area -= problem.items[*item as usize].area;
                continue;
            }
            // Blinking aside, a copy of what has just found no place finds none either.
            unfit = *item;
            self.now.absent.push(*item);
            missing += problem.items[*item as usize].area;
            if missing > most {
                self.now.absent.extend_from_slice(&order[n + 1..]);
                break;
            }
        }
        self.order = order;
    }

    fn place(&mut self, item: u32, score: Score, steps: &mut u64) -> bool {
        let problem = self.problem;
        let mut blink = Blink {
            per_mille: BLINK,
            rng: &mut self.rng,
        };
        let all = 0..self.now.bins.len();
        let spot = self
            .now
            .best_spot(problem, all, item, score, Some(&mut blink), steps);
        if let Some(spot) = spot {
            self.touch(spot.bin);
            self.now.put(problem, item, &spot);
            *steps += 4 * self.now.bins[spot.bin].nodes.len() as u64;
            return true;
        }
        let Some(kind) = self.kind_to_open(item) else {
            return false;
        };
        let slot = self.now.free_slot();
        if slot < self.now.bins.len() {
            self.touch(slot);
        }
        let slot = self.now.open(problem, kind);
        if !self.is_touched.get(slot).copied().unwrap_or(false) {
            // A new slot: undoing leaves it empty.
            self.touch(slot);
            self.spare[slot].reset(problem, kind);
        }
        let second = self.rng.chance(500);
        let spot = self
            .now
            .spot_on_empty(problem, slot, item, second)
            .expect("a kind that takes the piece has a place for it when empty");
        self.now.put(problem, item, &spot);
        true
    }

    /// A kind that takes the piece and keeps the price below the limit: mostly the cheapest for its area.
    fn kind_to_open(&mut self, item: u32) -> Option<usize> {
        let problem = self.problem;
        let may = |k: usize, now: &Packing| {
            now.price_of_next(problem, k)
                .filter(|p| now.price.plus(*p) < self.limit)
                .filter(|_| takes(problem, k, &problem.items[item as usize]))
        };
        if problem.sheets.len() == 1 {
            return may(0, &self.now).map(|_| 0);
        }
        let mut best = None;
        let at_random = self.rng.chance(400);
        for k in 0..problem.sheets.len() {
            let Some(price) = may(k, &self.now) else {
                continue;
            };
            let key = if at_random {
                i128::from(self.rng.below(1 << 30))
            } else {
                (i128::from(price.money) << 40) / i128::from(problem.sheets[k].area.max(1))
            };
            if best.is_none_or(|(b, _)| key < b) {
                best = Some((key, k));
            }
        }
        best.map(|(_, k)| k)
    }
}

/// Swaps a few neighbours.
fn disturb(order: &mut [u32], rng: &mut Rng) {
    let n = order.len();
    if n < 2 {
        return;
    }
    for _ in 0..1 + rng.index(3) {
        let i = rng.index(n);
        let j = (i + 1 + rng.index(3)).min(n - 1);
        order.swap(i, j);
    }
}
