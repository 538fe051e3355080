//! Takes over the layouts that column generation proposes as sheets of the search.

use super::bounds::{Pattern, Tree};
use super::build;
use super::packing::Packing;
use super::problem::Problem;
use super::tree::{Bin, Dir, Node};
use crate::solve::budget::Budget;

/// A packing of the patterns, what they leave out placed by the quick rules, and how many sheets the patterns made: they
/// come first. Surplus copies are dropped.
pub(crate) fn packing(
    problem: &Problem,
    patterns: &[Pattern],
    budget: &mut Budget,
) -> (Packing, usize) {
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
    packing.absent_area = (packing.absent.iter())
        .map(|t| problem.items[*t as usize].area)
        .sum();
    let made = packing.bins.len();
    build::complete(problem, &mut packing, budget);
    (packing, made)
}

/// The layouts of a packing as patterns: (kind of sheet, tree), equal ones next to each other.
pub(crate) fn of(packing: &Packing) -> Vec<(usize, Tree)> {
    let used = packing.bins.iter().filter(|b| !b.is_empty());
    used.map(|b| (b.kind, tree(&b.nodes).0)).collect()
}

/// The tree at the head of a preorder list, and how many nodes it takes.
fn tree(nodes: &[Node]) -> (Tree, usize) {
    let node = &nodes[0];
    let Some(dir) = node.dir() else {
        let (kind, second_way) = node.piece();
        let leaf = Tree::Piece {
            kind: kind as usize,
            way: usize::from(second_way),
        };
        return (leaf, 1);
    };
    let (mut parts, mut at, len) = (Vec::new(), 1, node.len as usize);
    while at < len {
        let (part, n) = tree(&nodes[at..]);
        parts.push(part);
        at += n;
    }
    match dir {
        Dir::Along => (Tree::Beside(parts), len),
        Dir::Down => (Tree::Above(parts), len),
    }
}

/// Writes a tree in preorder. Divisions of one part, and parts in a division of their own direction, are flattened.
pub(super) fn emit(
    problem: &Problem,
    tree: &Tree,
    above: Option<Dir>,
    left: &mut [u32],
    to: &mut Vec<Node>,
) {
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
