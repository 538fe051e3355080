//! Complete search over a few pieces: the least that can be bought for them, shown by trying every way.
//!
//! Some pieces by themselves may need as much as the whole list, and where no weights show it, trying does. The largest
//! remaining piece goes on some sheet; every set that can be cut from that sheet with it and takes no further piece is tried
//! in turn (a set that takes another piece is never better). Whether a set can be cut is known from the smallest
//! rectangles it can be cut from, grown from those of its parts. What weights show of the rest cuts the search short.

use super::axis::ways_that_fit;
use super::bound::{Bound, CertificateDraft, Weights};
use crate::sheets::instance::Instance;
use rustc_hash::FxHashMap;
use std::collections::BTreeMap;
use std::ops::Range;

/// Most pieces tried together. Default 40, range 4..=100.
const PIECES: usize = 40;
/// Most ways of splitting a set while its smallest rectangles are grown: larger sets are left to other bounds. Default
/// 40,000, range 1,000..=1,000,000.
const SPLITS: u64 = 40_000;
/// Work steps of looking a set up.
const LOOK: u64 = 8;

/// The least cost of stock that holds some of the pieces, where trying shows more than `bound` does; `incumbent`: what the
/// best plan costs, more than which is not asked for. Spends `steps`.
pub(crate) fn exact(
    instance: &Instance,
    bound: &Bound,
    incumbent: i64,
    steps: &mut u64,
) -> Option<Bound> {
    if bound.cost >= incumbent || bound.impossible || instance.types.is_empty() {
        return None;
    }
    let mut best: Option<Bound> = None;
    for order in orders(instance, weights_of(bound)) {
        // Few pieces first: what they show is quickly checked.
        let mut m = 4;
        let mut share = *steps / 3;
        *steps -= share;
        loop {
            let floor = best.as_ref().map_or(bound.cost, |b| b.cost);
            let counts = first(instance, &order, m);
            let all: usize = counts.iter().map(|n| *n as usize).sum();
            let mut search = Search::new(instance, &counts, weights_of(bound), share);
            let found = search.least(floor, incumbent);
            share = search.steps;
            match found {
                None => break,
                Some(cost) if cost > floor => {
                    let nodes = search.nodes;
                    let weights = search.weights(instance.types.len());
                    if let Some(sheets) = fewest(instance, &counts, cost, bound, &mut share) {
                        best = Some(claim(instance, counts, (cost, sheets), weights, nodes));
                    }
                    if cost >= incumbent {
                        return best;
                    }
                }
                Some(_) => {}
            }
            if all < m {
                break;
            }
            m = if m == PIECES {
                PIECES + 1
            } else {
                (m + m / 4 + 1).min(PIECES)
            };
            if m > PIECES {
                break;
            }
        }
        *steps += share;
    }
    best
}

fn weights_of(bound: &Bound) -> Option<&Weights> {
    match &bound.draft {
        CertificateDraft::Product { weights, .. } | CertificateDraft::Pattern { weights, .. } => {
            Some(weights)
        }
        _ => None,
    }
}

/// Orders in which pieces are tried: by area, by the longer side, and by weight; the largest first.
fn orders(instance: &Instance, weights: Option<&Weights>) -> Vec<Vec<usize>> {
    let way = |t: usize| instance.types[t].ways[0];
    let by = |key: &dyn Fn(usize) -> i64| {
        let mut order: Vec<usize> = (0..instance.types.len()).collect();
        order.sort_by_key(|t| (std::cmp::Reverse(key(*t)), *t));
        order
    };
    let mut orders = vec![
        by(&|t| way(t).0 * way(t).1),
        by(&|t| way(t).0.max(way(t).1)),
    ];
    orders.extend(weights.map(|w| by(&|t| w.piece[t])));
    orders.dedup();
    orders
}

/// How many of each type the first `m` pieces of an order are.
fn first(instance: &Instance, order: &[usize], m: usize) -> Vec<u32> {
    let mut counts = vec![0; instance.types.len()];
    let mut left = m as u32;
    for t in order {
        counts[*t] = instance.types[*t].count.min(left);
        left -= counts[*t];
    }
    counts
}

