//! Sheets so nearly full that no plan of a given number of sheets can do with much emptier ones, and a plan chosen among them.
//!
//! With weights that price a full sheet at `most`, all sheets of a plan together waste no more than what they hold beyond
//! the weight of all pieces. Where that is little, few sets of pieces are heavy enough to be a sheet of such a plan. They
//! are listed by growing blocks from smaller blocks, each kept only while it could still become one: what the rest of the
//! sheet may add is known from a table over any number of copies. A plan then is a choice of sets that covers all pieces
//! (`choice`; columns of small reduced cost by enumeration: Baldacci, Christofides & Mingozzi 2008). Search by moving pieces
//! misses such plans, for nothing that is nearly right is near them.

use super::bound::{Pattern, Tree};
use super::choice::{Chosen, Set, choose};
use super::dive::trim;
use super::points::Grid;
use super::pricing::{Priced, join};
use super::tallies::{Tallies, Tally};
use crate::sheets::instance::Instance;
use rustc_hash::FxHashMap;
use std::rc::Rc;

/// What a sheet of the list may waste, in shares of what all sheets waste on average; tried one after the other.
const SHARES: [i64; 4] = [3, 4, 6, 10];
/// `SHARES` count in parts of this.
const SHARE: i64 = 2;
/// Most labels of a list. Default 400,000 (30 MB).
const LABELS: usize = 400_000;
/// Labels of a rectangle that are held against each other; those beyond may be needless. Default 200.
const HELD: usize = 200;
/// Work steps of a pair of blocks.
const PAIR: u64 = 6;

/// True if the pieces are few enough for a list of full sheets.
pub(super) fn can_be_listed(instance: &Instance) -> bool {
    instance.kinds.len() == 1 && Tallies::new(instance.types.iter().map(|t| t.count)).is_some()
}

/// A plan on `sheets` sheets of the one kind there is, where it is found with `steps`. `worth`: weights of the types. `more`: steps to
/// be had once a list might hold a plan; what is left of both stays in place.
pub(crate) fn near_full(
    instance: &Instance,
    worth: &[i64],
    sheets: u32,
    steps: &mut u64,
    more: &mut u64,
) -> Option<Vec<Pattern>> {
    let [kind] = &instance.kinds[..] else {
        return None;
    };
    if sheets < 2 || kind.free > 0 || kind.buy < sheets {
        return None;
    }
    let each = worth.iter().zip(&instance.types);
    // What weighs nothing must be placed all the same.
    let weights: Vec<i64> = each
        .map(|(w, t)| if t.count > 0 { (*w).max(1) } else { 0 })
        .collect();
    let tallies = Tallies::new(instance.types.iter().map(|t| t.count))?;
    let wanted: Vec<bool> = instance.types.iter().map(|t| t.count > 0).collect();
    let grid = Rc::new(Grid::new(instance, &wanted)?);
    let table = Priced::new(instance, &weights, Rc::clone(&grid), steps)?;
    let most = table.most()[0];
    let each = instance.types.iter().zip(&weights);
    let total: i64 = each.map(|(t, w)| i64::from(t.count) * w).sum();
    let waste = i64::from(sheets) * most - total;
    if waste < 0 {
        return None;
    }
    let beside = outside(&table, &grid, steps)?;
    for share in SHARES {
        let may_waste = (waste / i64::from(sheets) * share / SHARE).min(waste);
        let mut list = List {
            instance,
            weights: &weights,
            tallies: &tallies,
            grid: &grid,
            beside: &beside,
            least: most - may_waste,
            labels: Vec::new(),
            cells: vec![(0, 0); grid.cells()],
            members: Vec::new(),
        };
        let sets = list.sets(table.cell(0)?, steps)?;
        let counts: Vec<u32> = instance.types.iter().map(|t| t.count).collect();
        let held = |label: &u32| -> Set {
            let counts = tallies.counts(list.labels[*label as usize].holds);
            let each = (0..).zip(counts);
            each.filter(|held| held.1 > 0).collect()
        };
        let held: Vec<Set> = sets.iter().map(held).collect();
        // A part of the steps: a longer list may be easier to choose from.
        let mut part = *steps / 4 * 3;
        *steps -= part;
        let left: Vec<u8> = counts.iter().map(|n| *n as u8).collect();
        let all = may_waste == waste || share == SHARES[SHARES.len() - 1];
        let found = choose(&held, (&left, sheets), all, &mut part);
        *steps += part;
        if let Chosen::Plan(chosen) = &found {
            let mut left = counts;
            let trees = chosen.iter().map(|n| {
                let tree = list.tree(sets[*n as usize])?;
                trim(&tree, &mut left)
            });
            let pattern = |tree| Pattern {
                kind: 0,
                tree,
                times: 1,
            };
            return Some(trees.flatten().map(pattern).collect());
        }
        if may_waste == waste {
            return None;
        }
        if found == Chosen::Stopped {
            *steps += std::mem::take(more);
        }
    }
    None
}

