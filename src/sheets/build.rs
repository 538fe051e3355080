//! The instant answer: pieces put one after the other, by many rules, the best result kept.
//!
//! Seven orders, four ways to score a place, and two ways to go through the sheets (all open at once, or one sheet filled
//! before the next): 56 passes, each of a fraction of a millisecond. With several kinds of sheet the passes are made for
//! each kind alone (what is in hand first) and for all together.

use super::packing::Packing;
use super::places::{SCORES, Score, takes};
use super::problem::{ORDERS, Price, Problem};
use crate::solve::budget::Budget;
use std::cmp::Reverse;

/// Which kinds a pass may open, best first.
pub(crate) type Kinds = [usize];

/// Kinds in the order in which a pass opens them: what is free first, smallest first, then by price an area.
pub(crate) fn kinds_in_order(problem: &Problem) -> Vec<usize> {
    let mut kinds: Vec<usize> = (0..problem.sheets.len()).collect();
    kinds.sort_by(|a, b| {
        let (x, y) = (&problem.sheets[*a], &problem.sheets[*b]);
        let dear = |s: &super::problem::Sheet| i128::from(s.bought.money);
        (y.free > 0)
            .cmp(&(x.free > 0))
            .then((dear(x) * i128::from(y.area)).cmp(&(dear(y) * i128::from(x.area))))
            .then(y.area.cmp(&x.area))
            .then(a.cmp(b))
    });
    kinds
}

/// Runs the passes and gives the best packing. The first pass is always finished, the rest while there is budget.
pub(crate) fn multistart(problem: &Problem, budget: &mut Budget, enough: Price) -> Packing {
    let all = kinds_in_order(problem);
    let mut sets: Vec<Vec<usize>> = vec![all.clone()];
    if all.len() > 1 {
        for kind in &all {
            let sheet = &problem.sheets[*kind];
            if sheet.limit > sheet.free {
                // Each size alone, with what is in hand and without: no mix may end dearer than that.
                let in_hand = |k: &usize| k == kind || problem.sheets[*k].free > 0;
                sets.push(all.iter().copied().filter(in_hand).collect());
                sets.push(vec![*kind]);
            }
        }
        sets.dedup();
    }
    let mut best: Option<Packing> = None;
    'all: for order in 0..ORDERS {
        for score in SCORES {
            for by_sheet in [true, false] {
                for kinds in &sets {
                    if best.is_some() && budget.is_empty() {
                        break 'all;
                    }
                    let found = pass(problem, kinds, order, score, by_sheet, budget);
                    if best.as_ref().is_none_or(|b| found.better_than(b)) {
                        best = Some(found);
                    }
                    if best
                        .as_ref()
                        .is_some_and(|b| b.is_whole() && b.price <= enough)
                    {
                        break 'all;
                    }
                }
            }
        }
    }
    best.unwrap_or_else(|| Packing::empty(problem))
}

/// Types in an order.
fn sorted(problem: &Problem, order: usize) -> Vec<u32> {
    let mut types: Vec<u32> = (0..problem.items.len() as u32).collect();
    types.sort_by_key(|t| problem.rank[order][*t as usize]);
    types
}

fn pass(
    problem: &Problem,
    kinds: &Kinds,
    order: usize,
    score: Score,
    by_sheet: bool,
    budget: &mut Budget,
) -> Packing {
    let mut packing = Packing {
        absent: Vec::new(),
        ..Packing::empty(problem)
    };
    let types = sorted(problem, order);
    let mut left = problem.counts.clone();
    if by_sheet {
        fill_each(
            problem,
            kinds,
            &types,
            &mut left,
            score,
            &mut packing,
            budget,
        );
    } else {
        fill_all(
            problem,
            kinds,
            &types,
            &mut left,
            score,
            &mut packing,
            budget,
        );
    }
    note_absent(problem, &mut packing, &left);
    downsize(problem, &mut packing);
    packing
}

/// Opens a sheet for a piece, of the first kind in `kinds` that takes it.
fn open_for(problem: &Problem, kinds: &Kinds, packing: &mut Packing, item: u32) -> Option<usize> {
    let kind = kinds.iter().copied().find(|k| {
        packing.price_of_next(problem, *k).is_some()
            && takes(problem, *k, &problem.items[item as usize])
    })?;
    let bin = packing.open(problem, kind);
    let spot = packing
        .spot_on_empty(problem, bin, item, false)
        .expect("a kind that takes the piece has a place for it when empty");
    packing.put(problem, item, &spot);
    Some(bin)
}

