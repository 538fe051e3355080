//! A sheet with few parts, whose layout is free: every set of its parts in every guillotine arrangement.
//!
//! For each set the smallest rectangles that hold it are known, so a cut may share the parts in any way at all, and each
//! side lies as suits it. What this does not find on one sheet, within the cuts tried and the positions worth trying, is
//! not to be had with these parts on it.

use super::halves::Half;
use super::tree::Tree;
use crate::units::Length;

/// Parts at most. Each more makes three times the work.
pub(crate) const FEW: usize = 6;

/// The smallest rectangles for each set of parts, as trees.
pub(crate) struct Few {
    fronts: Vec<Vec<Tree>>,
}

impl Few {
    /// `ways` of each part, [along x, along y].
    pub(crate) fn new(ways: &[Vec<[Length; 2]>], kerf: Length) -> Self {
        let mut fronts: Vec<Vec<Tree>> = vec![Vec::new()];
        for set in 1..1_usize << ways.len() {
            let mut found: Vec<Tree> = Vec::new();
            if set.is_power_of_two() {
                let place = set.trailing_zeros() as usize;
                found.extend(ways[place].iter().map(|s| Tree::Part { place, size: *s }));
            }
            let mut one = (set - 1) & set;
            // Each pair of sides once.
            while one > set ^ one {
                for a in &fronts[one] {
                    for b in &fronts[set ^ one] {
                        let both = |axis| Tree::row(axis, vec![a.clone(), b.clone()], kerf);
                        found.extend([both(0), both(1)].into_iter().flatten());
                    }
                }
                one = (one - 1) & set;
            }
            found.sort_by_key(Tree::size);
            let mut low: Option<Length> = None;
            found.retain(|t| {
                let better = low.is_none_or(|l| t.size()[1] < l);
                if better {
                    low = Some(t.size()[1]);
                }
                better
            });
            fronts.push(found);
        }
        Self { fronts }
    }

    /// The arrangement of a set that is shortest along an axis within a width; `Some(None)` for no parts.
    fn shortest(&self, set: usize, axis: usize, width: Length) -> Option<Option<&Tree>> {
        if set == 0 {
            return Some(None);
        }
        let fits = |t: &&Tree| t.size()[1 - axis] <= width;
        let all = self.fronts[set].iter().filter(fits);
        all.min_by_key(|t| t.size()[axis]).map(Some)
    }

    /// All ways of sharing a piece's parts between the sides of a cut across `axis`, where the piece is usable to `width`.
    pub(crate) fn halves(&self, tree: &Tree, axis: usize, width: Length) -> Vec<Half> {
        let mut parts = Vec::new();
        tree.parts(&mut parts);
        let set: usize = parts.iter().map(|p| 1 << p).sum();
        let mut all = Vec::new();
        let mut one = set;
        loop {
            let (near, far) = (
                self.shortest(one, axis, width),
                self.shortest(set ^ one, axis, width),
            );
            if let (Some(near), Some(far)) = (near, far) {
                let need = [near, far].map(|t| t.map_or(Length::ZERO, |t| t.size()[axis]));
                let sides = [near.cloned(), far.cloned()];
                all.push(Half { need, sides });
            }
            if one == 0 {
                return all;
            }
            one = (one - 1) & set;
        }
    }
}
