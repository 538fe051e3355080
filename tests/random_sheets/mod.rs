//! Random sheet tasks: sizes, edges, grain, rack pieces, limits, turns, first cuts.

use nookwright::model::task::{PieceKind, SheetKind, SheetTask, SolveOptions};
use nookwright::model::{Effort, FirstCut, Grain, KeepRule};
use nookwright::units::{Cents, Length};
use proptest::prelude::*;

/// So many cases, or the second number with `NOOKWRIGHT_LONG`.
pub fn cases(usual: u32, long: u32) -> ProptestConfig {
    let n = if std::env::var("NOOKWRIGHT_LONG").is_ok() {
        long
    } else {
        usual
    };
    ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::with_cases(n)
    }
}

/// Quick effort on one thread.
pub const QUICK: SolveOptions = SolveOptions {
    effort: Effort::Quick,
    threads: 1,
    second_aims: true,
};

/// A sheet without clean edges, to be had without limit.
pub fn kind(item: usize, size: [i64; 2], cost: Option<i64>) -> SheetKind {
    SheetKind {
        item: format!("S{item}"),
        rack: None,
        size: size.map(Length::mm),
        clean_edge: [Length::ZERO; 4],
        grain_along_y: false,
        cost: cost.map(Cents),
        have: 0,
        at_most: None,
    }
}

prop_compose! {
    /// Small sizes, so that they repeat and combine.
    pub fn any_kind()(
        size in [20i64..90, 20i64..60],
        edge in prop::array::uniform4(0i64..3),
        along_y: bool,
        have in 0u32..3,
        at_most in prop::option::weighted(0.3, 0u32..4),
        cost in 10i64..200,
    ) -> SheetKind {
        SheetKind {
            clean_edge: edge.map(|e| Length::from_units(e * 40_000)),
            grain_along_y: along_y,
            have: have.saturating_sub(1),
            at_most,
            ..kind(0, size, Some(cost))
        }
    }
}

prop_compose! {
    /// Small sizes, so that they repeat and combine.
    pub fn any_piece()(
        size in [3i64..60, 3i64..40],
        finer in 0i64..3,
        count in 1u32..5,
        grain in prop::sample::select(vec![Grain::Length, Grain::Width, Grain::Any]),
    ) -> PieceKind {
        PieceKind {
            mark: String::new(),
            count,
            size: [Length::mm(size[0]) + Length::from_units(finer * 31_750), Length::mm(size[1])],
            grain,
            match_group: None,
        }
    }
}

prop_compose! {
    /// Small sizes, so that they repeat and combine.
    pub fn any_task()(
        kinds in prop::collection::vec(any_kind(), 1..4),
        rack in prop::collection::vec([10i64..50, 10i64..40], 0..3),
        pieces in prop::collection::vec(any_piece(), 1..8),
        kerf in prop::sample::select(vec![0i64, 80_000, 254_000]),
        turns in prop::option::weighted(0.5, 2u8..5),
        first in prop::sample::select(vec![FirstCut::Either, FirstCut::Rip, FirstCut::Crosscut]),
        priced: bool,
    ) -> SheetTask {
        let mut kinds = kinds;
        for (n, k) in kinds.iter_mut().enumerate() {
            k.item = format!("S{n}");
            if !priced {
                k.cost = None;
            }
        }
        for (n, size) in rack.into_iter().enumerate() {
            kinds.push(SheetKind {
                rack: Some(format!("R-{n}")),
                have: 1,
                at_most: Some(0),
                ..kind(0, size, None)
            });
        }
        let mut pieces = pieces;
        for (n, p) in pieces.iter_mut().enumerate() {
            p.mark = format!("P{n}");
        }
        SheetTask {
            kinds,
            pieces,
            kerf: Length::from_units(kerf),
            turns,
            first,
            keep: KeepRule { panel: [Length::mm(8), Length::mm(12)], strip: [Length::mm(4), Length::mm(24)], ..KeepRule::default() },
            narrowest_safe_rip: Length::mm(5),
        }
    }
}
