//! How high each shelf of a box stands: where she said so, else spread evenly; loose ones on the nearest row of holes.

use super::facts::Inside;
use super::pins::pin_holes;
use crate::model::{BoxPlan, Run};
use crate::units::Length;
use serde::Serialize;

/// Clear height over a shelf above a rail where she names none. Common practice, no source.
const HAT: Length = Length::FOOT;

/// One shelf of each bay.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub struct ShelfAt {
    /// Its top, from the bottom edge of the box.
    pub top: Length,
    /// Fastened in.
    pub fixed: bool,
    /// The hole its pins stand in, counted from 1 at the bottom.
    pub hole: Option<i64>,
}

/// The shelves of a box, lowest first.
pub fn shelves_at(run: &Run, plan: &BoxPlan, inside: &Inside) -> Vec<ShelfAt> {
    let fixed = plan.fixed_shelves as usize;
    let all = fixed + plan.loose_shelves as usize;
    let given = plan.shelf_heights.len() == all;
    let mut tops = if given {
        plan.shelf_heights.clone()
    } else {
        spread(plan, inside, all)
    };
    tops.sort_unstable();
    let is_fixed = chosen(plan, inside, &tops, fixed);
    let holes = pin_holes(run, plan, inside);
    let mut list: Vec<ShelfAt> = tops
        .iter()
        .zip(is_fixed)
        .map(|(top, fixed)| {
            let hole = holes.filter(|h| !fixed && h.in_row > 0).map(|h| {
                let up = (*top - inside.thick - h.first + h.pitch / 2).units();
                up.div_euclid(h.pitch.units().max(1)).clamp(0, h.in_row - 1) + 1
            });
            let stands = match (hole, holes) {
                (Some(n), Some(h)) => h.first + h.pitch * (n - 1) + inside.thick,
                _ => *top,
            };
            ShelfAt {
                top: stands,
                fixed,
                hole,
            }
        })
        .collect();
    list.sort_by_key(|s| s.top);
    list
}

/// Evenly between the drawers and the top; with a rail one hat shelf goes 12 in under the top and the rest below share alike.
fn spread(plan: &BoxPlan, inside: &Inside, all: usize) -> Vec<Length> {
    let floor = inside.thick + inside.drawers.iter().copied().sum::<Length>();
    let under_top = floor + inside.above_drawers;
    let hat = under_top - HAT;
    let on_mark = |l: Length| {
        if inside.mark.is_positive() {
            l - l % inside.mark
        } else {
            l
        }
    };
    let (mut tops, rest, ceiling) = if plan.rail && plan.fixed_shelves > 0 && hat > floor + HAT {
        (vec![on_mark(hat)], all - 1, on_mark(hat) - inside.thick)
    } else {
        (Vec::new(), all, under_top)
    };
    let n = rest as i64;
    let clear = (ceiling - floor - inside.thick * n).at_least_zero();
    // From top to top; on marks of her tape where there is room for that.
    let step = clear / (n + 1);
    let mark = inside.mark;
    let roomy = mark.is_positive() && step > mark * 2;
    let down = |l: Length| if roomy { l - l % mark } else { l };
    let first = down(floor + step + inside.thick);
    let pitch = down(step + inside.thick);
    tops.extend((0..n).map(|i| first + pitch * i));
    tops
}

/// Which are fastened in: with a rail the highest, else those nearest the middle, where they hold the sides best.
fn chosen(plan: &BoxPlan, inside: &Inside, tops: &[Length], fixed: usize) -> Vec<bool> {
    let middle = inside.outside.height / 2;
    let mut order: Vec<usize> = (0..tops.len()).collect();
    if plan.rail {
        order.reverse();
    } else {
        order.sort_by_key(|i| ((tops[*i] - inside.thick / 2 - middle).abs(), *i));
    }
    let mut is = vec![false; tops.len()];
    for i in order.into_iter().take(fixed) {
        is[i] = true;
    }
    is
}
