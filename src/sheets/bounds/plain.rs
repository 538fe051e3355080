//! A proof one can count on the fingers: so many parts are at least so long and so wide, and a sheet takes only a few; or
//! the wide ones, end to end, need so many strips, and a sheet gives only a few. Looked for where a bound is known already,
//! for its words; it raises no bound.

use super::axis::ways_that_fit;
use super::bound::{Bound, CertificateDraft, Weights};
use crate::sheets::instance::Instance;

/// Parts a sheet may take for the count to be plain. Default 4, range 1..=8.
const FEW: i64 = 4;
/// Lengths and widths looked at, each; with more of them none is looked for. Default 200.
const SIDES: usize = 200;

/// Scales that count the sides from some size on and show as much as `bound`; one size can be bought.
pub(super) fn plain(instance: &Instance, bound: &Bound) -> Option<Bound> {
    let mut buyable = instance.kinds.iter().filter(|k| k.buy > 0);
    let (Some(sheet), None, false) = (buyable.next(), buyable.next(), bound.impossible) else {
        return None;
    };
    let types = 0..instance.types.len();
    let ways: Vec<Vec<(i64, i64)>> = types
        .map(|t| ways_that_fit(instance, t).collect())
        .collect();
    let sides = |second: bool| {
        let each = ways.iter().flatten();
        let mut sides: Vec<i64> = each.map(|w| if second { w.1 } else { w.0 }).collect();
        sides.sort_unstable();
        sides.dedup();
        sides
    };
    let (along, across) = (sides(false), sides(true));
    if along.len().max(across.len()) > SIDES {
        return None;
    }
    // Few to a sheet are plainest, then many parts that are spoken of.
    let mut best: Option<(i64, i64, i64, i64)> = None;
    for a in &along {
        for b in &across {
            let gives = (sheet.w / a) * (sheet.h / b);
            if !(1..=FEW).contains(&gives) {
                continue;
            }
            let large = |t: &usize| ways[*t].iter().all(|w| w.0 >= *a && w.1 >= *b);
            let parts: i64 = (0..ways.len())
                .filter(|t| !ways[*t].is_empty() && large(t))
                .map(|t| i64::from(instance.types[t].count))
                .sum();
            let in_hand: i64 = (instance.kinds.iter())
                .map(|k| i64::from(k.free) * (k.w / a) * (k.h / b))
                .sum();
            let enough = in_hand + gives * (i64::from(bound.sheets) - 1);
            let key = (gives, -parts, *a, *b);
            if parts > enough && best.is_none_or(|known| key < known) {
                best = Some(key);
            }
        }
    }
    let Some((_, _, a, b)) = best else {
        return strips(instance, bound, &ways, (&along, &across));
    };
    let piece = ways.iter().map(|ways| {
        let large = !ways.is_empty() && ways.iter().all(|w| w.0 >= a && w.1 >= b);
        i64::from(large)
    });
    let weights = Weights {
        piece: piece.collect(),
        most: (instance.kinds.iter())
            .map(|k| (k.w / a) * (k.h / b))
            .collect(),
    };
    let from = |sides: Vec<i64>, least: i64| -> Vec<(i64, i64)> {
        let counted = sides.into_iter().filter(|s| *s >= least);
        counted.map(|s| (s, 1)).collect()
    };
    let draft = CertificateDraft::Product {
        f: from(along, a),
        g: from(across, b),
        symmetric: false,
        weights: weights.clone(),
    };
    let shown = weights.bound(instance, draft);
    (shown.cost >= bound.cost && shown.sheets >= bound.sheets).then_some(shown)
}

/// Scales that count the sides one way from some size on and measure them the other way.
fn strips(
    instance: &Instance,
    bound: &Bound,
    ways: &[Vec<(i64, i64)>],
    (along, across): (&[i64], &[i64]),
) -> Option<Bound> {
    let mut best: Option<(i64, Bound)> = None;
    for (second, sides) in [(true, across), (false, along)] {
        let split = |w: (i64, i64)| if second { (w.0, w.1) } else { (w.1, w.0) };
        // The widest strips first: fewest to a sheet.
        for least in sides.iter().rev() {
            let holds = instance.kinds.iter().map(|k| {
                let (run, room) = split((k.w, k.h));
                run.saturating_mul(room / least)
            });
            let piece = ways.iter().map(|ways| {
                let runs = ways.iter().map(|w| split(*w));
                let counted = runs.map(|(run, side)| if side >= *least { run } else { 0 });
                counted.min().unwrap_or(0)
            });
            let weights = Weights {
                piece: piece.collect(),
                most: holds.collect(),
            };
            let gives = (instance.kinds.iter().filter(|k| k.buy > 0))
                .map(|k| split((k.w, k.h)).1 / least)
                .max()?;
            if !(1..=FEW).contains(&gives) || best.as_ref().is_some_and(|b| b.0 <= gives) {
                continue;
            }
            let measured = |sides: &[i64]| sides.iter().map(|s| (*s, *s)).collect();
            let counted = |sides: &[i64]| -> Vec<(i64, i64)> {
                sides
                    .iter()
                    .filter(|s| **s >= *least)
                    .map(|s| (*s, 1))
                    .collect()
            };
            let (f, g) = if second {
                (measured(along), counted(across))
            } else {
                (counted(along), measured(across))
            };
            let draft = CertificateDraft::Product {
                f,
                g,
                symmetric: false,
                weights: weights.clone(),
            };
            let shown = weights.bound(instance, draft);
            if shown.cost >= bound.cost && shown.sheets >= bound.sheets {
                best = Some((gives, shown));
            }
        }
    }
    best.map(|b| b.1)
}
