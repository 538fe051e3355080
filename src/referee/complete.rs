//! Whether given pieces fit on stock for a given sum: a complete search of the referee's own.
//!
//! Sheet by sheet: the first piece that is left must lie on some sheet, together with a set to which nothing that is left
//! can be added. Which sets a sheet holds is known from the smallest blocks each can be cut from; a block is a piece, or two
//! blocks parted by one cut. A branch ends where area, or the weights given with the claim, show that the rest costs too
//! much. What one sheet holds of those weights is worked out here.

use super::guillotine::{Shape, most_weight};
use std::collections::{BTreeMap, BTreeSet};

/// Work the referee is given for one search: blocks joined, branches, sets asked for.
const WORK: u64 = 150_000_000;
/// Sets kept.
const SETS: usize = 600_000;

/// Sheets of one size at one price.
#[derive(Clone, Debug)]
pub(super) struct Supply {
    /// Usable sides, a kerf more.
    pub room: (i64, i64),
    /// Price of one.
    pub cost: i64,
    /// How many there are.
    pub left: u64,
}

/// How many of each shape.
type Set = Vec<u32>;

/// The search; blocks found for one sum serve for the next.
pub(super) struct Complete {
    shapes: Vec<Shape>,
    blocks: BTreeMap<Set, Vec<(i64, i64)>>,
    rooms: Vec<(i64, i64)>,
    /// By room: the most area, the most weight.
    most: Vec<[i128; 2]>,
    supply: Vec<Supply>,
    hopeless: BTreeSet<(Set, Vec<u64>, i64)>,
    work: u64,
}

impl Complete {
    pub(super) fn new(shapes: &[Shape]) -> Self {
        let free = |s: &Shape| Shape {
            limit: None,
            ..s.clone()
        };
        let mut shapes: Vec<Shape> = shapes.iter().map(free).collect();
        // The largest first: few others lie beside it.
        shapes.sort_by_key(|s| {
            let area = s
                .ways
                .iter()
                .map(|w| i128::from(w.0) * i128::from(w.1))
                .max();
            std::cmp::Reverse(area)
        });
        Self {
            shapes,
            blocks: BTreeMap::new(),
            rooms: Vec::new(),
            most: Vec::new(),
            supply: Vec::new(),
            hopeless: BTreeSet::new(),
            work: 0,
        }
    }

    /// True if all the pieces can be cut from stock that costs `sum` at most. `None`: too much work to say.
    pub(super) fn fits_for(&mut self, supply: &[Supply], sum: i64) -> Option<bool> {
        if sum < 0 {
            return Some(false);
        }
        self.supply = supply.iter().filter(|s| s.left > 0).cloned().collect();
        let rooms: Vec<(i64, i64)> = self.supply.iter().map(|s| s.room).collect();
        if rooms != self.rooms {
            self.blocks.clear();
            self.most = rooms
                .iter()
                .map(|r| {
                    let weight = most_weight(&self.shapes, &[], *r).map(i128::from);
                    [
                        i128::from(r.0) * i128::from(r.1),
                        weight.unwrap_or(i128::MAX),
                    ]
                })
                .collect();
            self.rooms = rooms;
        }
        self.hopeless.clear();
        self.work = 0;
        let mut left: Set = self.shapes.iter().map(|s| s.count).collect();
        self.rest(&mut left, sum)
    }

    fn spend(&mut self, n: usize) -> Option<()> {
        self.work += n as u64;
        (self.work <= WORK && self.blocks.len() <= SETS).then_some(())
    }

    /// True if `left` can be cut for `sum`.
    fn rest(&mut self, left: &mut Set, sum: i64) -> Option<bool> {
        self.spend(20 + left.len())?;
        let Some(first) = left.iter().position(|n| *n > 0) else {
            return Some(true);
        };
        if self.too_much(left, sum) {
            return Some(false);
        }
        let there: Vec<u64> = self.supply.iter().map(|s| s.left.min(1_000)).collect();
        let state = (left.clone(), there, sum);
        if self.hopeless.contains(&state) {
            return Some(false);
        }
        for i in 0..self.supply.len() {
            let Supply {
                room,
                cost,
                left: there,
            } = self.supply[i];
            if there == 0 || cost > sum {
                continue;
            }
            let mut set: Set = vec![0; left.len()];
            set[first] = 1;
            let mut sets = BTreeSet::new();
            if self.holds(&set, room)? {
                self.grow(left, set, first, room, &mut sets)?;
            }
            self.supply[i].left -= 1;
            for set in sets {
                for (l, n) in left.iter_mut().zip(&set) {
                    *l -= n;
                }
                let fits = self.rest(left, sum - cost);
                for (l, n) in left.iter_mut().zip(&set) {
                    *l += n;
                }
                if fits? {
                    return Some(true);
                }
            }
            self.supply[i].left += 1;
        }
        self.hopeless.insert(state);
        Some(false)
    }

