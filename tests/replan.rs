//! Planning from the middle: random jobs are planned, begun in their working order, and planned again.
//! `NOOKWRIGHT_LONG=1` runs many more.

#[allow(unreachable_pub)]
mod replay;

use nookwright::model::midway::{CutMade, Done, Spoiled};
use nookwright::model::task::{PieceKind, SheetAnswer, SheetKind, SheetTask, SolveOptions};
use nookwright::model::{Effort, FirstCut, Grain, KeepRule, Setting, SheetPlan};
use nookwright::sheets::order::{OrderRules, order_work};
use nookwright::sheets::{Replan, Stand, midway, replan};
use nookwright::units::{Cents, Length};
use nookwright::{referee, sheets};
use proptest::prelude::*;

const QUICK: SolveOptions = SolveOptions {
    effort: Effort::Quick,
    threads: 1,
    second_aims: true,
};

fn cases(usual: u32, long: u32) -> ProptestConfig {
    let long_run = std::env::var("NOOKWRIGHT_LONG").is_ok();
    ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::with_cases(if long_run { long } else { usual })
    }
}

fn kind(item: &str, size: [i64; 2], cents: i64) -> SheetKind {
    SheetKind {
        item: item.into(),
        rack: None,
        size: size.map(Length::mm),
        clean_edge: [Length::mm(2), Length::ZERO, Length::mm(2), Length::ZERO],
        grain_along_y: false,
        cost: Some(Cents(cents)),
        have: 0,
        at_most: None,
    }
}

prop_compose! {
    fn any_task()(
        second in prop::option::weighted(0.4, ([300i64..900, 250i64..600], 300i64..900)),
        have in 0u32..3,
        along_y: bool,
        rack in prop::option::weighted(0.3, [150i64..500, 100i64..400]),
        pieces in prop::collection::vec(
            ([40i64..520, 30i64..400], 1u32..5, prop::sample::select(vec![Grain::Length, Grain::Width, Grain::Any])),
            2..9,
        ),
        kerf in prop::sample::select(vec![0i64, 3, 4]),
        turns in prop::option::weighted(0.3, 3u8..5),
        first in prop::sample::select(vec![FirstCut::Either, FirstCut::Rip, FirstCut::Crosscut]),
    ) -> SheetTask {
        let mut kinds = vec![SheetKind { have, grain_along_y: along_y, ..kind("A", [900, 600], 1_000) }];
        if let Some((size, cost)) = second {
            kinds.push(kind("B", size, cost));
        }
        if let Some(size) = rack {
            kinds.push(SheetKind {
                rack: Some("R-1".into()),
                cost: None,
                have: 1,
                at_most: Some(0),
                ..kind("A", size, 0)
            });
        }
        let pieces = pieces.into_iter().enumerate().map(|(i, (size, count, grain))| PieceKind {
            mark: format!("P{i}"),
            count,
            size: size.map(Length::mm),
            grain,
            match_group: None,
        });
        SheetTask {
            kinds,
            pieces: pieces.collect(),
            kerf: Length::mm(kerf),
            turns,
            first,
            keep: KeepRule::default(),
            narrowest_safe_rip: Length::mm(50),
        }
    }
}

/// A plan in working order and its settings.
fn planned(task: &SheetTask) -> (SheetAnswer, Vec<Setting>) {
    let mut answer = sheets::solve(task, &QUICK, &mut |_| {});
    let rules = OrderRules {
        item: "A".into(),
        kerf: task.kerf,
        narrowest_safe_rip: task.narrowest_safe_rip,
        first_setting: 1,
        ..OrderRules::default()
    };
    let settings = order_work(&mut answer.sheets, &rules);
    (answer, settings)
}

/// Every cut in the order of the settings page; a line for all copies is made on one after the other.
fn working_order(sheets: &[SheetPlan], settings: &[Setting]) -> Vec<CutMade> {
    let lines = settings
        .iter()
        .flat_map(|s| &s.pieces)
        .filter(|p| p.cut > 0);
    lines
        .flat_map(|p| {
            let copies = if p.copy == 0 {
                1..=sheets[p.sheet].count
            } else {
                p.copy..=p.copy
            };
            copies.map(|copy| CutMade {
                sheet: p.sheet,
                copy,
                cut: p.cut,
            })
        })
        .collect()
}

