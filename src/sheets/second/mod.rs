//! Second aims: at the same price, a plan that is easier to cut and leaves more worth keeping.
//!
//! The same tearing out and putting back, but only results that place everything count, and what is made small is one
//! weighted sum of cuts, fence settings, narrow rips and (with a minus) the largest leftover.

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

/// How far back a result may be as bad as. [default: 50] [range: 1 to 500]
const HISTORY: usize = 50;

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
    let mut history = [now; HISTORY];
    let mut turn = 0;
    let mut undo: Vec<(usize, Share)> = Vec::new();
    while !budget.is_empty() {
        let mut steps = 0;
        search.attempt(0, &mut steps);
        let slot = turn % HISTORY;
        turn += 1;
        if search.now().is_whole() {
            for bin in search.changed() {
                let bins = &search.now().bins;
                steps += 4 * bins[*bin].nodes.len() as u64;
                let old = score.set(*bin, scales.about(&bins[*bin]));
                undo.push((*bin, old));
            }
            let new = score.total();
            if new <= now.max(history[slot]) {
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
        history[slot] = history[slot].min(now);
        budget.spend(steps);
    }
    packing.tidy();
}
