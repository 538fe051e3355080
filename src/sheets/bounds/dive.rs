//! From the linear program to whole sheets: take what it uses whole, else the pattern it uses most, and solve again for
//! what is left (a diving heuristic, as in Belov & Scheithauer 2006; patterns are trimmed to what is left).
//!
//! The first patterns are the good ones. The last few sheets are left to the search, which counts every piece once.

use super::bound::{Pattern, Pool, Tree};
use super::columns::{Column, Generation, add, count, dearest};
use super::linear::in_millionths;
use super::near_full::{can_be_listed, near_full};
use super::pricing::join;
use crate::sheets::instance::Instance;
use crate::solve::rng::Rng;
use std::collections::BTreeSet;

/// Rounds of column generation for each step. Default 25, range 0..=200.
const ROUNDS: u32 = 25;
/// Most rounds for the weights of what a dive leaves. Default 300.
const SETTLE: u32 = 300;
/// The first dive ends where the pieces left would fill this many sheets; the later ones at other amounts, in turn.
const LEAVE: [i128; 4] = [4, 7, 5, 9];
/// From the third dive on, patterns used at least this much are drawn by lot. Default 0.25, range 0..=1.
const DRAWN: f64 = 0.25;
/// A share of a sheet's use from which a pattern counts as used whole.
const WHOLE: f64 = 1.0 - 1e-6;

/// Where a dive has led.
#[derive(Debug, Default)]
pub(crate) struct Dive {
    /// Patterns, best first, never more copies than there are.
    pub patterns: Vec<Pattern>,
    /// True if what they leave does not fit on the sheets that are left for it.
    pub hopeless: bool,
}

/// What a dive is to reach.
#[derive(Clone, Copy, Debug)]
pub(crate) struct DiveAim {
    /// Sheets of a plan that would be proved.
    pub sheets: u32,
    /// Steps for a plan of what the patterns leave, chosen among nearly full sheets.
    pub steps: u64,
}

/// Patterns for `instance`. `nth`: which dive this is, from 0; each goes another way.
pub(crate) fn dive(
    instance: &Instance,
    pool: &Pool,
    nth: u64,
    aim: DiveAim,
    steps: &mut u64,
) -> Dive {
    let mut rest = instance.clone();
    let mut columns = pool.columns.clone();
    let mut plan: Vec<Pattern> = Vec::new();
    let leave = LEAVE[nth as usize % LEAVE.len()];
    let mut rng = (nth >= 2).then(|| Rng::new(&[nth]));
    while *steps > 0 && area_left(&rest) > leave * largest(&rest) {
        columns = trimmed(&columns, &rest);
        let need: Vec<u32> = rest.types.iter().map(|t| t.count).collect();
        let Some(mut generation) = Generation::new(&rest, need, &[]) else {
            break;
        };
        for (column, tree) in &columns {
            generation.add(column.kind, tree.clone());
        }
        generation.refine(ROUNDS, steps);
        columns = trimmed(&generation.columns, &rest);
        let chosen = choose(&rest, &columns, rng.as_mut(), steps);
        if chosen.is_empty() {
            break;
        }
        for (column, times) in chosen {
            take(&mut rest, &columns[column], times, &mut plan);
        }
    }
    let mut dive = Dive {
        patterns: plan,
        hopeless: false,
    };
    let mut left = aim.steps;
    finish(&rest, &columns, aim.sheets, &mut dive, &mut left);
    *steps = steps.saturating_sub(aim.steps - left);
    dive
}

/// Adds a plan of all that is left, or says that there is none on the sheets that are left for it.
fn finish(
    rest: &Instance,
    columns: &[(Column, Tree)],
    sheets: u32,
    dive: &mut Dive,
    steps: &mut u64,
) {
    let used: u32 = dive.patterns.iter().map(|p| p.times).sum();
    let need: Vec<u32> = rest.types.iter().map(|t| t.count).collect();
    if used == 0 || used >= sheets || !can_be_listed(rest) {
        return;
    }
    let Some(mut generation) = Generation::new(rest, need, &[]) else {
        return;
    };
    for (column, tree) in trimmed(columns, rest) {
        generation.add(column.kind, tree);
    }
    generation.settle(SETTLE, steps);
    dive.hopeless = generation.bound.sheets > sheets - used;
    if !dive.hopeless {
        let worth = in_millionths(&generation.center);
        let found = near_full(rest, &worth, sheets - used, steps, &mut 0);
        dive.patterns.extend(found.into_iter().flatten());
    }
}

fn largest(instance: &Instance) -> i128 {
    let kinds = instance.kinds.iter().filter(|k| k.free > 0 || k.buy > 0);
    let areas = kinds.map(|k| i128::from(k.w) * i128::from(k.h));
    areas.max().unwrap_or(0)
}

