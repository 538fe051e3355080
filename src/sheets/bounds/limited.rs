//! The guillotine pattern of most weight where some types come no more often than there are pieces of them: the table of
//! `pricing` with a counter for each limit (state space relaxation, Christofides & Hadjiconstantinou 1995; Velasco &
//! Uchoa 2019 track copies that were overused, as here).
//!
//! A state is how many pieces of each limit may be used at most, all counters in one number. A prime is now a block and
//! the state it needs; the argument of `pricing` holds state by state.

use super::bound::{CopyLimitDraft, Tree};
use super::points::Grid;
use super::pricing::join;
use crate::sheets::instance::Instance;
use std::rc::Rc;

/// Most numbers in a table (cells times states). Default 12,000,000 (96 MB).
const NUMBERS: usize = 12_000_000;

/// The filled table.
pub(super) struct Limited {
    grid: Rc<Grid>,
    /// How many states there are.
    states: usize,
    /// For each state: the states that may stand beside it, with their sum.
    pairs: Vec<Vec<(u16, u16)>>,
    /// For each state those with one counter one lower.
    lower: Vec<Vec<u16>>,
    /// By row, column, state.
    rows: Vec<i32>,
    /// By column, row, state.
    columns: Vec<i32>,
    singles: Vec<Single>,
    sheet: Vec<(usize, usize)>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Single {
    y: usize,
    x: usize,
    weight: i32,
    state: u16,
    kind: usize,
    way: usize,
}

#[derive(Clone, Copy)]
struct Prime {
    at: i64,
    weight: i32,
    state: u16,
}

/// States that limits make.
pub(super) fn states(limits: &[CopyLimitDraft]) -> usize {
    limits
        .iter()
        .fold(1, |n, l| n.saturating_mul(l.most as usize + 1))
}

impl Limited {
    /// As `Priced::new`, with limits.
    pub(super) fn new(
        instance: &Instance,
        weights: &[i64],
        limits: &[CopyLimitDraft],
        grid: Rc<Grid>,
        steps: &mut u64,
    ) -> Option<Self> {
        let states = states(limits);
        let numbers = grid.cells().checked_mul(states)?;
        if numbers > NUMBERS || states > usize::from(u16::MAX) {
            return None;
        }
        let types = instance.types.iter().enumerate();
        let pieces = types.filter(|(i, _)| weights[*i] > 0).flat_map(|(i, t)| {
            let ways = t.ways.iter().enumerate();
            ways.map(move |(way, &(w, h))| (w, h, i, way))
        });
        let (xs, ys) = (&grid.xs, &grid.ys);
        let mut singles = Vec::new();
        for (w, h, kind, way) in pieces {
            let (Some(x), Some(y)) = (xs.ceil(w), ys.ceil(h)) else {
                continue;
            };
            let mut unit = 1;
            let mut state = 0;
            for l in limits {
                state += if l.types.contains(&kind) { unit } else { 0 };
                unit *= l.most as usize + 1;
            }
            singles.push(Single {
                x,
                y,
                weight: i32::try_from(weights[kind]).ok()?,
                state: state as u16,
                kind,
                way,
            });
        }
        singles.sort_unstable();
        let sheet = instance
            .kinds
            .iter()
            .map(|k| (xs.floor(k.w), ys.floor(k.h)))
            .collect();
        let mut table = Self {
            states,
            pairs: pairs(limits, states),
            lower: lower_states(limits, states),
            rows: vec![0; numbers],
            columns: vec![0; numbers],
            singles,
            sheet,
            grid,
        };
        table.fill(steps).then_some(table)
    }

