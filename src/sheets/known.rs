//! Takes the layouts of a finished plan back into the search, for a task that may ask for other sizes.
//!
//! The cuts of a layout are its tree: which panel is parted which way, down to the pieces. With the new sizes in it the tree
//! may need more than the sheet; then the smallest pieces on the way that is too long are taken out until it does not. A
//! layout whose cuts cannot be followed, or whose new cuts the saw's rules forbid, gives up all its pieces.

use super::bounds::Tree;
use super::build;
use super::instance::Instance;
use super::layout::lay_out;
use super::packing::Packing;
use super::patterns::emit;
use super::problem::Problem;
use super::tree::{Bin, Dir, Node};
use crate::model::task::SheetTask;
use crate::model::{Cut, Place, SheetPlan};
use crate::solve::budget::Budget;
use crate::units::Length;

/// Corners of a panel: x0, y0, x1, y1.
type Panel = [Length; 4];

/// The plan's layouts with the task's sizes, what they no longer hold placed by the quick rules; and whether they hold all.
/// `kerf`: of the plan.
pub(super) fn packing(
    (task, instance, problem): (&SheetTask, &Instance, &Problem),
    (sheets, kerf): (&[SheetPlan], Length),
    budget: &mut Budget,
) -> (Packing, bool) {
    let mut packing = Packing {
        absent: Vec::new(),
        ..Packing::empty(problem)
    };
    let mut left = problem.counts.clone();
    for plan in sheets {
        let Some(kind) = kind_of(task, instance, plan) else {
            continue;
        };
        let transposed = instance.kinds[kind].transposed;
        let c = plan.clean_edge;
        let panel = [c[0], c[2], plan.size[0] - c[1], plan.size[1] - c[3]];
        let Some(tree) = tree(plan, panel, kerf, &|place| {
            piece(task, instance, place, transposed)
        }) else {
            continue;
        };
        for _ in 0..plan.count {
            if packing.price_of_next(problem, kind).is_none() {
                break;
            }
            let bin = sheet(task, instance, problem, kind, &tree, &mut left);
            budget.spend(4 * bin.nodes.len() as u64);
            if !bin.is_empty() {
                let slot = packing.open(problem, kind);
                packing.bins[slot] = bin;
            }
        }
    }
    let whole = left.iter().all(|n| *n == 0);
    packing.absent = (left.iter().enumerate())
        .flat_map(|(t, n)| std::iter::repeat_n(t as u32, *n as usize))
        .collect();
    packing.absent_area = (packing.absent.iter())
        .map(|t| problem.items[*t as usize].area)
        .sum();
    if !whole {
        build::complete(problem, &mut packing, budget);
    }
    (packing, whole)
}

fn kind_of(task: &SheetTask, instance: &Instance, plan: &SheetPlan) -> Option<usize> {
    let is = |k: usize| task.kinds[k].item == plan.item && task.kinds[k].rack == plan.rack;
    instance.kinds.iter().position(|k| is(k.task_kind))
}

/// The type of a piece that lies on a sheet, and which way it lies.
fn piece(
    task: &SheetTask,
    instance: &Instance,
    place: &Place,
    transposed: bool,
) -> Option<(usize, usize)> {
    // Marks may be shared: then the one of this size.
    let [x, y] = place.size;
    let alike = |p: usize| {
        let size = task.pieces[p].size;
        size == [x, y] || size == [y, x]
    };
    let of_mark = (0..task.pieces.len()).filter(|p| task.pieces[*p].mark == place.mark);
    let index = of_mark.min_by_key(|p| (!alike(*p), *p))?;
    instance.types.iter().enumerate().find_map(|(t, kind)| {
        let member = kind.of.iter().find(|m| m.piece == index)?;
        let second = place.turned ^ member.length_across ^ transposed;
        Some((t, usize::from(second).min(kind.ways.len() - 1)))
    })
}

/// The tree that a layout's cuts make of a panel; `None` where nothing lies on it.
fn tree(
    plan: &SheetPlan,
    panel: Panel,
    kerf: Length,
    piece: &dyn Fn(&Place) -> Option<(usize, usize)>,
) -> Option<Tree> {
    let Some(cut) = plan.cuts.iter().find(|c| c.of == panel) else {
        let lies = |p: &&Place| {
            let [x, y] = p.at;
            [x, y, x + p.size[0], y + p.size[1]] == panel
        };
        let (kind, way) = piece(plan.places.iter().find(lies)?)?;
        return Some(Tree::Piece { kind, way });
    };
    let parts = parts(cut, kerf)?;
    let parts = parts.map(|p| tree(plan, p, kerf, piece));
    let parts: Vec<Tree> = parts.into_iter().flatten().collect();
    if parts.is_empty() {
        return None;
    }
    Some(if cut.across {
        Tree::Beside(parts)
    } else {
        Tree::Above(parts)
    })
}

