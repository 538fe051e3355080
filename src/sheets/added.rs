//! A few parts added to layouts that stay as they are: on the layouts' leftovers, on stock they do not use, on new sheets.

use super::replan::comes_out_of;
use super::schedule;
use crate::model::task::{PieceKind, SheetKind, SheetTask, SolveOptions};
use crate::model::{Cut, Leftover, Place, SheetPlan};
use crate::units::Length;

/// Adds `lacking` to `layouts`; the layouts and the work steps spent, or `None` where not all of it can be placed. Only for
/// tasks without a limit on turns, for a leftover's own turns are not counted here.
pub(super) fn add(
    task: &SheetTask,
    layouts: &[SheetPlan],
    lacking: Vec<PieceKind>,
    options: &SolveOptions,
) -> Option<(Vec<SheetPlan>, u64)> {
    let mut layouts = one_by_one(layouts);
    let mut kinds: Vec<SheetKind> = (task.kinds.iter())
        .map(|k| {
            let used = (layouts.iter())
                .filter(|s| s.item == k.item && s.rack == k.rack)
                .count() as u32;
            let from_hand = used.min(k.have);
            SheetKind {
                have: k.have - from_hand,
                at_most: k.at_most.map(|m| m.saturating_sub(used - from_hand)),
                ..k.clone()
            }
        })
        .collect();
    let stock = kinds.len();
    let mut leftovers: Vec<(usize, Leftover)> = Vec::new();
    for (i, sheet) in layouts.iter().enumerate() {
        let of = (task.kinds.iter()).find(|k| k.item == sheet.item && k.rack == sheet.rack)?;
        for left in &sheet.left {
            let kind = SheetKind {
                item: sheet.item.clone(),
                rack: Some(format!("leftover {}", leftovers.len())),
                size: left.size,
                clean_edge: [Length::ZERO; 4],
                grain_along_y: of.grain_along_y,
                cost: None,
                have: 1,
                at_most: Some(0),
            };
            if (lacking.iter()).any(|p| p.count > 0 && comes_out_of(p, &kind)) {
                kinds.push(kind);
                leftovers.push((i, left.clone()));
            }
        }
    }
    let extra = SheetTask {
        kinds,
        pieces: lacking,
        ..task.clone()
    };
    let answer = schedule::solve(&extra, options, &mut |_| {});
    if answer.unplaced.iter().any(|u| !u.fits_nothing) {
        return None;
    }
    for sheet in answer.sheets {
        let kind =
            (extra.kinds.iter()).position(|k| k.item == sheet.item && k.rack == sheet.rack)?;
        match kind.checked_sub(stock) {
            None => layouts.push(sheet),
            Some(n) => {
                let (into, left) = &leftovers[n];
                fill(&mut layouts[*into], left, sheet);
            }
        }
    }
    Some((gathered(layouts), answer.searched))
}

/// Every sheet by itself.
fn one_by_one(layouts: &[SheetPlan]) -> Vec<SheetPlan> {
    let copies = layouts.iter().flat_map(|s| {
        let one = SheetPlan {
            count: 1,
            ..s.clone()
        };
        std::iter::repeat_n(one, s.count as usize)
    });
    copies.collect()
}

/// Equal sheets together again, where the first of them stands.
fn gathered(layouts: Vec<SheetPlan>) -> Vec<SheetPlan> {
    let mut all: Vec<SheetPlan> = Vec::new();
    for sheet in layouts {
        let like = |s: &&mut SheetPlan| {
            (&s.item, &s.rack, &s.places, &s.cuts)
                == (&sheet.item, &sheet.rack, &sheet.places, &sheet.cuts)
        };
        match all.iter_mut().find(like) {
            Some(s) => s.count += sheet.count,
            None => all.push(sheet),
        }
    }
    all
}

/// Cuts up a leftover.
fn fill(layout: &mut SheetPlan, left: &Leftover, inner: SheetPlan) {
    let moved = |at: [Length; 2]| [at[0] + left.at[0], at[1] + left.at[1]];
    layout.left.retain(|l| l != left);
    layout.left.extend(inner.left.into_iter().map(|l| Leftover {
        at: moved(l.at),
        ..l
    }));
    layout
        .places
        .extend(inner.places.into_iter().map(|p| Place {
            at: moved(p.at),
            ..p
        }));
    let before = layout.cuts.len() as u32;
    layout.cuts.extend(inner.cuts.into_iter().map(|c| Cut {
        n: before + c.n,
        at: c.at + left.at[usize::from(!c.across)],
        of: [
            c.of[0] + left.at[0],
            c.of[1] + left.at[1],
            c.of[2] + left.at[0],
            c.of[3] + left.at[1],
        ],
        ..c
    }));
}
