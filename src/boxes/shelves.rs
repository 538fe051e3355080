//! How high each shelf of a box stands: where she said so, else spread evenly; loose ones on the nearest row of holes.

use super::facts::Inside;
use super::pins::pin_holes;
use crate::model::{BoxPlan, Run};
use crate::units::Length;
use serde::Serialize;

/// Clear height over a shelf above a rail where she names none. Common practice, no source.
const HAT: Length = Length::FOOT;
/// Clear height that makes a shelf useful. Common practice, no source.
const CLEAR: Length = Length::inches(8);
/// From the shelf above down to a rail: 2 in at least, S58.
const UNDER_SHELF: Length = Length::inches(2);

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
    // The shelf that clothes hang over is the one below the hat shelf.
    let hat = usize::from(is_fixed.last() == Some(&true));
    let under_clothes = (tops.len() - hat)
        .checked_sub(1)
        .filter(|_| plan.rail && inside.hung.is_some() && !given);
    let mut list: Vec<ShelfAt> = tops
        .iter()
        .zip(is_fixed)
        .enumerate()
        .map(|(i, (top, fixed))| {
            let hole = holes.filter(|h| !fixed && h.in_row > 0).map(|h| {
                // The nearest; under clothes never a higher one.
                let lower = under_clothes == Some(i);
                let over = if lower { Length::ZERO } else { h.pitch / 2 };
                let up = (*top - inside.thick - h.first + over).units();
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

/// Evenly between the drawers and the top. With a rail one hat shelf goes 12 in under the top and the rest below share alike,
/// low enough for what hangs over them: then the hat shelf stands higher where that is needed, and each keeps 8 in clear.
fn spread(plan: &BoxPlan, inside: &Inside, all: usize) -> Vec<Length> {
    let floor = inside.thick + inside.drawers.iter().copied().sum::<Length>();
    let under_top = floor + inside.above_drawers;
    let on_mark = |l: Length| {
        if inside.mark.is_positive() {
            l - l % inside.mark
        } else {
            l
        }
    };
    let hung = inside.hung.filter(|_| plan.rail);
    let has_hat = plan.rail && plan.fixed_shelves > 0 && under_top - HAT > floor + HAT;
    let rest = all as i64 - i64::from(has_hat);
    // What stands under the clothes, each with the least that is useful over it.
    let packed = (CLEAR + inside.thick) * rest;
    let over_rail = if has_hat {
        CLEAR + inside.thick
    } else {
        Length::ZERO
    };
    let spare = hung.map(|drop| under_top - floor - packed - UNDER_SHELF - drop - over_rail);
    let hat = spare.map_or(HAT, |spare| (CLEAR + spare).min(HAT).max(CLEAR));
    let (mut tops, ceiling) = if has_hat {
        let hat = on_mark(under_top - hat);
        (vec![hat], hat - inside.thick)
    } else {
        (Vec::new(), under_top)
    };
    let clear = (ceiling - floor - inside.thick * rest).at_least_zero();
    // From top to top; on marks of her tape where there is room for that.
    let even = clear / (rest + 1);
    let below = hung.map_or(ceiling, |drop| ceiling - UNDER_SHELF - drop);
    let low = (below - floor - inside.thick * rest) / rest.max(1);
    let hangs = spare.is_some_and(|spare| spare >= Length::ZERO);
    let step = if hangs { even.min(low) } else { even };
    let mark = inside.mark;
    // Where clothes leave little, no mark's width is given away.
    let roomy = mark.is_positive() && step > mark * 2 && step == even;
    let down = |l: Length| if roomy { l - l % mark } else { l };
    let first = down(floor + step + inside.thick);
    let pitch = down(step + inside.thick);
    tops.extend((0..rest).map(|i| first + pitch * i));
    tops
}

/// The underside that a rail hangs from: the hat shelf, or the top where there is none; where she says how high the shelves
/// stand, the top of the tallest space, the upper one of equals.
pub(super) fn rail_from(plan: &BoxPlan, inside: &Inside, shelves: &[ShelfAt]) -> Length {
    let under_top = inside.outside.height - inside.thick;
    let under = |s: &ShelfAt| s.top - inside.thick;
    if plan.shelf_heights.len() != shelves.len() || shelves.is_empty() {
        let hat = shelves.last().filter(|s| s.fixed);
        return hat.map_or(under_top, under);
    }
    let mut below = inside.thick + inside.drawers.iter().copied().sum::<Length>();
    let mut best = (Length::ZERO, under_top);
    let undersides = shelves.iter().map(|s| (under(s), s.top));
    for (under, top) in undersides.chain([(under_top, under_top)]) {
        if under - below >= best.0 {
            best = (under - below, under);
        }
        below = below.max(top);
    }
    best.1
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