    fn fill(&mut self, steps: &mut u64) -> bool {
        let (nx, ny, n) = (self.grid.xs.len(), self.grid.ys.len(), self.states);
        let mut column_primes: Vec<Vec<Prime>> = vec![Vec::new(); nx];
        let mut row_primes: Vec<Prime> = Vec::new();
        let (mut single, mut beside, mut above) = (vec![0i32; n], vec![0i32; n], vec![0i32; n]);
        let mut next_single = 0;
        for y in 1..ny {
            let high = self.grid.ys.at[y];
            row_primes.clear();
            let mut looked = 0u64;
            for (x, primes) in column_primes.iter_mut().enumerate().skip(1) {
                let wide = self.grid.xs.at[x];
                single.fill(0);
                beside.fill(0);
                above.fill(0);
                while let Some(s) = self
                    .singles
                    .get(next_single)
                    .filter(|s| (s.y, s.x) <= (y, x))
                {
                    if (s.y, s.x) == (y, x) {
                        for &(_, sum) in &self.pairs[usize::from(s.state)] {
                            let cell = &mut single[usize::from(sum)];
                            *cell = (*cell).max(s.weight);
                        }
                    }
                    next_single += 1;
                }
                let row = &self.rows[y * nx * n..];
                for p in row_primes.iter().take_while(|p| 2 * p.at <= wide) {
                    let from = self.grid.xs.floor(wide - p.at) * n;
                    combine(&mut beside, p, &row[from..from + n], &self.pairs);
                    looked += n as u64;
                }
                let column = &self.columns[x * ny * n..];
                for p in primes.iter().take_while(|p| 2 * p.at <= high) {
                    let from = self.grid.ys.floor(high - p.at) * n;
                    combine(&mut above, p, &column[from..from + n], &self.pairs);
                    looked += n as u64;
                }
                looked += n as u64;
                let (here, left, below) = (
                    (y * nx + x) * n,
                    (y * nx + x - 1) * n,
                    ((y - 1) * nx + x) * n,
                );
                for s in 0..n {
                    let (narrower, lower_row) = (self.rows[left + s], self.rows[below + s]);
                    let best = single[s]
                        .max(beside[s])
                        .max(above[s])
                        .max(narrower)
                        .max(lower_row);
                    self.rows[here + s] = best;
                    self.columns[(x * ny + y) * n + s] = best;
                    // A state that gains nothing over a smaller one needs no prime of its own.
                    let mut lower = self.lower[s].iter();
                    if lower.any(|l| self.rows[here + usize::from(*l)] == best) {
                        continue;
                    }
                    let state = s as u16;
                    if best > beside[s].max(narrower) {
                        row_primes.push(Prime {
                            at: wide,
                            weight: best,
                            state,
                        });
                    }
                    if best > above[s].max(lower_row) {
                        primes.push(Prime {
                            at: high,
                            weight: best,
                            state,
                        });
                    }
                }
            }
            if *steps < looked {
                *steps = 0;
                return false;
            }
            *steps -= looked;
        }
        true
    }

    fn at(&self, x: usize, y: usize, s: usize) -> i32 {
        self.rows[(y * self.grid.xs.len() + x) * self.states + s]
    }

    /// The most weight a sheet of each kind holds.
    pub(super) fn most(&self) -> Vec<i64> {
        let full = self.states - 1;
        self.sheet
            .iter()
            .map(|&(x, y)| i64::from(self.at(x, y, full)))
            .collect()
    }

    /// The best pattern of a kind, and others with another first cut that weigh at least `least`.
    pub(super) fn patterns(&self, kind: usize, least: i64, most: usize) -> Vec<Tree> {
        let (x, y) = self.sheet[kind];
        let full = self.states - 1;
        let mut cuts: Vec<(i32, bool, usize, usize, u16, u16)> = Vec::new();
        let (wide, high) = (self.grid.xs.at[x], self.grid.ys.at[y]);
        for s in 0..self.states {
            // Only splits that share out every counter.
            let Some(&(other, _)) = self.pairs[s].iter().find(|p| usize::from(p.1) == full) else {
                continue;
            };
            let rest = usize::from(other);
            for first in (1..x).take_while(|f| 2 * self.grid.xs.at[*f] <= wide) {
                let second = self.grid.xs.floor(wide - self.grid.xs.at[first]);
                let weight = self.at(first, y, s) + self.at(second, y, rest);
                cuts.push((weight, false, first, second, s as u16, other));
            }
            for first in (1..y).take_while(|f| 2 * self.grid.ys.at[*f] <= high) {
                let second = self.grid.ys.floor(high - self.grid.ys.at[first]);
                let weight = self.at(x, first, s) + self.at(x, second, rest);
                cuts.push((weight, true, first, second, s as u16, other));
            }
        }
        cuts.retain(|c| i64::from(c.0) >= least);
        cuts.sort_by(|a, b| b.0.cmp(&a.0).then((a.1, a.2, a.4).cmp(&(b.1, b.2, b.4))));
        let mut found: Vec<Tree> = self.best(x, y, full).into_iter().collect();
        for (_, above, first, second, s, rest) in cuts.into_iter().take(most) {
            let (s, rest) = (usize::from(s), usize::from(rest));
            let parts = if above {
                [self.best(x, first, s), self.best(x, second, rest)]
            } else {
                [self.best(first, y, s), self.best(second, y, rest)]
            };
            found.extend(join(above, parts));
        }
        found
    }

