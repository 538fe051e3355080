//! What stands against the back of a box, seen from the front: the boards that a hole in the back would meet, and the back itself.

use super::draw::back_width;
use super::facts::Inside;
use super::shelves::shelves_at;
use crate::model::{BoxPlan, Part, Run};
use crate::units::Length;

/// A board whose back edge touches the back. From the left outside edge, and up from the bottom edge.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Board {
    /// `fixed shelf`, `partition`, `nailer`, `top`, `bottom`.
    pub what: &'static str,
    /// Its left and right end.
    pub x: [Length; 2],
    /// Its lower and upper face.
    pub y: [Length; 2],
}

/// The back as it is cut.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Back {
    /// The mark of its part, where the cut list was read.
    pub mark: Option<String>,
    /// Its left and right edge, from the box's left outside edge; it is as high as the box.
    pub x: [Length; 2],
}

/// Every board against the back that is fastened in; loose shelves can be moved.
pub(super) fn boards(run: &Run, plan: &BoxPlan, inside: &Inside) -> Vec<Board> {
    let thick = inside.thick;
    let (wide, high) = (inside.outside.width, inside.outside.height);
    let across = [thick, wide - thick];
    let board = |what, x, y| Board { what, x, y };
    let mut list = vec![
        board("bottom", across, [Length::ZERO, thick]),
        board("top", across, [high - thick, high]),
    ];
    let mut at = thick;
    for bay in inside.bays.iter().take(inside.bays.len().saturating_sub(1)) {
        at += *bay;
        list.push(board("partition", [at, at + thick], [thick, high - thick]));
        at += thick;
    }
    let fixed = shelves_at(run, plan, inside)
        .into_iter()
        .filter(|s| s.fixed);
    list.extend(fixed.map(|s| board("fixed shelf", across, [s.top - thick, s.top])));
    if run.build.nailer.is_positive() {
        let under = high - thick;
        list.push(board("nailer", across, [under - run.build.nailer, under]));
    }
    list
}

/// The back, and its part where the cut list has it.
pub(super) fn back_of(run: &Run, inside: &Inside, own: &[&Part]) -> Option<Back> {
    inside.back?;
    let item = run.back.as_ref()?;
    let named = |p: &&&Part| p.what.split_whitespace().last() == Some("back");
    let part = own.iter().filter(|p| p.item == *item).find(named);
    let beside = (inside.outside.width - back_width(inside)) / 2;
    Some(Back {
        mark: part.map(|p| p.mark.clone()),
        x: [beside, inside.outside.width - beside],
    })
}
