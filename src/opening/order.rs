//! In which order the boxes are set.
//!
//! Owns the order alone: from the end where the floor is highest (S45, S46); but behind a doorway narrower
//! than the row the boxes beside the door come first, since nothing can be moved sideways past a box that stands.

use super::sit::Row;
use crate::model::Opening;
use crate::units::Length;

/// Names of the boxes in the order they are set; `shims` under the left and right side of each.
pub(crate) fn setting(opening: &Opening, row: &Row, shims: &[[Length; 2]]) -> Vec<String> {
    let mut order: Vec<usize> = (0..row.boxes.len()).collect();
    if shims.first().map(|s| s[0]) > shims.last().map(|s| s[1]) {
        order.reverse();
    }
    let doorway = opening.doorway.as_ref().and_then(|d| d.width);
    if doorway.is_some_and(|w| w < row.width())
        && let Some((left, right)) = row.ends()
    {
        // Where the doorway stands along the wall is not read: it is taken as in the middle.
        let middle = (left + right) / 2;
        let from_middle = |i: &usize| {
            let b = &row.boxes[*i];
            (b.x + b.width / 2 - middle).abs()
        };
        order.sort_by_key(|i| std::cmp::Reverse(from_middle(i)));
    }
    order
        .into_iter()
        .map(|i| row.boxes[i].name.clone())
        .collect()
}