/// What the sheets bought cost, and how many they are; sheets in hand go first.
fn bought(task: &SheetTask, sheets: &[SheetPlan]) -> (i64, u32) {
    let mut sum = (0, 0);
    for k in &task.kinds {
        let of = sheets
            .iter()
            .filter(|s| s.item == k.item && s.rack == k.rack);
        let n = of.map(|s| s.count).sum::<u32>().saturating_sub(k.have);
        sum.0 += i64::from(n) * k.cost.map_or(0, |c| c.0);
        sum.1 += n;
    }
    sum
}

fn area(sizes: impl Iterator<Item = [Length; 2]>) -> i128 {
    sizes
        .map(|[x, y]| i128::from(x.units()) * i128::from(y.units()))
        .sum()
}

/// The checks that hold for every re-plan; gives what it buys.
fn check(
    task: &SheetTask,
    (before, done): (&[SheetPlan], &Done),
    stand: &Stand,
    new: &Replan,
) -> Result<(i64, u32), TestCaseError> {
    let cost = replay::check(&new.task, &new.answer);
    prop_assert!(cost.is_ok(), "{cost:?}");
    let verdict = referee::check_rest_of_sheets(task, before, (done, &stand.midway), &new.answer);
    prop_assert_eq!(verdict, Ok(()));
    // No piece is cut from twice, and what was made is not made again.
    for p in &stand.midway.pieces {
        let used: u32 = (new.answer.sheets.iter())
            .filter(|s| s.rack.as_ref() == Some(&p.mark))
            .map(|s| s.count)
            .sum();
        prop_assert!(used <= 1);
    }
    for (i, p) in task.pieces.iter().enumerate() {
        let made: u32 = (stand.midway.made.iter())
            .filter(|m| m.mark == p.mark)
            .map(|m| m.count)
            .sum();
        let cut: u32 = (new.answer.sheets.iter())
            .map(|s| s.places.iter().filter(|q| q.mark == p.mark).count() as u32 * s.count)
            .sum();
        let not: u32 = new
            .answer
            .unplaced
            .iter()
            .filter(|u| u.piece == i)
            .map(|u| u.count)
            .sum();
        prop_assert_eq!(made + cut + not, p.count);
    }
    Ok(bought(&new.task, &new.answer.sheets))
}

