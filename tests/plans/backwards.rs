//! Lists cut backwards from full sheets and sticks: their truth is at most what they were cut from, and nothing said to be
//! shown may lie above it.

use super::files::{Dice, numbers};
use nookwright::model::task::{
    PieceKind, SheetKind, SheetTask, SolveOptions, StickKind, StickPiece, StickTask,
};
use nookwright::model::{Effort, FirstCut, Grain, KeepRule};
use nookwright::units::{Cents, Length};
use nookwright::{referee, sheets, sticks};

const QUICK: SolveOptions = SolveOptions {
    effort: Effort::Quick,
    threads: 1,
    second_aims: true,
};

/// Cuts a rectangle edge to edge into pieces, a kerf lost at every cut; sides in 1/64 in.
fn divide(d: &mut Dice, [x, y]: [i64; 2], kerf: i64, depth: u32, out: &mut Vec<[i64; 2]>) {
    let longer = if d.one_in(4) { y > x } else { x >= y };
    let side = if longer { x } else { y };
    let least = 3 * 64;
    if depth == 0 || side < 2 * least + kerf || (depth < 3 && d.one_in(5)) {
        out.push([x, y]);
        return;
    }
    // Halves and thirds too, so that sizes come again.
    let at = match d.roll(4) {
        0 if (side - kerf) % 2 == 0 => (side - kerf) / 2,
        1 => d.within(least / 64, (side - kerf - least) / 64) * 64,
        _ => d.within(least, side - kerf - least),
    };
    let (a, b) = if longer {
        ([at, y], [side - at - kerf, y])
    } else {
        ([x, at], [x, side - at - kerf])
    };
    divide(d, a, kerf, depth - 1, out);
    divide(d, b, kerf, depth - 1, out);
}

#[test]
fn no_bound_is_above_the_sheets_a_list_was_cut_from() {
    let (mut met, mut proved) = (0, 0);
    let all = numbers(200, 5_000);
    for number in all.clone() {
        let d = &mut Dice::new(number ^ 0xB0);
        let kerf = *d.pick(&[0i64, 6, 8]);
        let edge = *d.pick(&[0i64, 8, 16]);
        let mut kinds: Vec<SheetKind> = Vec::new();
        for i in 0..d.within(1, 3) {
            let size = *d.pick(&[[96, 48], [60, 60], [48, 48], [97, 49], [48, 24]]);
            kinds.push(SheetKind {
                item: format!("P{i}"),
                rack: None,
                size: size.map(Length::inches),
                clean_edge: [Length::in_64(edge); 4],
                grain_along_y: false,
                cost: Some(Cents(d.within(1_000, 9_000))),
                have: 0,
                at_most: None,
            });
        }
        let (mut truth, mut cost) = (0i64, 0i64);
        let mut pieces: Vec<PieceKind> = Vec::new();
        let depth = d.within(1, 4) as u32;
        let turn = d.one_in(3);
        for (k, kind) in kinds.iter_mut().enumerate() {
            // As many as are cut from are there, or any number.
            let n = d.within(i64::from(k == 0), 3);
            truth += n;
            cost += n * kind.cost.map_or(0, |c| c.0);
            if n > 0 && d.one_in(3) {
                kind.at_most = Some(n as u32);
            }
            for _ in 0..n {
                let usable = kind.size.map(|s| s.units() / 31_750 - 2 * edge);
                let mut out = Vec::new();
                divide(d, usable, kerf, depth, &mut out);
                for size in out {
                    let size = size.map(Length::in_64);
                    match pieces.iter_mut().find(|p| p.size == size) {
                        Some(p) => p.count += 1,
                        None => pieces.push(PieceKind {
                            mark: format!("M{}", pieces.len()),
                            count: 1,
                            size,
                            grain: if turn && d.one_in(2) {
                                Grain::Any
                            } else {
                                Grain::Length
                            },
                            match_group: None,
                        }),
                    }
                }
            }
        }
        let task = SheetTask {
            kinds,
            pieces,
            kerf: Length::in_64(kerf),
            turns: None,
            first: FirstCut::Either,
            keep: KeepRule::default(),
            narrowest_safe_rip: Length::ZERO,
        };
        let answer = sheets::solve(&task, &QUICK, &mut |_| {});
        let bound = answer.cost_at_least.map_or(0, |c| c.0);
        assert!(
            bound <= cost,
            "list {number}: cost at least {bound}, cut from {cost}\n{task:#?}"
        );
        let bought: u32 = answer.sheets.iter().map(|s| s.count).sum();
        let paid: i64 = (answer.sheets.iter())
            .map(|s| {
                let kind = task.kinds.iter().find(|k| k.item == s.item);
                i64::from(s.count) * kind.and_then(|k| k.cost).map_or(0, |c| c.0)
            })
            .sum();
        if answer.unplaced.is_empty() {
            // `at_least` speaks of plans that place what this one places.
            if task.kinds.len() == 1 {
                assert!(i64::from(answer.at_least) <= truth, "list {number}");
            }
            assert!(
                !answer.proved || paid <= cost,
                "list {number}: falsely proved\n{task:#?}"
            );
        } else {
            assert!(!answer.proved, "list {number}: all can be placed");
        }
        assert!(answer.at_least <= bought, "list {number}");
        assert_eq!(
            referee::check_sheets(&task, &answer),
            Ok(()),
            "list {number}"
        );
        met += u32::from(answer.unplaced.is_empty() && paid <= cost);
        proved += u32::from(answer.proved);
    }
    eprintln!("sheet lists {all:?}: {met} for what they were cut from or less, {proved} proved");
}

