//! A plan in the making: the best packing so far, the bound it is held against, and the ways to improve either.

use super::bounds::{self, Bound, Pool};
use super::groups;
use super::instance::Instance;
use super::packing::Packing;
use super::patterns;
use super::problem::{Price, Problem};
use super::recreate::Search;
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use crate::solve::threads;

/// The part of the steps of the linear bound that a complete search of a few pieces gets after it. [default: 10] [range: 4
/// to 100]
const TRIED: u64 = 10;

/// Most steps for lists of nearly full sheets, while none is promising: with so many they are too long, or done. A step
/// is dear here: twenty nanoseconds.
/// [default: 150,000,000] [range: 10,000,000 to 1,000,000,000]
const LISTED: u64 = 150_000_000;
/// Most steps for the same at the end of a dive. [default: 25,000,000] [range: 1,000,000 to 200,000,000]
const DIVE_END: u64 = 25_000_000;

/// A plan in the making.
pub(super) struct Course<'a> {
    pub(super) problem: &'a Problem,
    /// The same without the places that only single passes need.
    pub(super) quick: Problem,
    pub(super) instance: &'a Instance,
    pub(super) workers: usize,
    pub(super) best: Packing,
    pub(super) bound: Bound,
    pub(super) searched: u64,
    /// Money that is enough, where the question is only whether it is: the search ends at it, or at a bound above it.
    pub(super) aim: Option<i64>,
    /// Steps that promising lists of nearly full sheets got beyond their own.
    pub(super) listed: u64,
    /// What each type is worth, once the linear bound has said so.
    worth: Vec<i64>,
}

impl<'a> Course<'a> {
    pub(super) fn new(
        problem: &'a Problem,
        instance: &'a Instance,
        workers: usize,
        best: Packing,
        bound: Bound,
    ) -> Self {
        Self {
            problem,
            quick: Problem {
                standing: false,
                ..problem.clone()
            },
            instance,
            workers,
            best,
            bound,
            searched: 0,
            worth: Vec::new(),
            aim: None,
            listed: 0,
        }
    }

    /// Nothing cheaper is possible, or the question of the aim is answered.
    pub(super) fn is_settled(&self) -> bool {
        self.best.is_whole() && self.best.price.money <= self.enough().money || self.is_beyond_aim()
    }

    /// No plan meets the aim.
    pub(super) fn is_beyond_aim(&self) -> bool {
        self.aim
            .is_some_and(|aim| self.bound.cost > aim || self.bound.impossible)
    }

    pub(super) fn enough(&self) -> Price {
        Price {
            money: self.bound.cost.max(self.aim.unwrap_or(i64::MIN)),
            in_hand: i64::MAX,
        }
    }

    pub(super) fn take(&mut self, found: Packing) {
        if found.better_than(&self.best) {
            self.best = found;
            self.best.tidy();
        }
    }

    /// Ruin and recreate: two streams that start alike. Rounds at which neither has found anything only let each go on; after a find both
    /// start anew from the better of both. Once pieces have a worth, the second stream minds it.
    pub(super) fn search(&mut self, steps: u64, from: Option<&Packing>, seed: u64) {
        const ROUNDS: u64 = 4;
        let mut from = from.cloned();
        let problems = [self.quick.clone(), self.quick.weighed(&self.worth)];
        let mut streams: Vec<Option<Search>> = vec![None, None];
        for round in 0..ROUNDS {
            if self.is_settled() {
                return;
            }
            let enough = self.enough();
            let start = from.take().unwrap_or_else(|| self.best.clone());
            let best = &self.best;
            let jobs = streams.drain(..).zip(&problems).enumerate().collect();
            let done = threads::map(self.workers, jobs, |(nth, (stream, problem))| {
                let mut budget = Budget::new(steps / (2 * ROUNDS));
                let best = best.counted_for(problem);
                let mut stream = stream.unwrap_or_else(|| {
                    let limit = if best.is_whole() {
                        best.price.less_money()
                    } else {
                        Price::MOST
                    };
                    let rng = Rng::new(&[seed, round, nth as u64]);
                    Search::new(problem, &start.counted_for(problem), limit, rng)
                });
                let found = descend(&mut stream, best, enough, &mut budget);
                let found = found.map(|f| f.counted_for(&problems[0]));
                (stream, found, budget.spent())
            });
            let mut any = false;
            for (stream, found, spent) in done {
                self.searched += spent;
                streams.push(Some(stream));
                if let Some(found) = found {
                    any = true;
                    self.take(found);
                }
            }
            if any {
                streams = vec![None, None];
            }
        }
    }

