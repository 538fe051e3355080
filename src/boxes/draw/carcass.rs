//! The box itself: sides, top and bottom, partitions, shelves, nailer, back, rail.

use super::row::{FRONT, Rows, counted};
use crate::boxes::facts::{Inside, Joint, LOOSE_SHORT, problem, rabbet_wide};
use crate::model::{Band, BoxPlan, Grain, Run};
use crate::units::Length;

/// How much narrower than its two rabbets a back is cut, and how much shorter than its bay a rail is: its two sockets.
const BACK_EASE: Length = Length::in_64(4);
/// Common practice, no source: sockets of 1/16 at each end.
const SOCKETS: Length = Length::in_64(8);

/// The banding of fronts that show, and of fronts that strips cover.
fn bands(run: &Run) -> (Band, Band) {
    match run.face.as_str() {
        "all banded" => (FRONT, FRONT),
        "banded" => (FRONT, Band::default()),
        _ => (Band::default(), Band::default()),
    }
}

/// The rail's cut length in a bay.
pub(in crate::boxes) fn rail_length(bay: Length) -> Length {
    (bay - SOCKETS).at_least_zero()
}

/// The back's width.
pub(in crate::boxes) fn back_width(inside: &Inside) -> Length {
    match inside.joint {
        Joint::Butt => inside.outside.width,
        Joint::Rabbet | Joint::Dado => inside.width + rabbet_wide(inside.thick) * 2 - BACK_EASE,
    }
}

/// Draws one box without its doors and drawers.
pub(super) fn carcass(
    rows: &mut Rows<'_>,
    run: &Run,
    plan: &BoxPlan,
    inside: &Inside,
    sides: &str,
) {
    let item = run.material.clone().unwrap_or_default();
    let (shows, covered) = bands(run);
    let name = &plan.name;
    let (tall, into) = (inside.outside.height, inside.joint.let_in() * 2);
    if let Some(p) = rows.panel(&format!("{name} side"), 2, [tall, inside.side_deep], &item) {
        p.band = covered;
        p.match_group = Some(sides.to_owned());
        p.note = "pair: one left one right".into();
    }
    let across = [inside.width + into, inside.deep];
    if let Some(p) = rows.panel(&format!("{name} top and bottom"), 2, across, &item) {
        p.band = covered;
    }
    let uprights = plan.inside.partitions as usize;
    if let Some(p) = rows.panel(
        &format!("{name} partition"),
        uprights,
        [inside.height + into, inside.deep],
        &item,
    ) {
        p.band = shows;
    }
    let fixed = plan.fixed_shelves as usize;
    for (i, (bay, n)) in counted(inside.bays.iter().copied()).into_iter().enumerate() {
        let last = if i == 0 { "" } else { ", last bay" };
        let size = [bay + into, inside.fixed_deep];
        if let Some(p) = rows.panel(&format!("{name} fixed shelf{last}"), fixed * n, size, &item) {
            p.band = shows;
            if plan.rail {
                p.note = "hat shelf over the rail".into();
            }
        }
    }
    let least = inside.bays.iter().copied().min().unwrap_or_default();
    let loose = plan.loose_shelves as usize * inside.bays.len();
    let size = [least - LOOSE_SHORT, inside.loose_deep];
    if let Some(p) = rows.panel(&format!("{name} loose shelf"), loose, size, &item) {
        p.band = shows;
    }
    if run.build.nailer.is_positive() {
        for (i, (bay, n)) in counted(inside.bays.iter().copied()).into_iter().enumerate() {
            let last = if i == 0 { "" } else { ", last bay" };
            let size = [bay, run.build.nailer];
            if let Some(p) = rows.panel(&format!("{name} back nailer{last}"), n, size, &item) {
                p.grain = Grain::Any;
            }
        }
    }
    if let (Some(back), Some(_)) = (&run.back, inside.back) {
        rows.panel(&format!("{name} back"), 1, [tall, back_width(inside)], back);
    }
    if plan.rail
        && let Some(rail) = &run.build.rail
    {
        if rows.is_stick(rail) {
            for (bay, n) in counted(inside.bays.iter().copied()) {
                rows.strip(
                    &format!("{name} rail"),
                    n,
                    [rail_length(bay), Length::ZERO],
                    rail,
                );
            }
        } else {
            rows.wrong.push(problem(
                "[[run]] rail_item",
                rail,
                "Hanging rails are cut from sticks, and this is no stick.".into(),
                "the item of a moulding or board in stock.csv",
                "name a stick, or take the line out and list the rail under [[need]].".into(),
            ));
        }
    }
}
