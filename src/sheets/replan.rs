//! Planning from the middle: the parts still wanted, from the pieces that are left, the rack and new sheets.
//!
//! The rest of the plan as it was is always a candidate, so that with nothing spoiled a new plan costs nothing more; it is
//! kept where nothing cheaper is found. With something spoiled, the candidate is that rest with the spoiled parts added on
//! its leftovers and on what it does not use.

use super::added::add;
use super::instance::Instance;
use super::midway::Stand;
use super::problem::{Price, Problem};
use super::{Progress, schedule};
use crate::model::certificate::Certificate;
use crate::model::midway::{Midway, StartedPiece};
use crate::model::task::{PieceKind, SheetAnswer, SheetKind, SheetTask, SolveOptions};
use crate::model::{FirstCut, Grain, SheetPlan};
use crate::units::{Cents, Length};

/// A plan for the rest.
#[derive(Clone, PartialEq, Debug)]
pub struct Replan {
    /// What was asked: the parts still wanted, and the stock there still is; started pieces are rack pieces in it.
    pub task: SheetTask,
    /// The answer to it.
    pub answer: SheetAnswer,
    /// True where the layouts are those of the plan as it was, the spoiled parts added.
    pub carried_on: bool,
}

/// Plans the rest of a job. `stand` may come from [`super::midway`], or be filled by hand with an empty `carry_on`.
pub fn replan(
    task: &SheetTask,
    stand: &Stand,
    options: &SolveOptions,
    progress: &mut dyn FnMut(Progress),
) -> Replan {
    let rest = rest_task(task, &stand.midway);
    let mut answer = schedule::solve(&rest, options, progress);
    let mut carried_on = false;
    if let Some(layouts) = carried(&rest, &stand.carry_on, options, &mut answer.searched) {
        let instance = Instance::new(&rest);
        if !instance.types.is_empty() {
            let problem = Problem::new(&rest, &instance);
            let price = |sheets: &[SheetPlan]| price(&rest, &instance, &problem, sheets);
            let (found, carried) = (price(&answer.sheets), price(&layouts));
            let whole = answer.unplaced.iter().all(|u| u.fits_nothing);
            if !whole || carried.money <= found.money {
                claim(&rest, &mut answer, (whole, found), (&layouts, carried));
                answer.sheets = layouts;
                carried_on = true;
            }
        }
    }
    Replan {
        task: rest,
        answer,
        carried_on,
    }
}

/// The parts still wanted and the stock there still is. Pieces that none of the parts comes out of are left out.
fn rest_task(task: &SheetTask, midway: &Midway) -> SheetTask {
    let made = |mark: &str| -> u32 {
        let of = midway.made.iter().filter(|m| m.mark == mark);
        of.map(|m| m.count).sum()
    };
    let pieces: Vec<PieceKind> = (task.pieces.iter())
        .map(|p| PieceKind {
            count: p.count.saturating_sub(made(&p.mark)),
            ..p.clone()
        })
        .collect();
    let mut kinds: Vec<SheetKind> = (task.kinds.iter())
        .map(|k| {
            let of = midway
                .opened
                .iter()
                .filter(|o| (&o.item, &o.rack) == (&k.item, &k.rack));
            let opened: u32 = of.map(|o| o.count).sum();
            let from_hand = opened.min(k.have);
            SheetKind {
                have: k.have - from_hand,
                at_most: k.at_most.map(|m| m.saturating_sub(opened - from_hand)),
                ..k.clone()
            }
        })
        .collect();
    for piece in &midway.pieces {
        let of = task
            .kinds
            .iter()
            .find(|k| k.item == piece.item && k.rack.is_none());
        let Some(of) = of.or_else(|| task.kinds.iter().find(|k| k.item == piece.item)) else {
            continue;
        };
        let kind = kind_of(piece, of.grain_along_y);
        if pieces.iter().any(|p| p.count > 0 && comes_out_of(p, &kind)) {
            kinds.push(kind);
        }
    }
    // Where a part that is made now stood in the way of the first cut, the plan's other sheets may begin the other way too.
    let first = if task.kinds.iter().any(|k| in_the_way(task, k)) {
        FirstCut::Either
    } else {
        task.first
    };
    SheetTask {
        kinds,
        pieces,
        first,
        ..task.clone()
    }
}

/// True if some part of the job leaves no room for the prescribed first cut beside it on a kind of whole sheet.
fn in_the_way(task: &SheetTask, k: &SheetKind) -> bool {
    let e = k.clean_edge;
    let room = [k.size[0] - e[0] - e[1], k.size[1] - e[2] - e[3]];
    let blocks = |[x, y]: [Length; 2]| match task.first {
        FirstCut::Either => false,
        FirstCut::Rip => y == room[1] && x < room[0],
        FirstCut::Crosscut => x == room[0] && y < room[1],
    };
    k.rack.is_none()
        && (task.pieces.iter()).any(|p| {
            let [l, w] = p.size;
            let (straight, turned) = ways(p.grain, k.grain_along_y);
            p.count > 0 && (straight && blocks([l, w]) || turned && blocks([w, l]))
        })
}