/// For every rectangle the most weight that what is cut off around it may hold; below 0 where it is never cut.
fn outside(table: &Priced, grid: &Grid, steps: &mut u64) -> Option<Vec<i32>> {
    let (nx, (fx, fy)) = (grid.xs.len(), table.cell(0)?);
    let mut out = vec![-1i32; grid.cells()];
    out[fy * nx + fx] = 0;
    for y in (1..=fy).rev() {
        let high = grid.ys.at[y];
        let mut looked = 0;
        for x in (1..=fx).rev() {
            let here = y * nx + x;
            if x < fx {
                out[here] = out[here].max(out[here + 1]);
            }
            if y < fy {
                out[here] = out[here].max(out[here + nx]);
            }
            let most = out[here];
            if most < 0 {
                continue;
            }
            let wide = grid.xs.at[x];
            for a in (1..x).take_while(|a| 2 * grid.xs.at[*a] <= wide) {
                let b = grid.xs.floor(wide - grid.xs.at[a]);
                let (first, second) = (y * nx + a, y * nx + b);
                out[first] = out[first].max(most + table.at(b, y));
                out[second] = out[second].max(most + table.at(a, y));
                looked += 1;
            }
            for a in (1..y).take_while(|a| 2 * grid.ys.at[*a] <= high) {
                let b = grid.ys.floor(high - grid.ys.at[a]);
                let (first, second) = (a * nx + x, b * nx + x);
                out[first] = out[first].max(most + table.at(x, b));
                out[second] = out[second].max(most + table.at(x, a));
                looked += 1;
            }
        }
        *steps = steps.checked_sub(2 * looked)?;
    }
    Some(out)
}

/// A block: what it holds, and how it is made.
#[derive(Clone, Copy)]
struct Label {
    holds: Tally,
    weight: i32,
    made: Made,
}

#[derive(Clone, Copy)]
enum Made {
    Piece(u32, u32),
    /// Of two labels, side by side or (true) one above the other.
    Of(bool, u32, u32),
}

/// A block that may stand first, and where it ends.
#[derive(Clone, Copy)]
struct Prime {
    at: i64,
    label: u32,
}

/// Came by a row of narrower blocks, or is held by a narrower rectangle; the same the other way.
const ROW: u8 = 1;
const COLUMN: u8 = 2;

struct List<'a> {
    instance: &'a Instance,
    weights: &'a [i64],
    tallies: &'a Tallies,
    grid: &'a Grid,
    /// What may lie beside each rectangle.
    beside: &'a [i32],
    /// A sheet of the list weighs so much.
    least: i64,
    labels: Vec<Label>,
    /// By row, column: where its labels stand in `members`, heaviest first.
    cells: Vec<(u32, u32)>,
    members: Vec<u32>,
}

/// What a rectangle may hold, as it is found.
type Found = FxHashMap<Tally, (i32, u8, Result<u32, Made>)>;

