//! Families of conservative scales: values for the sides of pieces along one direction that no set of pieces that fits
//! exceeds. Only candidates are made here; what a sheet holds is worked out from the values (`axis`).
//!
//! Sources: Fekete & Schepers, "New classes of fast lower bounds for bin packing problems" (2001): u^(k) and the
//! threshold function; Carlier, Clautiaux & Moukrim, "New reduction procedures and lower bounds for the two-dimensional
//! bin packing problem with fixed orientation" (2007): f0, f1 (data-dependent), f2. Lifting: Axis::lift.

use super::axis::Axis;
use std::collections::BTreeSet;

/// Largest value given to a whole sheet, so that products and sums stay far inside 64 bits.
const WHOLE: i128 = 1 << 24;
/// Largest k of u^(k). Default 60, range 2..=200.
const MOST_K: i64 = 60;

/// Values of the sides along one direction, and what each kind of sheet holds.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Scale {
    /// By side, as in `Axis::sides`.
    pub value: Vec<i64>,
    /// F, by kind.
    pub most: Vec<i64>,
}

/// Makes scales for one direction until `work` table cells are spent. The identity always comes first.
pub(super) fn families(axis: &Axis, mut work: u64) -> Vec<Scale> {
    let mut lengths = axis.caps.clone();
    lengths.sort_unstable_by(|a, b| b.cmp(a));
    lengths.dedup();
    let mut seen = BTreeSet::new();
    let mut scales = Vec::new();
    let each = axis.work().max(1);
    // What a long row of candidates costs is settled before the first, so the cheap and telling families come first.
    for &w in lengths.iter().filter(|w| **w > 0) {
        for make in candidates(axis, w) {
            if work < each && !scales.is_empty() {
                return scales;
            }
            let Some(value) = make.values(axis, w) else {
                continue;
            };
            if !seen.insert(value.clone()) {
                continue;
            }
            work = work.saturating_sub(each);
            let mut most = axis.most(&value);
            // The knapsack may have been rounded; what the family promises is then the better of the two.
            if let Some(promise) = make.promise(w) {
                for (f, cap) in most.iter_mut().zip(&axis.caps) {
                    if *cap <= w {
                        *f = (*f).min(promise);
                    }
                }
            }
            let lifting = each.saturating_mul(axis.sides.len() as u64);
            if axis.exact() && work > lifting.saturating_mul(4) {
                work -= lifting;
                let longest = axis.caps.iter().position(|c| *c == axis.longest());
                let mut lifted = value.clone();
                axis.lift(
                    &mut lifted,
                    most[longest.expect("the longest is one of them")],
                );
                if lifted != value && seen.insert(lifted.clone()) {
                    let most = axis.most(&lifted);
                    scales.push(Scale {
                        value: lifted,
                        most,
                    });
                }
            }
            scales.push(Scale { value, most });
        }
    }
    scales
}

/// One function of the families.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Family {
    /// x itself.
    Identity,
    /// x, but a side above w - p counts as the whole sheet and one below p as nothing.
    Threshold(i64),
    /// u^(k).
    Steps(i64),
    /// f2: how often p goes in, twice over for what is shorter than half.
    Halves(i64),
    /// f1: how many of the pieces of p..=w/2 go in.
    Count(i64),
}

fn candidates(axis: &Axis, w: i64) -> Vec<Family> {
    let mut marks: BTreeSet<i64> = BTreeSet::new();
    for &s in axis.sides.iter().filter(|s| **s <= w) {
        marks.extend([s, w - s, w - s + 1, s + 1]);
    }
    let thresholds: Vec<i64> = marks
        .into_iter()
        .filter(|p| *p >= 1 && 2 * p <= w)
        .collect();
    let mut rows = vec![vec![Family::Identity]];
    rows.push((2..=MOST_K).map(Family::Steps).collect());
    rows.push(thresholds.iter().copied().map(Family::Threshold).collect());
    rows.push(thresholds.iter().copied().map(Family::Halves).collect());
    rows.push(thresholds.iter().copied().map(Family::Count).collect());
    // One of each in turn: a short budget then sees every family.
    let longest = rows.iter().map(Vec::len).max().unwrap_or(0);
    let mut all = Vec::new();
    for i in 0..longest {
        all.extend(rows.iter().filter_map(|r| r.get(i)).copied());
    }
    all
}

impl Family {
    /// What the whole sheet is worth at most, by the family's own proof; `None` where it depends on the pieces.
    fn promise(self, w: i64) -> Option<i64> {
        let whole = match self {
            Family::Identity | Family::Threshold(_) => i128::from(w),
            Family::Steps(k) => i128::from(w) * i128::from(k),
            Family::Halves(p) => 2 * i128::from(w / p),
            Family::Count(_) => return None,
        };
        i64::try_from(whole.min(WHOLE)).ok()
    }

    /// Values by side; `None` if they would all be nothing.
    fn values(self, axis: &Axis, w: i64) -> Option<Vec<i64>> {
        let fits = if let Family::Count(p) = self {
            how_many_fit(axis, p, w)
        } else {
            Vec::new()
        };
        let value = |&x: &i64| -> i128 {
            if x > w {
                return 0;
            }
            match self {
                Family::Identity => i128::from(x),
                Family::Threshold(p) if x > w - p => i128::from(w),
                Family::Threshold(p) if x < p => 0,
                Family::Threshold(_) => i128::from(x),
                Family::Steps(k) => {
                    let (x, w, k) = (i128::from(x), i128::from(w), i128::from(k));
                    if (k + 1) * x % w == 0 {
                        x * k
                    } else {
                        (k + 1) * x / w * w
                    }
                }
                Family::Halves(p) if 2 * x > w => 2 * i128::from(w / p - (w - x) / p),
                Family::Halves(p) if 2 * x == w => i128::from(w / p),
                Family::Halves(p) => 2 * i128::from(x / p),
                Family::Count(_) if 2 * x > w => {
                    i128::from(count_in(&fits, w) - count_in(&fits, w - x))
                }
                Family::Count(p) => i128::from(x >= p),
            }
        };
        let whole = match self {
            Family::Identity | Family::Threshold(_) => i128::from(w),
            Family::Steps(k) => i128::from(w) * i128::from(k),
            Family::Halves(_) | Family::Count(_) => 1,
        };
        // Rounding down keeps a conservative scale conservative.
        let fitted = |v: i128| if whole > WHOLE { v * WHOLE / whole } else { v };
        let all: Vec<i64> = axis
            .sides
            .iter()
            .map(|x| i64::try_from(fitted(value(x))).unwrap_or(0).max(0))
            .collect();
        all.iter().any(|v| *v > 0).then_some(all)
    }
}

/// Running sums of the shortest sides within p..=w/2: the n shortest need `sums[n]`.
fn how_many_fit(axis: &Axis, p: i64, w: i64) -> Vec<i64> {
    let mut sums = vec![0];
    for (side, count) in axis.least_within(p, w / 2) {
        for _ in 0..count {
            let next = sums[sums.len() - 1] + side;
            if next > w {
                return sums;
            }
            sums.push(next);
        }
    }
    sums
}

fn count_in(sums: &[i64], room: i64) -> i64 {
    sums.partition_point(|s| *s <= room) as i64 - 1
}
