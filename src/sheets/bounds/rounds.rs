//! The rounds of column generation: program, prices, tables, new patterns, until nothing improves any more.
//!
//! Where an exact table is large, quick ones over a thinned grid come first; the grid then learns from the patterns in use.

use super::columns::Generation;
use super::learned::Learned;
use super::points::Grid;
use crate::sheets::instance::Instance;
use std::rc::Rc;

/// Share of the best weights in the weights tried next. Default 0.5, range 0..=0.9.
const SMOOTH: f64 = 0.5;
/// Rectangles up to which tables for the bound are exact at once; beyond, quick ones come first. Default 400,000.
const FINE: usize = 400_000;
/// Points a side that the quick tables may grow to. Default 320, range 160..=1,000.
const LEARNED: usize = 320;
/// Smallest gain that counts as one.
pub(super) const TINY: f64 = 1e-6;

/// How a run of rounds ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum End {
    /// No pattern improves the program any more, or the bound cannot rise.
    Converged,
    /// The bound has met the aim.
    Met,
    /// Rounds or steps are used up.
    Stopped,
}

/// True if an exact table for the instance takes long.
pub(crate) fn tables_are_large(instance: &Instance) -> bool {
    let every = vec![true; instance.types.len()];
    Grid::new(instance, &every).is_none_or(|g| g.cells() > FINE)
}

impl Generation<'_> {
    /// Rounds until the program is solved, the bound is at least `aim` (a cost), or rounds or steps run out.
    pub(super) fn run(&mut self, aim: i64, rounds: u32, steps: &mut u64) -> End {
        if self.columns.is_empty() {
            let (center, none) = (
                self.center.clone(),
                vec![0.0; self.need.len() + 2 * self.instance.kinds.len()],
            );
            if self.round(&center, &none, steps).is_none() {
                return End::Stopped;
            }
        }
        let mut learn = true;
        for _ in 0..rounds {
            if self.bound.cost >= aim {
                return End::Met;
            }
            let Some((prices, value)) = self.program.solve(steps) else {
                return End::Stopped;
            };
            let prices = prices.to_vec();
            self.value = value;
            if !self.to_the_end && self.cannot_rise() {
                return End::Converged;
            }
            let types = self.need.len();
            let mix = |(p, c): (&f64, &f64)| (1.0 - SMOOTH) * p + SMOOTH * c;
            let smooth: Vec<f64> = prices[..types].iter().zip(&self.center).map(mix).collect();
            if !self.all_exact() {
                if learn {
                    self.learn();
                    learn = false;
                }
                match self.thin_round(&smooth, &prices, steps) {
                    Some(true) => continue,
                    Some(false) => {}
                    None => return End::Stopped,
                }
                match self.thin_round(&prices[..types], &prices, steps) {
                    Some(true) => continue,
                    Some(false) => {}
                    None => return End::Stopped,
                }
                if self.thin_counts() {
                    match self.thin_counted_round(&smooth, &prices, steps) {
                        Some(true) => continue,
                        Some(false) => {}
                        None => return End::Stopped,
                    }
                    match self.thin_counted_round(&prices[..types], &prices, steps) {
                        Some(true) => continue,
                        Some(false) => {}
                        None => return End::Stopped,
                    }
                }
            }
            learn = true;
            match self.round(&smooth, &prices, steps) {
                Some(true) => continue,
                Some(false) => {}
                None => return End::Stopped,
            }
            match self.round(&prices[..types], &prices, steps) {
                Some(true) => {}
                Some(false) => return End::Converged,
                None => return End::Stopped,
            }
        }
        End::Stopped
    }

    /// Gives the quick tables the points of the patterns that the program uses, the most used first.
    fn learn(&mut self) {
        let (used, _) = self.program.used();
        let Some((all, quick)) = &mut self.grids else {
            return;
        };
        if quick.cells() >= all.cells() {
            return;
        }
        let mut order: Vec<(usize, f64)> = (self.of.iter().copied().zip(used))
            .filter(|u| u.1 > TINY)
            .collect();
        order.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        for (pattern, _) in order {
            let mut learned = Learned::default();
            learned.of(self.instance, &self.columns[pattern].1);
            if let Some(grid) = learned.added(quick, LEARNED) {
                *quick = Rc::new(grid);
            }
        }
    }

    /// True if exact tables are quick enough.
    fn all_exact(&self) -> bool {
        self.limits.is_empty() && self.grids.as_ref().is_some_and(|g| g.0.cells() <= FINE)
    }

    /// True if counting copies over the thinned grid is less work than over the whole one.
    fn thin_counts(&self) -> bool {
        let less = |g: &(Rc<Grid>, Rc<Grid>)| g.1.cells() < g.0.cells();
        !self.limits.is_empty() && self.grids.as_ref().is_some_and(less)
    }

    /// Rounds until no pattern improves the program, whether or not the bound can rise by it: the weights are then as good as
    /// weights get.
    pub(super) fn settle(&mut self, rounds: u32, steps: &mut u64) {
        self.to_the_end = true;
        self.run(i64::MAX, rounds, steps);
        self.to_the_end = false;
    }

    /// Rounds of quick tables only: better columns for a plan, no word about the bound.
    pub(super) fn refine(&mut self, rounds: u32, steps: &mut u64) {
        for n in 0..rounds {
            let Some((prices, value)) = self.program.solve(steps) else {
                return;
            };
            let prices = prices.to_vec();
            self.value = value;
            if n == 0 {
                self.learn();
            }
            let types = self.need.len();
            if self.thin_round(&prices[..types], &prices, steps) != Some(true) {
                return;
            }
        }
    }

    /// True if the program's own value, which the bound cannot pass, rounds up to no more than is proved.
    pub(super) fn cannot_rise(&self) -> bool {
        let buyable: Vec<i64> = self
            .instance
            .kinds
            .iter()
            .filter(|k| k.buy > 0)
            .map(|k| k.cost)
            .collect();
        if let [cost] = buyable[..] {
            let sheets = (self.value * self.dearest / cost as f64 - TINY).ceil();
            return self.bound.cost as f64 >= sheets * cost as f64;
        }
        self.bound.cost as f64 >= self.value * self.dearest - TINY
    }
}