    /// The linear bound, and plans rounded from its patterns. `listed`: more steps for promising lists of
    /// nearly full sheets; `dives`: for the plans, at most; `each`: for what the plans leave.
    pub(super) fn linear(&mut self, steps: u64, listed: u64, (dives, each): (u64, u64)) {
        let mut left = steps;
        let incumbent = if self.best.is_whole() {
            self.best.price.money
        } else {
            i64::MAX
        };
        let incumbent = incumbent.min(self.aim.map_or(i64::MAX, |aim| aim.saturating_add(1)));
        let known = patterns::of(&self.best);
        let out = bounds::lp(self.instance, &mut left, incumbent, known);
        self.searched += steps - left;
        self.bound = out.bound.or(self.bound.clone());
        self.worth = out.worth;
        self.near_full(&out.settled, (steps / 5).min(LISTED), listed);
        let end = (steps / 12).min(DIVE_END).min(dives / 4);
        self.dives(&out.pool, (left.min(dives), end), each);
        self.try_all(steps / TRIED);
    }

    /// Tries every way of laying some of the pieces, to show that nothing cheaper is possible.
    fn try_all(&mut self, steps: u64) {
        if self.is_settled() || !self.best.is_whole() {
            return;
        }
        let mut left = steps;
        let beyond_aim = self.aim.map_or(i64::MAX, |aim| aim.saturating_add(1));
        let price = self.best.price.money.min(beyond_aim);
        if let Some(bound) = bounds::exact(self.instance, &self.bound, price, &mut left) {
            self.bound = bound.or(self.bound.clone());
        }
        self.searched += steps - left;
    }

    /// Sheets that the best plan uses, less one.
    fn one_fewer(&self) -> u32 {
        self.best.used.iter().sum::<u32>().saturating_sub(1)
    }

    /// A plan on one sheet fewer, chosen among sheets that are nearly full.
    fn near_full(&mut self, weights: &[i64], steps: u64, more: u64) {
        let sheet = &self.problem.sheets[0];
        let free_to_cut = self.problem.turns == u8::MAX && sheet.first.is_none();
        if weights.is_empty() || self.is_settled() || !self.best.is_whole() || !free_to_cut {
            return;
        }
        let (mut left, mut unused) = (steps, more);
        let sheets = self.one_fewer();
        let found = bounds::near_full(self.instance, weights, sheets, &mut left, &mut unused);
        let spent = steps + more - unused - left;
        self.listed += spent.saturating_sub(steps);
        self.searched += spent;
        if let Some(patterns) = found {
            let mut budget = Budget::new(steps);
            let (packing, _) = patterns::packing(self.problem, &patterns, &mut budget);
            self.searched += budget.spent();
            self.take(packing);
        }
    }

    /// Plans rounded from patterns, each another way; the few sheets they leave are searched alone. `end`: steps for the
    /// end of one.
    fn dives(&mut self, pool: &Pool, (steps, end): (u64, u64), each: u64) {
        /// Two plans each: few that are thought out to their end bring more than many in haste.
        const ROUNDS: u64 = 2;
        if pool.is_empty() {
            return;
        }
        let aim = bounds::DiveAim {
            sheets: self.one_fewer(),
            steps: end,
        };
        for round in 0..ROUNDS {
            if self.is_settled() {
                return;
            }
            let (problem, quick, instance) = (self.problem, &self.quick, self.instance);
            let enough = self.enough();
            let found = threads::map(self.workers, vec![2 * round, 2 * round + 1], |nth| {
                let there = steps / (2 * ROUNDS) + aim.steps;
                let mut left = there;
                let dive = bounds::dive(instance, pool, nth, aim, &mut left);
                let mut budget = Budget::new(each / (2 * ROUNDS));
                let (mut found, first) = patterns::packing(problem, &dive.patterns, &mut budget);
                if !dive.hopeless {
                    // Steps of a search that cannot end well are saved.
                    groups::rest(quick, &mut found, first, enough, nth, &mut budget);
                }
                (found, there - left + budget.spent())
            });
            for (found, spent) in found {
                self.searched += spent;
                self.take(found);
            }
        }
    }
}

/// Goes down in price as long as the budget lasts; gives the best whole plan that beats `best`. Where not all pieces have found a place,
/// what misses least; `None` if that is no better.
fn descend(
    search: &mut Search,
    mut best: Packing,
    enough: Price,
    budget: &mut Budget,
) -> Option<Packing> {
    if !best.is_whole() {
        // Limits are tight: what matters is to place more.
        let missing = best.absent_area;
        search.run_keeping(budget, &mut best);
        return (best.absent_area < missing).then_some(best);
    }
    let mut found: Option<Packing> = None;
    while search.run(budget) {
        let mut packing = search.now().clone();
        packing.tidy();
        let price = packing.price;
        found = Some(packing);
        if price <= enough || price.money == 0 {
            break;
        }
        search.lower(price.less_money());
    }
    found
}
