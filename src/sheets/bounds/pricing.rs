//! The guillotine pattern of most weight, any number of copies, exactly: dynamic programming over raster points
//! (Beasley 1985; Cintra, Miyazawa, Wakabayashi & Xavier 2008).
//!
//! F(x, y) is the most weight a rectangle x by y holds. A rectangle cut across x is a row of blocks that are not
//! themselves cut across x; put the narrowest first. Such a block matters only where it beats every narrower rectangle
//! of the same height and every row of blocks of its own width: there it is *prime*. Only primes are tried as the first
//! block, which leaves a few dozen cuts of several hundred. The same holds across y.

use super::bound::Tree;
use super::points::Grid;
use crate::sheets::instance::Instance;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Most cells of a table. Default 8,000,000 (64 MB).
const CELLS: usize = 8_000_000;

/// The filled table.
pub(super) struct Priced {
    grid: Rc<Grid>,
    /// By row (y), then x.
    rows: Vec<i32>,
    /// The same by column.
    columns: Vec<i32>,
    /// Single pieces with a weight: (x index, y index, weight, type, way), by y then x then weight.
    singles: Vec<Single>,
    /// Cell of each kind of sheet.
    sheet: Vec<Option<(usize, usize)>>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Single {
    y: usize,
    x: usize,
    weight: i32,
    kind: usize,
    way: usize,
}

/// A block that may stand first: where it ends and what it holds.
#[derive(Clone, Copy)]
struct Prime {
    at: i64,
    weight: i32,
}

impl Priced {
    /// Fills the table for the given weights (sum of any pattern below 2^30: see `columns`). Every type with a weight must
    /// have been wanted when the grid was made; over a thinned one the patterns are right, what a sheet holds may be more.
    /// Spends `steps`; `None` if the table would be too large or steps run out.
    pub(super) fn new(
        instance: &Instance,
        weights: &[i64],
        grid: Rc<Grid>,
        steps: &mut u64,
    ) -> Option<Self> {
        let cells = grid.cells();
        if cells > CELLS || cells as u64 > *steps {
            return None;
        }
        let types = instance.types.iter().enumerate();
        let pieces = types.filter(|(i, _)| weights[*i] > 0).flat_map(|(i, t)| {
            let ways = t.ways.iter().enumerate();
            ways.map(move |(way, &(w, h))| (w, h, i, way))
        });
        let (xs, ys) = (&grid.xs, &grid.ys);
        let mut singles: Vec<Single> = pieces
            .filter_map(|(w, h, kind, way)| {
                Some(Single {
                    x: xs.ceil(w)?,
                    y: ys.ceil(h)?,
                    weight: i32::try_from(weights[kind]).ok()?,
                    kind,
                    way,
                })
            })
            .collect();
        singles.sort_unstable();
        let sheet = instance
            .kinds
            .iter()
            .map(|k| Some((xs.floor(k.w), ys.floor(k.h))));
        let mut table = Self {
            sheet: sheet.collect(),
            rows: vec![0; cells],
            columns: vec![0; cells],
            singles,
            grid,
        };
        table.fill(steps).then_some(table)
    }