    /// True if area or weight show that what is left costs more than `sum`: with parts of sheets, even.
    fn too_much(&self, left: &Set, sum: i64) -> bool {
        let size = |s: &Shape| {
            s.ways
                .iter()
                .map(|w| i128::from(w.0) * i128::from(w.1))
                .max()
        };
        let each = || self.shapes.iter().zip(left);
        let needs: [i128; 2] = [
            each()
                .map(|(s, n)| size(s).unwrap_or(0) * i128::from(*n))
                .sum(),
            each()
                .map(|(s, n)| i128::from(s.weight.max(0)) * i128::from(*n))
                .sum(),
        ];
        (0..2).any(|m| {
            if self.most.iter().any(|h| h[m] == i128::MAX) {
                return false;
            }
            let mut by_price: Vec<usize> = (0..self.supply.len())
                .filter(|i| self.most[*i][m] > 0)
                .collect();
            by_price.sort_by(|a, b| {
                let (x, y) = (&self.supply[*a], &self.supply[*b]);
                (i128::from(x.cost) * self.most[*b][m])
                    .cmp(&(i128::from(y.cost) * self.most[*a][m]))
            });
            let (mut need, mut money) = (needs[m], i128::from(sum));
            for i in by_price {
                if need <= 0 {
                    break;
                }
                let (s, holds) = (&self.supply[i], self.most[i][m]);
                let all = holds.saturating_mul(i128::from(s.left));
                if need <= all {
                    // Sums are whole, so what is over counts as one.
                    money -= (need * i128::from(s.cost) + holds - 1) / holds;
                    need = 0;
                } else {
                    need -= all;
                    money -= i128::from(s.cost) * i128::from(s.left);
                }
            }
            need > 0 || money < 0
        })
    }

    /// Every set of what is left that contains `set`, adds shapes from `from` on, lies on `room`, and takes nothing more.
    fn grow(
        &mut self,
        left: &Set,
        set: Set,
        from: usize,
        room: (i64, i64),
        sets: &mut BTreeSet<Set>,
    ) -> Option<()> {
        let mut full = true;
        for t in 0..left.len() {
            if set[t] == left[t] {
                continue;
            }
            let mut more = set.clone();
            more[t] += 1;
            if self.holds(&more, room)? {
                full = false;
                // What comes before was left out on purpose; another branch has it.
                if t >= from {
                    self.grow(left, more, t, room, sets)?;
                }
            }
        }
        if full {
            sets.insert(set);
        }
        Some(())
    }

    fn holds(&mut self, set: &Set, room: (i64, i64)) -> Option<bool> {
        self.spend(2)?;
        if !self.blocks.contains_key(set) {
            let made = self.made(set)?;
            self.blocks.insert(set.clone(), made);
        }
        let blocks = &self.blocks[set];
        Some(blocks.iter().any(|b| b.0 <= room.0 && b.1 <= room.1))
    }

    /// The blocks a set can be cut from, without those that are larger than another both ways.
    fn made(&mut self, set: &Set) -> Option<Vec<(i64, i64)>> {
        let fits =
            |rooms: &[(i64, i64)], b: (i64, i64)| rooms.iter().any(|r| b.0 <= r.0 && b.1 <= r.1);
        let mut blocks: Vec<(i64, i64)> = Vec::new();
        if set.iter().sum::<u32>() == 1 {
            let one = set.iter().position(|n| *n == 1)?;
            blocks.extend(
                self.shapes[one]
                    .ways
                    .iter()
                    .filter(|w| fits(&self.rooms, **w)),
            );
        } else {
            // Every part counts up like a number whose digits end at the set's; a part and its rest are taken once.
            let mut part: Set = vec![0; set.len()];
            while let Some(digit) = (0..set.len()).find(|i| part[*i] < set[*i]) {
                part[digit] += 1;
                part[..digit].fill(0);
                let rest: Set = set.iter().zip(&part).map(|(s, p)| s - p).collect();
                if part > rest || rest.iter().all(|n| *n == 0) {
                    continue;
                }
                self.spend(3)?;
                for half in [&part, &rest] {
                    if !self.blocks.contains_key(half) {
                        let made = self.made(half)?;
                        self.blocks.insert(half.clone(), made);
                    }
                }
                let (a, b) = (&self.blocks[&part], &self.blocks[&rest]);
                let pairs = a.len() * b.len();
                for p in a {
                    for q in b {
                        let joined = [(p.0 + q.0, p.1.max(q.1)), (p.0.max(q.0), p.1 + q.1)];
                        blocks.extend(joined.into_iter().filter(|b| fits(&self.rooms, *b)));
                    }
                }
                self.spend(pairs)?;
            }
        }
        blocks.sort_unstable();
        let mut least = i64::MAX;
        blocks.retain(|b| {
            let keep = b.1 < least;
            least = least.min(b.1);
            keep
        });
        Some(blocks)
    }
}
