//! What-ifs of the sheet planner against planning anew: the same claims, replayed cuts, certificates the referee accepts.

#[allow(unreachable_pub)]
mod random_sheets;
#[allow(unreachable_pub)]
mod replay;

use nookwright::model::certificate::Certificate;
use nookwright::model::task::{PieceKind, SheetAnswer, SheetTask};
use nookwright::model::{FirstCut, Grain, KeepRule, SheetPlan};
use nookwright::sheets::what_if::{self, Known, OnSheets};
use nookwright::units::{Cents, Length};
use nookwright::{referee, sheets};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use random_sheets::{QUICK, any_task, cases, kind};

/// Work steps for one question.
const STEPS: u64 = 4_000_000;

/// What is changed.
#[derive(Clone, Debug)]
enum Change {
    Piece(usize, [i64; 2]),
    Sheet(usize, [i64; 2]),
    Kerf(i64),
    All(i64),
    Count(usize),
}

fn any_change() -> impl Strategy<Value = Change> {
    prop_oneof![
        (0usize..8, [-3i64..4, -3i64..4]).prop_map(|(n, by)| Change::Piece(n, by)),
        (0usize..3, [-8i64..9, -8i64..9]).prop_map(|(n, by)| Change::Sheet(n, by)),
        prop::sample::select(vec![0i64, 40_000, 80_000, 127_000, 254_000]).prop_map(Change::Kerf),
        (-2i64..3).prop_map(Change::All),
        (0usize..8).prop_map(Change::Count),
    ]
}

fn changed(task: &SheetTask, change: &Change) -> SheetTask {
    let grow = |size: [Length; 2], by: [i64; 2]| {
        [0, 1].map(|i| (size[i] + Length::mm(by[i])).max(Length::mm(1)))
    };
    match *change {
        Change::Piece(n, by) => {
            let n = n % task.pieces.len();
            what_if::with_piece_size(task, n, grow(task.pieces[n].size, by))
        }
        Change::Sheet(n, by) => {
            let n = n % task.kinds.len();
            what_if::with_sheet_size(task, n, grow(task.kinds[n].size, by))
        }
        Change::Kerf(kerf) => what_if::with_kerf(task, Length::from_units(kerf)),
        Change::All(by) => {
            let mut task = task.clone();
            for p in &mut task.pieces {
                p.size = grow(p.size, [by, by]);
            }
            task
        }
        Change::Count(n) => {
            let mut task = task.clone();
            let n = n % task.pieces.len();
            task.pieces[n].count -= 1;
            task
        }
    }
}

/// Cost in the task's prices, in sheets by area (as the model says) where there are none.
fn cost(task: &SheetTask, sheets: &[SheetPlan]) -> i64 {
    let area = |k: &nookwright::model::task::SheetKind| {
        i128::from(k.size[0].units()) * i128::from(k.size[1].units())
    };
    let largest = task.kinds.iter().map(area).max().unwrap_or(1);
    let priced = (task.kinds.iter()).all(|k| k.cost.is_some() || k.at_most == Some(0));
    let each = task.kinds.iter().map(|k| {
        let of = |s: &&SheetPlan| s.item == k.item && s.rack == k.rack;
        let used: u32 = sheets.iter().filter(of).map(|s| s.count).sum();
        let price = match k.cost {
            Some(c) if priced => c.0,
            _ => i64::try_from((area(k) * 100 + largest / 2) / largest).map_or(1, |c| c.max(1)),
        };
        price * i64::from(used.saturating_sub(k.have))
    });
    each.sum()
}

fn counted(task: &SheetTask) -> SheetTask {
    let mut task = task.clone();
    for k in task.kinds.iter_mut().filter(|k| k.rack.is_none()) {
        k.cost = Some(Cents(1));
    }
    task
}

