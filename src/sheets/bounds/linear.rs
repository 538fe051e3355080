//! The linear bound and the plan made from it: the one entry for callers.

use super::bound::{Bound, CertificateDraft, LpOutcome, Pool, Tree};
use super::columns::Generation;
use super::near_full::can_be_listed;
use super::proper::proper;
use super::quick::quick;
use crate::sheets::instance::Instance;

/// Rounds of column generation. Default 2,000; steps usually end it.
const ROUNDS: u32 = 2_000;
/// Rounds of quick tables before a plan is made, once the bound is settled. Default 200.
const REFINE: u32 = 200;

/// The best bound by linear programming over guillotine patterns, and patterns to round a plan from where the bound has not
/// met `incumbent_cost` already. `known`: patterns (kind of sheet, tree) to begin with, such as those of the best plan. Spends
/// `steps`.
pub(crate) fn lp(
    instance: &Instance,
    steps: &mut u64,
    incumbent_cost: i64,
    known: Vec<(usize, Tree)>,
) -> LpOutcome {
    let fast = quick(instance);
    let nothing = |bound: Bound| LpOutcome {
        bound,
        pool: Pool::default(),
        worth: Vec::new(),
        settled: Vec::new(),
    };
    if fast.cost >= incumbent_cost || fast.impossible || instance.types.is_empty() {
        return nothing(fast);
    }
    let need: Vec<u32> = instance.types.iter().map(|t| t.count).collect();
    let start = match &fast.draft {
        CertificateDraft::Product { weights, .. } => weights.piece.clone(),
        _ => Vec::new(),
    };
    let Some(mut generation) = Generation::new(instance, need, &start) else {
        return nothing(fast);
    };
    generation.bound = fast;
    for (kind, tree) in known {
        generation.add(kind, tree);
    }
    // A bound that takes long to settle must not eat what the plan needs.
    let mut part = *steps / 2;
    let kept = *steps - part;
    generation.run(incumbent_cost, ROUNDS, &mut part);
    *steps = kept + part;
    if generation.bound.cost < incumbent_cost {
        generation.refine(REFINE, steps);
    }
    let worth = in_millionths(&generation.center);
    let mut settled = Vec::new();
    if can_be_listed(instance) {
        let mut part = *steps / 4;
        *steps -= part;
        generation.settle(ROUNDS, &mut part);
        *steps += part;
        settled = in_millionths(&generation.center);
    }
    let (bound, columns) = (generation.bound, generation.columns);
    if bound.cost >= incumbent_cost || bound.impossible {
        return nothing(bound);
    }
    let mut part = *steps / 2;
    let kept = *steps - part;
    let bound = proper(
        instance,
        &columns,
        &generation.center,
        bound,
        incumbent_cost,
        &mut part,
    );
    *steps = kept + part;
    if bound.cost >= incumbent_cost || bound.impossible {
        return nothing(bound);
    }
    LpOutcome {
        bound,
        pool: Pool { columns },
        worth,
        settled,
    }
}

pub(super) fn in_millionths(weights: &[f64]) -> Vec<i64> {
    weights.iter().map(|w| (w * 1e6) as i64).collect()
}
