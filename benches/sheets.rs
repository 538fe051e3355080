//! How long the first answer and a usual answer take on a run of shelves: criterion, whole calls of the sheet planner.

use criterion::{Criterion, criterion_group, criterion_main};
use nookwright::model::task::{PieceKind, SheetKind, SheetTask, SolveOptions};
use nookwright::model::{Effort, FirstCut, Grain, KeepRule, Saw};
use nookwright::sheets::what_if::{self, Known};
use nookwright::units::{Cents, Length};
use std::hint::black_box;

/// Three boxes of an alcove in birch plywood, sizes in 1/64 in.
fn alcove() -> SheetTask {
    let piece = |mark: &str, count, l: i64, w: i64, grain| PieceKind {
        mark: mark.into(),
        count,
        size: [Length::in_64(l), Length::in_64(w)],
        grain,
        match_group: None,
    };
    SheetTask {
        kinds: vec![SheetKind {
            item: "BIR-18".into(),
            rack: None,
            size: [Length::inches(96), Length::inches(48)],
            clean_edge: Saw::default().bought_clean_edges(),
            grain_along_y: false,
            cost: Some(Cents(7_100)),
            have: 0,
            at_most: None,
        }],
        pieces: vec![
            piece("A1", 6, 86 * 64, 20 * 64 + 16, Grain::Length),
            piece("A2", 9, 27 * 64 + 4, 20 * 64, Grain::Length),
            piece("A4", 13, 26 * 64 + 60, 19 * 64 + 48, Grain::Length),
            piece("D2", 7, 18 * 64 + 52, 3 * 64 + 32, Grain::Any),
        ],
        kerf: Length::in_64(6),
        turns: None,
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: Length::inches(2),
    }
}

fn sheets(c: &mut Criterion) {
    let task = alcove();
    for (name, effort) in [
        ("alcove, quick", Effort::Quick),
        ("alcove, normal", Effort::Normal),
    ] {
        let options = SolveOptions {
            effort,
            threads: 1,
            second_aims: true,
        };
        c.bench_function(name, |b| {
            b.iter(|| nookwright::sheets::solve(black_box(&task), &options, &mut |_| {}))
        });
    }
}

/// What-ifs of the run of shelves, its plan known: the same question asked of [`sheets::solve`] is the line above.
fn what_ifs(c: &mut Criterion) {
    let task = alcove();
    let options = SolveOptions::default();
    let answer = nookwright::sheets::solve(&task, &options, &mut |_| {});
    let known = Known {
        task: &task,
        answer: &answer,
    };
    let [l, w] = task.pieces[1].size;
    let mark = Length::in_64(4);
    let changes = [
        (
            "shelves 1/16 shorter",
            what_if::with_piece_size(&task, 1, [l - mark, w]),
        ),
        (
            "shelves 1/16 longer",
            what_if::with_piece_size(&task, 1, [l + mark, w]),
        ),
        (
            "a sheet 1/2 longer",
            what_if::with_sheet_size(&task, 0, [Length::in_64(6_176), Length::inches(48)]),
        ),
        (
            "a thinner kerf",
            what_if::with_kerf(&task, Length::in_64(5)),
        ),
    ];
    for (name, changed) in changes {
        c.bench_function(&format!("alcove, {name}, anew"), |b| {
            b.iter(|| nookwright::sheets::solve(black_box(&changed), &options, &mut |_| {}))
        });
        c.bench_function(&format!("alcove, {name}, known"), |b| {
            b.iter(|| what_if::again(known, black_box(&changed), &options, &mut |_| {}))
        });
    }
    c.bench_function("alcove, one sheet fewer", |b| {
        b.iter(|| what_if::one_sheet_fewer(black_box(known), 4_000_000, 1))
    });
}

#[allow(missing_docs)]
mod group {
    use super::{criterion_group, sheets, what_ifs};
    criterion_group!(all, sheets, what_ifs);
}
use group::all;
criterion_main!(all);
