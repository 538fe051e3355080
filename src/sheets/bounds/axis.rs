//! One direction of a sheet: which sides of which pieces may lie along it, and the most weight that fits side by side.
//!
//! A conservative scale (Fekete & Schepers, "A general framework for bounds for higher-dimensional orthogonal packing
//! problems", 2004) gives each side a value so that no set of pieces that fits along the sheet has more value than F.
//! Here F is always worked out from the values by a knapsack in which each piece comes once, so any values will do.

use crate::sheets::instance::Instance;

/// Cells of a knapsack table before sides are rounded down to a coarser grid, which can only raise F. Default 8,192.
const CELLS: i64 = 8_192;

/// Which pieces lie how along one direction.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Axis {
    /// Length of each kind of sheet.
    pub caps: Vec<i64>,
    /// Distinct sides, ascending.
    pub sides: Vec<i64>,
    /// For each type that fits at all: its sides here (indices into `sides`) and its count.
    items: Vec<(Vec<usize>, u32)>,
    /// Grid of the knapsack table.
    grid: i64,
}

/// The ways of a type that fit at least one kind of sheet that exists.
pub(super) fn ways_that_fit(
    instance: &Instance,
    kind: usize,
) -> impl Iterator<Item = (i64, i64)> + '_ {
    let fits = |way: &(i64, i64)| {
        let mut kinds = instance.kinds.iter().filter(|k| k.free > 0 || k.buy > 0);
        kinds.any(|k| way.0 <= k.w && way.1 <= k.h)
    };
    instance.types[kind].ways.iter().copied().filter(fits)
}

impl Axis {
    /// Along the grain (`across` false) or across it.
    pub(super) fn new(instance: &Instance, across: bool) -> Self {
        let side = |way: (i64, i64)| if across { way.1 } else { way.0 };
        let of = |kind| ways_that_fit(instance, kind).map(side);
        let mut sides: Vec<i64> = (0..instance.types.len()).flat_map(of).collect();
        sides.sort_unstable();
        sides.dedup();
        let mut items = Vec::new();
        for (kind, t) in instance.types.iter().enumerate() {
            let mut here: Vec<usize> = of(kind)
                .map(|s| {
                    sides
                        .binary_search(&s)
                        .expect("every side was collected above")
                })
                .collect();
            here.sort_unstable();
            here.dedup();
            if !here.is_empty() {
                items.push((here, t.count));
            }
        }
        let usable = instance
            .kinds
            .iter()
            .map(|k| if across { k.h } else { k.w });
        let caps: Vec<i64> = usable.collect();
        let grid = caps.iter().max().map_or(1, |w| w / CELLS + 1);
        Self {
            caps,
            sides,
            items,
            grid,
        }
    }

    /// The longest sheet.
    pub(super) fn longest(&self) -> i64 {
        self.caps.iter().copied().max().unwrap_or(0)
    }

    /// True if the table is exact, not rounded to a coarser grid.
    pub(super) fn exact(&self) -> bool {
        self.grid == 1
    }

    /// Table cells one knapsack looks at: what it costs.
    pub(super) fn work(&self) -> u64 {
        let cells = (self.longest() / self.grid + 1).unsigned_abs();
        let rounds = self.items.iter().map(|(here, count)| {
            let least = (self.sides[here[0]] / self.grid).max(1).unsigned_abs();
            u64::from(*count).min(cells / least).max(1) * here.len() as u64
        });
        rounds.sum::<u64>() * cells
    }

    /// The least sides of the pieces within `low..=high`, ascending, each piece once.
    pub(super) fn least_within(&self, low: i64, high: i64) -> Vec<(i64, u32)> {
        let mut found: Vec<(i64, u32)> = Vec::new();
        for (here, count) in &self.items {
            let within = |s: &&usize| (low..=high).contains(&self.sides[**s]);
            if let Some(side) = here.iter().find(within) {
                found.push((self.sides[*side], *count));
            }
        }
        found.sort_unstable();
        found
    }

    /// By length c (on the table's grid): the most value of a set of pieces that fits into c, each piece once and each
    /// lying one way; sides in `without` are not used.
    fn table(&self, value: &[i64], without: Option<usize>) -> Vec<i64> {
        let cells = usize::try_from(self.longest() / self.grid + 1).unwrap_or(1);
        let (mut best, mut before) = (vec![0i64; cells], Vec::new());
        for (here, count) in &self.items {
            let options: Vec<(usize, i64)> = here
                .iter()
                .filter(|s| Some(**s) != without && value[**s] > 0)
                .map(|s| {
                    (
                        usize::try_from(self.sides[*s] / self.grid).unwrap_or(usize::MAX),
                        value[*s],
                    )
                })
                .filter(|(size, _)| *size < cells)
                .collect();
            let Some(least) = options.iter().map(|o| o.0.max(1)).min() else {
                continue;
            };
            if let [(size, value)] = options[..] {
                // Binary splitting: 1, 2, 4 .. copies at once reach every count.
                let mut left = (*count as usize).min((cells - 1) / least);
                let mut lump = 1;
                while left > 0 {
                    let take = lump.min(left);
                    add_one(
                        &mut best,
                        &mut before,
                        &[(size * take, value * take as i64)],
                    );
                    left -= take;
                    lump *= 2;
                }
            } else {
                for _ in 0..(*count as usize).min((cells - 1) / least) {
                    add_one(&mut best, &mut before, &options);
                }
            }
        }
        best
    }

    /// F for each kind of sheet.
    pub(super) fn most(&self, value: &[i64]) -> Vec<i64> {
        let table = self.table(value, None);
        let cell = |cap: &i64| table[usize::try_from(cap / self.grid).unwrap_or(0)];
        self.caps.iter().map(cell).collect()
    }

    /// Raises the values one side after the other as far as they go without raising F on the longest sheet; each lift
    /// sees the earlier ones (all at once would be wrong). Longest side first.
    pub(super) fn lift(&self, value: &mut [i64], most: i64) {
        let longest = self.longest();
        for side in (0..self.sides.len()).rev() {
            let size = self.sides[side];
            if size <= 0 || size > longest {
                continue;
            }
            let others = self.table(value, Some(side));
            // With j copies of this side, the rest of the sheet holds `others[longest - j size]`.
            let room = (1..=longest / size).map(|j| {
                let rest = usize::try_from((longest - j * size) / self.grid).unwrap_or(0);
                (most - others[rest]) / j
            });
            let up_to = room.min().unwrap_or(0);
            value[side] = value[side].max(up_to);
        }
    }
}

/// One more piece, lying one of the given ways or left out. `before` is a scratch copy, so that the loop has no aliasing.
fn add_one(best: &mut [i64], before: &mut Vec<i64>, options: &[(usize, i64)]) {
    before.clear();
    before.extend_from_slice(best);
    for &(size, value) in options {
        let reached = best.iter_mut().skip(size);
        for (cell, from) in reached.zip(before.iter()) {
            *cell = (*cell).max(from + value);
        }
    }
}