proptest! {
    #![proptest_config(cases(40, 5_000))]

    /// Whatever changes: the plan can be cut, the referee accepts every claim, and no claim contradicts a plan made anew.
    #[test]
    fn a_changed_task_is_answered_as_honestly_as_anew(task in any_task(), change in any_change()) {
        let answer = sheets::solve(&task, &QUICK, &mut |_| {});
        let known = Known { task: &task, answer: &answer };
        let task = changed(&task, &change);
        let again = what_if::again(known, &task, &QUICK, &mut |_| {});
        if let Err(e) = replay::check(&task, &again.answer) {
            prop_assert!(false, "{e}");
        }
        if let Err(faults) = referee::check_sheets(&task, &again.answer) {
            prop_assert!(false, "{faults:?}");
        }
        let anew = sheets::solve(&task, &QUICK, &mut |_| {});
        if again.answer.unplaced.is_empty() && anew.unplaced.is_empty() {
            let (a, b) = (cost(&task, &again.answer.sheets), cost(&task, &anew.sheets));
            if again.answer.proved {
                prop_assert!(a <= b, "proved least at {a}, and anew costs {b}");
            }
            if anew.proved {
                prop_assert!(b <= a);
            }
        }
        if again.kept {
            let sheets = |a: &SheetAnswer| a.sheets.iter().map(|s| s.count).sum::<u32>();
            prop_assert!(sheets(&again.answer) <= sheets(&answer));
        }
    }

    /// Where pieces only shrink, the plan never costs more.
    #[test]
    fn smaller_pieces_never_cost_more(task in any_task(), by in 1i64..4) {
        let answer = sheets::solve(&task, &QUICK, &mut |_| {});
        let known = Known { task: &task, answer: &answer };
        let task = changed(&task, &Change::All(-by));
        let again = what_if::again(known, &task, &QUICK, &mut |_| {}).answer;
        if answer.unplaced.is_empty() {
            prop_assert!(again.unplaced.is_empty());
            prop_assert!(cost(&task, &again.sheets) <= cost(&task, &answer.sheets));
        }
    }

    /// Whether so many sheets will do, asked of a changed task: yes is a plan that can be cut, no is a certificate that the
    /// referee accepts and that no plan contradicts.
    #[test]
    fn a_number_of_sheets_is_shown_possible_or_impossible(
        task in any_task(), change in any_change(), fewer in 0u32..3, steps in prop::sample::select(vec![1_000, STEPS]),
    ) {
        let answer = sheets::solve(&task, &QUICK, &mut |_| {});
        let known = Known { task: &task, answer: &answer };
        let aim = what_if::bought(known).saturating_sub(fewer);
        let task = changed(&task, &change);
        let counts = counted(&task);
        let anew = sheets::solve(&counts, &QUICK, &mut |_| {});
        match what_if::on_sheets(known, &task, aim, steps, 1) {
            OnSheets::Yes(sheets) => {
                let plan = SheetAnswer {
                    sheets, unplaced: Vec::new(), at_least: 0, cost_at_least: None, proved: false,
                    certificate: Certificate::None, searched: 0,
                };
                match replay::check(&task, &plan) {
                    Ok((_, bought)) => prop_assert!(bought <= aim, "{bought} are bought, not {aim}"),
                    Err(e) => prop_assert!(false, "{e}"),
                }
            }
            OnSheets::No { at_least, certificate } => {
                prop_assert!(at_least > aim);
                if anew.unplaced.is_empty() {
                    let (_, bought) = replay::check(&counts, &anew).map_err(TestCaseError::fail)?;
                    prop_assert!(bought >= at_least, "at least {at_least}, and {bought} will do");
                    let claim = SheetAnswer {
                        at_least, cost_at_least: Some(Cents(i64::from(at_least))),
                        certificate, proved: false, ..anew
                    };
                    if let Err(faults) = referee::check_sheets(&counts, &claim) {
                        prop_assert!(false, "{faults:?}");
                    }
                }
            }
            OnSheets::TooLarge => prop_assert!(anew.unplaced.iter().any(|u| u.fits_nothing)),
            OnSheets::NotFound { .. } => {}
        }
    }
}

/// Four shelves of 600 x 300 on a sheet of 1200 x 600 fill it to the last millimetre (no kerf).
fn full_sheets() -> SheetTask {
    SheetTask {
        kinds: vec![kind(0, [1_200, 600], Some(50))],
        pieces: vec![PieceKind {
            mark: "A1".into(),
            count: 8,
            size: [Length::mm(600), Length::mm(300)],
            grain: Grain::Length,
            match_group: None,
        }],
        kerf: Length::ZERO,
        turns: None,
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: Length::mm(50),
    }
}

/// By hand: two full sheets; a millimetre less changes nothing, a millimetre more leaves two rows of one on a sheet, so four
/// sheets; with a kerf of 3 no two go side by side either way, so eight.
#[test]
fn full_sheets_by_hand() {
    let task = full_sheets();
    let answer = sheets::solve(&task, &QUICK, &mut |_| {});
    let known = Known {
        task: &task,
        answer: &answer,
    };
    assert_eq!((what_if::bought(known), answer.proved), (2, true));
    let count = |task: &SheetTask| {
        let again = what_if::again(known, task, &QUICK, &mut |_| {});
        assert!(again.answer.proved);
        let n: u32 = again.answer.sheets.iter().map(|s| s.count).sum();
        (n, again.kept)
    };
    let size = |l, w| what_if::with_piece_size(&task, 0, [Length::mm(l), Length::mm(w)]);
    assert_eq!(count(&size(599, 299)), (2, true));
    assert_eq!(count(&size(601, 300)), (4, false));
    assert_eq!(count(&what_if::with_kerf(&task, Length::mm(3))), (8, false));
    let sheet = |l, w| what_if::with_sheet_size(&task, 0, [Length::mm(l), Length::mm(w)]);
    assert_eq!(count(&sheet(1_210, 610)), (2, true));
    assert_eq!(count(&sheet(2_400, 600)), (1, false));
    assert!(matches!(
        what_if::one_sheet_fewer(known, STEPS, 1),
        OnSheets::No { at_least: 2, .. }
    ));
    assert!(matches!(
        what_if::on_sheets(known, &sheet(2_400, 600), 1, STEPS, 1),
        OnSheets::Yes(plans) if plans.len() == 1
    ));
    assert!(matches!(
        what_if::on_sheets(known, &size(600, 301), 3, STEPS, 1),
        OnSheets::No { at_least: 4, .. }
    ));
}

/// Of the questions that a plan made anew answers with yes or, proved, with no, few stay open. The share is of this program:
/// it is here so that a what-if that gives up too soon is seen.
#[test]
fn few_questions_stay_open() {
    let mut runner = TestRunner::deterministic();
    let (mut asked, mut open) = (0, Vec::new());
    for n in 0..60 {
        let task = any_task().new_tree(&mut runner).unwrap().current();
        let change = any_change().new_tree(&mut runner).unwrap().current();
        let answer = sheets::solve(&task, &QUICK, &mut |_| {});
        let known = Known {
            task: &task,
            answer: &answer,
        };
        let aim = what_if::bought(known);
        let task = changed(&task, &change);
        let anew = sheets::solve(&counted(&task), &QUICK, &mut |_| {});
        if !anew.proved || !anew.unplaced.is_empty() {
            continue;
        }
        asked += 1;
        if let OnSheets::NotFound { .. } = what_if::on_sheets(known, &task, aim, STEPS, 1) {
            open.push(n);
        }
    }
    assert!(asked >= 20, "only {asked} asked");
    assert!(open.len() * 20 <= asked, "{open:?} of {asked} open");
}
