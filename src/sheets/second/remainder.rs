//! One leftover as large as it can be: the emptiest sheets packed again with one of them cut down.
//!
//! A sheet of the plan is replaced by a shorter or narrower one; if everything still finds a place, what was cut away is one
//! leftover. More is cut away after a try that succeeds, less after one that fails.

use super::score::Taste;
use crate::sheets::groups::{extract, take_back};
use crate::sheets::packing::Packing;
use crate::sheets::problem::{Price, Problem};
use crate::sheets::recreate::Search;
use crate::sheets::tree::Dir;
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use crate::solve::threads;

/// Sheets that are packed again at most, the emptiest. [default: 24] [range: 4 to 60]
const SHEETS: usize = 24;
/// Parts of the steps, one for a try to begin with. [default: 8] [range: 4 to 64; hardly matters]
const TRIES: u64 = 8;
/// The first try is for this part of what could be gained. [default: 6] [range: 2 to 16]
const FIRST: i128 = 6;
/// Once no gain is too small to try, tries are twice as long, and for so many of the least gain. [default: 4] [range: 2 to 10]
const AGAIN: i128 = 4;
/// The least gain worth a try, as a part of the sheet. [default: 100] [range: 20 to 1,000]
const LEAST: i128 = 100;
/// Steps that a try takes at least.
const OF_A_TRY: u64 = 1_000;

/// Packs again so that one leftover worth keeping is larger, at the same price.
pub(crate) fn gather(
    problem: &Problem,
    taste: &Taste,
    packing: &mut Packing,
    seed: u64,
    workers: usize,
    budget: &mut Budget,
) {
    packing.tidy();
    if !packing.is_whole() || packing.bins.is_empty() || problem.turns != u8::MAX {
        return;
    }
    let mut group: Vec<usize> = (0..packing.bins.len()).collect();
    group.sort_by_key(|b| (packing.bins[*b].filled, *b));
    group.truncate(SHEETS);
    let (mut part, mut sub) = extract(problem, packing, &group);
    for (sheet, used) in sub.sheets.iter_mut().zip(&part.used) {
        sheet.limit = *used;
    }
    // The sheet that is cut down is of the emptiest one's kind.
    let kind = part.bins[0].kind;
    let sheet = sub.sheets[kind];
    if sheet.first.is_some() {
        return;
    }
    let size = sheet.size;
    if !taste.keeps(size) {
        // What is cut off it would be kept even less.
        return;
    }
    let whole = area(size);
    let room: i128 = (part.bins.iter())
        .map(|b| area(sub.sheets[b.kind].size))
        .sum();
    let pieces: i128 = (sub.items.iter().zip(&sub.counts))
        .map(|(item, n)| area(item.ways[0]) * i128::from(*n))
        .sum();
    let most = (room - pieces).min(whole);
    let mut now = (part.bins.iter())
        .filter(|b| b.kind == kind)
        .map(|b| largest((b.nodes[0].w, b.nodes[0].h), size))
        .max()
        .unwrap_or(0);
    // On a coarse grid a hundredth of the sheet is nothing.
    let least = (whole / LEAST).max(1);
    let mut step = (most - now) / FIRST;
    let mut each = budget.left() / TRIES;
    let mut found = false;
    let mut turn = 0;
    while !budget.is_empty() {
        turn += 1;
        if most - now < least {
            break;
        }
        if step < least {
            each *= 2;
            step = least * AGAIN;
        }
        step = step.min(most - now);
        let aim = now + step;
        let sides = threads::map(workers, vec![Dir::Along, Dir::Down], |side| {
            let mut budget = Budget::new(each / 2);
            let small = less(side, size, aim).filter(|s| taste.keeps(cut_off(size, *s)));
            let rng = Rng::new(&[seed, turn, side as u64]);
            let packed = small.and_then(|small| pack(&sub, &part, kind, small, rng, &mut budget));
            (packed, budget)
        });
        // A little for the try itself: where nothing so small is worth keeping none is made.
        budget.spend(OF_A_TRY);
        let mut best = None;
        for (packed, spent) in sides {
            budget.settle(&spent);
            if let Some((left, packed)) = packed
                && best.as_ref().is_none_or(|(most, _)| left > *most)
            {
                best = Some((left, packed));
            }
        }
        match best {
            Some((left, packed)) => {
                (now, part, found) = (left.max(aim), packed, true);
            }
            None => step /= 2,
        }
    }
    if found {
        for bin in &group {
            packing.clear_bin(problem, *bin);
        }
        take_back(problem, packing, &part);
        packing.tidy();
    }
}

fn area((w, h): (i32, i32)) -> i128 {
    i128::from(w) * i128::from(h)
}

/// The larger of the leftovers that one cut of a sheet frees, its pieces being so large.
fn largest(pieces: (i32, i32), sheet: (i32, i32)) -> i128 {
    let beside = area((sheet.0 - pieces.0, sheet.1));
    beside.max(area((sheet.0, sheet.1 - pieces.1)))
}

/// What is cut off a sheet to make it this small.
fn cut_off(sheet: (i32, i32), size: (i32, i32)) -> (i32, i32) {
    if size.0 < sheet.0 {
        (sheet.0 - size.0, sheet.1)
    } else {
        (sheet.0, sheet.1 - size.1)
    }
}

