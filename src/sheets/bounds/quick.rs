//! The instant bound: area and pairs of conservative scales (Fekete & Schepers 2004), valid for any cutting, guillotine
//! or not. Milliseconds for a closet's list; large lists get fewer pairs, never a wrong one.

use super::axis::{Axis, ways_that_fit};
use super::bound::{Bound, CertificateDraft, Weights};
use super::scales::{Scale, families};
use crate::sheets::instance::Instance;

/// Table cells spent on making scales, per direction. Default 6,000,000 (a few milliseconds).
const WORK: u64 = 6_000_000;
/// Products of values looked at when pairs are compared. Default 20,000,000.
const PAIRS: usize = 20_000_000;
/// Pairs that are worked out exactly. Default 6, range 1..=100.
const BEST: usize = 6;
/// Pairs looked at for a shorter story. Default 20, range 1..=1,000.
const SIMPLEST: usize = 20;

/// Area and dual feasible functions.
pub(crate) fn quick(instance: &Instance) -> Bound {
    if instance.types.is_empty() || instance.kinds.is_empty() {
        return Bound::none();
    }
    let (along, across) = (Axis::new(instance, false), Axis::new(instance, true));
    let f = families(&along, WORK);
    let g = families(&across, WORK);
    best_pair(instance, (&along, &f), (&across, &g))
}

/// Values of one scale by type and way, divided by what the reference sheet holds.
struct Shares {
    /// way 0 and way 1 (the same where a piece cannot turn; 1e9 where neither way fits, then the count is taken as 0).
    by_type: Vec<[f64; 2]>,
}

/// The best of all products of a scale along and a scale across.
pub(super) fn best_pair(
    instance: &Instance,
    along: (&Axis, &[Scale]),
    across: (&Axis, &[Scale]),
) -> Bound {
    let square = instance.kinds.iter().all(|k| k.w == k.h);
    let symmetric = square
        && instance
            .types
            .iter()
            .all(|t| t.ways.len() == 2 || t.ways[0].0 == t.ways[0].1);
    let ways: Vec<Vec<(i64, i64)>> = (0..instance.types.len())
        .map(|t| ways_that_fit(instance, t).collect())
        .collect();
    let per_pair = instance.types.len().max(1);
    let side_by_side = ((PAIRS / per_pair) as f64).sqrt() as usize;
    let (fs, gs) = (
        &along.1[..along.1.len().min(side_by_side.max(4))],
        &across.1[..across.1.len().min(side_by_side.max(4))],
    );
    let counts: Vec<f64> = instance.types.iter().map(|t| f64::from(t.count)).collect();
    let mut ranked: Vec<(f64, usize, usize, bool)> = Vec::new();
    let mut simple: Vec<(usize, usize, usize, bool)> = Vec::new();
    // Every kind that can be bought may be the one that decides; each is the reference in turn.
    let mut references: Vec<(i64, i64)> = instance.kinds.iter().map(|k| (k.w, k.h)).collect();
    references.sort_unstable();
    references.dedup();
    let first = |r: &(i64, i64)| instance.kinds.iter().position(|k| (k.w, k.h) == *r);
    for reference in references.iter().filter_map(first) {
        let mut scored: Vec<(f64, usize, usize, bool)> = Vec::new();
        let fshares: Vec<Option<Shares>> = fs
            .iter()
            .map(|s| shares(&ways, s, along.0, reference, |w| w.0))
            .collect();
        let gshares: Vec<Option<Shares>> = gs
            .iter()
            .map(|s| shares(&ways, s, across.0, reference, |w| w.1))
            .collect();
        for (i, f) in fshares.iter().enumerate() {
            let Some(f) = f else { continue };
            for (j, g) in gshares.iter().enumerate() {
                let Some(g) = g else { continue };
                let (mut least, mut both) = (0.0, 0.0);
                for ((a, b), c) in f.by_type.iter().zip(&g.by_type).zip(&counts) {
                    let (one, two) = (a[0] * b[0], a[1] * b[1]);
                    least += c * if one < two { one } else { two };
                    both += c * (one + two);
                }
                scored.push((least, i, j, false));
                if symmetric {
                    scored.push((both / 2.0, i, j, true));
                }
            }
        }
        scored.sort_by(|a, b| {
            b.0.total_cmp(&a.0)
                .then((a.1, a.2, a.3).cmp(&(b.1, b.2, b.3)))
        });
        let enough = scored
            .first()
            .map_or(0.0, |s| (s.0 - 1e-9).ceil() - 1.0 + 1e-9);
        let as_good = scored
            .iter()
            .filter(|s| instance.kinds.len() == 1 && s.0 > enough);
        simple.extend(as_good.map(|s| (s.1 + s.2, s.1, s.2, s.3)));
        ranked.extend(scored.into_iter().take(BEST));
    }
    let identity = (0.0, 0, 0, false);
    let mut best = Bound::none();
    for (_, i, j, symmetric) in ranked.into_iter().chain([identity]) {
        if let (Some(f), Some(g)) = (fs.get(i), gs.get(j)) {
            best = best.or(product(instance, (along.0, f), (across.0, g), symmetric));
        }
    }
    // Of all pairs that show as much, the one from the simplest families makes the shortest story.
    simple.sort_unstable();
    for (_, i, j, symmetric) in simple.into_iter().take(SIMPLEST) {
        let bound = product(instance, (along.0, &fs[i]), (across.0, &gs[j]), symmetric);
        if (bound.cost, bound.sheets, bound.impossible) >= (best.cost, best.sheets, best.impossible)
        {
            return bound;
        }
    }
    best
}