    fn best(&self, x: usize, y: usize, state: usize) -> Option<Tree> {
        let (mut x, mut y) = (x, y);
        let weight = self.at(x, y, state);
        if weight == 0 {
            return None;
        }
        while self.at(x - 1, y, state) == weight {
            x -= 1;
        }
        while self.at(x, y - 1, state) == weight {
            y -= 1;
        }
        let within = |s: &&Single| (s.y, s.x, s.weight) == (y, x, weight);
        let allowed = |s: &&Single| {
            self.pairs[usize::from(s.state)]
                .iter()
                .any(|p| usize::from(p.1) == state)
        };
        if let Some(s) = self.singles.iter().filter(within).find(allowed) {
            return Some(Tree::Piece {
                kind: s.kind,
                way: s.way,
            });
        }
        let (wide, high) = (self.grid.xs.at[x], self.grid.ys.at[y]);
        for s in 0..self.states {
            let Some(rest) = self.pairs[s]
                .iter()
                .find(|p| usize::from(p.1) == state)
                .map(|p| usize::from(p.0))
            else {
                continue;
            };
            for first in (1..x).take_while(|f| 2 * self.grid.xs.at[*f] <= wide) {
                let second = self.grid.xs.floor(wide - self.grid.xs.at[first]);
                if self.at(first, y, s) + self.at(second, y, rest) == weight {
                    return join(false, [self.best(first, y, s), self.best(second, y, rest)]);
                }
            }
            for first in (1..y).take_while(|f| 2 * self.grid.ys.at[*f] <= high) {
                let second = self.grid.ys.floor(high - self.grid.ys.at[first]);
                if self.at(x, first, s) + self.at(x, second, rest) == weight {
                    return join(true, [self.best(x, first, s), self.best(x, second, rest)]);
                }
            }
        }
        None
    }
}

fn combine(into: &mut [i32], prime: &Prime, other: &[i32], pairs: &[Vec<(u16, u16)>]) {
    for &(rest, sum) in &pairs[usize::from(prime.state)] {
        let cell = &mut into[usize::from(sum)];
        *cell = (*cell).max(prime.weight + other[usize::from(rest)]);
    }
}

/// For each state the states with one counter one lower.
fn lower_states(limits: &[CopyLimitDraft], states: usize) -> Vec<Vec<u16>> {
    let of = |state: usize| {
        let mut unit = 1;
        let mut lower = Vec::new();
        for l in limits {
            let n = l.most as usize + 1;
            if !(state / unit).is_multiple_of(n) {
                lower.push((state - unit) as u16);
            }
            unit *= n;
        }
        lower
    };
    (0..states).map(of).collect()
}

/// For each state the states whose counters fit beside it, with the sum.
fn pairs(limits: &[CopyLimitDraft], states: usize) -> Vec<Vec<(u16, u16)>> {
    let fits = |mut a: usize, mut b: usize| {
        limits.iter().all(|l| {
            let n = l.most as usize + 1;
            let sum = a % n + b % n;
            (a, b) = (a / n, b / n);
            sum < n
        })
    };
    (0..states)
        .map(|a| {
            (0..states)
                .filter(|b| fits(a, *b))
                .map(|b| (b as u16, (a + b) as u16))
                .collect()
        })
        .collect()
}