proptest! {
    #![proptest_config(cases(60, 3_000))]

    /// With nothing spoiled, the rest costs no more than the sheets of the plan that were not begun, and no more of them.
    #[test]
    fn carrying_on_is_never_beaten_by_planning_again(task in any_task(), part in 0usize..=100) {
        let (answer, settings) = planned(&task);
        let order = working_order(&answer.sheets, &settings);
        let done = Done { cuts: order[..order.len() * part / 100].to_vec(), spoiled: vec![] };
        let stand = midway(&task, &answer.sheets, &done).unwrap();
        // Wood is conserved: what is left and what is made, and the kerfs between them, are the sheets that were begun.
        let begun = area(answer.sheets.iter().enumerate().flat_map(|(i, s)| {
            let clean = [s.size[0] - s.clean_edge[0] - s.clean_edge[1], s.size[1] - s.clean_edge[2] - s.clean_edge[3]];
            let copies = (1..=s.count).filter(|c| done.cuts.iter().any(|d| (d.sheet, d.copy) == (i, *c))).count();
            std::iter::repeat_n(clean, copies)
        }).collect::<Vec<_>>().into_iter());
        let sizes: Vec<[Length; 2]> = stand.midway.made.iter().flat_map(|m| {
            let size = task.pieces.iter().find(|p| p.mark == m.mark).unwrap().size;
            std::iter::repeat_n(size, m.count as usize)
        }).chain(stand.midway.pieces.iter().map(|p| p.size)).collect();
        let found = area(sizes.into_iter());
        prop_assert!(found <= begun);
        if task.kerf == Length::ZERO {
            prop_assert_eq!(found, begun);
        }
        let new = replan(&task, &stand, &QUICK, &mut |_| {});
        let after = check(&task, (&answer.sheets, &done), &stand, &new)?;
        let all = bought(&task, &answer.sheets);
        let opened: u32 = stand.midway.opened.iter().filter(|o| o.rack.is_none()).map(|o| o.count).sum();
        let whole: u32 = answer.sheets.iter().filter(|s| s.rack.is_none()).map(|s| s.count).sum();
        let uncut = bought(&new.task, &stand.carry_on);
        prop_assert!(after.0 <= uncut.0, "{after:?} after {uncut:?} of {all:?}");
        if task.kinds.iter().filter(|k| k.rack.is_none()).count() == 1 {
            prop_assert!(after.1 <= whole - opened);
        }
        if part == 0 {
            prop_assert!(uncut == all && stand.midway.pieces.is_empty());
        }
        if part == 100 && !order.is_empty() && answer.unplaced.is_empty() {
            // Only parts that are a whole sheet need no cut.
            prop_assert!(stand.carry_on.iter().all(|s| s.cuts.is_empty()));
        }
    }

    /// With parts spoiled, they are made again, and the rest costs at most the plan carried on and the parts by themselves.
    #[test]
    fn what_is_spoiled_is_made_again(task in any_task(), part in 1usize..=100, which in 0usize..100, good in 0i64..3) {
        let (answer, settings) = planned(&task);
        let order = working_order(&answer.sheets, &settings);
        let mut done = Done { cuts: order[..order.len() * part / 100].to_vec(), spoiled: vec![] };
        let clean = midway(&task, &answer.sheets, &done).unwrap();
        // Spoil a part that is made, or a piece that is left.
        let mut free: Vec<(usize, u32, [Length; 2], [Length; 2], Option<String>)> = Vec::new();
        for p in &clean.midway.pieces {
            free.push((p.sheet, p.copy, p.at, p.size, None));
        }
        for (i, s) in answer.sheets.iter().enumerate() {
            for copy in 1..=s.count {
                let begun = done.cuts.iter().any(|d| (d.sheet, d.copy) == (i, copy));
                for p in s.places.iter().filter(|_| begun) {
                    let inside = clean.midway.pieces.iter().any(|q| {
                        (q.sheet, q.copy) == (i, copy)
                            && (0..2).all(|a| q.at[a] <= p.at[a] && p.at[a] + p.size[a] <= q.at[a] + q.size[a])
                    });
                    if !inside {
                        free.push((i, copy, p.at, p.size, Some(p.mark.clone())));
                    }
                }
            }
        }
        prop_assume!(!free.is_empty());
        let (sheet, copy, at, size, mark) = free[which % free.len()].clone();
        let left = match good {
            0 => None,
            n => Some([size[0], Length::from_units((size[1].units() * n / 3).max(1))]),
        };
        done.spoiled.push(Spoiled { sheet, copy, at, left });
        let stand = midway(&task, &answer.sheets, &done).unwrap();
        if let Some(mark) = &mark {
            let made = |m: &sheets::Stand| -> u32 {
                m.midway.made.iter().filter(|p| p.mark == *mark).map(|p| p.count).sum()
            };
            prop_assert_eq!(made(&stand) + 1, made(&clean));
        }
        let new = replan(&task, &stand, &QUICK, &mut |_| {});
        let after = check(&task, (&answer.sheets, &done), &stand, &new)?;
        if answer.unplaced.is_empty() {
            prop_assert!(new.answer.unplaced.is_empty(), "a part that was cut once can be cut again");
            // Of a part that came out of a sheet once, one more sheet gives another.
            if mark.is_some() && task.turns.is_none() {
                let carried = bought(&new.task, &stand.carry_on);
                let dearest = task.kinds.iter().filter_map(|k| k.cost).max().unwrap();
                prop_assert!(after.0 <= carried.0 + dearest.0, "{after:?} {carried:?}");
            }
        }
    }
}
