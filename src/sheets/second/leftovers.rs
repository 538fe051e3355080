//! What room is left is given to leftovers, where that makes the whole better.

use super::score::{Scales, Score, Share, Taste};
use crate::sheets::packing::Packing;
use crate::sheets::places::Place;
use crate::sheets::problem::Problem;
use crate::sheets::tree::{Bin, Dir, LEFT, Node};

/// The sheets with their leftovers in the tree, chosen so that the whole suits best: room that no leaf takes falls off as
/// the cuts come. Sheets that are alike stay alike.
pub(crate) fn leftovers(problem: &Problem, taste: &Taste, packing: &Packing) -> Vec<Bin> {
    let open = packing.bins.iter().filter(|b| !b.is_empty());
    let mut bins: Vec<Bin> = open.cloned().collect();
    for bin in &mut bins {
        bin.refresh(problem);
    }
    let mut scales = Scales::new(problem, taste);
    let mut score = Score::new(&mut scales, &bins);
    let mut done: Vec<(Bin, Bin)> = Vec::new();
    for (at, bin) in bins.iter_mut().enumerate() {
        let plain = bin.clone();
        let same = |d: &&(Bin, Bin)| d.0.kind == plain.kind && d.0.nodes == plain.nodes;
        if let Some((_, filled)) = done.iter().find(same) {
            bin.clone_from(filled);
            score.set(at, scales.with_leftovers(filled));
            continue;
        }
        *bin = fill(&mut scales, &mut score, at, plain.clone());
        done.push((plain, bin.clone()));
    }
    bins
}

/// Puts leftovers into one sheet as long as that makes the whole better, the best first.
fn fill(scales: &mut Scales, score: &mut Score, at: usize, mut bin: Bin) -> Bin {
    let others = score.largest_beside(at);
    score.set(at, scales.with_leftovers(&bin));
    let mut least = score.with_largest(others.max(score.shares[at].left));
    while bin.takes_more() {
        let mut best: Option<(i64, Bin, Share)> = None;
        for place in bin.places(scales.problem) {
            let Some(size) = room_of(&place, scales.taste) else {
                continue;
            };
            let mut tried = bin.clone();
            tried.insert(scales.problem, place, Node::leaf(LEFT, false, size));
            let share = scales.with_leftovers(&tried);
            let old = score.set(at, share.clone());
            let total = score.with_largest(others.max(share.left));
            score.set(at, old);
            if total < best.as_ref().map_or(least, |b| b.0) {
                best = Some((total, tried, share));
            }
        }
        let Some((total, tried, share)) = best else {
            break;
        };
        least = total;
        bin = tried;
        score.set(at, share);
    }
    bin
}

/// The size of a leftover that fills a place.
fn room_of(place: &Place, taste: &Taste) -> Option<(i32, i32)> {
    let (mut w, mut h) = (place.w, place.h);
    if place.exact != 0 {
        match place.dir {
            Dir::Along if h >= place.exact => h = place.exact,
            Dir::Down if w >= place.exact => w = place.exact,
            _ => return None,
        }
    }
    let real = |v: i32| i64::from(v) * taste.unit - taste.kerf;
    (real(w) > 0 && real(h) > 0).then_some((w, h))
}
