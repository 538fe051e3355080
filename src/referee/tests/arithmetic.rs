//! The referee's own sums against trying everything, on small numbers.

use crate::referee::complete::{Complete, Supply};
use crate::referee::cover::{self, Paid};
use crate::referee::guillotine::{Shape, most_weight};
use crate::referee::sets::{Lot, heaviest};
use proptest::prelude::*;

/// Every choice of copies and ways of a list of lots.
fn every_set(lots: &[Lot], room: i64) -> i128 {
    let Some((lot, rest)) = lots.split_first() else {
        return 0;
    };
    let mut best = every_set(rest, room);
    if lot.count > 0 {
        let less = Lot {
            count: lot.count - 1,
            ..lot.clone()
        };
        let mut again = vec![less];
        again.extend_from_slice(rest);
        for (l, w) in &lot.ways {
            if *l <= room {
                best = best.max(w + every_set(&again, room - l));
            }
        }
    }
    best
}

/// The most weight of a guillotine pattern with at most the given copies, by trying every cut at every whole length.
fn every_pattern(shapes: &[Shape], left: &[u32], w: i64, h: i64) -> i64 {
    let mut best = 0;
    for (i, s) in shapes.iter().enumerate() {
        if left[i] > 0 && s.ways.iter().any(|x| x.0 <= w && x.1 <= h) {
            best = best.max(s.weight);
        }
    }
    // Every way to share the copies between the two sides.
    let mut share = vec![0u32; left.len()];
    loop {
        let rest: Vec<u32> = left.iter().zip(&share).map(|(a, b)| a - b).collect();
        if share.iter().any(|n| *n > 0) && rest.iter().any(|n| *n > 0) {
            for x in 1..w {
                let a = every_pattern(shapes, &share, x, h);
                best = best.max(a + every_pattern(shapes, &rest, w - x, h));
            }
            for y in 1..h {
                let a = every_pattern(shapes, &share, w, y);
                best = best.max(a + every_pattern(shapes, &rest, w, h - y));
            }
        }
        let Some(i) = (0..share.len()).find(|i| share[*i] < left[*i]) else {
            return best;
        };
        share[i] += 1;
        share[..i].fill(0);
    }
}

/// The least cost of sheets for the pieces, by trying every way of sharing them among the sheets.
fn every_choice(shapes: &[Shape], left: &[u32], supply: &mut [Supply]) -> Option<i64> {
    let Some(first) = left.iter().position(|n| *n > 0) else {
        return Some(0);
    };
    let mut best: Option<i64> = None;
    let mut here = vec![0u32; left.len()];
    loop {
        let weigh: i64 = (shapes.iter().zip(&here))
            .map(|(s, n)| s.weight * i64::from(*n))
            .sum();
        for i in 0..supply.len() {
            let Supply {
                room,
                cost,
                left: there,
            } = supply[i];
            if here[first] == 0
                || there == 0
                || every_pattern(shapes, &here, room.0, room.1) < weigh
            {
                continue;
            }
            let rest: Vec<u32> = left.iter().zip(&here).map(|(a, b)| a - b).collect();
            supply[i].left -= 1;
            if let Some(more) = every_choice(shapes, &rest, supply) {
                best = Some(best.map_or(cost + more, |b| b.min(cost + more)));
            }
            supply[i].left += 1;
        }
        let Some(i) = (0..here.len()).find(|i| here[*i] < left[*i]) else {
            return best;
        };
        here[i] += 1;
        here[..i].fill(0);
    }
}

