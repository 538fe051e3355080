//! How what lies on a piece can be shared between the two sides of one cut across it.
//!
//! A cut through a row the other way divides each thing in it; a cut through a row the same way divides the list. The order
//! of things in a row is free, so any of them may go to either side. Only shares that need less on one side than every
//! other share with as little on the other are kept.

use super::tree::Tree;
use crate::units::Length;

/// Shares kept of one tree. A row of ten different widths has 1,024.
const MOST: usize = 192;

/// One way of sharing: how much each side needs at least across the cut, and what lies on it.
#[derive(Clone, Debug)]
pub(crate) struct Half {
    /// What the near side needs, 0 for nothing on it.
    pub need: [Length; 2],
    /// What lies on the near and the far side.
    pub sides: [Option<Tree>; 2],
}

impl Half {
    /// Nothing on either side.
    pub(crate) const fn nothing() -> Self {
        Self {
            need: [Length::ZERO; 2],
            sides: [None, None],
        }
    }
}

/// A share before its trees are made: which share of each thing in the row.
#[derive(Clone, Debug)]
struct Share {
    need: [Length; 2],
    of: Vec<usize>,
}

/// All ways of sharing `tree` between the sides of a cut across `axis`, the near side's need rising. `steps` counts work.
pub(crate) fn halves(tree: &Tree, axis: usize, kerf: Length, steps: &mut u64) -> Vec<Half> {
    let Tree::Row {
        axis: way,
        of: things,
        ..
    } = tree
    else {
        let s = tree.size()[axis];
        *steps += 2;
        return vec![
            Half {
                need: [Length::ZERO, s],
                sides: [None, Some(tree.clone())],
            },
            Half {
                need: [s, Length::ZERO],
                sides: [Some(tree.clone()), None],
            },
        ];
    };
    let each: Vec<Vec<Half>> = things
        .iter()
        .map(|t| halves(t, axis, kerf, steps))
        .collect();
    let shares = if *way == axis {
        in_line(&each, kerf, steps)
    } else {
        abreast(&each, steps)
    };
    *steps += (shares.len() * things.len()) as u64;
    shares
        .into_iter()
        .map(|share| {
            let side = |n: usize| {
                let parts = share.of.iter().zip(&each);
                let on: Vec<Tree> = parts.filter_map(|(i, e)| e[*i].sides[n].clone()).collect();
                Tree::row(*way, on, kerf)
            };
            Half {
                need: share.need,
                sides: [side(0), side(1)],
            }
        })
        .collect()
}

/// Things one behind the other across the cut: what they need adds up.
fn in_line(each: &[Vec<Half>], kerf: Length, steps: &mut u64) -> Vec<Share> {
    let with = |sum: Length, more: Length| match (sum.is_positive(), more.is_positive()) {
        (true, true) => sum + kerf + more,
        _ => sum + more,
    };
    let mut all = vec![Share {
        need: [Length::ZERO; 2],
        of: Vec::new(),
    }];
    for options in each {
        let mut next = Vec::new();
        for share in &all {
            for (i, option) in options.iter().enumerate() {
                *steps += 1;
                let mut of = share.of.clone();
                of.push(i);
                let need = [0, 1].map(|n| with(share.need[n], option.need[n]));
                next.push(Share { need, of });
            }
        }
        all = best(next);
    }
    all
}

/// Things side by side along the cut: the one that needs most counts.
fn abreast(each: &[Vec<Half>], steps: &mut u64) -> Vec<Share> {
    let mut marks: Vec<Length> = each.iter().flatten().map(|h| h.need[0]).collect();
    marks.sort_unstable();
    marks.dedup();
    let shares = marks.into_iter().map(|near| {
        *steps += each.len() as u64;
        // Sorted with the near need rising and the far need falling: the last that fits needs least beyond.
        let of: Vec<usize> = each
            .iter()
            .map(|o| o.partition_point(|h| h.need[0] <= near) - 1)
            .collect();
        let most = |n: usize| of.iter().zip(each).map(|(i, o)| o[*i].need[n]).max();
        let need = [0, 1].map(|n| most(n).unwrap_or_default());
        Share { need, of }
    });
    best(shares.collect())
}

/// Sorts by what the near side needs and drops what is no better than another; thins a long list evenly.
fn best(mut shares: Vec<Share>) -> Vec<Share> {
    shares.sort_by_key(|s| s.need);
    let mut least: Option<Length> = None;
    shares.retain(|s| {
        let better = least.is_none_or(|l| s.need[1] < l);
        if better {
            least = Some(s.need[1]);
        }
        better
    });
    let n = shares.len();
    if n > MOST {
        let kept = (0..MOST).map(|i| shares[i * (n - 1) / (MOST - 1)].clone());
        return kept.collect();
    }
    shares
}
