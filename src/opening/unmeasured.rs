//! What stands on the walls and is not measured yet, and how far the walls reach.
//!
//! The survey's own readings are `reading`'s; these are sizes of outlets, old trim and soffits, without which a cut-out or a
//! notch would be left out unseen, and of doors on the way, without which nothing is held against them.

use super::shape::Shape;
use super::survey::Survey;
use crate::model::{KeepClear, Opening, Reading, WallSide};
use crate::units::Length;

/// Sizes not measured yet of what stands on the walls, each by its path and what it belongs to: `keep_clear[0].from_left (outlet)`.
pub fn unmeasured(opening: &Opening) -> Vec<String> {
    let mut list = Vec::new();
    let mut add = |table: String, what: &str, sizes: &[(&str, Reading)]| {
        list.extend(by_path(&table, what, sizes));
    };
    for (i, k) in opening.keep_clear.iter().enumerate() {
        let sizes = [
            ("from_left", k.from_left),
            ("up", k.up),
            ("width", k.width),
            ("height", k.height),
        ];
        add(format!("keep_clear[{i}]"), &k.what, &sizes);
    }
    for (i, t) in opening.existing_trim.iter().enumerate() {
        // What comes off is in nobody's way.
        if t.stay {
            let sizes = [("height", t.height), ("thick", t.thick)];
            add(format!("existing_trim[{i}]"), &t.what, &sizes);
        }
    }
    for (i, s) in opening.soffits.iter().enumerate() {
        let sizes = [
            ("from_left", s.from_left),
            ("width", s.width),
            ("down", s.down),
        ];
        add(format!("soffit[{i}]"), "", &sizes);
    }
    list
}

/// Sizes not measured yet of its doorway, and of what is on the way in: what has to pass there is not held against them.
pub fn unmeasured_ways(opening: &Opening) -> Vec<String> {
    let mut list = Vec::new();
    if let Some(door) = &opening.doorway {
        let sizes = [("width", door.width), ("height", door.height)];
        list.extend(by_path("doorway", "", &sizes));
    }
    for (i, way) in opening.way_in.iter().enumerate() {
        let sizes: Vec<(&str, Reading)> = way.not_taken.iter().map(|key| (*key, None)).collect();
        list.extend(by_path(&format!("way_in[{i}]"), &way.what, &sizes));
    }
    list
}

fn by_path(table: &str, what: &str, sizes: &[(&str, Reading)]) -> Vec<String> {
    let open = sizes.iter().filter(|s| s.1.is_none());
    open.map(|(key, _)| match what {
        "" => format!("{table}.{key}"),
        _ => format!("{table}.{key} ({what})"),
    })
    .collect()
}

/// A slip of the tape this large is not taken for a thing outside the opening. Common practice, no source.
const SLACK: Length = Length::INCH;

/// How far a wall reaches from its left end at most; `None` = too little is read.
fn reach(survey: &Survey, opening: &Opening, wall: WallSide) -> Option<Length> {
    if wall != WallSide::Back {
        let depths = opening.tape.depth.iter().filter_map(|d| d.1);
        return depths.max();
    }
    let wide = |shape: &Shape| {
        let planes = shape.planes();
        let all = planes.filter_map(|p| Some(p.apart? + p.left.most()? + p.right.most()?));
        all.max()
    };
    wide(&survey.shape)
}

/// The largest floor-to-ceiling height.
fn tallest(survey: &Survey) -> Option<Length> {
    let planes = survey.shape.planes();
    let all = planes.filter_map(|p| Some(p.floor.most()? + p.ceiling.most()?));
    all.max()
}

/// The first size of a thing on a wall that lies outside it, and how far that wall reaches; a stud is such a thing without width
/// or height. What reaches over an edge by no more than an inch is taken for a slip of the tape.
pub fn beyond_wall(
    survey: &Survey,
    opening: &Opening,
    thing: &KeepClear,
) -> Option<(&'static str, Length)> {
    let across = reach(survey, opening, thing.wall).filter(|most| {
        thing.from_left.is_some_and(|from| {
            // Beside the opening a side wall may go on in front of it.
            let wide = match thing.wall {
                WallSide::Back => thing.width.unwrap_or_default(),
                _ => Length::ZERO,
            };
            from + wide > *most + SLACK
        })
    });
    if let Some(most) = across {
        return Some(("from_left", most));
    }
    // A hatch in the ceiling is at its height.
    let high = tallest(survey).filter(|most| thing.up.is_some_and(|up| up > *most + SLACK));
    high.map(|most| ("up", most))
}
