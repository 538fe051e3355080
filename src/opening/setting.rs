//! The order of setting held against the floor: what cannot be set, and the smallest changes with which it can.
//!
//! Owns the changes that are tried, each one by setting every box again: tilted up from its side, every box lower, one wall's boxes
//! shallower, the boxes built in two. Sizes are tried by sixteenths of an inch, so a mark less was found not to do.

use super::fit::RouteFit;
use super::floor::{Foot, is_free};
use super::judge::{Verdict, wall_word};
use super::order::{Ground, Step, first_order};
use super::places::{self, Placed};
use super::sit::Row;
use super::stand;
use super::survey::Survey;
use crate::model::{Opening, Run, WallSide};
use crate::units::Length;

/// The mark by which sizes are tried.
const MARK: Length = Length::in_64(4);

/// Sets every box of a route in order; says no where one cannot be set.
pub(crate) fn judge_setting(
    out: &mut RouteFit,
    v: &mut Verdict,
    (opening, survey): (&Opening, &Survey),
    rows: &[(&Run, Row)],
) {
    let Some(all) = all_places(survey, rows) else {
        return;
    };
    let doorway = opening.doorway.as_ref();
    let floor = ground(opening, survey, rows).map(|g| g.floor);
    let first = first_order(&all, (doorway, floor), &out.box_shims);
    let name = |b: &&Placed| b.standing.name.clone();
    out.setting_order = first.iter().map(name).collect();
    let Some(ground) = ground(opening, survey, rows) else {
        return;
    };
    for (i, a) in all.iter().enumerate() {
        for b in all[i + 1..]
            .iter()
            .filter(|b| b.wall != a.wall && b.foot.meets(&a.foot))
        {
            v.no(
                format!(
                    "{} on the {} wall and {} on the {} wall would stand on the same floor.",
                    a.standing.name,
                    wall_word(a.wall),
                    b.standing.name,
                    wall_word(b.wall)
                ),
                "Leave `from_left` out of those runs: then each is centred in what the other leaves.".into(),
            );
        }
    }
    // A row that does not fit the floor, or can nowhere be stood up, has had its verdict.
    let stood = |row: &Row| stand::can_be_stood(&stand::stand_up(opening, survey, row));
    let over = all
        .iter()
        .any(|b| !is_free(&ground.floor, &others(&all, b), &b.foot));
    if over || !rows.iter().all(|(_, row)| stood(row)) {
        return;
    }
    let order = ground.order(&first);
    out.setting_order = order.iter().map(name).collect();
    out.setting = ground.steps(&order);
    let Some(step) = out.setting.iter().find(|s| !s.goes) else {
        return;
    };
    // Said once: a place where it could be tilted up is no answer where it does not get to its own.
    out.can_be_stood = false;
    let earlier: Vec<String> = out
        .setting
        .iter()
        .take_while(|s| *s != step)
        .map(|s| s.name.clone())
        .collect();
    let reason = why(v, step, &earlier);
    let mut mends = mends(v, &ground, &all, (doorway, &out.box_shims));
    if mends.is_empty() {
        mends
            .push("Put the boxes together in their places, standing, from parts that pass.".into());
    }
    for m in mends {
        v.no(reason.clone(), m);
    }
}

fn all_places(survey: &Survey, rows: &[(&Run, Row)]) -> Option<Vec<Placed>> {
    let mut all = Vec::new();
    for (run, row) in rows {
        all.extend(places::places(survey, run, row)?);
    }
    Some(all)
}

fn others(all: &[Placed], b: &Placed) -> Vec<Foot> {
    all.iter().filter(|o| *o != b).map(|o| o.foot).collect()
}

/// `None` where the depth or the ceiling was not read.
fn ground<'a>(opening: &'a Opening, survey: &Survey, rows: &[(&Run, Row)]) -> Option<Ground<'a>> {
    survey.largest_box.depth?;
    let ceiling = survey.largest_box.height?;
    let on_the_way = opening.way_in.iter().filter(|w| w.is_ceiling());
    let mut elsewhere: Vec<_> = on_the_way
        .filter_map(|w| Some((w.height?, w.turn)))
        .collect();
    if elsewhere.is_empty() {
        // As for standing up: the floor in front is taken to be as high as the opening.
        elsewhere.push((ceiling, None));
    }
    let all: Vec<(&Run, &Row)> = rows.iter().map(|(run, row)| (*run, row)).collect();
    Some(Ground {
        floor: places::floor(survey, &all)?,
        ceiling,
        doorway: opening.doorway.as_ref(),
        elsewhere,
    })
}