/// The fewest bought for what was tried: with one size the cost says it, else it is searched for by itself.
fn fewest(
    instance: &Instance,
    counts: &[u32],
    cost: i64,
    bound: &Bound,
    steps: &mut u64,
) -> Option<u32> {
    let mut bought = instance.kinds.iter().filter(|k| k.buy > 0);
    if let (Some(k), None) = (bought.next(), bought.next())
        && k.cost > 0
    {
        return u32::try_from((cost + k.cost - 1) / k.cost).ok();
    }
    let mut each_one = instance.clone();
    for k in &mut each_one.kinds {
        k.cost = 1;
    }
    let mut search = Search::new(&each_one, counts, weights_of(bound), *steps);
    let found = search.least(-1, i64::from(u32::MAX));
    *steps = search.steps;
    found.and_then(|n| u32::try_from(n).ok())
}

fn claim(
    instance: &Instance,
    counts: Vec<u32>,
    (cost, sheets): (i64, u32),
    weights: Vec<i64>,
    nodes: u64,
) -> Bound {
    debug_assert_eq!(counts.len(), instance.types.len());
    Bound {
        cost,
        sheets,
        impossible: false,
        draft: CertificateDraft::Exhaustive {
            counts,
            weights,
            cost,
            sheets,
            nodes,
        },
    }
}

/// A kind of stock as it stands in the search.
#[derive(Clone, Debug)]
struct Stock {
    room: (i64, i64),
    cost: i64,
    left: u32,
    /// Index into `Instance::kinds`.
    kind: usize,
}

/// A weight of each type and the most that each kind holds of it.
#[derive(Debug)]
struct Measure {
    piece: Vec<i64>,
    most: Vec<i64>,
}

/// Where the smallest rectangles of a set stand in `Fronts::all`.
type Front = Range<usize>;

/// The smallest rectangles of every set that was looked at, each set's ascending in width.
#[derive(Default)]
struct Fronts {
    all: Vec<(i64, i64)>,
    /// By the code of the set. Only looked up in, so its order tells nobody anything.
    of: FxHashMap<u128, Front>,
}

/// A set being split in two, and the rectangles found so far.
struct Split<'a> {
    set: &'a [u8],
    code: u128,
    near: Vec<u8>,
    far: Vec<u8>,
    front: Vec<(i64, i64)>,
}

struct Search {
    /// Types tried, by index into `Instance::types`.
    types: Vec<usize>,
    /// Ways each may lie.
    ways: Vec<Vec<(i64, i64)>>,
    /// How many of each are not placed yet.
    left: Vec<u8>,
    /// What one of each adds to the code of a set.
    unit: Vec<u128>,
    stock: Vec<Stock>,
    measures: Vec<Measure>,
    fronts: Fronts,
    /// Sizes of stock, each once.
    rooms: Vec<(i64, i64)>,
    /// Least cost spent with which what was left (pieces and stock) led to nothing better.
    failed: BTreeMap<(u128, Vec<u32>), i64>,
    best: i64,
    floor: i64,
    steps: u64,
    nodes: u64,
}

/// The search ran out of steps.
struct Spent;

impl Search {
    fn new(instance: &Instance, counts: &[u32], weights: Option<&Weights>, steps: u64) -> Self {
        let area = |s: (i64, i64)| s.0.saturating_mul(s.1);
        let mut types: Vec<usize> = (0..counts.len()).filter(|t| counts[*t] > 0).collect();
        types.sort_by_key(|t| (std::cmp::Reverse(area(instance.types[*t].ways[0])), *t));
        let mut unit = Vec::new();
        let mut radix = 1u128;
        for t in &types {
            unit.push(radix);
            radix = radix.saturating_mul(u128::from(counts[*t]) + 1);
        }
        let mut stock = Vec::new();
        for (kind, k) in instance.kinds.iter().enumerate() {
            for (left, cost) in [(k.free, 0), (k.buy, k.cost)] {
                if left > 0 {
                    let room = (k.w, k.h);
                    stock.push(Stock {
                        room,
                        cost,
                        left,
                        kind,
                    });
                }
            }
        }
        let mut measures = vec![Measure {
            piece: types
                .iter()
                .map(|t| area(instance.types[*t].ways[0]))
                .collect(),
            most: instance.kinds.iter().map(|k| area((k.w, k.h))).collect(),
        }];
        let mut rooms: Vec<(i64, i64)> = stock.iter().map(|s: &Stock| s.room).collect();
        rooms.sort_unstable();
        rooms.dedup();
        measures.extend(weights.map(|w| Measure {
            piece: types.iter().map(|t| w.piece[*t]).collect(),
            most: w.most.clone(),
        }));
        Self {
            ways: types
                .iter()
                .map(|t| ways_that_fit(instance, *t).collect())
                .collect(),
            left: types
                .iter()
                .map(|t| u8::try_from(counts[*t]).unwrap_or(u8::MAX))
                .collect(),
            types,
            unit,
            stock,
            measures,
            fronts: Fronts::default(),
            rooms,
            failed: BTreeMap::new(),
            best: 0,
            floor: 0,
            steps,
            nodes: 0,
        }
    }