    fn fill(&mut self, steps: &mut u64) -> bool {
        let (nx, ny) = (self.grid.xs.len(), self.grid.ys.len());
        let mut column_primes: Vec<Vec<Prime>> = vec![Vec::new(); nx];
        let mut row_primes: Vec<Prime> = Vec::new();
        let mut next_single = 0;
        for y in 1..ny {
            let high = self.grid.ys.at[y];
            row_primes.clear();
            let mut looked = nx;
            let row_start = y * nx;
            let (done, rest) = self.rows.split_at_mut(row_start);
            let (below, row) = (&done[row_start - nx..], &mut rest[..nx]);
            for x in 1..nx {
                let wide = self.grid.xs.at[x];
                let mut single = 0;
                while let Some(s) = self
                    .singles
                    .get(next_single)
                    .filter(|s| (s.y, s.x) <= (y, x))
                {
                    if (s.y, s.x) == (y, x) {
                        single = single.max(s.weight);
                    }
                    next_single += 1;
                }
                // Side by side: first block a prime of this row.
                let mut beside = 0;
                for p in &row_primes {
                    if 2 * p.at > wide {
                        break;
                    }
                    beside = beside.max(p.weight + row[self.grid.xs.floor(wide - p.at)]);
                    looked += 1;
                }
                let column = &self.columns[x * ny..x * ny + y];
                let mut above = 0;
                for p in &column_primes[x] {
                    if 2 * p.at > high {
                        break;
                    }
                    above = above.max(p.weight + column[self.grid.ys.floor(high - p.at)]);
                    looked += 1;
                }
                let (narrower, lower) = (row[x - 1], below[x]);
                let best = single.max(beside).max(above).max(narrower).max(lower);
                row[x] = best;
                self.columns[x * ny + y] = best;
                if best > beside.max(narrower) {
                    row_primes.push(Prime {
                        at: wide,
                        weight: best,
                    });
                }
                if best > above.max(lower) {
                    column_primes[x].push(Prime {
                        at: high,
                        weight: best,
                    });
                }
            }
            if *steps < looked as u64 {
                *steps = 0;
                return false;
            }
            *steps -= looked as u64;
        }
        true
    }

    /// Cell of a kind of sheet: along x, along y.
    pub(super) fn cell(&self, kind: usize) -> Option<(usize, usize)> {
        self.sheet.get(kind).copied().flatten()
    }

    /// The most weight a rectangle holds.
    pub(super) fn at(&self, x: usize, y: usize) -> i32 {
        self.rows[y * self.grid.xs.len() + x]
    }

    /// The most weight a sheet of each kind holds.
    pub(super) fn most(&self) -> Vec<i64> {
        let most =
            |cell: &Option<(usize, usize)>| cell.map_or(0, |(x, y)| i64::from(self.at(x, y)));
        self.sheet.iter().map(most).collect()
    }

    /// About how many steps it takes to read one pattern: every cut of it is looked for.
    pub(super) fn steps_to_read(&self) -> u64 {
        4 * (self.grid.xs.len() + self.grid.ys.len()) as u64
    }

