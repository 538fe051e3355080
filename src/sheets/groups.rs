//! Large jobs: a few sheets at a time are emptied and packed again, alone.
//!
//! A search over all sheets would spend its time looking at places. Ten sheets are taken, one of them poorly filled;
//! either they can do with less money, or what remains is gathered on the poorest, which soon can be given up. Groups of
//! one round share no sheet and have random numbers of their own, so they can be worked on at the same time.

use super::build;
use super::packing::Packing;
use super::problem::{Price, Problem};
use super::recreate::Search;
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use crate::solve::threads;

/// Sheets in a group. [default: 10] [range: 4 to 16]
const SHEETS: usize = 10;
/// Groups in a round. [default: 2, one for each of two threads] [range: 1 to 8]
const GROUPS: usize = 2;
/// Work steps for a group. [default: 500,000] [range: 200,000 to 20,000,000]
const STEPS: u64 = 500_000;

/// Works in rounds until the price is low enough or the budget is spent.
pub(crate) fn improve(
    problem: &Problem,
    packing: &mut Packing,
    enough: Price,
    seed: u64,
    workers: usize,
    budget: &mut Budget,
) {
    let mut round = 0;
    while packing.price > enough && !budget.is_empty() && packing.bins.len() > 1 {
        packing.tidy();
        let mut rng = Rng::new(&[seed, round]);
        let groups = choose(problem, packing, &mut rng);
        let jobs: Vec<(usize, Problem, Packing)> = groups
            .iter()
            .enumerate()
            .map(|(n, group)| {
                let (part, sub) = extract(problem, packing, group);
                (n, sub, part)
            })
            .collect();
        let results = threads::map(workers, jobs, |(n, sub, part)| {
            let mut steps = Budget::new(STEPS);
            let rng = Rng::new(&[seed, round, n as u64 + 1]);
            let better = repack(&sub, &part, rng, &mut steps);
            (better, steps)
        });
        for (group, (better, steps)) in groups.iter().zip(results) {
            budget.settle(&steps);
            let Some(better) = better else { continue };
            for bin in group {
                packing.clear_bin(problem, *bin);
            }
            take_back(problem, packing, &better);
        }
        round += 1;
    }
    packing.tidy();
}

/// Packs the sheets from `first` on again, alone, for less and less, until the whole costs no more than `enough` or the
/// budget is spent.
pub(crate) fn rest(
    problem: &Problem,
    packing: &mut Packing,
    first: usize,
    enough: Price,
    seed: u64,
    budget: &mut Budget,
) {
    let group: Vec<usize> = (first..packing.bins.len()).collect();
    if group.is_empty() || !packing.is_whole() {
        return;
    }
    let (mut part, sub) = extract(problem, packing, &group);
    let others = packing.price.minus(part.price);
    let mut search = Search::new(&sub, &part, part.price.less_money(), Rng::new(&[seed]));
    let mut found = false;
    while part.price.money > 0 && others.plus(part.price) > enough && search.run(budget) {
        part.clone_from(search.now());
        part.tidy();
        found = true;
        search.lower(part.price.less_money());
    }
    if found {
        for bin in &group {
            packing.clear_bin(problem, *bin);
        }
        take_back(problem, packing, &part);
        packing.tidy();
    }
}

/// Puts the sheets of a repacked group back.
pub(super) fn take_back(problem: &Problem, packing: &mut Packing, part: &Packing) {
    for bin in part.bins.iter().filter(|b| !b.is_empty()) {
        let slot = packing.open(problem, bin.kind);
        packing.bins[slot].clone_from(bin);
    }
    packing.absent.clear();
    packing.absent_area = 0;
}

/// Disjoint groups: the first has the emptiest sheets, each other the emptiest that is left; then half at random and half from
/// the emptier half.
fn choose(problem: &Problem, packing: &Packing, rng: &mut Rng) -> Vec<Vec<usize>> {
    let mut by_fill: Vec<usize> = (0..packing.bins.len()).collect();
    by_fill.sort_by_key(|b| (packing.bins[*b].filled, *b));
    let mut free = vec![true; packing.bins.len()];
    let groups = GROUPS.min(packing.bins.len() / 2).max(1);
    let mut chosen = vec![Vec::new(); groups];
    // All that could go on one sheet belongs in one group: two sheets nearly empty, in two groups, would both stay.
    let mut fill = 0;
    let little = by_fill.iter().take_while(|b| {
        let bin = &packing.bins[**b];
        fill += bin.filled;
        fill <= problem.sheets[bin.kind].area
    });
    let first = little.count().clamp(1, SHEETS / 2);
    for (n, bin) in by_fill.iter().take(first + groups - 1).enumerate() {
        chosen[(n + 1).saturating_sub(first)].push(*bin);
        free[*bin] = false;
    }
    let size = SHEETS.min(packing.bins.len().div_ceil(groups));
    for n in 1..size {
        for group in &mut chosen {
            let among = if n % 2 == 0 {
                by_fill.len()
            } else {
                by_fill.len().div_ceil(2)
            };
            let start = rng.index(among);
            let next = (0..by_fill.len())
                .map(|i| by_fill[(start + i) % by_fill.len()])
                .find(|b| free[*b]);
            if let Some(bin) = next {
                free[bin] = false;
                group.push(bin);
            }
        }
    }
    chosen
}