    /// The weights that cut the search short, by type; 0 where a type was not tried.
    fn weights(&self, types: usize) -> Vec<i64> {
        let mut all = vec![0; types];
        for (t, w) in (self.types.iter()).zip(self.measures.get(1).map_or(&[][..], |m| &m.piece)) {
            all[*t] = *w;
        }
        all
    }

    /// The least cost, or `incumbent` where nothing is cheaper; at most `floor` is all that is wanted of a cheap one.
    /// `None`: out of steps.
    fn least(&mut self, floor: i64, incumbent: i64) -> Option<i64> {
        (self.best, self.floor) = (incumbent, floor);
        match self.complete(0) {
            Ok(()) => Some(self.best),
            Err(Spent) => None,
        }
    }

    fn code(&self) -> u128 {
        self.code_of(&self.left)
    }

    /// Tries every way of placing what is left, `spent` being paid already.
    fn complete(&mut self, spent: i64) -> Result<(), Spent> {
        if self.best <= self.floor {
            return Ok(());
        }
        let Some(first) = self.left.iter().position(|n| *n > 0) else {
            self.best = self.best.min(spent);
            return Ok(());
        };
        self.nodes += 1;
        self.pay(10 + self.types.len() as u64)?;
        if spent.saturating_add(self.more()) >= self.best {
            return Ok(());
        }
        let key = (
            self.code(),
            self.stock.iter().map(|s| s.left).collect::<Vec<u32>>(),
        );
        if self.failed.get(&key).is_some_and(|s| *s <= spent) {
            return Ok(());
        }
        for s in 0..self.stock.len() {
            if self.stock[s].left == 0 {
                continue;
            }
            let (room, cost) = (self.stock[s].room, self.stock[s].cost);
            let mut sets = Vec::new();
            let mut set = vec![0u8; self.types.len()];
            set[first] = 1;
            if self.fits(&set, room)? {
                self.fill(first, &mut set, room, &mut sets)?;
            }
            self.stock[s].left -= 1;
            for set in sets {
                for (l, n) in self.left.iter_mut().zip(&set) {
                    *l -= n;
                }
                let done = self.complete(spent.saturating_add(cost));
                for (l, n) in self.left.iter_mut().zip(&set) {
                    *l += n;
                }
                done?;
            }
            self.stock[s].left += 1;
        }
        self.failed.insert(key, spent);
        Ok(())
    }

    fn pay(&mut self, steps: u64) -> Result<(), Spent> {
        self.steps = self.steps.checked_sub(steps).ok_or(Spent)?;
        Ok(())
    }

    /// At least so much more must be paid for what is left.
    fn more(&self) -> i64 {
        let by = |m: &Measure| {
            let each = self.left.iter().zip(&m.piece);
            let mut need: i128 = each.map(|(n, w)| i128::from(*n) * i128::from(*w)).sum();
            let mut stock: Vec<&Stock> = self.stock.iter().filter(|s| m.most[s.kind] > 0).collect();
            let most = |s: &Stock| i128::from(m.most[s.kind]);
            stock.sort_by(|a, b| {
                (i128::from(a.cost) * most(b)).cmp(&(i128::from(b.cost) * most(a)))
            });
            let mut cost = 0i128;
            for s in stock {
                let all = most(s) * i128::from(s.left);
                if need <= all {
                    let part = need.max(0) * i128::from(s.cost);
                    return cost + (part + most(s) - 1).div_euclid(most(s));
                }
                need -= all;
                cost += i128::from(s.cost) * i128::from(s.left);
            }
            i128::from(i64::MAX)
        };
        let most = self.measures.iter().map(by).max().unwrap_or(0);
        i64::try_from(most).unwrap_or(i64::MAX)
    }

