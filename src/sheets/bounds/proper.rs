//! The linear bound over patterns that hold no more copies of a piece than there are. Where each piece comes once, as in a
//! closet, it is far stronger than with any number of copies.
//!
//! Once the program over any number of copies is solved, the type of which its solution uses the most surplus gets a
//! counter (`limited`), columns are trimmed to it, and the program is solved again (decremental state space relaxation:
//! Righini & Salani 2008; for cutting, Velasco & Uchoa 2019). Every round's weights prove what they prove.

use super::bound::{Bound, CopyLimitDraft, Tree};
use super::columns::{Column, Generation};
use super::counted::states;
use super::dive::{shares, trim, trimmed};
use super::rounds::End;
use crate::sheets::instance::Instance;

/// Most states of a table. Default 65,536 (what a certificate may have), range 1..=65,536.
const STATES: usize = 65_536;
/// Most rounds for one set of counters. Default 400.
const ROUNDS: u32 = 400;
/// Rounds of quick tables to see whether proper patterns could raise the bound at all. Default 200.
const LOOK: u32 = 200;

/// Raises `bound` toward `aim` (a cost) as far as counters do. Spends `steps`.
pub(super) fn proper(
    instance: &Instance,
    columns: &[(Column, Tree)],
    center: &[f64],
    mut bound: Bound,
    aim: i64,
    steps: &mut u64,
) -> Bound {
    let need: Vec<u32> = instance.types.iter().map(|t| t.count).collect();
    if !could_rise(instance, columns, &bound, steps) {
        return bound;
    }
    let mut columns = columns.to_vec();
    let mut center = center.to_vec();
    let mut limits: Vec<CopyLimitDraft> = Vec::new();
    while bound.cost < aim && *steps > 0 {
        let Some(kind) = most_surplus(instance, &columns, &limits, steps) else {
            break;
        };
        limits.push(CopyLimitDraft {
            types: vec![kind],
            most: need[kind],
        });
        let Some(mut generation) = Generation::new(instance, need.clone(), &[]) else {
            break;
        };
        generation.bound = bound;
        generation.limits.clone_from(&limits);
        generation.center = center;
        let most = generation.most_copies();
        for (column, tree) in &columns {
            if let Some(tree) = trim(tree, &mut most.clone()) {
                generation.add(column.kind, tree);
            }
        }
        let end = generation.run(aim, ROUNDS, steps);
        (bound, columns, center) = (generation.bound, generation.columns, generation.center);
        if end != End::Converged {
            break;
        }
    }
    bound
}

/// False if even the program over proper patterns found so far rounds up to no more than the bound: then no counter helps.
fn could_rise(
    instance: &Instance,
    columns: &[(Column, Tree)],
    bound: &Bound,
    steps: &mut u64,
) -> bool {
    let need: Vec<u32> = instance.types.iter().map(|t| t.count).collect();
    let Some(mut generation) = Generation::new(instance, need, &[]) else {
        return false;
    };
    let every = 0..instance.types.len();
    generation.limits = every
        .map(|t| CopyLimitDraft {
            types: vec![t],
            most: instance.types[t].count,
        })
        .collect();
    generation.bound = bound.clone();
    for (column, tree) in trimmed(columns, instance) {
        generation.add(column.kind, tree);
    }
    generation.refine(LOOK, steps);
    !generation.cannot_rise()
}

/// The type without a counter, with room for one, of which the program's solution holds the most beyond what there is.
fn most_surplus(
    instance: &Instance,
    columns: &[(Column, Tree)],
    limits: &[CopyLimitDraft],
    steps: &mut u64,
) -> Option<usize> {
    let used = shares(instance, columns, steps)?;
    let mut surplus = vec![0.0; instance.types.len()];
    for ((column, _), share) in columns.iter().zip(used) {
        for &(t, n) in &column.holds {
            surplus[t] += share * f64::from(n.saturating_sub(instance.types[t].count));
        }
    }
    let now = states(limits);
    let room = |t: &usize| now.saturating_mul(instance.types[*t].count as usize + 1) <= STATES;
    let free = |t: &usize| !limits.iter().any(|l| l.types.contains(t));
    let area = |t: usize| (instance.types[t].ways[0].0 * instance.types[t].ways[0].1) as f64;
    // A large piece fits in few rectangles: there its counter costs little. Few copies make few states.
    let worth = |t: usize| surplus[t] * area(t) * area(t) / f64::from(instance.types[t].count);
    let candidates = (0..surplus.len()).filter(|t| surplus[*t] > 1e-6 && room(t) && free(t));
    candidates.max_by(|a, b| worth(*a).total_cmp(&worth(*b)).then(b.cmp(a)))
}
