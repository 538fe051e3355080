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
        let lots = self.lots(value, without, cells);
        // Half as wide numbers go twice as fast through the same loop.
        let worth = lots.iter().map(|lot| lot.worth(cells));
        match worth.fold(0, i64::saturating_add) {
            0..=NARROW => table_of::<i32>(&lots, cells)
                .into_iter()
                .map(i64::from)
                .collect(),
            _ => table_of(&lots, cells),
        }
    }

    /// The pieces that fit and are worth something.
    fn lots(&self, value: &[i64], without: Option<usize>, cells: usize) -> Vec<Lot> {
        let each = self.items.iter().map(|(here, count)| {
            let there = here
                .iter()
                .filter(|s| Some(**s) != without && value[**s] > 0);
            let size = |s: usize| usize::try_from(self.sides[s] / self.grid).unwrap_or(usize::MAX);
            let mut options: Vec<(usize, i64)> = there.map(|s| (size(*s), value[*s])).collect();
            options.retain(|(size, _)| *size < cells);
            options.sort_unstable();
            let least = options.first().map_or(1, |o| o.0.max(1));
            let count = (*count as usize).min((cells - 1) / least);
            Lot { options, count }
        });
        each.filter(|lot| !lot.options.is_empty()).collect()
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

/// Most value of all pieces together that goes into the narrow table.
const NARROW: i64 = i32::MAX as i64;

/// Pieces that are alike.
struct Lot {
    /// Cells taken and value, by way; fewest cells first.
    options: Vec<(usize, i64)>,
    count: usize,
}

impl Lot {
    /// No more than this of it is ever in a table.
    fn worth(&self, cells: usize) -> i64 {
        let most = |&(size, value): &(usize, i64)| {
            let some = self.count.min(cells / size.max(1));
            value.saturating_mul(some as i64)
        };
        // A copy that lies the other way is counted with those of its way.
        self.options.iter().map(most).fold(0, i64::saturating_add)
    }
}

/// The knapsack table, in numbers of any width.
fn table_of<N: Number>(lots: &[Lot], cells: usize) -> Vec<N> {
    let mut best = vec![N::default(); cells];
    for lot in lots {
        if let [(size, value)] = lot.options[..] {
            // Binary splitting: 1, 2, 4 .. copies at once reach every count.
            let mut left = lot.count;
            let mut lump = 1;
            while left > 0 {
                let take = lump.min(left);
                add_one(&mut best, &[(size * take, N::of(value * take as i64))]);
                left -= take;
                lump *= 2;
            }
        } else {
            let each = lot.options.iter().map(|o| (o.0, N::of(o.1)));
            let options: Vec<(usize, N)> = each.collect();
            for _ in 0..lot.count {
                add_one(&mut best, &options);
            }
        }
    }
    best
}

/// One more piece, lying one of the given ways (fewest cells first) or left out. Runs of cells no longer than the piece are
/// done from the far end: what a run looks at lies before it, and is as it was.
fn add_one<N: Number>(best: &mut [N], options: &[(usize, N)]) {
    let longest_run = options.iter().map(|o| o.0).find(|size| *size > 0);
    let longest_run = longest_run.unwrap_or(best.len());
    let mut end = best.len();
    while end > 0 {
        let start = end.saturating_sub(longest_run);
        let (before, run) = best[..end].split_at_mut(start);
        for &(size, value) in options {
            if size == 0 {
                run.iter_mut().for_each(|cell| *cell = *cell + value);
                continue;
            }
            let skip = size.saturating_sub(start);
            let from = before.get(start + skip - size..).unwrap_or_default();
            for (cell, from) in run.iter_mut().skip(skip).zip(from) {
                *cell = (*cell).max(*from + value);
            }
        }
        end = start;
    }
}

/// What a table is made of.
trait Number: Copy + Default + Ord + std::ops::Add<Output = Self> {
    /// A value that is known to fit.
    fn of(value: i64) -> Self;
}

impl Number for i64 {
    fn of(value: i64) -> Self {
        value
    }
}

impl Number for i32 {
    fn of(value: i64) -> Self {
        Self::try_from(value).unwrap_or(Self::MAX)
    }
}
