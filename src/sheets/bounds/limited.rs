//! The guillotine pattern of most weight where some types come no more often than there are pieces of them: the table of
//! `pricing` with counters (state space relaxation, Christofides & Hadjiconstantinou 1995; Velasco & Uchoa 2019 track
//! copies that were overused, as here).
//!
//! A cell keeps labels: how many pieces of each limit a block holds, and its weight; of two labels the one that holds no
//! less of any limit and weighs no more is dropped. Where no counted piece fits there is one label, so counters cost only
//! where they matter. A prime is now a label; the argument of `pricing` holds label by label.

use super::bound::{CopyLimitDraft, Tree};
use super::counted::{Counters, State};
use super::points::Grid;
use super::pricing::join;
use crate::sheets::instance::Instance;
use std::rc::Rc;

/// Most labels in a table. Default 6,000,000 (150 MB).
const LABELS: usize = 6_000_000;

/// The filled table.
pub(super) struct Limited {
    grid: Rc<Grid>,
    counters: Counters,
    labels: Vec<Label>,
    /// By row, column: where its labels stand.
    cells: Vec<(u32, u32)>,
    singles: Vec<Single>,
    sheet: Vec<(usize, usize)>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Single {
    y: usize,
    x: usize,
    weight: i32,
    state: State,
    kind: usize,
    way: usize,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Label {
    state: State,
    weight: i32,
}

/// A label that may stand first, and where it ends.
#[derive(Clone, Copy)]
struct Prime {
    at: i64,
    label: Label,
}

/// Came by a row of narrower blocks, or is held by a narrower cell.
const ROW: u8 = 1;
/// The same the other way.
const COLUMN: u8 = 2;

/// The best weight of each state in the cell at hand, and how it came.
struct Scratch {
    best: Vec<(i32, u8)>,
    touched: Vec<State>,
    kept: Vec<(Label, u8)>,
}

impl Scratch {
    #[inline]
    fn offer(&mut self, state: State, weight: i32, how: u8) {
        let slot = &mut self.best[state.index as usize];
        if slot.0 < 0 {
            self.touched.push(state);
        }
        if weight > slot.0 {
            *slot = (weight, how);
        } else if weight == slot.0 {
            slot.1 |= how;
        }
    }

    /// What is not dropped for another, heaviest first; then all is empty again.
    fn keep(&mut self, counters: &Counters) {
        let Self {
            best,
            touched,
            kept,
        } = self;
        kept.clear();
        touched.sort_unstable_by_key(|s| (std::cmp::Reverse(best[s.index as usize].0), s.index));
        for &state in touched.iter() {
            let (weight, how) = std::mem::replace(&mut best[state.index as usize], (-1, 0));
            // Of equal weight the lower number comes first, and what holds no more of anything has the lower number.
            let dropped = |k: &(Label, u8)| counters.within(k.0.state, state);
            if !kept.iter().any(dropped) {
                kept.push((Label { state, weight }, how));
            }
        }
        touched.clear();
    }
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
        let counters = Counters::new(limits)?;
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
            singles.push(Single {
                x,
                y,
                weight: i32::try_from(weights[kind]).ok()?,
                state: counters.one(limits.iter().position(|l| l.types.contains(&kind))),
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
        let nothing = Label {
            state: State::default(),
            weight: 0,
        };
        let mut table = Self {
            counters,
            labels: vec![nothing],
            cells: vec![(0, 1); grid.cells()],
            singles,
            sheet,
            grid,
        };
        table.fill(steps).then_some(table)
    }

    fn fill(&mut self, steps: &mut u64) -> bool {
        let (nx, ny) = (self.grid.xs.len(), self.grid.ys.len());
        let mut column_primes: Vec<Vec<Prime>> = vec![Vec::new(); nx];
        let mut row_primes: Vec<Prime> = Vec::new();
        let mut scratch = Scratch {
            best: vec![(-1, 0); self.counters.states],
            touched: Vec::new(),
            kept: Vec::new(),
        };
        let mut next_single = 0;
        for y in 1..ny {
            let high = self.grid.ys.at[y];
            row_primes.clear();
            let mut looked = 0;
            for (x, primes) in column_primes.iter_mut().enumerate().skip(1) {
                let wide = self.grid.xs.at[x];
                while let Some(s) = self.singles.get(next_single) {
                    if (s.y, s.x) > (y, x) {
                        break;
                    }
                    if (s.y, s.x) == (y, x) {
                        scratch.offer(s.state, s.weight, 0);
                    }
                    next_single += 1;
                }
                for l in self.at(x - 1, y) {
                    scratch.offer(l.state, l.weight, ROW);
                }
                for l in self.at(x, y - 1) {
                    scratch.offer(l.state, l.weight, COLUMN);
                }
                let row = |left: i64| self.at(self.grid.xs.floor(left), y);
                looked += self.beside(&row_primes, wide, row, ROW, &mut scratch);
                let column = |left: i64| self.at(x, self.grid.ys.floor(left));
                looked += self.beside(primes, high, column, COLUMN, &mut scratch);
                scratch.keep(&self.counters);
                looked += (scratch.kept.len() * scratch.kept.len() + 1) as u64;
                for &(label, how) in &scratch.kept {
                    if how & ROW == 0 {
                        row_primes.push(Prime { at: wide, label });
                    }
                    if how & COLUMN == 0 {
                        primes.push(Prime { at: high, label });
                    }
                }
                self.store(x, y, &scratch.kept);
            }
            if *steps < looked || self.labels.len() > LABELS {
                *steps = steps.saturating_sub(looked);
                return false;
            }
            *steps -= looked;
        }
        true
    }

    /// Offers every prime with what stands beside it in `length`; gives how many labels were looked at.
    fn beside<'s>(
        &'s self,
        primes: &[Prime],
        length: i64,
        other: impl Fn(i64) -> &'s [Label],
        how: u8,
        scratch: &mut Scratch,
    ) -> u64 {
        let mut looked = 0;
        let mut from = (0, &self.labels[..0]);
        for p in primes.iter().take_while(|p| 2 * p.at <= length) {
            if from.0 != p.at {
                from = (p.at, other(length - p.at));
            }
            looked += from.1.len() as u64;
            for l in from.1 {
                if let Some(state) = self.counters.sum(p.label.state, l.state) {
                    scratch.offer(state, p.label.weight + l.weight, how);
                }
            }
        }
        looked
    }

    /// The labels of a cell; the same as a neighbour's are kept once.
    fn store(&mut self, x: usize, y: usize, kept: &[(Label, u8)]) {
        let nx = self.grid.xs.len();
        let here = y * nx + x;
        let same = |cell: usize| {
            let labels = self.labels_of(self.cells[cell]);
            labels.len() == kept.len() && labels.iter().zip(kept).all(|(a, b)| *a == b.0)
        };
        if let Some(cell) = [here - 1, here - nx].into_iter().find(|c| same(*c)) {
            self.cells[here] = self.cells[cell];
            return;
        }
        let start = self.labels.len() as u32;
        self.labels.extend(kept.iter().map(|k| k.0));
        self.cells[here] = (start, self.labels.len() as u32);
    }

    fn labels_of(&self, (start, end): (u32, u32)) -> &[Label] {
        &self.labels[start as usize..end as usize]
    }

    fn at(&self, x: usize, y: usize) -> &[Label] {
        self.labels_of(self.cells[y * self.grid.xs.len() + x])
    }

    /// The most weight a sheet of each kind holds.
    pub(super) fn most(&self) -> Vec<i64> {
        let heaviest = |&(x, y): &(usize, usize)| self.at(x, y).first();
        let weight = |l: Option<&Label>| l.map_or(0, |l| i64::from(l.weight));
        self.sheet.iter().map(|s| weight(heaviest(s))).collect()
    }

    /// About how many steps it takes to read one pattern.
    pub(super) fn steps_to_read(&self) -> u64 {
        16 * (self.grid.xs.len() + self.grid.ys.len()) as u64
    }

    /// The best pattern of a kind, and others with another first cut that weigh at least `least`, the `most` best of them.
    pub(super) fn patterns(&self, kind: usize, least: i64, most: usize) -> Vec<Tree> {
        let (x, y) = self.sheet[kind];
        let (wide, high) = (self.grid.xs.at[x], self.grid.ys.at[y]);
        let mut cuts: Vec<(i32, bool, usize, usize, Label, Label)> = Vec::new();
        let mut look = |above: bool, first: usize, second: usize| {
            let parts = if above {
                [self.at(x, first), self.at(x, second)]
            } else {
                [self.at(first, y), self.at(second, y)]
            };
            let mut best: Option<(i32, Label, Label)> = None;
            for a in parts[0] {
                for b in parts[1] {
                    let weight = a.weight + b.weight;
                    if best.is_none_or(|b| b.0 < weight)
                        && self.counters.sum(a.state, b.state).is_some()
                    {
                        best = Some((weight, *a, *b));
                    }
                }
            }
            if let Some((weight, a, b)) = best.filter(|b| i64::from(b.0) >= least) {
                cuts.push((weight, above, first, second, a, b));
            }
        };
        for first in (1..x).take_while(|f| 2 * self.grid.xs.at[*f] <= wide) {
            look(
                false,
                first,
                self.grid.xs.floor(wide - self.grid.xs.at[first]),
            );
        }
        for first in (1..y).take_while(|f| 2 * self.grid.ys.at[*f] <= high) {
            look(
                true,
                first,
                self.grid.ys.floor(high - self.grid.ys.at[first]),
            );
        }
        cuts.sort_by(|a, b| b.0.cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
        let whole = self.at(x, y).first();
        let mut found: Vec<Tree> = whole
            .and_then(|l| self.best(x, y, *l))
            .into_iter()
            .collect();
        for (_, above, first, second, a, b) in cuts.into_iter().take(most) {
            let parts = if above {
                [self.best(x, first, a), self.best(x, second, b)]
            } else {
                [self.best(first, y, a), self.best(second, y, b)]
            };
            found.extend(join(above, parts));
        }
        found
    }

    /// The pattern of a label, found again by looking for what gives it.
    fn best(&self, x: usize, y: usize, label: Label) -> Option<Tree> {
        let (mut x, mut y) = (x, y);
        if label.weight == 0 {
            return None;
        }
        while self.at(x - 1, y).contains(&label) {
            x -= 1;
        }
        while self.at(x, y - 1).contains(&label) {
            y -= 1;
        }
        let is_it =
            |s: &&Single| (s.y, s.x, s.weight) == (y, x, label.weight) && s.state == label.state;
        if let Some(s) = self.singles.iter().find(is_it) {
            return Some(Tree::Piece {
                kind: s.kind,
                way: s.way,
            });
        }
        let (wide, high) = (self.grid.xs.at[x], self.grid.ys.at[y]);
        for first in (1..x).take_while(|f| 2 * self.grid.xs.at[*f] <= wide) {
            let second = self.grid.xs.floor(wide - self.grid.xs.at[first]);
            if let Some((a, b)) = self.pair(self.at(first, y), self.at(second, y), label) {
                return join(false, [self.best(first, y, a), self.best(second, y, b)]);
            }
        }
        for first in (1..y).take_while(|f| 2 * self.grid.ys.at[*f] <= high) {
            let second = self.grid.ys.floor(high - self.grid.ys.at[first]);
            if let Some((a, b)) = self.pair(self.at(x, first), self.at(x, second), label) {
                return join(true, [self.best(x, first, a), self.best(x, second, b)]);
            }
        }
        None
    }

    /// Two labels that make a third together.
    fn pair(&self, one: &[Label], other: &[Label], whole: Label) -> Option<(Label, Label)> {
        for a in one {
            // Lists go from heavy to light.
            let weight = whole.weight - a.weight;
            let from = other.partition_point(|b| b.weight > weight);
            let alike = other[from..].iter().take_while(|b| b.weight == weight);
            for b in alike {
                if self.counters.sum(a.state, b.state) == Some(whole.state) {
                    return Some((*a, *b));
                }
            }
        }
        None
    }
}
