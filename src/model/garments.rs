//! What she owns by kind and count, and how high a rail hangs for it.
//!
//! Owns which word means which length of garment: the words are ours, common practice, no source. Heights are those at which rods are
//! published to hang over the floor, the least of each range: long 68 to 72 (S58), medium 54 to 63, short 42 to 48, a
//! child's 36 to 45 (S60); clothes of no kind that is known, 66, as a single rod hangs (S58). A rail in a box needs as much clear
//! under it.

use crate::model::job::Want;
use crate::units::Length;

/// Words of a kind, the height for it; the first kind that a name holds a word of is taken.
const KINDS: &[(&[&str], Length)] = &[
    (&["child", "kid", "baby", "toddler"], Length::inches(36)),
    (&["long", "gown", "maxi"], Length::inches(68)),
    (&["coat", "dress", "robe", "parka"], Length::inches(54)),
    (
        &[
            "shirt", "blouse", "top", "jacket", "blazer", "suit", "skirt", "trouser", "pants",
            "jeans", "sweater",
        ],
        Length::inches(42),
    ),
];
/// A single rod for clothes of any kind.
const SINGLE: Length = Length::inches(66);

/// Clear height that one kind takes under its rail.
fn drop_for(name: &str) -> Length {
    let name = name.to_lowercase();
    let kind = KINDS
        .iter()
        .find(|(words, _)| words.iter().any(|w| name.contains(w)));
    kind.map_or(SINGLE, |k| k.1)
}

impl Want {
    /// The longest thing on a hanger: `tallest_hung` where she gives it, else by the kinds of garments she counts.
    pub fn longest_hung(&self) -> Option<Length> {
        self.tallest_hung
            .or_else(|| Some(drop_for(&self.longest_kind()?)))
    }
    /// Where that comes from, in words.
    pub fn longest_said(&self) -> String {
        match self.longest_kind().filter(|_| self.tallest_hung.is_none()) {
            Some(kind) => format!(
                "for {kind} by garments under [want], where tallest_hung says otherwise if you give it"
            ),
            None => "tallest_hung under [want]".to_owned(),
        }
    }
    fn longest_kind(&self) -> Option<String> {
        let owned = self.garments.iter().filter(|g| g.1 > 0);
        // Of several the first in her list.
        let longest = owned.rev().max_by_key(|g| drop_for(&g.0))?;
        Some(longest.0.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rods published at 68 for long clothes, 54 for medium, 42 for short ones, 36 for a child's, 66 where there is one (S58, S60).
    #[test]
    fn the_longest_kind_she_owns_sets_the_drop() {
        let drop = |list: &[(&str, u32)], given: Option<i64>| {
            let want = Want {
                garments: list.iter().map(|(k, n)| ((*k).to_owned(), *n)).collect(),
                tallest_hung: given.map(Length::inches),
                ..Want::default()
            };
            want.longest_hung().map(|l| l.as_inches())
        };
        assert_eq!(drop(&[], None), None);
        assert_eq!(drop(&[("shirts", 12)], None), Some(42.0));
        assert_eq!(
            drop(&[("shirts", 12), ("winter coats", 6)], None),
            Some(54.0)
        );
        assert_eq!(drop(&[("Long dresses", 1), ("coats", 6)], None), Some(68.0));
        assert_eq!(drop(&[("long dresses", 0), ("coats", 6)], None), Some(54.0));
        assert_eq!(drop(&[("children's shirts", 9)], None), Some(36.0));
        assert_eq!(drop(&[("women's", 30), ("men's", 10)], None), Some(66.0));
        assert_eq!(drop(&[("long dresses", 3)], Some(50)), Some(50.0));
    }
}
