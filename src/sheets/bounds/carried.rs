//! The weights of a proof that is known, for a task that differs from the one it was made for.
//!
//! Any weights give a bound as long as it is right what a sheet holds of them. Where nothing has become easier (no piece
//! smaller, no sheet larger, no kerf narrower) every pattern of the new task is one of the old: make each piece as small as
//! it was, leave the rest of its room as waste. So a sheet holds no more than it did, and the bound stands without any
//! work. Else the table of `pricing` says what a sheet holds now.

use super::bound::{Bound, CertificateDraft, CopyLimitDraft, Weights};
use super::columns::ROOM;
use super::limited::Limited;
use super::points::Grid;
use super::pricing::Priced;
use crate::model::Grain;
use crate::model::certificate::{Certificate, WeightRule, WeightsProof};
use crate::model::task::{PieceKind, SheetKind, SheetTask};
use crate::sheets::instance::Instance;
use crate::units::Length;
use std::rc::Rc;

/// The bound of the known proof where nothing has become easier; `None` elsewhere.
pub(crate) fn carried(
    (old, proof): (&SheetTask, &Certificate),
    task: &SheetTask,
    instance: &Instance,
) -> Option<Bound> {
    let proof = pattern_proof(proof)?;
    let (piece, limits) = weights_and_limits(proof, task, instance)?;
    if task.kerf < old.kerf {
        return None;
    }
    for t in (instance.types.iter().zip(&piece)).filter(|(_, w)| **w > 0) {
        for m in &t.0.of {
            let now = &task.pieces[m.piece];
            let then = old.pieces.iter().filter(|p| p.mark == now.mark);
            if !then.into_iter().all(|then| is_harder(then, now)) {
                return None;
            }
        }
    }
    let mut most = Vec::new();
    for kind in &instance.kinds {
        let now = &task.kinds[kind.task_kind];
        let then = old.kinds.iter().find(|k| same_row(k, now))?;
        let (was, is) = (usable(then), usable(now));
        if then.grain_along_y != now.grain_along_y || is[0] > was[0] || is[1] > was[1] {
            return None;
        }
        let held = (proof.holds.iter()).find(|h| h.item == now.item && h.rack == now.rack)?;
        most.push(held.most);
    }
    if limits.iter().any(|(now, then)| now.most > *then) {
        return None;
    }
    let limits = limits.into_iter().map(|(now, _)| now).collect();
    Some(bound(instance, Weights { piece, most }, limits))
}

/// The bound of the known proof's weights, what a sheet holds worked out anew. Spends `steps`; `None` if they run out.
pub(crate) fn repriced(
    proof: &Certificate,
    task: &SheetTask,
    instance: &Instance,
    steps: &mut u64,
) -> Option<Bound> {
    let (mut piece, limits) = weights_and_limits(pattern_proof(proof)?, task, instance)?;
    let mut limits: Vec<CopyLimitDraft> = limits.into_iter().map(|(now, _)| now).collect();
    let area = |w: i64, h: i64| w as f64 * h as f64;
    let kinds = instance.kinds.iter().map(|k| area(k.w, k.h));
    let largest = kinds.fold(1.0, f64::max);
    let dense = (instance.types.iter().zip(&piece))
        .map(|(t, w)| *w as f64 / area(t.ways[0].0, t.ways[0].1))
        .fold(0.0, f64::max);
    let too_much = (dense * largest / ROOM).ceil() as i64;
    for w in &mut piece {
        *w /= too_much.max(1);
    }
    let wanted: Vec<bool> = piece.iter().map(|w| *w > 0).collect();
    if !wanted.contains(&true) {
        return None;
    }
    let grid = Rc::new(Grid::new(instance, &wanted)?);
    let held = if limits.is_empty() {
        None
    } else {
        Limited::new(instance, &piece, &limits, grid.clone(), steps).map(|t| t.most())
    };
    let most = match held {
        Some(most) => most,
        None => {
            limits.clear();
            Priced::new(instance, &piece, grid, steps)?.most()
        }
    };
    Some(bound(instance, Weights { piece, most }, limits))
}

fn bound(instance: &Instance, weights: Weights, limits: Vec<CopyLimitDraft>) -> Bound {
    let draft = CertificateDraft::Pattern {
        limits,
        weights: weights.clone(),
    };
    weights.bound(instance, draft)
}

/// Weights against the best pattern: those of area and of scales are found anew in no time.
fn pattern_proof(proof: &Certificate) -> Option<&WeightsProof> {
    match proof {
        Certificate::Weights(w) => {
            matches!(&w.rule, WeightRule::Pattern { capped: false, .. }).then_some(w)
        }
        _ => None,
    }
}

fn limits_of(proof: &WeightsProof) -> &[crate::model::certificate::CopyLimit] {
    match &proof.rule {
        WeightRule::Pattern { limits, .. } => limits,
        _ => &[],
    }
}

/// The weight of each type (the least of its pieces'), and the limits in terms of types, each with what it was; `None` where
/// a type has pieces that a limit counts and others that it does not.
fn weights_and_limits(
    proof: &WeightsProof,
    task: &SheetTask,
    instance: &Instance,
) -> Option<(Vec<i64>, Vec<(CopyLimitDraft, u32)>)> {
    let of = |piece: usize| {
        let mark = &task.pieces[piece].mark;
        let listed = proof.weights.iter().filter(|w| w.mark == *mark);
        listed.map(|w| w.weight).min().unwrap_or(0)
    };
    let least = instance
        .types
        .iter()
        .map(|t| t.of.iter().map(|m| of(m.piece)).min().unwrap_or(0));
    let mut limits = Vec::new();
    for limit in limits_of(proof) {
        let counted =
            |m: &crate::sheets::instance::Member| limit.marks.contains(&task.pieces[m.piece].mark);
        let mut types = Vec::new();
        for (t, kind) in instance.types.iter().enumerate() {
            if kind.of.iter().all(counted) {
                types.push(t);
            } else if kind.of.iter().any(counted) {
                return None;
            }
        }
        let most = types.iter().map(|t| instance.types[*t].count).sum();
        if most > 0 {
            limits.push((CopyLimitDraft { types, most }, limit.most));
        }
    }
    Some((least.collect(), limits))
}

/// True if wherever `now` lies, `then` could lie with room to spare.
fn is_harder(then: &PieceKind, now: &PieceKind) -> bool {
    let (t, n) = (then.size, now.size);
    let straight = n[0] >= t[0] && n[1] >= t[1];
    let turned = n[0] >= t[1] && n[1] >= t[0];
    match (then.grain, now.grain) {
        (Grain::Any, _) => straight || turned,
        (a, b) => a == b && straight,
    }
}

fn same_row(a: &SheetKind, b: &SheetKind) -> bool {
    a.item == b.item && a.rack == b.rack
}

fn usable(k: &SheetKind) -> [Length; 2] {
    let c = k.clean_edge;
    [k.size[0] - c[0] - c[1], k.size[1] - c[2] - c[3]]
}
