//! Shelves and drawers that leave too little room to reach in: they can be built, and it is said.

use super::drawers::drawers_of;
use super::facts::{Inside, Outside};
use super::shelves::shelves_at;
use crate::model::{Job, Run};
use crate::units::Length;

/// What a hand and what it holds want over a shelf. Common practice, no source.
const HAND: Length = Length::inches(4);
/// Sides of a drawer lower than this hold little. Common practice, no source.
const DRAWER: Length = Length::inches(2);

/// What is crowded in the boxes of a run, so large.
pub fn crowded(job: &Job, run: &Run, sizes: &[Outside]) -> Vec<String> {
    let tape = job.project.tape;
    let say = |l: Length| tape.print_with_unit(l);
    let mut said = Vec::new();
    for (plan, outside) in run.boxes.iter().zip(sizes) {
        let Ok(inside) = Inside::of(job, run, plan, *outside) else {
            continue;
        };
        let clear = spaces(run, plan, &inside);
        let low = clear.iter().filter(|c| **c < HAND).count();
        if let Some(least) = clear.iter().min().filter(|_| low > 0) {
            said.push(format!(
                "Shelves of box {} leave only {} over {}: less than a hand's room ({}). Take some out, or give shelf_heights.",
                plan.name,
                say(*least),
                if low == 1 { "one of them".into() } else { format!("some of them, {low} in all") },
                say(HAND)
            ));
        }
        let drawers = drawers_of(job, run, plan, &inside).ok().flatten();
        let each = drawers.iter().flat_map(|d| &d.each).map(|d| d.high);
        if let Some(high) = each.min().filter(|h| *h < DRAWER) {
            said.push(format!(
                "Drawers of box {}: the sides of the lowest are {} high and hold little. Take some out, or give drawer_heights.",
                plan.name,
                say(high)
            ));
        }
    }
    said
}

/// Clear heights over the bottom, or the drawers, and over each shelf, lowest first; negative where two boards would stand in each
/// other.
pub(super) fn spaces(run: &Run, plan: &crate::model::BoxPlan, inside: &Inside) -> Vec<Length> {
    let shelves = shelves_at(run, plan, inside);
    if shelves.is_empty() {
        return Vec::new();
    }
    let mut below = inside.thick + inside.drawers.iter().copied().sum::<Length>();
    let mut clear = Vec::new();
    for s in &shelves {
        clear.push(s.top - inside.thick - below);
        below = s.top;
    }
    clear.push(inside.outside.height - inside.thick - below);
    clear
}