fn shares(
    ways: &[Vec<(i64, i64)>],
    scale: &Scale,
    axis: &Axis,
    reference: usize,
    side: impl Fn(&(i64, i64)) -> i64,
) -> Option<Shares> {
    let most = scale.most[reference];
    if most <= 0 {
        return None;
    }
    let share = |way: &(i64, i64)| value_of(scale, axis, side(way)) as f64 / most as f64;
    let by_type = ways.iter().map(|w| match &w[..] {
        [one] => [share(one); 2],
        [one, two, ..] => [share(one), share(two)],
        [] => [0.0; 2],
    });
    Some(Shares {
        by_type: by_type.collect(),
    })
}

fn value_of(scale: &Scale, axis: &Axis, side: i64) -> i64 {
    axis.sides
        .binary_search(&side)
        .map_or(0, |i| scale.value[i])
}

/// The bound of one product of scales, exactly.
fn product(
    instance: &Instance,
    along: (&Axis, &Scale),
    across: (&Axis, &Scale),
    symmetric: bool,
) -> Bound {
    let weigh =
        |way: (i64, i64)| value_of(along.1, along.0, way.0) * value_of(across.1, across.0, way.1);
    let piece: Vec<i64> = (0..instance.types.len())
        .map(|t| {
            let ways: Vec<i64> = ways_that_fit(instance, t).map(weigh).collect();
            match (&ways[..], symmetric) {
                ([one], true) => 2 * one,
                (_, true) => ways.iter().sum(),
                (_, false) => ways.iter().copied().min().unwrap_or(0),
            }
        })
        .collect();
    let holds = |(f, g): (&i64, &i64)| f * g * if symmetric { 2 } else { 1 };
    let weights = Weights {
        piece,
        most: along.1.most.iter().zip(&across.1.most).map(holds).collect(),
    };
    let listed = |axis: &Axis, scale: &Scale| -> Vec<(i64, i64)> {
        let all = axis.sides.iter().copied().zip(scale.value.iter().copied());
        all.filter(|(_, v)| *v > 0).collect()
    };
    let draft = CertificateDraft::Product {
        f: listed(along.0, along.1),
        g: listed(across.0, across.1),
        symmetric,
        weights: weights.clone(),
    };
    weights.bound(instance, draft)
}