fn area_left(instance: &Instance) -> i128 {
    let each = instance.types.iter();
    each.map(|t| i128::from(t.count) * i128::from(t.ways[0].0) * i128::from(t.ways[0].1))
        .sum()
}

/// Columns without the copies that are no longer needed; equal ones once.
pub(super) fn trimmed(columns: &[(Column, Tree)], rest: &Instance) -> Vec<(Column, Tree)> {
    let mut seen = BTreeSet::new();
    let mut kept = Vec::new();
    for (column, tree) in columns {
        let kind = &rest.kinds[column.kind];
        if kind.free == 0 && kind.buy == 0 {
            continue;
        }
        let mut left: Vec<u32> = rest.types.iter().map(|t| t.count).collect();
        let Some(tree) = trim(tree, &mut left) else {
            continue;
        };
        let mut holds = Vec::new();
        count(&tree, &mut holds);
        let column = Column {
            kind: column.kind,
            holds,
        };
        if seen.insert(column.clone()) {
            kept.push((column, tree));
        }
    }
    kept
}

/// A tree without the leaves beyond `left`.
pub(super) fn trim(tree: &Tree, left: &mut [u32]) -> Option<Tree> {
    let (above, parts) = match tree {
        Tree::Piece { kind, .. } => {
            let any = left[*kind] > 0;
            left[*kind] = left[*kind].saturating_sub(1);
            return any.then(|| tree.clone());
        }
        Tree::Beside(parts) => (false, parts),
        Tree::Above(parts) => (true, parts),
    };
    let kept = parts.iter().map(|p| trim(p, left));
    kept.fold(None, |whole, part| join(above, [whole, part]))
}

/// How much of each column the program uses; `None` if it has no solution.
pub(super) fn shares(
    rest: &Instance,
    columns: &[(Column, Tree)],
    steps: &mut u64,
) -> Option<Vec<f64>> {
    let need: Vec<u32> = rest.types.iter().map(|t| t.count).collect();
    let dearest = dearest(rest)?;
    let mut program = Generation::program(rest, &need);
    // By column of the program: of which pattern.
    let mut of = Vec::new();
    for (i, (column, _)) in columns.iter().enumerate() {
        add(&mut program, rest, column, dearest);
        of.resize(program.columns(), i);
    }
    program.solve(steps)?;
    let (parts, whole) = program.used();
    let mut used = vec![0.0; columns.len()];
    for (i, part) in of.into_iter().zip(parts) {
        used[i] += part;
    }
    whole.then_some(used)
}

/// Which columns to take how often: all that the program uses whole, else the one it uses most, or one by lot.
fn choose(
    rest: &Instance,
    columns: &[(Column, Tree)],
    rng: Option<&mut Rng>,
    steps: &mut u64,
) -> Vec<(usize, u32)> {
    let Some(used) = shares(rest, columns, steps) else {
        return Vec::new();
    };
    let whole: Vec<(usize, u32)> = used
        .iter()
        .enumerate()
        .filter(|(_, u)| **u >= WHOLE)
        .map(|(i, u)| (i, (u + 1.0 - WHOLE).floor() as u32))
        .collect();
    if !whole.is_empty() {
        return whole;
    }
    if let Some(rng) = rng {
        let drawn: Vec<usize> = (0..columns.len()).filter(|i| used[*i] >= DRAWN).collect();
        if !drawn.is_empty() {
            return vec![(drawn[rng.index(drawn.len())], 1)];
        }
    }
    let area = |i: usize| -> i64 {
        let each = columns[i].0.holds.iter();
        each.map(|&(t, n)| i64::from(n) * rest.types[t].ways[0].0 * rest.types[t].ways[0].1)
            .sum()
    };
    let most = (0..columns.len())
        .filter(|i| used[*i] > 1e-6)
        .max_by(|a, b| {
            used[*a]
                .total_cmp(&used[*b])
                .then(area(*a).cmp(&area(*b)))
                .then(b.cmp(a))
        });
    most.map(|i| (i, 1)).into_iter().collect()
}

/// Puts a column into the plan as often as pieces and sheets allow, at most `times`.
fn take(rest: &mut Instance, column: &(Column, Tree), times: u32, plan: &mut Vec<Pattern>) {
    let kind = column.0.kind;
    let there = rest.kinds[kind].free.saturating_add(rest.kinds[kind].buy);
    let most = column
        .0
        .holds
        .iter()
        .map(|&(t, n)| rest.types[t].count / n)
        .min()
        .unwrap_or(0);
    let times = times.min(most).min(there);
    if times == 0 {
        return;
    }
    for &(t, n) in &column.0.holds {
        rest.types[t].count -= n * times;
    }
    let k = &mut rest.kinds[kind];
    let free = times.min(k.free);
    k.free -= free;
    if k.buy < u32::MAX {
        k.buy -= times - free;
    }
    plan.push(Pattern {
        kind,
        tree: column.1.clone(),
        times,
    });
}