    /// The best pattern of a kind, and others with another first cut that weigh at least `least`; best first.
    pub(super) fn patterns(&self, kind: usize, least: i64, most: usize) -> Vec<Tree> {
        let Some(Some((x, y))) = self.sheet.get(kind).copied() else {
            return Vec::new();
        };
        let (wide, high) = (self.grid.xs.at[x], self.grid.ys.at[y]);
        let mut cuts: Vec<(i32, bool, usize, usize)> = Vec::new();
        for first in (1..x).take_while(|f| 2 * self.grid.xs.at[*f] <= wide) {
            let second = self.grid.xs.floor(wide - self.grid.xs.at[first]);
            cuts.push((self.at(first, y) + self.at(second, y), false, first, second));
        }
        for first in (1..y).take_while(|f| 2 * self.grid.ys.at[*f] <= high) {
            let second = self.grid.ys.floor(high - self.grid.ys.at[first]);
            cuts.push((self.at(x, first) + self.at(x, second), true, first, second));
        }
        cuts.retain(|c| i64::from(c.0) >= least);
        cuts.sort_by(|a, b| b.0.cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
        let best = self.best(x, y);
        let mut found: Vec<Tree> = best.into_iter().collect();
        for (_, across, first, second) in cuts.into_iter().take(most) {
            let parts = if across {
                [self.best(x, first), self.best(x, second)]
            } else {
                [self.best(first, y), self.best(second, y)]
            };
            found.extend(join(across, parts));
        }
        found
    }

    /// For each type the best pattern of a kind with a piece of it in the corner, where that weighs at least `least`; the
    /// `most` best of them. One table then says something of many types: without these the program needs a table for every
    /// few patterns.
    pub(super) fn with_each(&self, kind: usize, least: i64, most: usize) -> Vec<Tree> {
        let Some(Some((x, y))) = self.sheet.get(kind).copied() else {
            return Vec::new();
        };
        let (xs, ys) = (&self.grid.xs, &self.grid.ys);
        // By type: weight, whether the first cut is across, which single.
        let mut best: BTreeMap<usize, (i32, bool, usize)> = BTreeMap::new();
        for (i, s) in self.singles.iter().enumerate() {
            if s.x > x || s.y > y {
                continue;
            }
            let (beside, above) = (
                xs.floor(xs.at[x] - xs.at[s.x]),
                ys.floor(ys.at[y] - ys.at[s.y]),
            );
            for (across, weight) in [
                (false, self.at(s.x, above) + self.at(beside, y)),
                (true, self.at(beside, s.y) + self.at(x, above)),
            ] {
                let entry = best.entry(s.kind).or_insert((-1, across, i));
                if s.weight + weight > entry.0 {
                    *entry = (s.weight + weight, across, i);
                }
            }
        }
        let mut enough: Vec<_> = (best.into_values())
            .filter(|b| i64::from(b.0) >= least)
            .collect();
        enough.sort_by_key(|b| std::cmp::Reverse(b.0));
        enough.truncate(most);
        let trees = enough.into_iter().filter_map(|(_, across, i)| {
            let s = self.singles[i];
            let (beside, above) = (
                xs.floor(xs.at[x] - xs.at[s.x]),
                ys.floor(ys.at[y] - ys.at[s.y]),
            );
            let piece = Some(Tree::Piece {
                kind: s.kind,
                way: s.way,
            });
            if across {
                let row = join(false, [piece, self.best(beside, s.y)]);
                join(true, [row, self.best(x, above)])
            } else {
                let column = join(true, [piece, self.best(s.x, above)]);
                join(false, [column, self.best(beside, y)])
            }
        });
        trees.collect()
    }

    /// The best pattern of a rectangle, found again by looking for what gives its weight.
    fn best(&self, x: usize, y: usize) -> Option<Tree> {
        let (mut x, mut y) = (x, y);
        let weight = self.at(x, y);
        if weight == 0 {
            return None;
        }
        while self.at(x - 1, y) == weight {
            x -= 1;
        }
        while self.at(x, y - 1) == weight {
            y -= 1;
        }
        let from = self
            .singles
            .partition_point(|s| (s.y, s.x, s.weight) < (y, x, weight));
        if let Some(s) = self
            .singles
            .get(from)
            .filter(|s| (s.y, s.x, s.weight) == (y, x, weight))
        {
            return Some(Tree::Piece {
                kind: s.kind,
                way: s.way,
            });
        }
        let (wide, high) = (self.grid.xs.at[x], self.grid.ys.at[y]);
        for first in (1..x).take_while(|f| 2 * self.grid.xs.at[*f] <= wide) {
            let second = self.grid.xs.floor(wide - self.grid.xs.at[first]);
            if self.at(first, y) + self.at(second, y) == weight {
                return join(false, [self.best(first, y), self.best(second, y)]);
            }
        }
        for first in (1..y).take_while(|f| 2 * self.grid.ys.at[*f] <= high) {
            let second = self.grid.ys.floor(high - self.grid.ys.at[first]);
            if self.at(x, first) + self.at(x, second) == weight {
                return join(true, [self.best(x, first), self.best(x, second)]);
            }
        }
        None
    }
}

/// Two parts in one node; a part that is cut the same way is merged, one that is empty left out.
pub(super) fn join(above: bool, parts: [Option<Tree>; 2]) -> Option<Tree> {
    let mut all = Vec::new();
    for part in parts.into_iter().flatten() {
        match (part, above) {
            (Tree::Beside(mut inner), false) | (Tree::Above(mut inner), true) => {
                all.append(&mut inner);
            }
            (part, _) => all.push(part),
        }
    }
    if all.len() < 2 {
        return all.pop();
    }
    Some(if above {
        Tree::Above(all)
    } else {
        Tree::Beside(all)
    })
}
