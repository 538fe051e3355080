//! The instance as the search wants it: sizes in 32 bits, pieces ranked once by every rule of order, prices as pairs.
//!
//! Owns the translation and nothing else. Areas are guides for the search only (scaled so that sums cannot overflow);
//! whether a piece fits is always decided on its sides.

use super::instance::{Instance, Kind};
use super::tree::Dir;
use crate::model::FirstCut;
use crate::model::task::SheetTask;
use std::cmp::Reverse;

/// Sides are kept below this, so that a product of two fits 64 bits with room for a few terms.
const LARGEST_SIDE: i64 = 1 << 30;
/// Areas are shifted down until all pieces together stay below this.
const LARGEST_AREA_SUM: i128 = 1 << 61;

/// How many rules of order there are.
pub(crate) const ORDERS: usize = 7;

/// What sheets cost: first what is bought, then how much of what is in hand is used up.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub(crate) struct Price {
    /// Cents, or hundredths of the largest kind's area.
    pub money: i64,
    /// Hundredths of the largest kind's area taken from the rack and from sheets in hand.
    pub in_hand: i64,
}

impl Price {
    /// More than any plan.
    pub(crate) const MOST: Self = Self {
        money: i64::MAX,
        in_hand: i64::MAX,
    };
    /// The limit below which a plan must buy for less than `self`, whatever it takes from the rack.
    pub(crate) const fn less_money(self) -> Self {
        Self {
            money: self.money,
            in_hand: i64::MIN,
        }
    }
    pub(crate) const fn plus(self, o: Self) -> Self {
        Self {
            money: self.money.saturating_add(o.money),
            in_hand: self.in_hand.saturating_add(o.in_hand),
        }
    }
    pub(crate) const fn minus(self, o: Self) -> Self {
        Self {
            money: self.money.saturating_sub(o.money),
            in_hand: self.in_hand.saturating_sub(o.in_hand),
        }
    }
}

/// One type of piece.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Item {
    /// Sizes as it may lie; the second equals the first where it may lie one way only.
    pub ways: [(i32, i32); 2],
    /// One or two ways.
    pub turns: bool,
    /// Scaled area; in a problem that is [`Problem::weighed`], how much it counts when it is missing.
    pub area: i64,
    /// Match group, 0 = none.
    pub group: u32,
}

/// One kind of sheet.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Sheet {
    /// Usable size, with a kerf.
    pub size: (i32, i32),
    /// Scaled area.
    pub area: i64,
    /// How many cost nothing.
    pub free: u32,
    /// How many there are in all.
    pub limit: u32,
    /// Price of one that is bought.
    pub bought: Price,
    /// Price of one that is not.
    pub from_hand: Price,
    /// How pieces lie in the first division, where that is prescribed: `Down` = along the sheet's y of the search.
    pub first: Option<Dir>,
    /// True where the real sheet is a little longer that way than it is here: then a first cut always remains.
    pub slack: bool,
}

/// All the search knows.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Problem {
    pub items: Vec<Item>,
    pub counts: Vec<u32>,
    pub sheets: Vec<Sheet>,
    /// Most levels of cutting direction.
    pub turns: u8,
    /// Least width and height of any piece.
    pub least: (i32, i32),
    /// For each rule of order, each type's rank.
    pub rank: [Vec<u32>; ORDERS],
    /// True: pieces may stand on the shortest members of a division (worth its time in a single pass, not in a search).
    pub standing: bool,
    /// Scaled kerf, for the worth of leftovers.
    pub kerf: i32,
    /// Bits left out where sides are looked at in haste.
    pub coarse: u32,
}

