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

#[cfg(test)]
mod tests {
    use super::super::pricing::Priced;
    use super::*;
    use crate::model::Grain;
    use crate::model::task::{PieceKind, SheetKind, SheetTask};
    use crate::units::Length;
    use std::rc::Rc;

    /// Six pieces of odd sizes that fill 1,000 by 600 to the last: a grid of ten points a side does not find them, with the
    /// points of the pattern it does.
    #[test]
    fn a_quick_table_finds_a_pattern_it_has_learned() {
        let sizes = [
            (137, 211),
            (263, 211),
            (400, 389),
            (331, 600),
            (269, 277),
            (269, 323),
        ];
        let piece = |(i, s): (usize, &(i64, i64))| PieceKind {
            mark: format!("P{i}"),
            count: 1,
            size: [Length::mm(s.0), Length::mm(s.1)],
            grain: Grain::Length,
            match_group: None,
        };
        let instance = Instance::new(&SheetTask {
            kinds: vec![SheetKind {
                item: "SHEET".into(),
                rack: None,
                size: [Length::mm(1_000), Length::mm(600)],
                clean_edge: [Length::ZERO; 4],
                grain_along_y: false,
                cost: None,
                have: 0,
                at_most: None,
            }],
            pieces: sizes.iter().enumerate().map(piece).collect(),
            kerf: Length::ZERO,
            turns: None,
            first: crate::model::FirstCut::default(),
            keep: crate::model::KeepRule::default(),
            narrowest_safe_rip: Length::ZERO,
        });
        let leaf = |w: i64, h: i64| {
            let unit = instance.unit.units();
            let size = (Length::mm(w).units() / unit, Length::mm(h).units() / unit);
            let kind = instance.types.iter().position(|t| t.ways[0] == size);
            Tree::Piece {
                kind: kind.expect("a type of that size"),
                way: 0,
            }
        };
        let tree = Tree::Beside(vec![
            Tree::Above(vec![
                Tree::Beside(vec![leaf(137, 211), leaf(263, 211)]),
                leaf(400, 389),
            ]),
            leaf(331, 600),
            Tree::Above(vec![leaf(269, 277), leaf(269, 323)]),
        ]);
        let weights: Vec<i64> = (instance.types.iter())
            .map(|t| t.ways[0].0 * t.ways[0].1)
            .collect();
        let whole: i64 = weights.iter().sum();
        let most = |grid: Grid| {
            let table = Priced::new(&instance, &weights, Rc::new(grid), &mut u64::MAX.clone());
            table.expect("a small table").most()[0]
        };
        let wanted = vec![true; instance.types.len()];
        let all = Grid::new(&instance, &wanted).expect("a small grid");
        let thin = all.thinned(&instance, &wanted, 10);
        let mut learned = Learned::default();
        let size = learned.of(&instance, &tree);
        assert_eq!(size.0 * size.1, whole);
        let with = learned.added(&thin, 1_000).expect("new points");
        assert!(most(thin.clone()) < whole);
        assert_eq!(most(with), whole);
        assert!(
            learned.added(&thin, 10).is_none(),
            "no more than it may have"
        );
    }
}