fn why(v: &Verdict, step: &Step, earlier: &[String]) -> String {
    let which = format!("{} on the {} wall cannot be set", step.name, step.wall);
    let after = match earlier {
        [] => String::new(),
        list => format!(" after {}", list.join(", ")),
    };
    let long = match step.floor {
        Some(floor) if floor < step.needs => format!(
            " (it takes {} in a line, {} is free)",
            v.up(step.needs),
            v.size(floor)
        ),
        _ => String::new(),
    };
    format!("{which}{after}: {}{long}.", step.how)
}

/// Changes that were found to do, the smallest first.
fn mends(
    v: &Verdict,
    ground: &Ground,
    all: &[Placed],
    (doorway, shims): (Option<&crate::model::Doorway>, &[[Length; 2]]),
) -> Vec<String> {
    let goes = |changed: &[Placed]| {
        let order = ground.order(&first_order(changed, (doorway, Some(ground.floor)), shims));
        ground.steps(&order).iter().all(|s| s.goes)
    };
    let lower = |by: Length| -> Vec<Placed> {
        let change = |b: &Placed| {
            let mut b = b.clone();
            b.standing.height -= by;
            b
        };
        all.iter().map(change).collect()
    };
    let shallower = |wall: WallSide, by: Length| -> Vec<Placed> {
        let change = |b: &Placed| {
            let mut b = b.clone();
            if b.wall == wall {
                b.standing.depth -= by;
                b.foot = places::foot(&ground.floor, wall, &b.standing);
            }
            b
        };
        all.iter().map(change).collect()
    };
    let mut list = Vec::new();
    let aside: Vec<Placed> = all.iter().map(from_its_side).collect();
    if goes(&aside) {
        list.push("Tilt the boxes up from their sides instead of their backs.".to_owned());
    }
    let tall = all
        .iter()
        .map(|b| b.standing.height)
        .min()
        .unwrap_or_default();
    let mut sizes: Vec<(Length, String)> = Vec::new();
    if let Some(by) = least(tall / 2, |by| goes(&lower(by))) {
        sizes.push((by, format!("Make the boxes {} lower.", v.up(by))));
    }
    for wall in [WallSide::Back, WallSide::Left, WallSide::Right] {
        let on = all.iter().filter(|b| b.wall == wall);
        let Some(deep) = on.map(|b| b.standing.depth).min() else {
            continue;
        };
        if let Some(by) = least(deep / 2, |by| goes(&shallower(wall, by))) {
            let text = format!(
                "Make the boxes on the {} wall {} shallower.",
                wall_word(wall),
                v.up(by)
            );
            sizes.push((by, text));
        }
    }
    sizes.sort();
    list.extend(sizes.into_iter().map(|s| s.1));
    let halves: Vec<Placed> = all
        .iter()
        .map(|b| {
            let mut b = b.clone();
            b.standing.height = b.standing.height / 2;
            b
        })
        .collect();
    if list.len() < 3 && goes(&halves) {
        list.push("Build the boxes in two, one on the other.".into());
    }
    list.truncate(3);
    list
}

/// The same box tilted the other way: its width sweeps, its depth is the breadth of the strip, and it lies along its wall.
fn from_its_side(b: &Placed) -> Placed {
    let mut b = b.clone();
    (b.standing.width, b.standing.depth) = (b.standing.depth, b.standing.width);
    b.wall = match b.wall {
        WallSide::Back => WallSide::Left,
        _ => WallSide::Back,
    };
    b
}

/// The least size up to `most` that does, by marks; what does is taken to do the more, the larger it is.
fn least(most: Length, does: impl Fn(Length) -> bool) -> Option<Length> {
    let (mut low, mut high) = (0, most.units() / MARK.units());
    if high < 1 || !does(MARK * high) {
        return None;
    }
    while high - low > 1 {
        let middle = (low + high) / 2;
        if does(MARK * middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(MARK * high)
}
