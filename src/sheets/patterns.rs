//! Takes over the layouts that column generation proposes as sheets of the search.

use super::bounds::{Pattern, Tree};
use super::build;
use super::packing::Packing;
use super::problem::Problem;
use super::tree::{Bin, Dir, Node};
use crate::solve::budget::Budget;

/// A packing of the patterns, what they leave out placed by the quick rules. Surplus copies are dropped.
pub(crate) fn packing(problem: &Problem, patterns: &[Pattern], budget: &mut Budget) -> Packing {
    let mut packing = Packing {
        absent: Vec::new(),
        ..Packing::empty(problem)
    };
    let mut left = problem.counts.clone();
    for pattern in patterns {
        let fixed = problem.sheets[pattern.kind].first.is_some();
        for _ in 0..pattern.times {
            if packing.price_of_next(problem, pattern.kind).is_none() {
                break;
            }
            let mut nodes = Vec::new();
            emit(problem, &pattern.tree, None, &mut left, &mut nodes);
            let pieces = nodes.iter().filter(|n| n.is_leaf()).count() as u32;
            if pieces == 0 {
                break;
            }
            let back = |left: &mut Vec<u32>, nodes: &[Node]| {
                for n in nodes.iter().filter(|n| n.is_leaf()) {
                    left[n.piece().0 as usize] += 1;
                }
            };
            // Limits on turns and first cuts are not known to the patterns.
            if fixed || problem.turns != u8::MAX || nodes.len() > usize::from(u16::MAX) / 2 {
                back(&mut left, &nodes);
                continue;
            }
            let mut bin = Bin::new(problem, pattern.kind);
            bin.filled = nodes
                .iter()
                .filter(|n| n.is_leaf())
                .map(|n| problem.items[n.piece().0 as usize].area)
                .sum();
            bin.pieces = pieces;
            bin.nodes = nodes;
            bin.refresh(problem);
            let (w, h) = problem.sheets[pattern.kind].size;
            if bin.nodes[0].w > w || bin.nodes[0].h > h {
                back(&mut left, &bin.nodes);
                continue;
            }
            let slot = packing.open(problem, pattern.kind);
            packing.bins[slot] = bin;
        }
    }
    packing.absent = left
        .iter()
        .enumerate()
        .flat_map(|(t, n)| std::iter::repeat_n(t as u32, *n as usize))
        .collect();
    build::complete(problem, &mut packing, budget);
    packing
}

/// Writes a tree in preorder. Divisions of one part, and parts in a division of their own direction, are flattened.
fn emit(problem: &Problem, tree: &Tree, above: Option<Dir>, left: &mut [u32], to: &mut Vec<Node>) {
    let (dir, parts) = match tree {
        Tree::Piece { kind, way } => {
            if left[*kind] > 0 {
                left[*kind] -= 1;
                let size = problem.items[*kind].ways[*way];
                to.push(Node::leaf(*kind as u32, *way == 1, size));
            }
            return;
        }
        Tree::Beside(parts) => (Dir::Along, parts),
        Tree::Above(parts) => (Dir::Down, parts),
    };
    let real: Vec<&Tree> = parts.iter().filter(|p| holds_some(p, left)).collect();
    if real.len() < 2 || above == Some(dir) {
        for part in real {
            emit(problem, part, above, left, to);
        }
        return;
    }
    let at = to.len();
    to.push(Node::division(dir, 1));
    for part in real {
        emit(problem, part, Some(dir), left, to);
    }
    match to.len() - at {
        // Copies ran out under way.
        1 => {
            to.pop();
        }
        2 => {
            to.remove(at);
        }
        n => to[at].len = n as u16,
    }
}

fn holds_some(tree: &Tree, left: &[u32]) -> bool {
    match tree {
        Tree::Piece { kind, .. } => left[*kind] > 0,
        Tree::Beside(parts) | Tree::Above(parts) => parts.iter().any(|p| holds_some(p, left)),
    }
}