/// The sheet's size with at least so much area cut off across a direction.
fn less(dir: Dir, (w, h): (i32, i32), off: i128) -> Option<(i32, i32)> {
    let shorter = |run: i32, across: i32| {
        let off = (off + i128::from(across) - 1) / i128::from(across);
        i32::try_from(i128::from(run) - off)
            .ok()
            .filter(|run| *run > 0)
    };
    match dir {
        Dir::Along => shorter(w, h).map(|w| (w, h)),
        Dir::Down => shorter(h, w).map(|h| (w, h)),
    }
}

/// Packs the group with one sheet of a kind this small; the packing, and the largest leftover of that sheet.
fn pack(
    sub: &Problem,
    part: &Packing,
    kind: usize,
    size: (i32, i32),
    rng: Rng,
    budget: &mut Budget,
) -> Option<(i128, Packing)> {
    let mut small = sub.clone();
    small.sheets[kind].limit -= 1;
    small.sheets[kind].free = small.sheets[kind].free.min(small.sheets[kind].limit);
    let mut cut_down = small.sheets[kind];
    (cut_down.size, cut_down.limit) = (size, 1);
    cut_down.free = 0;
    cut_down.area = (i128::from(cut_down.area) * i128::from(size.0) * i128::from(size.1)
        / (i128::from(sub.sheets[kind].size.0) * i128::from(sub.sheets[kind].size.1)))
        as i64;
    let extra = small.sheets.len();
    small.sheets.push(cut_down);
    // The sheet that is cut down gives up what it holds.
    let mut start = part.clone();
    let given = (0..start.bins.len())
        .filter(|b| start.bins[*b].kind == kind && !start.bins[*b].is_empty())
        .min_by_key(|b| (start.bins[*b].filled, *b))?;
    start.clear_bin(sub, given);
    start.used.push(0);
    let mut search = Search::new(&small, &start, Price::MOST, rng);
    if !search.run(budget) {
        return None;
    }
    let mut packed = search.now().clone();
    packed.tidy();
    let full = sub.sheets[kind].size;
    let mut left = area(full);
    for bin in packed.bins.iter_mut().filter(|b| b.kind == extra) {
        left = largest((bin.nodes[0].w, bin.nodes[0].h), full);
        bin.kind = kind;
        bin.refresh(sub);
    }
    packed.used[kind] += packed.used[extra];
    packed.used.truncate(extra);
    Some((left, packed))
}

#[cfg(test)]
mod tests {
    use super::{area, gather, largest};
    use crate::model::task::SheetTask;
    use crate::sheets::build::multistart;
    use crate::sheets::instance::Instance;
    use crate::sheets::packing::Packing;
    use crate::sheets::problem::{Price, Problem};
    use crate::sheets::second::{Taste, tests::boards};
    use crate::solve::budget::Budget;
    use crate::units::Length;

    /// The quick rules' packing of a job.
    fn packed(task: &SheetTask) -> (Problem, Taste, Packing) {
        let instance = Instance::new(task);
        let problem = Problem::new(task, &instance);
        let taste = Taste::of(task, &instance);
        let nothing = Price {
            money: 0,
            in_hand: 0,
        };
        let packing = multistart(&problem, &mut Budget::new(1), nothing);
        (problem, taste, packing)
    }

    fn pieces(packing: &Packing) -> Vec<u32> {
        let nodes = packing.bins.iter().flat_map(|b| &b.nodes);
        let mut all: Vec<u32> = (nodes.filter(|n| n.is_leaf()))
            .map(|n| n.piece().0)
            .collect();
        all.sort_unstable();
        all
    }

    /// Six panels of 20 x 20 fill a sheet; nine are spread four and five.
    #[test]
    fn panels_on_two_sheets_leave_one_large_piece() {
        let task = boards([60, 40], &[(20, 20, 9)]);
        let (problem, taste, mut packing) = packed(&task);
        while packing.bins[0].pieces > 4 {
            let drop: Vec<bool> = (0..packing.bins[0].nodes.len())
                .map(|i| i + 1 == packing.bins[0].nodes.len())
                .collect();
            packing.bins[0].remove(&problem, &drop, &mut Vec::new(), |_| {});
            let mut steps = 0;
            let score = crate::sheets::places::SCORES[0];
            let spot = packing
                .best_spot(&problem, 1..2, 0, score, None, &mut steps)
                .expect("the second sheet has room");
            packing.put(&problem, 0, &spot);
        }
        let before = packing.clone();
        assert_eq!((before.bins[0].pieces, before.bins[1].pieces), (4, 5));
        gather(
            &problem,
            &taste,
            &mut packing,
            1,
            1,
            &mut Budget::new(4_000_000),
        );
        assert_eq!(pieces(&packing), pieces(&before), "every piece once");
        assert_eq!(packing.price, before.price);
        let emptier = packing.bins.iter().min_by_key(|b| b.pieces).expect("two");
        assert_eq!(emptier.pieces, 3, "six fill one sheet");
        let sheet = problem.sheets[0].size;
        let left = largest((emptier.nodes[0].w, emptier.nodes[0].h), sheet);
        assert_eq!(
            2 * left,
            area(sheet),
            "three side by side leave half a sheet whole"
        );
    }

    #[test]
    fn it_ends_where_nothing_is_worth_keeping() {
        let mut task = boards([60, 40], &[(20, 20, 4)]);
        task.keep.panel = [Length::inches(1000); 2];
        task.keep.strip = [Length::inches(1000); 2];
        let (problem, taste, mut packing) = packed(&task);
        let before = packing.clone();
        gather(
            &problem,
            &taste,
            &mut packing,
            1,
            1,
            &mut Budget::new(50_000),
        );
        assert_eq!(packing, before);
    }
}