/// The group as a packing and problem of its own: it may use what it uses now, no more of anything in hand.
pub(super) fn extract(problem: &Problem, packing: &Packing, group: &[usize]) -> (Packing, Problem) {
    let mut sub = problem.clone();
    sub.counts.fill(0);
    let mut used = vec![0u32; problem.sheets.len()];
    for bin in group {
        used[packing.bins[*bin].kind] += 1;
        for node in packing.bins[*bin].nodes.iter().filter(|n| n.is_leaf()) {
            sub.counts[node.piece().0 as usize] += 1;
        }
    }
    for (k, sheet) in sub.sheets.iter_mut().enumerate() {
        // Bought ones are given up first, so the group counts as in hand only what the others leave.
        let others = packing.used[k] - used[k];
        let spare = sheet.limit - packing.used[k];
        sheet.free = sheet.free.saturating_sub(others).min(used[k]);
        // Sheets that nobody uses yet go to no group where they are scarce, to all where there is no end of them.
        let more = if spare > 1_000_000 { 1_000 } else { 0 };
        sheet.limit = used[k] + more;
    }
    let mut part = Packing {
        bins: group.iter().map(|b| packing.bins[*b].clone()).collect(),
        used,
        ..Packing::default()
    };
    let mut price = Price::default();
    for (sheet, n) in sub.sheets.iter().zip(&part.used) {
        for i in 0..*n {
            price = price.plus(if i < sheet.free {
                sheet.from_hand
            } else {
                sheet.bought
            });
        }
    }
    part.price = price;
    (part, sub)
}

/// Packs a group for less, or gathers its waste on one sheet.
fn repack(sub: &Problem, part: &Packing, rng: Rng, budget: &mut Budget) -> Option<Packing> {
    let poorest = part.bins.iter().map(|b| b.filled).min()?;
    let limit = if part.price.money > 0 {
        part.price.less_money()
    } else {
        part.price
    };
    let mut search = Search::new(sub, part, limit, rng);
    let mut best = search.now().clone();
    if search.run_keeping(budget, &mut best) {
        return Some(search.now().clone());
    }
    if best.absent_area >= poorest {
        return None;
    }
    build::complete(sub, &mut best, budget);
    (best.is_whole() && best.price <= part.price).then_some(best)
}

#[cfg(test)]
mod tests {
    use super::choose;
    use crate::model::task::{PieceKind, SheetKind, SheetTask};
    use crate::model::{FirstCut, Grain, KeepRule};
    use crate::sheets::instance::Instance;
    use crate::sheets::packing::Packing;
    use crate::sheets::problem::Problem;
    use crate::solve::rng::Rng;
    use crate::units::Length;

    /// Panels of 20 x 10, five of which fill a sheet; each on a sheet of its own, but for the first sheets, which are full.
    fn one_each(full: usize, alone: usize) -> (Problem, Packing) {
        let inches = |n: i64| Length::inches(n);
        let task = SheetTask {
            kinds: vec![SheetKind {
                item: "PLY".into(),
                rack: None,
                size: [inches(20), inches(50)],
                clean_edge: [Length::ZERO; 4],
                grain_along_y: false,
                cost: None,
                have: 0,
                at_most: None,
            }],
            pieces: vec![PieceKind {
                mark: "A".into(),
                count: (5 * full + alone) as u32,
                size: [inches(20), inches(10)],
                grain: Grain::Length,
                match_group: None,
            }],
            kerf: Length::ZERO,
            turns: None,
            first: FirstCut::Either,
            keep: KeepRule::default(),
            narrowest_safe_rip: inches(1),
        };
        let problem = Problem::new(&task, &Instance::new(&task));
        let mut packing = Packing::empty(&problem);
        packing.absent.clear();
        packing.absent_area = 0;
        for n in 0..full + alone {
            let bin = packing.open(&problem, 0);
            for _ in 0..if n < full { 5 } else { 1 } {
                let spot = packing
                    .spot_on_empty(&problem, bin, 0, false)
                    .expect("the sheet has room for it");
                packing.put(&problem, 0, &spot);
            }
        }
        (problem, packing)
    }

    #[test]
    fn what_fits_on_one_sheet_is_in_one_group() {
        let (problem, packing) = one_each(20, 4);
        let groups = choose(&problem, &packing, &mut Rng::new(&[1]));
        for poor in 20..24 {
            assert!(groups[0].contains(&poor), "sheet {poor} in {groups:?}");
        }
        let mut all = groups.concat();
        all.sort_unstable();
        let len = all.len();
        all.dedup();
        assert_eq!(all.len(), len, "groups share no sheet: {groups:?}");
    }

    #[test]
    fn sheets_too_full_to_go_together_are_shared_out() {
        let (problem, packing) = one_each(20, 0);
        let groups = choose(&problem, &packing, &mut Rng::new(&[1]));
        assert_eq!(groups.len(), 2);
        assert!(groups.iter().all(|g| g.len() == 10), "{groups:?}");
    }
}
