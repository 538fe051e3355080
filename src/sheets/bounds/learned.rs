//! Points for quick tables, learned from patterns that are in use: a thinned grid that has them finds such patterns again,
//! and their like at other prices.

use super::bound::Tree;
use super::points::Grid;
use crate::sheets::instance::Instance;
use std::collections::BTreeSet;

/// Points along x and along y.
#[derive(Default)]
pub(super) struct Learned {
    xs: BTreeSet<i64>,
    ys: BTreeSet<i64>,
}

impl Learned {
    /// What a table needs to find the tree: the size of each part, and of the largest few parts of a division together.
    /// Gives the tree's size.
    pub(super) fn of(&mut self, instance: &Instance, tree: &Tree) -> (i64, i64) {
        let size = match tree {
            Tree::Piece { kind, way } => instance.types[*kind].ways[*way],
            Tree::Beside(parts) => {
                let sizes: Vec<(i64, i64)> = parts.iter().map(|p| self.of(instance, p)).collect();
                self.xs.extend(sums(sizes.iter().map(|s| s.0).collect()));
                let high = sizes.iter().map(|s| s.1).max().unwrap_or(0);
                (sizes.iter().map(|s| s.0).sum(), high)
            }
            Tree::Above(parts) => {
                let sizes: Vec<(i64, i64)> = parts.iter().map(|p| self.of(instance, p)).collect();
                self.ys.extend(sums(sizes.iter().map(|s| s.1).collect()));
                let wide = sizes.iter().map(|s| s.0).max().unwrap_or(0);
                (wide, sizes.iter().map(|s| s.1).sum())
            }
        };
        self.xs.insert(size.0);
        self.ys.insert(size.1);
        size
    }

    /// A grid with these points too, as far as no more than `most` a side come of it.
    pub(super) fn added(&self, grid: &Grid, most: usize) -> Option<Grid> {
        let xs = grid.xs.with(&self.xs, most);
        let ys = grid.ys.with(&self.ys, most);
        if xs.is_none() && ys.is_none() {
            return None;
        }
        Some(Grid {
            xs: xs.unwrap_or_else(|| grid.xs.clone()),
            ys: ys.unwrap_or_else(|| grid.ys.clone()),
        })
    }
}

/// Sums of the largest, the two largest, and so on.
fn sums(mut sizes: Vec<i64>) -> Vec<i64> {
    sizes.sort_unstable_by_key(|s| std::cmp::Reverse(*s));
    let mut sum = 0;
    for s in &mut sizes {
        sum += *s;
        *s = sum;
    }
    sizes
}
