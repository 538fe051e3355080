//! From parts of sticks to whole ones: fix what the programme is surest of, solve again for the rest, and come back to
//! other choices a few times near the top (limited discrepancy search, Harvey & Ginsberg 1995).

use super::columns::{Pool, Relaxed, Way, relax};
use super::fill::{fill, push, tighten};
use super::reduce::{Filling, Reduced, Used};

/// Most discrepancies a dive is allowed, range 0 to about 8: each one more multiplies the dives.
const MOST_DISCREPANCIES: u32 = 6;

/// What a dive carries along.
pub(super) struct Diver<'a> {
    r: &'a Reduced,
    /// Patterns seen.
    pub pool: Pool,
    /// Steps left.
    pub budget: u64,
    /// Best whole plan so far.
    pub best: Filling,
    /// No plan costs less: stop there.
    floor: i64,
}

impl<'a> Diver<'a> {
    /// Starts from a whole plan.
    pub(super) fn new(r: &'a Reduced, best: Filling, pool: Pool, floor: i64, budget: u64) -> Self {
        Self {
            r,
            pool,
            budget,
            best,
            floor,
        }
    }

    fn done(&self) -> bool {
        self.budget == 0 || (self.best.cost(self.r) <= self.floor && self.whole())
    }

    fn whole(&self) -> bool {
        self.best.missing.iter().all(|m| *m == 0)
    }

    /// Dives with more and more discrepancies until the floor is met or the budget spent.
    pub(super) fn search(&mut self, root: &Relaxed) {
        let demand = self.r.counts();
        let limits: Vec<u32> = self.r.classes.iter().map(|c| c.limit).collect();
        for discrepancies in 0..=MOST_DISCREPANCIES {
            self.dive(
                &demand,
                &limits,
                &mut Vec::new(),
                0,
                discrepancies,
                Some(root),
            );
            if self.done() {
                break;
            }
        }
    }

    fn dive(
        &mut self,
        demand: &[u32],
        limits: &[u32],
        fixed: &mut Vec<Used>,
        spent: i64,
        discrepancies: u32,
        known: Option<&Relaxed>,
    ) {
        if self.done() {
            return;
        }
        let own;
        let relaxed = if let Some(k) = known {
            k
        } else {
            let Some(x) = relax(self.r, demand, limits, &mut self.pool, &mut self.budget) else {
                self.budget = 0;
                return;
            };
            own = x;
            &own
        };
        let bound = spent.saturating_add(relaxed.proof.cost);
        if self.whole() && bound >= self.best.cost(self.r) {
            return;
        }
        self.try_filling(demand, limits, fixed);
        if self.done() {
            return;
        }
        let depth = fixed.len();
        let sure: Vec<(Way, u32)> = (relaxed.used.iter())
            .filter(|(_, x)| *x > 0.999)
            .map(|(w, x)| (w.clone(), (x + 0.001) as u32))
            .collect();
        if !sure.is_empty() {
            let (mut d, mut l, mut s) = (demand.to_vec(), limits.to_vec(), spent);
            for (way, times) in &sure {
                s += self.fix(way, *times, &mut d, &mut l, fixed);
            }
            if fixed.len() > depth {
                self.dive(&d, &l, fixed, s, discrepancies, None);
            }
            fixed.truncate(depth);
            return;
        }
        let mut choices: Vec<&(Way, f64)> = relaxed.used.iter().collect();
        choices.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        for (rank, (way, _)) in choices.iter().enumerate().take(discrepancies as usize + 1) {
            let (mut d, mut l) = (demand.to_vec(), limits.to_vec());
            let s = spent + self.fix(way, 1, &mut d, &mut l, fixed);
            self.dive(&d, &l, fixed, s, discrepancies - rank as u32, None);
            fixed.truncate(depth);
            if self.done() {
                return;
            }
        }
    }

    /// Takes sticks of a way off what is left; what they cost.
    fn fix(
        &self,
        way: &Way,
        times: u32,
        demand: &mut [u32],
        limits: &mut [u32],
        fixed: &mut Vec<Used>,
    ) -> i64 {
        let (mut cost, mut times) = (0, times.min(limits[way.0]));
        while times > 0 {
            let pattern: Vec<(usize, u32)> = (way.1.iter())
                .map(|(i, n)| (*i, (*n).min(demand[*i])))
                .filter(|(_, n)| *n > 0)
                .collect();
            let Some(copies) = pattern.iter().map(|(i, n)| demand[*i] / n).min() else {
                break;
            };
            let lot = copies.min(times);
            for (i, n) in &pattern {
                demand[*i] -= n * lot;
            }
            if limits[way.0] != u32::MAX {
                limits[way.0] -= lot;
            }
            times -= lot;
            cost += self.r.classes[way.0].cost * i64::from(lot);
            fixed.push(Used {
                class: way.0,
                pattern,
                times: lot,
            });
        }
        cost
    }

    /// Fills what is left quickly and keeps the whole if it is the best so far.
    fn try_filling(&mut self, demand: &[u32], limits: &[u32], fixed: &[Used]) {
        let rest = fill(self.r, demand, limits);
        self.budget = self.budget.saturating_sub(2_000 * rest.used.len() as u64);
        let mut used = Vec::new();
        for u in fixed.iter().chain(&rest.used) {
            push(&mut used, u.class, u.pattern.clone(), u.times);
        }
        let mut whole = Filling {
            used,
            missing: rest.missing,
        };
        tighten(self.r, &self.r.limits(), &mut whole);
        if whole.rank(self.r) < self.best.rank(self.r) {
            self.best = whole;
        }
    }
}