/// What a cut makes of its panel: what is kept and what lies beyond; `None` where it misses the panel.
fn parts(cut: &Cut, kerf: Length) -> Option<[Panel; 2]> {
    let low = usize::from(!cut.across);
    let (mut kept, mut beyond) = (cut.of, cut.of);
    kept[low + 2] = cut.at;
    beyond[low] = cut.at + cut.kerf.unwrap_or(kerf);
    (cut.of[low] < cut.at && cut.at < cut.of[low + 2]).then_some([kept, beyond])
}

/// A tree in the sheet's own directions, in those of the search.
fn turned(tree: &Tree) -> Tree {
    match tree {
        Tree::Piece { .. } => tree.clone(),
        Tree::Beside(parts) => Tree::Above(parts.iter().map(turned).collect()),
        Tree::Above(parts) => Tree::Beside(parts.iter().map(turned).collect()),
    }
}

/// A sheet of a kind with as much of a tree on it as goes; what it takes is taken out of `left`.
fn sheet(
    task: &SheetTask,
    instance: &Instance,
    problem: &Problem,
    kind: usize,
    tree: &Tree,
    left: &mut [u32],
) -> Bin {
    let mut bin = Bin::new(problem, kind);
    let mut nodes = Vec::new();
    if instance.kinds[kind].transposed {
        emit(problem, &turned(tree), None, left, &mut nodes);
    } else {
        emit(problem, tree, None, left, &mut nodes);
    }
    if nodes.is_empty() {
        return bin;
    }
    if let Some(first) = problem.sheets[kind].first
        && nodes[0].dir() != Some(first)
    {
        nodes.insert(0, Node::division(first, nodes.len() as u16 + 1));
    }
    let pieces = |bin: &Bin| -> Vec<u32> {
        let leaves = bin.nodes.iter().filter(|n| n.is_leaf());
        leaves.map(|n| n.piece().0).collect()
    };
    bin.nodes = nodes;
    let held = pieces(&bin);
    bin.pieces = held.len() as u32;
    bin.filled = held.iter().map(|t| problem.items[*t as usize].area).sum();
    if !bin.takes_more() {
        give_back(&mut bin, problem, &held, left);
        return bin;
    }
    bin.refresh(problem);
    take_out_what_is_too_much(&mut bin, problem, left);
    if !bin.is_empty() && !may_be_cut(task, instance, problem, &bin) {
        let held = pieces(&bin);
        give_back(&mut bin, problem, &held, left);
    }
    bin
}

fn give_back(bin: &mut Bin, problem: &Problem, pieces: &[u32], left: &mut [u32]) {
    for t in pieces {
        left[*t as usize] += 1;
    }
    bin.reset(problem, bin.kind);
}

fn take_out_what_is_too_much(bin: &mut Bin, problem: &Problem, left: &mut [u32]) {
    let mut scratch = Vec::new();
    loop {
        let too_much = |i: &usize| {
            let n = &bin.nodes[*i];
            n.w > n.room_w || n.h > n.room_h
        };
        let area = |i: &usize| problem.items[bin.nodes[*i].piece().0 as usize].area;
        let Some(out) = bin.leaves().filter(too_much).min_by_key(|i| (area(i), *i)) else {
            return;
        };
        let drop: Vec<bool> = (0..bin.nodes.len()).map(|i| i == out).collect();
        bin.remove(problem, &drop, &mut scratch, |t| left[t as usize] += 1);
    }
}

/// True if the cuts that the tree comes to are the saw's way: which way the first go, how often the piece is turned.
fn may_be_cut(task: &SheetTask, instance: &Instance, problem: &Problem, bin: &Bin) -> bool {
    let first = problem.sheets[bin.kind].first;
    if first.is_none() && task.turns.is_none() {
        return true;
    }
    let layout = lay_out(task, instance, problem, bin);
    let transposed = instance.kinds[bin.kind].transposed;
    let across = |dir: Dir| (dir == Dir::Along) != transposed;
    let Some(whole) = layout.cuts.first().map(|c| c.of) else {
        return true;
    };
    // A panel with the direction of the cut that freed it, and how many directions there were so far.
    let mut panels = vec![(whole, None, 0u32)];
    while let Some((panel, last, turns)) = panels.pop() {
        let Some(cut) = layout.cuts.iter().find(|c| c.of == panel) else {
            continue;
        };
        let turns = turns + u32::from(last != Some(cut.across));
        let wrong_way = last.is_none() && first.is_some_and(|f| across(f) != cut.across);
        if wrong_way || task.turns.is_some_and(|most| turns > u32::from(most)) {
            return false;
        }
        let Some(parts) = parts(cut, task.kerf) else {
            return false;
        };
        panels.extend(parts.map(|p| (p, Some(cut.across), turns)));
    }
    true
}
