//! The order of setting held against the floor: what cannot be set, and the smallest changes with which it can.
//!
//! Owns the changes that are tried, each one by setting every box again: tilted up from its side, every box lower, one wall's boxes
//! shallower or narrower, the doorway wider or higher, the boxes built in two. Sizes are tried by sixteenths of an inch, so a mark less was found not to do.

use super::fit::RouteFit;
use super::floor::{Foot, is_free};
use super::judge::{Verdict, capital, resize, together};
use super::order::{Ground, Step, first_order};
use super::places::{self, Placed};
use super::sit::{Row, Standing};
use super::stand::{self, least};
use super::survey::Survey;
use crate::model::{Opening, Run, WallSide};
use crate::units::Length;

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
                    a.wall.word(),
                    b.standing.name,
                    b.wall.word()
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
    let mut mends = mends(v, &ground, &all, (rows, &out.box_shims));
    if let (true, Some((run, _))) = (mends.is_empty(), rows.first()) {
        mends.push(together(run, "in their places, standing"));
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
    (rows, shims): (&[(&Run, Row)], &[[Length; 2]]),
) -> Vec<String> {
    let sets = |ground: &Ground, changed: &[Placed]| {
        let order = ground.order(&first_order(
            changed,
            (ground.doorway, Some(ground.floor)),
            shims,
        ));
        ground.steps(&order).iter().all(|s| s.goes)
    };
    let goes = |changed: &[Placed]| sets(ground, changed);
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
    // As the row would then stand: side by side, centred in what it is centred in now.
    let narrower = |wall: WallSide, by: Length| -> Vec<Placed> {
        let n = all.iter().filter(|b| b.wall == wall).count() as i64;
        let run = rows.iter().find(|r| r.0.wall == wall);
        let centred = run.is_some_and(|r| r.0.from_left.is_none());
        let aside = if centred { by * n / 2 } else { Length::ZERO };
        let change = |b: &Placed| {
            let mut b = b.clone();
            if b.wall == wall {
                b.standing.x += aside - by * (b.number as i64 - 1);
                b.standing.width -= by;
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
        // Boxes and frames of one route are lowered alike.
        let words = |run: &Run| capital(&resize(run, &v.up(by), "lower"));
        sizes.extend(rows.first().map(|r| (by, format!("{}.", words(r.0)))));
    }
    for wall in [WallSide::Back, WallSide::Left, WallSide::Right] {
        let Some((run, _)) = rows.iter().find(|r| r.0.wall == wall) else {
            continue;
        };
        let on = |of: fn(&Standing) -> Length| {
            let sizes = all.iter().filter(|b| b.wall == wall);
            sizes.map(|b| of(&b.standing)).min().unwrap_or_default()
        };
        let change = |by: Length, how: &str| {
            let words = if run.has_boxes() {
                format!(
                    "Make the boxes on the {} wall {} {how}.",
                    wall.word(),
                    v.up(by)
                )
            } else {
                format!(
                    "Choose frames {} {how} for the {} wall.",
                    v.up(by),
                    wall.word()
                )
            };
            (by, words)
        };
        let deep = least(on(|b| b.depth) / 2, |by| goes(&shallower(wall, by)));
        sizes.extend(deep.map(|by| change(by, "shallower")));
        let wide = least(on(|b| b.width) / 2, |by| goes(&narrower(wall, by)));
        sizes.extend(wide.map(|by| change(by, "narrower each")));
    }
    let doorway = wider_doorway(v, ground, |g| sets(g, all));
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
    if list.len() < 3 && rows.iter().all(|r| r.0.has_boxes()) && goes(&halves) {
        list.push("Build the boxes in two, one on the other.".into());
    }
    // Where the doorway is what is in the way, that is said too.
    list.truncate(3 - doorway.iter().len());
    list.extend(doorway);
    list
}

/// How much wider or higher the doorway has to be for every box to go in, where that is no more than stops, casing and leaf may give
/// up or a carpenter would cut: 6 in, common practice, no source.
fn wider_doorway(v: &Verdict, ground: &Ground, goes: impl Fn(&Ground) -> bool) -> Option<String> {
    let door = ground.doorway?;
    let change = |wide: Length, high: Length| crate::model::Doorway {
        width: door.width.map(|w| w + wide),
        height: door.height.map(|h| h + high),
        ..door.clone()
    };
    let does = |wide: Length, high: Length| {
        let door = change(wide, high);
        goes(&Ground {
            doorway: Some(&door),
            elsewhere: ground.elsewhere.clone(),
            ..*ground
        })
    };
    let words = |by: Length, how: &str| {
        let words = format!(
            "A doorway {} {how} lets them in: see what its stops, casing and leaf give up.",
            v.up(by)
        );
        (by, words)
    };
    let most = Length::inches(6);
    let wide = least(most, |by| does(by, Length::ZERO)).map(|by| words(by, "wider"));
    let high = least(most, |by| does(Length::ZERO, by)).map(|by| words(by, "higher"));
    wide.into_iter().chain(high).min().map(|(_, words)| words)
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