impl Problem {
    /// Takes over an instance. Types that fit no kind must have been taken out of it before.
    pub(crate) fn new(task: &SheetTask, instance: &Instance) -> Self {
        let longest = instance
            .kinds
            .iter()
            .flat_map(|k| [k.w, k.h])
            .max()
            .unwrap_or(1);
        // Sheets are rounded down and pieces up: only for sheets longer than 13 m in a job without a common measure.
        let mut coarse = 0;
        while longest >> coarse >= LARGEST_SIDE {
            coarse += 1;
        }
        let down = |v: i64| i32::try_from(v >> coarse).unwrap_or(i32::MAX);
        let up = |v: i64| {
            i32::try_from((v + (1 << coarse) - 1) >> coarse)
                .unwrap_or(i32::MAX)
                .min(1 << 30)
        };
        let total: i128 = instance
            .types
            .iter()
            .map(|t| {
                i128::from(up(t.ways[0].0)) * i128::from(up(t.ways[0].1)) * i128::from(t.count)
            })
            .sum::<i128>()
            .max(i128::from(down(longest)) * i128::from(down(longest)) * 1000);
        let mut shift = 0;
        while total >> shift >= LARGEST_AREA_SUM {
            shift += 1;
        }
        let area = |(w, h): (i32, i32)| (i64::from(w) * i64::from(h)) >> shift;
        let items: Vec<Item> = instance
            .types
            .iter()
            .map(|t| {
                let first = (up(t.ways[0].0), up(t.ways[0].1));
                let second = t.ways.get(1).map_or(first, |w| (up(w.0), up(w.1)));
                Item {
                    ways: [first, second],
                    turns: t.ways.len() > 1,
                    area: area(first).max(1),
                    group: t.group.map_or(0, |g| g + 1),
                }
            })
            .collect();
        let largest = instance
            .kinds
            .iter()
            .map(|k| i128::from(k.w) * i128::from(k.h))
            .max()
            .unwrap_or(1)
            .max(1);
        let unit = instance.unit.units();
        let sheets = instance
            .kinds
            .iter()
            .map(|k| {
                let size = (down(k.w), down(k.h));
                let share = (i128::from(k.w) * i128::from(k.h) * 100 / largest).max(1) as i64;
                let whole = task.kinds[k.task_kind].rack.is_none();
                let first = first_dir(task.first, k).filter(|_| whole);
                let real = real_size(task, k);
                let slack = match first {
                    Some(Dir::Along) => real.0 > (i64::from(size.0) << coarse) * unit,
                    Some(Dir::Down) => real.1 > (i64::from(size.1) << coarse) * unit,
                    None => false,
                };
                Sheet {
                    size,
                    area: area(size),
                    free: k.free,
                    limit: k.free.saturating_add(k.buy),
                    bought: Price {
                        money: k.cost,
                        in_hand: if k.cost == 0 { share } else { 0 },
                    },
                    from_hand: Price {
                        money: 0,
                        in_hand: share,
                    },
                    first: first.filter(|d| slack || !in_the_way(*d, size, &items)),
                    slack,
                }
            })
            .collect();
        let ways = || items.iter().flat_map(|i| i.ways);
        let least = (
            ways().map(|w| w.0).min().unwrap_or(1),
            ways().map(|w| w.1).min().unwrap_or(1),
        );
        Self {
            rank: ranks(&items),
            counts: instance.types.iter().map(|t| t.count).collect(),
            items,
            sheets,
            turns: task.turns.unwrap_or(u8::MAX).max(1),
            least,
            standing: true,
            coarse: (0..)
                .find(|bits| (longest >> coarse) >> bits < 1 << 15)
                .unwrap_or(0),
            kerf: up(instance.kerf.units() / instance.unit.units().max(1)),
        }
    }
}

impl Problem {
    /// True if each node of a tree on this kind of sheet offers one place.
    pub(crate) fn one_each(&self, kind: usize) -> bool {
        !self.standing && self.turns == u8::MAX && self.sheets[kind].first.is_none()
    }

    /// The same, but a missing piece counts half by its area and half by what it is worth (in millionths of the dearest
    /// sheet): a small piece that keeps others off a sheet is then no small loss.
    pub(crate) fn weighed(&self, worth: &[i64]) -> Self {
        let mut weighed = self.clone();
        let sheet = self.sheets.iter().map(|s| s.area).max().unwrap_or(1);
        for (item, worth) in weighed.items.iter_mut().zip(worth) {
            let by_worth = i128::from(sheet) * i128::from(*worth) / 1_000_000;
            let half = (i128::from(item.area) + by_worth) / 2;
            item.area = half.clamp(1, i128::from(sheet.max(1))) as i64;
        }
        weighed
    }
}

/// A rip runs along the real sheet's x, so the pieces it parts lie one below the other along y.
fn first_dir(first: FirstCut, kind: &Kind) -> Option<Dir> {
    match (first, kind.transposed) {
        (FirstCut::Either, _) => None,
        (FirstCut::Rip, false) | (FirstCut::Crosscut, true) => Some(Dir::Down),
        (FirstCut::Rip, true) | (FirstCut::Crosscut, false) => Some(Dir::Along),
    }
}

/// Usable size with a kerf, unrounded, as the search has it: along the grain, across it.
fn real_size(task: &SheetTask, kind: &Kind) -> (i64, i64) {
    let k = &task.kinds[kind.task_kind];
    let c = k.clean_edge;
    let x = (k.size[0] - c[0] - c[1] + task.kerf).units();
    let y = (k.size[1] - c[2] - c[3] + task.kerf).units();
    if kind.transposed { (y, x) } else { (x, y) }
}

/// True if some piece is as long as the sheet the way the first cut would part it, and shorter the other way: no such cut
/// can come first beside it, so on this kind of sheet the first cuts go either way.
fn in_the_way(first: Dir, size: (i32, i32), items: &[Item]) -> bool {
    items.iter().flat_map(|i| i.ways).any(|(w, h)| match first {
        Dir::Along => w == size.0 && h < size.1,
        Dir::Down => h == size.1 && w < size.0,
    })
}

/// Area, longer side, width, height, shorter side, perimeter, and area weighed by slenderness: largest first.
fn ranks(items: &[Item]) -> [Vec<u32>; ORDERS] {
    std::array::from_fn(|rule| {
        let key = |i: &Item| {
            let (w, h) = (i64::from(i.ways[0].0), i64::from(i.ways[0].1));
            match rule {
                0 => w * h,
                1 => w.max(h),
                2 => w,
                3 => h,
                4 => w.min(h),
                5 => w + h,
                _ => (w * h).saturating_add(w.max(h).saturating_mul(w.max(h)) / 2),
            }
        };
        let mut order: Vec<u32> = (0..items.len() as u32).collect();
        order.sort_by_key(|t| {
            let i = &items[*t as usize];
            (Reverse(key(i)), Reverse(i.area), *t)
        });
        let mut rank = vec![0; items.len()];
        for (r, t) in order.iter().enumerate() {
            rank[*t as usize] = r as u32;
        }
        rank
    })
}