fn fill_all(
    problem: &Problem,
    kinds: &Kinds,
    types: &[u32],
    left: &mut [u32],
    score: Score,
    packing: &mut Packing,
    budget: &mut Budget,
) {
    for item in types {
        while left[*item as usize] > 0 {
            let mut steps = 0;
            let all = 0..packing.bins.len();
            let spot = packing.best_spot(problem, all, *item, score, None, &mut steps);
            budget.spend(steps);
            if let Some(spot) = spot {
                packing.put(problem, *item, &spot);
                budget.spend(4 * packing.bins[spot.bin].nodes.len() as u64);
            } else if open_for(problem, kinds, packing, *item).is_none() {
                break;
            }
            left[*item as usize] -= 1;
        }
    }
}

fn fill_each(
    problem: &Problem,
    kinds: &Kinds,
    types: &[u32],
    left: &mut [u32],
    score: Score,
    packing: &mut Packing,
    budget: &mut Budget,
) {
    for first in types {
        while left[*first as usize] > 0 {
            let Some(bin) = open_for(problem, kinds, packing, *first) else {
                break;
            };
            left[*first as usize] -= 1;
            for item in types {
                while left[*item as usize] > 0 {
                    let mut steps = 0;
                    let spot =
                        packing.best_spot(problem, bin..bin + 1, *item, score, None, &mut steps);
                    budget.spend(steps);
                    let Some(spot) = spot else { break };
                    packing.put(problem, *item, &spot);
                    budget.spend(4 * packing.bins[bin].nodes.len() as u64);
                    left[*item as usize] -= 1;
                }
            }
        }
    }
}

/// Moves the content of each sheet, as it lies, to the cheapest kind that it fits, until none moves: one that moves may leave
/// another what was in hand.
pub(crate) fn downsize(problem: &Problem, packing: &mut Packing) {
    while problem.sheets.len() > 1 && downsize_once(problem, packing) {}
}

/// True if a sheet's content moved; each move costs less than what it leaves, so there is an end.
fn downsize_once(problem: &Problem, packing: &mut Packing) -> bool {
    let mut moved = false;
    let mut bins: Vec<usize> = (0..packing.bins.len())
        .filter(|b| !packing.bins[*b].is_empty())
        .collect();
    bins.sort_by_key(|b| (Reverse(packing.bins[*b].filled), *b));
    for bin in bins {
        let from = packing.bins[bin].kind;
        let saved = packing.price_of_last(problem, from);
        let Some(root) = packing.bins[bin].nodes.first() else {
            continue;
        };
        let (w, h) = (root.w, root.h);
        let fits = |k: &usize| {
            let s = &problem.sheets[*k];
            *k != from
                && (s.first.is_none() || s.first == problem.sheets[from].first)
                && problem.turns > 1
                && w <= s.size.0
                && h <= s.size.1
                && packing.bins[bin].has_first_cut_on(s)
        };
        let to = (0..problem.sheets.len())
            .filter(fits)
            .filter_map(|k| Some((packing.price_of_next(problem, k)?, k)))
            .min();
        if let Some((price, kind)) = to
            && price < saved
        {
            packing.closed(problem, from);
            packing.price = packing.price.plus(price);
            packing.used[kind] += 1;
            packing.bins[bin].kind = kind;
            packing.bins[bin].refresh(problem);
            moved = true;
        }
    }
    moved
}

/// Places what is absent, on open sheets first, then on new ones.
pub(crate) fn complete(problem: &Problem, packing: &mut Packing, budget: &mut Budget) {
    let mut left = vec![0; problem.items.len()];
    for item in packing.absent.drain(..) {
        left[item as usize] += 1;
    }
    let kinds = kinds_in_order(problem);
    let types = sorted(problem, 0);
    fill_all(
        problem,
        &kinds,
        &types,
        &mut left,
        Score::Area,
        packing,
        budget,
    );
    note_absent(problem, packing, &left);
    downsize(problem, packing);
}

/// Lists what is left over as absent.
fn note_absent(problem: &Problem, packing: &mut Packing, left: &[u32]) {
    for (t, n) in left.iter().enumerate() {
        packing
            .absent
            .extend(std::iter::repeat_n(t as u32, *n as usize));
    }
    packing.absent_area = packing
        .absent
        .iter()
        .map(|t| problem.items[*t as usize].area)
        .sum();
}
