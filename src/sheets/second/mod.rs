//! Second aims: at the same price, a plan that is easier to cut and leaves more worth keeping.
//!
//! The same tearing out and putting back, but only results that place everything count, and what is made small is one
//! weighted sum of cuts, fence settings, narrow rips and (with a minus) the largest leftover. A result may be worse than what it
//! was made from by less than a threshold that falls to nothing (Dueck & Scheuer, "Threshold accepting", 1990).

mod leftovers;
mod remainder;
mod score;
mod tally;
#[cfg(test)]
mod tests;

pub(super) use leftovers::leftovers;
pub(super) use remainder::gather;
pub(super) use score::Taste;

use super::packing::Packing;
use super::problem::{Price, Problem};
use super::recreate::Search;
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use score::{Scales, Score, Share};

/// How much worse a result may be to begin with, in the units of `score`. [default: 2,000] [range: 200 to 4,000]
const WORSE: u64 = 2_000;
/// Steps for each pair of pieces from which it is so much; with fewer it is less in proportion. [default: 6,000] [range: 1,000 to
/// 50,000]
const PAIR_STEPS: u64 = 6_000;

/// The threshold with so many steps left of all.
fn threshold(begin: u64, left: u64, all: u64) -> i64 {
    let part = u128::from(left) * u128::from(left) * u128::from(begin);
    let all = u128::from(all.max(1));
    (part / (all * all)) as i64
}

/// Looks for a plan at no higher price that suits better.
pub(crate) fn improve(
    problem: &Problem,
    taste: &Taste,
    packing: &mut Packing,
    rng: Rng,
    budget: &mut Budget,
) {
    if !packing.is_whole() || packing.bins.is_empty() {
        return;
    }
    let limit = packing.price.plus(Price {
        money: 0,
        in_hand: 1,
    });
    let mut search = Search::new(problem, packing, limit, rng);
    let mut scales = Scales::new(problem, taste);
    let mut score = Score::new(&mut scales, &search.now().bins);
    let mut now = score.total();
    let mut least = now;
    let pieces: u64 = problem.counts.iter().map(|n| u64::from(*n)).sum();
    let all = budget.left();
    let pairs = (pieces * pieces).max(1);
    let begin = (WORSE * (all / pairs) / PAIR_STEPS).min(WORSE);
    let mut dice = Rng::new(&[8]);
    let mut undo: Vec<(usize, Share)> = Vec::new();
    while !budget.is_empty() {
        let mut steps = 0;
        search.attempt(0, &mut steps);
        if search.now().is_whole() {
            for bin in search.changed() {
                let bins = &search.now().bins;
                steps += 4 * bins[*bin].nodes.len() as u64;
                let old = score.set(*bin, scales.about(&bins[*bin]));
                undo.push((*bin, old));
            }
            let new = score.total();
            let worse = threshold(begin, budget.left(), all);
            if new <= now + i64::from(dice.below(worse as u32 + 1)) {
                undo.clear();
                now = new;
                search.keep();
                if now < least {
                    least = now;
                    packing.clone_from(search.now());
                }
            } else {
                for (bin, old) in undo.drain(..).rev() {
                    score.set(bin, old);
                }
                search.undo();
            }
        } else {
            search.undo();
        }
        budget.spend(steps);
    }
    packing.tidy();
}
