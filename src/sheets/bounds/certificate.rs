//! The draft of a proof put into the terms of the task: marks, real sizes, stock rows. Makes no claim of its own.

use super::bound::{Bound, CertificateDraft, CopyLimitDraft, Weights};
use super::plain::plain;
use crate::model::certificate::{
    Certificate, CopyLimit, Holds, PieceWeight, SizeWeight, WeightRule, WeightsProof,
};
use crate::model::task::SheetTask;
use crate::sheets::instance::Instance;
use crate::units::Length;

/// The proof of a bound. Where it shows as much, counting large parts is preferred, then area, for anyone can check them.
pub(crate) fn certificate(task: &SheetTask, instance: &Instance, bound: &Bound) -> Certificate {
    if bound.cost == 0 && bound.sheets == 0 {
        return Certificate::NothingToBuy;
    }
    let plainer = plain(instance, bound);
    let bound = plainer.as_ref().unwrap_or(bound);
    if plainer.is_none()
        && let Some(area) = area(task, instance)
    {
        let by_area = area.bound(instance, CertificateDraft::None);
        if by_area.cost >= bound.cost
            && by_area.sheets >= bound.sheets
            && by_area.impossible == bound.impossible
        {
            return proof(task, instance, WeightRule::Area, &area);
        }
    }
    match &bound.draft {
        CertificateDraft::None => Certificate::None,
        CertificateDraft::Nothing => Certificate::NothingToBuy,
        CertificateDraft::Product {
            f,
            g,
            symmetric,
            weights,
        } => {
            let rule = WeightRule::Product {
                along: sizes(instance, f),
                across: sizes(instance, g),
                symmetric: *symmetric,
            };
            proof(task, instance, rule, weights)
        }
        CertificateDraft::Pattern { limits, weights } => {
            let rule = WeightRule::Pattern {
                capped: false,
                limits: limits
                    .iter()
                    .map(|l| copy_limit(task, instance, l))
                    .collect(),
            };
            proof(task, instance, rule, weights)
        }
        CertificateDraft::Exhaustive {
            counts,
            weights,
            cost,
            sheets,
            nodes,
        } => Certificate::Exhaustive {
            pieces: tried(task, instance, counts, weights),
            not_on: sheets.saturating_sub(1),
            costs: *cost,
            nodes: *nodes,
        },
    }
}

/// The pieces of a complete search, by mark, in the order of the task.
fn tried(
    task: &SheetTask,
    instance: &Instance,
    counts: &[u32],
    weights: &[i64],
) -> Vec<PieceWeight> {
    let mut listed: Vec<(usize, PieceWeight)> = Vec::new();
    for ((t, count), weight) in instance.types.iter().zip(counts).zip(weights) {
        let mut left = *count;
        for member in &t.of {
            let count = member.count.min(left);
            left -= count;
            if count > 0 {
                let mark = task.pieces[member.piece].mark.clone();
                let weight = *weight;
                listed.push((
                    member.piece,
                    PieceWeight {
                        mark,
                        count,
                        weight,
                    },
                ));
            }
        }
    }
    listed.sort_by_key(|(piece, _)| *piece);
    listed.into_iter().map(|(_, p)| p).collect()
}

/// The bound of area; [`certificate`] finds its proof by itself.
pub(crate) fn by_area(task: &SheetTask, instance: &Instance) -> Option<Bound> {
    Some(area(task, instance)?.bound(instance, CertificateDraft::None))
}

/// Real areas with a kerf on each side, in whole units squared: sheets are not rounded to the grid of the pieces here.
fn area(task: &SheetTask, instance: &Instance) -> Option<Weights> {
    let kerf = task.kerf.units();
    let piece = instance.types.iter().map(|t| {
        let size = task.pieces[t.of[0].piece].size;
        (size[0].units() + kerf).checked_mul(size[1].units() + kerf)
    });
    let most = instance.kinds.iter().map(|k| {
        let kind = &task.kinds[k.task_kind];
        let edge = kind.clean_edge.map(Length::units);
        let x = kind.size[0].units() - edge[0] - edge[1] + kerf;
        x.checked_mul(kind.size[1].units() - edge[2] - edge[3] + kerf)
    });
    Some(Weights {
        piece: piece.collect::<Option<Vec<i64>>>()?,
        most: most.collect::<Option<Vec<i64>>>()?,
    })
}

fn proof(
    task: &SheetTask,
    instance: &Instance,
    rule: WeightRule,
    weights: &Weights,
) -> Certificate {
    let mut listed: Vec<(usize, PieceWeight)> = Vec::new();
    for (t, weight) in instance
        .types
        .iter()
        .zip(&weights.piece)
        .filter(|(_, w)| **w > 0)
    {
        for member in &t.of {
            listed.push((
                member.piece,
                PieceWeight {
                    mark: task.pieces[member.piece].mark.clone(),
                    count: member.count,
                    weight: *weight,
                },
            ));
        }
    }
    listed.sort_by_key(|(piece, _)| *piece);
    let holds = instance
        .kinds
        .iter()
        .zip(&weights.most)
        .map(|(k, most)| Holds {
            item: task.kinds[k.task_kind].item.clone(),
            rack: task.kinds[k.task_kind].rack.clone(),
            most: *most,
        });
    Certificate::Weights(WeightsProof {
        rule,
        weights: listed.into_iter().map(|(_, w)| w).collect(),
        holds: holds.collect(),
    })
}

fn sizes(instance: &Instance, values: &[(i64, i64)]) -> Vec<SizeWeight> {
    let real = |side: i64| Length::from_units(side * instance.unit.units() - instance.kerf.units());
    let each = values.iter().map(|&(side, weight)| SizeWeight {
        size: real(side),
        weight,
    });
    each.collect()
}

fn copy_limit(task: &SheetTask, instance: &Instance, limit: &CopyLimitDraft) -> CopyLimit {
    let members = limit.types.iter().flat_map(|t| &instance.types[*t].of);
    CopyLimit {
        marks: members.map(|m| task.pieces[m.piece].mark.clone()).collect(),
        most: limit.most,
    }
}