#[test]
fn no_bound_is_above_the_sticks_a_list_was_cut_from() {
    let (mut met, mut proved) = (0, 0);
    let all = numbers(200, 5_000);
    for number in all.clone() {
        let d = &mut Dice::new(number ^ 0x57);
        let kerf = *d.pick(&[0i64, 6, 8]);
        let mut kinds: Vec<StickKind> = Vec::new();
        for i in 0..d.within(1, 3) {
            kinds.push(StickKind {
                item: format!("S{i}"),
                rack: None,
                length: Length::FOOT * *d.pick(&[8, 10, 12, 14, 16]),
                cost: Some(Cents(d.within(400, 2_400))),
                have: 0,
                at_most: None,
            });
        }
        let (mut truth, mut cost) = (0i64, 0i64);
        let mut pieces: Vec<StickPiece> = Vec::new();
        for (k, kind) in kinds.iter_mut().enumerate() {
            let n = d.within(i64::from(k == 0), 4);
            truth += n;
            cost += n * kind.cost.map_or(0, |c| c.0);
            if n > 0 && d.one_in(3) {
                kind.at_most = Some(n as u32);
            }
            for _ in 0..n {
                let mut left = kind.length.units() / 31_750;
                while left > 0 {
                    let piece = if left < 30 * 64 {
                        left
                    } else {
                        d.within(12 * 64, left.min(70 * 64))
                    };
                    let length = Length::in_64(piece);
                    match pieces.iter_mut().find(|p| p.length == length) {
                        Some(p) => p.count += 1,
                        None => pieces.push(StickPiece {
                            mark: format!("T{}", pieces.len()),
                            count: 1,
                            length,
                            together: None,
                        }),
                    }
                    left -= piece + kerf;
                }
            }
        }
        let task = StickTask {
            kinds,
            pieces,
            kerf: Length::in_64(kerf),
        };
        let answer = sticks::solve(&task, &QUICK);
        let bound = answer.cost_at_least.map_or(0, |c| c.0);
        assert!(
            bound <= cost,
            "list {number}: cost at least {bound}, cut from {cost}\n{task:#?}"
        );
        let paid: i64 = (answer.sticks.iter())
            .map(|s| {
                let kind = task.kinds.iter().find(|k| k.item == s.item);
                i64::from(s.count) * kind.and_then(|k| k.cost).map_or(0, |c| c.0)
            })
            .sum();
        if answer.unplaced.is_empty() {
            if task.kinds.len() == 1 {
                assert!(i64::from(answer.at_least) <= truth, "list {number}");
            }
            assert!(
                !answer.proved || paid <= cost,
                "list {number}: falsely proved\n{task:#?}"
            );
        } else {
            assert!(!answer.proved, "list {number}: all can be placed");
        }
        assert_eq!(
            referee::check_sticks(&task, &answer),
            Ok(()),
            "list {number}"
        );
        met += u32::from(answer.unplaced.is_empty() && paid <= cost);
        proved += u32::from(answer.proved);
    }
    eprintln!("stick lists {all:?}: {met} for what they were cut from or less, {proved} proved");
}
