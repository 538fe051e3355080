//! The sheet optimiser against outside truth: a replay of the cuts, complete search on tiny jobs, single sizes against mixes.
//! `NOOKWRIGHT_LONG=1` runs many more jobs.

#[allow(unreachable_pub)]
mod random_sheets;
#[allow(unreachable_pub)]
mod replay;

use nookwright::model::task::{PieceKind, SheetKind, SheetTask, SolveOptions};
use nookwright::model::{FirstCut, Grain, KeepRule};
use nookwright::units::{Cents, Length};
use nookwright::{referee, sheets};
use proptest::prelude::*;
use random_sheets::{QUICK, any_piece, any_task, cases, kind};
use std::collections::BTreeMap;

proptest! {
    #![proptest_config(cases(30, 20_000))]

    /// Cuts, grain, stock, turns, first cuts, leftovers: the replay accepts it, and so does the referee.
    #[test]
    fn every_answer_can_be_cut(task in any_task()) {
        let answer = sheets::solve(&task, &QUICK, &mut |_| {});
        if let Err(e) = replay::check(&task, &answer) {
            prop_assert!(false, "{e}");
        }
        if let Err(faults) = referee::check_sheets(&task, &answer) {
            prop_assert!(false, "{faults:?}");
        }
        for u in answer.unplaced.iter().filter(|u| u.fits_nothing) {
            let p = &task.pieces[u.piece];
            let fits = task.kinds.iter().any(|k| {
                let x = k.size[0] - k.clean_edge[0] - k.clean_edge[1];
                let y = k.size[1] - k.clean_edge[2] - k.clean_edge[3];
                let (along, across) = if k.grain_along_y { (y, x) } else { (x, y) };
                let straight = p.size[0] <= along && p.size[1] <= across;
                let turned = p.size[1] <= along && p.size[0] <= across;
                (k.have > 0 || k.at_most != Some(0)) && match p.grain {
                    Grain::Length => straight,
                    Grain::Width => turned,
                    Grain::Any => straight || turned,
                }
            });
            prop_assert!(!fits, "a piece that fits is said to fit nothing");
        }
        let again = sheets::solve(&task, &SolveOptions { threads: 2, ..QUICK }, &mut |_| {});
        prop_assert_eq!(answer, again, "two threads give another answer");
    }
}

/// Every way of packing a set of pieces by guillotine cuts, as the smallest rectangles they come to (kerf added).
fn rectangles(
    ways: &[Vec<(i64, i64)>],
    set: usize,
    known: &mut BTreeMap<usize, Vec<(i64, i64)>>,
) -> Vec<(i64, i64)> {
    if let Some(r) = known.get(&set) {
        return r.clone();
    }
    let mut all = Vec::new();
    if set.count_ones() == 1 {
        all.clone_from(&ways[set.trailing_zeros() as usize]);
    }
    let mut part = (set - 1) & set;
    while part > 0 {
        let rest = set & !part;
        if part < rest {
            for a in rectangles(ways, part, known) {
                for b in rectangles(ways, rest, known) {
                    all.push((a.0 + b.0, a.1.max(b.1)));
                    all.push((a.0.max(b.0), a.1 + b.1));
                }
            }
        }
        part = (part - 1) & set;
    }
    all.sort_unstable();
    all.dedup();
    let least: Vec<_> = all
        .iter()
        .copied()
        .filter(|a| !all.iter().any(|b| b != a && b.0 <= a.0 && b.1 <= a.1))
        .collect();
    known.insert(set, least.clone());
    least
}

/// The least cost by complete search; `None` if the stock does not hold everything. Up to seven pieces.
fn least_cost(task: &SheetTask) -> Option<i64> {
    let kerf = task.kerf.units();
    let ways: Vec<Vec<(i64, i64)>> = task
        .pieces
        .iter()
        .flat_map(|p| {
            let (l, w) = (p.size[0].units() + kerf, p.size[1].units() + kerf);
            let ways = match p.grain {
                Grain::Length => vec![(l, w)],
                Grain::Width => vec![(w, l)],
                Grain::Any => vec![(l, w), (w, l)],
            };
            std::iter::repeat_n(ways, p.count as usize)
        })
        .collect();
    let all = (1usize << ways.len()) - 1;
    let mut known = BTreeMap::new();
    // fits[set] = kinds that hold it.
    let fits: Vec<Vec<bool>> = (0..=all)
        .map(|set| {
            if set == 0 {
                return vec![false; task.kinds.len()];
            }
            let r = rectangles(&ways, set, &mut known);
            task.kinds
                .iter()
                .map(|k| {
                    let w = k.size[0].units() - (k.clean_edge[0] + k.clean_edge[1]).units() + kerf;
                    let h = k.size[1].units() - (k.clean_edge[2] + k.clean_edge[3]).units() + kerf;
                    r.iter().any(|r| r.0 <= w && r.1 <= h)
                })
                .collect()
        })
        .collect();
    fn place(
        task: &SheetTask,
        fits: &[Vec<bool>],
        left: usize,
        used: &mut [u32],
        cost: i64,
        best: &mut Option<i64>,
    ) {
        if best.is_some_and(|b| cost >= b) {
            return;
        }
        if left == 0 {
            *best = Some(cost);
            return;
        }
        let first = left & left.wrapping_neg();
        let mut set = left;
        while set > 0 {
            if set & first != 0 {
                for k in 0..task.kinds.len() {
                    let kind = &task.kinds[k];
                    let limit = kind.at_most.map_or(u32::MAX, |m| m + kind.have);
                    if fits[set][k] && used[k] < limit {
                        let price = if used[k] < kind.have {
                            0
                        } else {
                            kind.cost.map_or(0, |c| c.0)
                        };
                        used[k] += 1;
                        place(task, fits, left & !set, used, cost + price, best);
                        used[k] -= 1;
                    }
                }
            }
            set = (set - 1) & left;
        }
    }
    let mut best = None;
    place(
        task,
        &fits,
        all,
        &mut vec![0; task.kinds.len()],
        0,
        &mut best,
    );
    best
}