/// Whether a part may lie with its own length along x, and across it.
fn ways(grain: Grain, along_y: bool) -> (bool, bool) {
    match (grain, along_y) {
        (Grain::Any, _) => (true, true),
        (Grain::Length, false) | (Grain::Width, true) => (true, false),
        _ => (false, true),
    }
}

fn kind_of(piece: &StartedPiece, grain_along_y: bool) -> SheetKind {
    SheetKind {
        item: piece.item.clone(),
        rack: Some(piece.mark.clone()),
        size: piece.size,
        clean_edge: piece.clean_edge,
        grain_along_y,
        cost: None,
        have: 1,
        at_most: Some(0),
    }
}

/// True if a part, as it must lie, fits a piece.
pub(super) fn comes_out_of(p: &PieceKind, k: &SheetKind) -> bool {
    let e = k.clean_edge;
    let room = [k.size[0] - e[0] - e[1], k.size[1] - e[2] - e[3]];
    let [l, w] = p.size;
    let (straight, turned) = ways(p.grain, k.grain_along_y);
    straight && l <= room[0] && w <= room[1] || turned && w <= room[0] && l <= room[1]
}

/// The rest of the plan as it was, with what it lacks added; `None` where that does not place everything that fits.
fn carried(
    rest: &SheetTask,
    carry_on: &[SheetPlan],
    options: &SolveOptions,
    searched: &mut u64,
) -> Option<Vec<SheetPlan>> {
    let lacking: Vec<PieceKind> = (rest.pieces.iter())
        .map(|p| {
            let there: u32 = (carry_on.iter())
                .map(|s| s.places.iter().filter(|q| q.mark == p.mark).count() as u32 * s.count)
                .sum();
            Some(PieceKind {
                count: p.count.checked_sub(there)?,
                ..p.clone()
            })
        })
        .collect::<Option<_>>()?;
    if lacking.iter().all(|p| p.count == 0) {
        return Some(carry_on.to_vec());
    }
    if carry_on.is_empty() || rest.turns.is_some() {
        return None;
    }
    let (layouts, steps) = add(rest, carry_on, lacking, options)?;
    *searched += steps;
    Some(layouts)
}

/// What layouts cost, as the search counts it.
fn price(task: &SheetTask, instance: &Instance, problem: &Problem, sheets: &[SheetPlan]) -> Price {
    let mut sum = Price::default();
    for (kind, sheet) in instance.kinds.iter().zip(&problem.sheets) {
        let k = &task.kinds[kind.task_kind];
        let used: u32 = (sheets.iter())
            .filter(|s| s.item == k.item && s.rack == k.rack)
            .map(|s| s.count)
            .sum();
        let free = used.min(sheet.free);
        for (n, each) in [(free, sheet.from_hand), (used - free, sheet.bought)] {
            let n = i64::from(n);
            sum = sum.plus(Price {
                money: each.money.saturating_mul(n),
                in_hand: each.in_hand.saturating_mul(n),
            });
        }
    }
    sum
}

/// What may be said of the layouts carried on: the bounds of the answer hold for any plan that places what it places.
fn claim(
    rest: &SheetTask,
    answer: &mut SheetAnswer,
    (whole, found): (bool, Price),
    (layouts, carried): (&[SheetPlan], Price),
) {
    answer.unplaced.retain(|u| u.fits_nothing);
    if carried.money == 0 {
        let priced = (rest.kinds.iter()).all(|k| k.cost.is_some() || k.at_most == Some(0));
        answer.at_least = 0;
        answer.cost_at_least = priced.then_some(Cents::ZERO);
        answer.certificate = Certificate::NothingToBuy;
        answer.proved = true;
    } else if whole && carried.money < found.money {
        let buys = |k: &&SheetKind| k.at_most != Some(0);
        let one_size = rest.kinds.iter().filter(buys).count() <= 1;
        answer.proved = answer.certificate != Certificate::None
            && (answer.cost_at_least == Some(Cents(carried.money))
                || one_size && bought(rest, layouts) <= answer.at_least);
    }
}

fn bought(rest: &SheetTask, layouts: &[SheetPlan]) -> u32 {
    let each = rest.kinds.iter().map(|k| {
        let used = (layouts.iter()).filter(|s| s.item == k.item && s.rack == k.rack);
        used.map(|s| s.count).sum::<u32>().saturating_sub(k.have)
    });
    each.sum()
}
