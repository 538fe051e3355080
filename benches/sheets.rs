//! How long the first answer and a usual answer take on a run of shelves: criterion, whole calls of the sheet planner.

use criterion::{Criterion, criterion_group, criterion_main};
use nookwright::model::task::{PieceKind, SheetKind, SheetTask, SolveOptions};
use nookwright::model::{Effort, FirstCut, Grain, KeepRule, Saw};
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
        let options = SolveOptions { effort, threads: 1 };
        c.bench_function(name, |b| {
            b.iter(|| nookwright::sheets::solve(black_box(&task), &options, &mut |_| {}))
        });
    }
}

#[allow(missing_docs)]
mod group {
    use super::{criterion_group, sheets};
    criterion_group!(all, sheets);
}
use group::all;
criterion_main!(all);