    /// Every set on a sheet of `room` that takes no further piece; types before `from` are settled.
    fn fill(
        &mut self,
        from: usize,
        set: &mut Vec<u8>,
        room: (i64, i64),
        sets: &mut Vec<Vec<u8>>,
    ) -> Result<(), Spent> {
        if from == self.types.len() {
            for t in 0..self.types.len() {
                if set[t] < self.left[t] {
                    set[t] += 1;
                    let takes = self.fits(set, room)?;
                    set[t] -= 1;
                    if takes {
                        return Ok(());
                    }
                }
            }
            sets.push(set.clone());
            return Ok(());
        }
        let least = set[from];
        while set[from] < self.left[from] {
            set[from] += 1;
            if !self.fits(set, room)? {
                set[from] -= 1;
                break;
            }
        }
        loop {
            self.fill(from + 1, set, room, sets)?;
            if set[from] == least {
                return Ok(());
            }
            set[from] -= 1;
        }
    }

    fn fits(&mut self, set: &[u8], room: (i64, i64)) -> Result<bool, Spent> {
        self.pay(LOOK)?;
        let code = self.code_of(set);
        let front = self.front(set, code)?;
        let mut rectangles = self.fronts.all[front].iter();
        Ok(rectangles.any(|r| r.0 <= room.0 && r.1 <= room.1))
    }

    fn code_of(&self, set: &[u8]) -> u128 {
        let each = set.iter().zip(&self.unit);
        each.map(|(n, u)| u128::from(*n) * u).sum()
    }

    /// The smallest rectangles a set can be cut from that some stock holds.
    fn front(&mut self, set: &[u8], code: u128) -> Result<Front, Spent> {
        if let Some(known) = self.fronts.of.get(&code) {
            return Ok(known.clone());
        }
        let each = set.iter().zip(&self.measures[0].piece);
        let area: i64 = each.map(|(n, a)| i64::from(*n) * a).sum();
        let largest = (self.rooms.iter().map(|r| r.0.saturating_mul(r.1))).max();
        let mut front: Vec<(i64, i64)> = Vec::new();
        let pieces: u32 = set.iter().map(|n| u32::from(*n)).sum();
        if pieces == 1 {
            front.clone_from(&self.ways[set.iter().position(|n| *n > 0).unwrap_or(0)]);
        } else if Some(area) <= largest {
            let splits = set
                .iter()
                .map(|n| u64::from(*n) + 1)
                .fold(1, u64::saturating_mul);
            if splits > SPLITS {
                return Err(Spent);
            }
            let mut split = Split {
                set,
                code,
                near: vec![0; set.len()],
                far: set.to_vec(),
                front,
            };
            self.split(0, 0, false, &mut split)?;
            front = split.front;
        }
        front.sort_unstable();
        let mut lowest = i64::MAX;
        front.retain(|r| {
            let keep = r.1 < lowest;
            lowest = lowest.min(r.1);
            keep
        });
        let from = self.fronts.all.len();
        self.fronts.all.append(&mut front);
        let front = from..self.fronts.all.len();
        self.fronts.of.insert(code, front.clone());
        Ok(front)
    }

    /// Adds what a first cut through every split of the set gives; `near`: the code of the near side. Of a split and its
    /// mirror one will do: the first type that is not shared evenly has more on the near side.
    fn split(
        &mut self,
        from: usize,
        near: u128,
        uneven: bool,
        split: &mut Split<'_>,
    ) -> Result<(), Spent> {
        if from == split.set.len() {
            if near == split.code {
                return Ok(());
            }
            let a = self.front(&split.near, near)?;
            if a.is_empty() {
                return self.pay(LOOK);
            }
            let b = self.front(&split.far, split.code - near)?;
            self.pay((a.len() * b.len()) as u64 + LOOK)?;
            for p in &self.fronts.all[a] {
                for q in &self.fronts.all[b.clone()] {
                    for r in [(p.0 + q.0, p.1.max(q.1)), (p.0.max(q.0), p.1 + q.1)] {
                        if (self.rooms.iter()).any(|room| r.0 <= room.0 && r.1 <= room.1) {
                            split.front.push(r);
                        }
                    }
                }
            }
            return Ok(());
        }
        let all = split.set[from];
        let least = if uneven { 0 } else { all.div_ceil(2) };
        for n in least..=all {
            (split.near[from], split.far[from]) = (n, all - n);
            let near = near + u128::from(n) * self.unit[from];
            self.split(from + 1, near, uneven || 2 * n != all, split)?;
        }
        (split.near[from], split.far[from]) = (0, all);
        Ok(())
    }
}