impl List<'_> {
    /// The labels of the whole sheet. `None`: too many, or too much work.
    fn sets(&mut self, (fx, fy): (usize, usize), steps: &mut u64) -> Option<Vec<u32>> {
        let nx = self.grid.xs.len();
        let mut column_primes: Vec<Vec<Prime>> = vec![Vec::new(); nx];
        let singles = self.singles();
        let mut found = Found::default();
        for y in 1..=fy {
            let mut row_primes: Vec<Prime> = Vec::new();
            let high = self.grid.ys.at[y];
            for (x, column) in column_primes.iter_mut().enumerate().take(fx + 1).skip(1) {
                let (here, wide) = (y * nx + x, self.grid.xs.at[x]);
                if self.beside[here] < 0 {
                    continue;
                }
                let least = self.least - i64::from(self.beside[here]);
                for (near, how) in [(here - 1, ROW), (here - nx, COLUMN)] {
                    for i in self.of(near) {
                        let l = self.labels[*i as usize];
                        if i64::from(l.weight) >= least {
                            found.entry(l.holds).or_insert((l.weight, 0, Ok(*i))).1 |= how;
                        }
                    }
                }
                for &(_, _, kind, way) in singles.iter().filter(|s| (s.0, s.1) == (x, y)) {
                    let weight = self.weights[kind as usize];
                    if weight >= least {
                        let holds = self.tallies.one(kind as usize);
                        let new = (weight as i32, 0, Err(Made::Piece(kind, way)));
                        found.entry(holds).or_insert(new);
                    }
                }
                let mut looked = 0;
                let cell = |left: i64| y * nx + self.grid.xs.floor(left);
                looked += self.join(&row_primes, (wide, least, false), cell, &mut found);
                let cell = |left: i64| self.grid.ys.floor(left) * nx + x;
                looked += self.join(column, (high, least, true), cell, &mut found);
                let kept = self.kept(&mut found);
                *steps = steps.checked_sub(PAIR * (looked + kept.len() as u64) + 2)?;
                let start = self.members.len() as u32;
                for (i, how) in kept {
                    self.members.push(i);
                    if how & ROW == 0 {
                        row_primes.push(Prime { at: wide, label: i });
                    }
                    if how & COLUMN == 0 {
                        column.push(Prime { at: high, label: i });
                    }
                }
                self.cells[here] = (start, self.members.len() as u32);
                if self.labels.len() > LABELS || self.members.len() > 16 * LABELS {
                    return None;
                }
            }
        }
        Some(self.of(fy * nx + fx).to_vec())
    }

    /// Where each piece stands alone: column, row, type, way.
    fn singles(&self) -> Vec<(usize, usize, u32, u32)> {
        let mut all = Vec::new();
        let types = self.instance.types.iter().enumerate();
        for (kind, t) in types.filter(|(_, t)| t.count > 0) {
            for (way, &(w, h)) in t.ways.iter().enumerate() {
                if let (Some(x), Some(y)) = (self.grid.xs.ceil(w), self.grid.ys.ceil(h)) {
                    all.push((x, y, kind as u32, way as u32));
                }
            }
        }
        all
    }

    fn of(&self, cell: usize) -> &[u32] {
        let (start, end) = self.cells[cell];
        &self.members[start as usize..end as usize]
    }

    /// Every prime with what stands beside it in a length; gives how many pairs were looked at.
    fn join(
        &self,
        primes: &[Prime],
        (length, least, above): (i64, i64, bool),
        cell: impl Fn(i64) -> usize,
        found: &mut Found,
    ) -> u64 {
        let mut looked = 0;
        let how = if above { COLUMN } else { ROW };
        for p in primes.iter().take_while(|p| 2 * p.at <= length) {
            let a = self.labels[p.label as usize];
            for i in self.of(cell(length - p.at)) {
                let b = self.labels[*i as usize];
                looked += 1;
                let weight = a.weight + b.weight;
                if i64::from(weight) < least {
                    break;
                }
                if let Some(holds) = self.tallies.sum(a.holds, b.holds) {
                    let new = (weight, 0, Err(Made::Of(above, p.label, *i)));
                    found.entry(holds).or_insert(new).1 |= how;
                }
            }
        }
        looked
    }

    /// What is not part of something else that the rectangle holds, heaviest first; `found` is empty again.
    fn kept(&mut self, found: &mut Found) -> Vec<(u32, u8)> {
        let mut all: Vec<_> = found.drain().collect();
        all.sort_unstable_by(|a, b| b.1.0.cmp(&a.1.0).then(a.0.cmp(&b.0)));
        let mut kept: Vec<(u32, u8)> = Vec::with_capacity(all.len());
        let mut held: Vec<Tally> = Vec::new();
        for (holds, (weight, how, made)) in all {
            if held.iter().any(|k| self.tallies.within(holds, *k)) {
                continue;
            }
            if held.len() < HELD {
                held.push(holds);
            }
            let i = made.unwrap_or_else(|made| {
                self.labels.push(Label {
                    holds,
                    weight,
                    made,
                });
                self.labels.len() as u32 - 1
            });
            kept.push((i, how));
        }
        kept
    }

    fn tree(&self, label: u32) -> Option<Tree> {
        match self.labels[label as usize].made {
            Made::Piece(kind, way) => Some(Tree::Piece {
                kind: kind as usize,
                way: way as usize,
            }),
            Made::Of(above, a, b) => join(above, [self.tree(a), self.tree(b)]),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::columns::count;
    use super::near_full;
    use crate::model::task::{PieceKind, SheetKind, SheetTask};
    use crate::model::{FirstCut, Grain, KeepRule};
    use crate::sheets::instance::Instance;
    use crate::solve::rng::Rng;
    use crate::units::Length;

    /// Sheets of 60 x 40 cut up to the last scrap: what is cut fits on so many sheets, and on no fewer.
    fn cut_up(sheets: u32, seed: u64) -> SheetTask {
        let mut rng = Rng::new(&[seed]);
        let mut sizes: Vec<(i64, i64)> = vec![(60, 40); sheets as usize];
        for _ in 0..6 * sheets {
            let n = rng.index(sizes.len());
            let (w, h) = sizes[n];
            let across = rng.index(2) == 0;
            let side = if across { w } else { h };
            if side < 10 {
                continue;
            }
            let at = 4 + rng.index(side as usize - 8) as i64;
            let (one, other) = if across {
                ((at, h), (w - at, h))
            } else {
                ((w, at), (w, h - at))
            };
            sizes[n] = one;
            sizes.push(other);
        }
        let mm = Length::mm;
        let piece = |(n, (w, h)): (usize, &(i64, i64))| PieceKind {
            mark: format!("P{n}"),
            count: 1,
            size: [mm(*w), mm(*h)],
            grain: Grain::Length,
            match_group: None,
        };
        SheetTask {
            kinds: vec![SheetKind {
                item: "SHEET".into(),
                rack: None,
                size: [mm(60), mm(40)],
                clean_edge: [Length::ZERO; 4],
                grain_along_y: false,
                cost: None,
                have: 0,
                at_most: None,
            }],
            pieces: sizes.iter().enumerate().map(piece).collect(),
            kerf: Length::ZERO,
            turns: None,
            first: FirstCut::Either,
            keep: KeepRule::default(),
            narrowest_safe_rip: Length::ZERO,
        }
    }

    /// Area as weight, and nothing to waste: every set must fill its sheet.
    #[test]
    fn sheets_that_were_cut_up_are_put_together_again() {
        for seed in 0..60 {
            let sheets = 2 + (seed % 4) as u32;
            let instance = Instance::new(&cut_up(sheets, seed));
            let area = |t: &crate::sheets::instance::Type| t.ways[0].0 * t.ways[0].1;
            let weights: Vec<i64> = instance.types.iter().map(area).collect();
            let mut steps = 200_000_000;
            let plan = near_full(&instance, &weights, sheets, &mut steps, &mut 0)
                .unwrap_or_else(|| panic!("job {seed} fits on {sheets}"));
            assert_eq!(plan.len(), sheets as usize);
            let mut placed = vec![0; instance.types.len()];
            for p in &plan {
                let mut holds = Vec::new();
                count(&p.tree, &mut holds);
                holds.iter().for_each(|(t, n)| placed[*t] += n);
            }
            let counts: Vec<u32> = instance.types.iter().map(|t| t.count).collect();
            assert_eq!(placed, counts, "job {seed}");
            // One sheet fewer would have to hold more than its area.
            assert!(near_full(&instance, &weights, sheets - 1, &mut steps, &mut 0).is_none());
        }
    }
}