proptest! {
    #![proptest_config(cases(40, 5_000))]

    /// Several sizes, prices, limits and a rack: as cheap as complete search, and no bound above it.
    #[test]
    fn tiny_jobs_equal_complete_search(mut task in any_task()) {
        task.turns = None;
        task.first = FirstCut::Either;
        for k in &mut task.kinds {
            k.grain_along_y = false;
            if k.rack.is_none() {
                k.cost = Some(k.cost.unwrap_or(Cents(50)));
            }
        }
        let mut room = 7;
        for p in &mut task.pieces {
            p.count = p.count.min(room).min(2);
            room -= p.count;
        }
        task.pieces.retain(|p| p.count > 0);
        let answer = sheets::solve(&task, &QUICK, &mut |_| {});
        let (cost, _) = replay::check(&task, &answer).expect("it can be cut");
        match least_cost(&task) {
            Some(least) => {
                prop_assert!(answer.unplaced.is_empty(), "everything can be placed");
                prop_assert_eq!(cost, least);
                prop_assert!(answer.cost_at_least.is_none_or(|b| b.0 <= least), "a bound above the truth");
            }
            None => prop_assert!(!answer.unplaced.is_empty()),
        }
    }

    /// A mix is never dearer than the best single size.
    #[test]
    fn a_mix_costs_no_more_than_one_size(
        sizes in prop::collection::vec(([40i64..120, 30i64..80], 20i64..100), 2..4),
        pieces in prop::collection::vec(any_piece(), 3..10),
    ) {
        let kinds: Vec<SheetKind> = sizes.iter().enumerate().map(|(n, (s, c))| kind(n, *s, Some(*c))).collect();
        let mut pieces = pieces;
        for (n, p) in pieces.iter_mut().enumerate() {
            p.mark = format!("P{n}");
            p.size = p.size.map(|s| s.min(Length::mm(30)));
            p.count *= 2;
        }
        let task = SheetTask {
            kinds,
            pieces,
            kerf: Length::mm(3),
            turns: None,
            first: FirstCut::Either,
            keep: KeepRule::default(),
            narrowest_safe_rip: Length::mm(5),
        };
        let mixed = sheets::solve(&task, &QUICK, &mut |_| {});
        let (cost, _) = replay::check(&task, &mixed).expect("it can be cut");
        for k in &task.kinds {
            let one = SheetTask { kinds: vec![k.clone()], ..task.clone() };
            let alone = sheets::solve(&one, &QUICK, &mut |_| {});
            let (single, _) = replay::check(&one, &alone).expect("it can be cut");
            prop_assert!(!alone.unplaced.is_empty() || cost <= single, "{} alone costs {single}, the mix {cost}", k.item);
        }
    }
}

/// Guillotine optima of the furniture lists A1 and A3 (Becker, thesis, UFRGS 2022: 3 and 8 sheets).
#[test]
fn known_optima_of_furniture_lists() {
    let lists: [([i64; 2], &[[i64; 3]], u32); 2] = [
        ([2750, 1220], &[[1680, 420, 6], [463, 386, 18]], 3),
        ([2750, 1220], &[[2117, 475, 16], [463, 386, 1]], 8),
    ];
    for (sheet, items, optimum) in lists {
        let task = SheetTask {
            kinds: vec![kind(0, sheet, None)],
            pieces: items
                .iter()
                .enumerate()
                .map(|(n, i)| PieceKind {
                    mark: format!("P{n}"),
                    count: i[2] as u32,
                    size: [Length::mm(i[0]), Length::mm(i[1])],
                    grain: Grain::Length,
                    match_group: None,
                })
                .collect(),
            kerf: Length::ZERO,
            turns: None,
            first: FirstCut::Either,
            keep: KeepRule::default(),
            narrowest_safe_rip: Length::ZERO,
        };
        let answer = sheets::solve(&task, &SolveOptions::default(), &mut |_| {});
        let (_, sheets) = replay::check(&task, &answer).expect("it can be cut");
        assert_eq!(
            (sheets, answer.at_least, answer.proved),
            (optimum, optimum, true)
        );
    }
}

/// Found by random jobs: with two sizes the count came from one bound and the certificate from another.
#[test]
fn the_count_claimed_is_the_one_the_certificate_shows() {
    let kind = |item: &str, size: [i64; 2], cents| SheetKind {
        item: item.into(),
        rack: None,
        size: size.map(Length::from_units),
        clean_edge: [Length::ZERO; 4],
        grain_along_y: false,
        cost: Some(Cents(cents)),
        have: 0,
        at_most: None,
    };
    let piece = |mark: &str, count, size: [i64; 2]| PieceKind {
        mark: mark.into(),
        count,
        size: size.map(Length::from_units),
        grain: Grain::Length,
        match_group: None,
    };
    let task = SheetTask {
        kinds: vec![
            kind("S0", [3_040_000, 3_040_000], 139),
            kind("S1", [5_360_000, 2_720_000], 10),
        ],
        pieces: vec![
            piece("P0", 3, [2_400_000, 1_440_000]),
            piece("P1", 4, [351_750, 2_800_000]),
        ],
        kerf: Length::ZERO,
        turns: None,
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: Length::ZERO,
    };
    let answer = sheets::solve(&task, &QUICK, &mut |_| {});
    assert_eq!(referee::check_sheets(&task, &answer), Ok(()));
}
