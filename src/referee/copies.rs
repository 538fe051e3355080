//! What one sheet can hold where some pieces come only so often: the table of `guillotine`, in which a rectangle keeps not
//! one weight but every pair of copies used and weight that no other pair makes needless.

use super::guillotine::{Lengths, Shape};
use std::cmp::Reverse;
use std::rc::Rc;

/// Joins of two entries the referee is given for one sheet.
const WORK: u64 = 1_500_000_000;
/// Most entries kept.
const ENTRIES: usize = 12_000_000;
/// Limits a proof may have: a byte for each.
const LIMITS: usize = 16;
/// The top bit of every byte: no count gets so far.
const TOP: u128 = 0x8080_8080_8080_8080_8080_8080_8080_8080;

/// Copies used, a byte for each limit, and what the pieces weigh.
type Entry = (u128, i64);

/// True if `a` uses no more of anything than `b`.
fn uses_no_more(a: u128, b: u128) -> bool {
    ((b | TOP) - a) & TOP == TOP
}

/// The entries that no other makes needless, the heaviest first.
fn needed(mut all: Vec<Entry>) -> Vec<Entry> {
    all.sort_unstable_by_key(|e| (Reverse(e.1), e.0));
    all.dedup();
    let mut kept: Vec<Entry> = Vec::new();
    for e in all {
        // A number whose bytes are all no larger comes first among equals.
        if !kept.iter().any(|k| uses_no_more(k.0, e.0)) {
            kept.push(e);
        }
    }
    kept
}

/// The most weight a sheet holds; its sides are the last of `xs` and `ys`. `None`: too much work to say.
pub(super) fn most_weight(
    shapes: &[Shape],
    limits: &[u32],
    (xs, ys): (&Lengths, &Lengths),
) -> Option<i64> {
    if limits.len() > LIMITS || limits.iter().any(|l| *l > 127) {
        return None;
    }
    // What a sum of copies carries into the top bits once it is more than a limit.
    let carry =
        (limits.iter().enumerate()).fold(0u128, |c, (i, l)| c | (u128::from(127 - l) << (8 * i)));
    let join = |a: &Entry, b: &Entry| -> Option<Entry> {
        let both = a.0 + b.0;
        ((both + carry) & TOP == 0).then_some((both, a.1.saturating_add(b.1)))
    };
    let one = |s: &Shape| -> Entry { (s.limit.map_or(0, |l| 1 << (8 * l)), s.weight) };
    let (nx, ny) = (xs.at.len(), ys.at.len());
    let mut table: Vec<Rc<Vec<Entry>>> = Vec::with_capacity(nx * ny);
    // Where a rectangle made longer comes to hold something new: only there is it worth cutting.
    let mut new_along: Vec<Vec<usize>> = vec![Vec::new(); ny];
    let (mut work, mut entries) = (0u64, 0usize);
    for xi in 0..nx {
        let mut new_across: Vec<usize> = Vec::new();
        for yi in 0..ny {
            let (x, y) = (xs.at[xi], ys.at[yi]);
            let mut all: Vec<Entry> = vec![(0, 0)];
            let fits = |s: &&Shape| s.ways.iter().any(|w| w.0 <= x && w.1 <= y);
            all.extend(shapes.iter().filter(fits).map(one));
            let mut pair = |a: &[Entry], b: &[Entry]| {
                work += (a.len() * b.len()) as u64;
                all.extend(a.iter().flat_map(|p| b.iter().filter_map(|q| join(p, q))));
            };
            for a in new_along[yi].iter().take_while(|a| 2 * xs.at[**a] <= x) {
                let b = xs.last_within(x - xs.at[*a]);
                pair(&table[a * ny + yi], &table[b * ny + yi]);
            }
            for a in new_across.iter().take_while(|a| 2 * ys.at[**a] <= y) {
                let b = ys.last_within(y - ys.at[*a]);
                pair(&table[xi * ny + a], &table[xi * ny + b]);
            }
            let shorter = (xi > 0).then(|| table[(xi - 1) * ny + yi].clone());
            let narrower = (yi > 0).then(|| table[xi * ny + yi - 1].clone());
            for smaller in [&shorter, &narrower].into_iter().flatten() {
                all.extend(smaller.iter());
            }
            let cell = needed(all);
            let same = |o: &Option<Rc<Vec<Entry>>>| o.as_ref().is_some_and(|o| **o == cell);
            let (as_shorter, as_narrower) = (same(&shorter), same(&narrower));
            if !as_shorter {
                new_along[yi].push(xi);
            }
            if !as_narrower {
                new_across.push(yi);
            }
            let known = match (as_shorter, as_narrower) {
                (true, _) => shorter,
                (_, true) => narrower,
                _ => None,
            };
            table.push(known.unwrap_or_else(|| {
                entries += cell.len();
                Rc::new(cell)
            }));
            if work > WORK || entries > ENTRIES {
                return None;
            }
        }
    }
    table.last().and_then(|cell| cell.first()).map(|e| e.1)
}