fn shapes() -> impl Strategy<Value = Vec<Shape>> {
    let one = (1i64..5, 1i64..5, 1i64..20, any::<bool>());
    prop::collection::vec(one, 1..3).prop_map(|list| {
        (list.into_iter().enumerate())
            .map(|(i, (a, b, weight, turns))| Shape {
                ways: if turns {
                    vec![(a, b), (b, a)]
                } else {
                    vec![(a, b)]
                },
                weight,
                count: 2,
                limit: Some(i),
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn the_heaviest_set_is_the_heaviest(
        lots in prop::collection::vec((1u64..4, 1i64..12, 0i128..30, 1i64..12, 0i128..30), 1..5),
        room in 1i64..30,
        floor in 0i128..40,
    ) {
        let lots: Vec<Lot> = (lots.into_iter())
            .map(|(count, a, v, b, w)| Lot { count, ways: vec![(a, v), (b, w)] })
            .collect();
        prop_assert_eq!(heaviest(&lots, room, floor), Some(floor.max(every_set(&lots, room))));
    }

    #[test]
    fn the_best_pattern_is_the_best(shapes in shapes(), w in 2i64..7, h in 2i64..7) {
        let counts: Vec<u32> = shapes.iter().map(|s| s.count).collect();
        let want = every_pattern(&shapes, &counts, w, h);
        prop_assert_eq!(most_weight(&shapes, &counts, (w, h)), Some(want));
        // Without limits it can only hold more, and as much as when there are copies enough to fill it.
        let free: Vec<Shape> = shapes.iter().cloned().map(|s| Shape { limit: None, ..s }).collect();
        let most = most_weight(&free, &[], (w, h)).expect("small");
        prop_assert!(most >= want);
    }

    #[test]
    fn the_complete_search_finds_the_least(
        shapes in shapes(),
        sizes in prop::collection::vec((2i64..7, 2i64..7, 1i64..9, 0u64..2, 0u64..4), 1..3),
    ) {
        let mut supply: Vec<Supply> = Vec::new();
        for (w, h, cost, free, left) in sizes {
            supply.push(Supply { room: (w, h), cost: 0, left: free });
            supply.push(Supply { room: (w, h), cost, left });
        }
        let counts: Vec<u32> = shapes.iter().map(|s| s.count).collect();
        let truth = every_choice(&shapes, &counts, &mut supply.clone());
        let mut search = Complete::new(&shapes);
        let all: i64 = supply.iter().map(|s| s.cost * s.left as i64).sum();
        for sum in [-1, 0, 1, 2, 3, 5, 8, 13, 21, all] {
            let want = truth.is_some_and(|t| t <= sum);
            prop_assert_eq!(search.fits_for(&supply, sum), Some(want), "{} of {:?}", sum, truth);
        }
        // Weights are for speed: careless ones change nothing.
        let mut odd = shapes.clone();
        for (s, w) in odd.iter_mut().zip([1_000_000, 0, 3]) {
            s.weight = w;
        }
        if let Some(t) = truth {
            prop_assert_eq!(Complete::new(&odd).fits_for(&supply, t), Some(true));
            prop_assert_eq!(Complete::new(&odd).fits_for(&supply, t - 1), Some(false));
        }
    }

    #[test]
    fn the_least_cost_is_the_least(
        kinds in prop::collection::vec((0i64..20, 0i128..9, 0u64..4), 1..4),
        need in 0i128..40,
    ) {
        let paid: Vec<Paid> = kinds.iter().map(|(cost, most, limit)| Paid { cost: *cost, most: *most, limit: *limit }).collect();
        let mut best: Option<i64> = None;
        let mut counts = vec![0u64; paid.len()];
        loop {
            let most: i128 = paid.iter().zip(&counts).map(|(k, n)| k.most * i128::from(*n)).sum();
            let cost: i64 = paid.iter().zip(&counts).map(|(k, n)| k.cost * *n as i64).sum();
            if most >= need && best.is_none_or(|b| cost < b) {
                best = Some(cost);
            }
            let Some(i) = (0..counts.len()).find(|i| counts[*i] < paid[*i].limit) else { break };
            counts[i] += 1;
            counts[..i].fill(0);
        }
        prop_assert_eq!(cover::least(&paid, need), best);
    }
}

/// Sheets counted by hand: four 3 x 3 squares need two sheets of 5 x 6, and no pattern puts three on one.
#[test]
fn squares_on_sheets() {
    let square = Shape {
        ways: vec![(3, 3)],
        weight: 1,
        count: 4,
        limit: None,
    };
    let sheets = |room, left| {
        [Supply {
            room,
            cost: 1,
            left,
        }]
    };
    let mut search = Complete::new(std::slice::from_ref(&square));
    let mut fits = |room, left, sum| search.fits_for(&sheets(room, left), sum);
    assert_eq!(fits((5, 6), 9, 1), Some(false));
    assert_eq!(fits((5, 6), 9, 2), Some(true));
    assert_eq!(fits((5, 6), 1, 2), Some(false), "there is only one");
    assert_eq!(fits((2, 9), 99, 99), Some(false));
    assert_eq!(
        most_weight(std::slice::from_ref(&square), &[], (5, 6)),
        Some(2)
    );
}

/// gcut (Beasley 1985, OR-Library): most area of any number of copies, oriented and turning. Values as published and in
/// `tests/data`; sets whose table would be too large are said to be so, never guessed.
#[test]
fn best_patterns_of_the_open_sets() {
    let text = include_str!("../../../tests/data/single_sheet_gcut.jsonl");
    let (mut right, mut large) = (0, 0);
    for line in text.lines() {
        let list: serde_json::Value = serde_json::from_str(line).expect("a list");
        let n = |v: &serde_json::Value| v.as_i64().expect("a number");
        let room = (n(&list["sheet"][0]), n(&list["sheet"][1]));
        if room.0 > 1_000 && std::env::var("NOOKWRIGHT_LONG").is_err() {
            continue;
        }
        for (name, turns) in [("oriented", false), ("turning", true)] {
            let want = &list["most_area_any_count"][name];
            let shapes: Vec<Shape> = (list["sizes"].as_array().expect("sizes").iter())
                .map(|i| {
                    let (a, b) = (n(&i[0]), n(&i[1]));
                    Shape {
                        ways: if turns {
                            vec![(a, b), (b, a)]
                        } else {
                            vec![(a, b)]
                        },
                        weight: a * b,
                        count: 1,
                        limit: None,
                    }
                })
                .collect();
            match most_weight(&shapes, &[], room) {
                Some(most) => {
                    assert_eq!(most, n(want), "{} {name}", list["id"]);
                    right += 1;
                }
                None => large += 1,
            }
        }
    }
    assert!(right > 4 * large, "{right} right, {large} too large");
}
