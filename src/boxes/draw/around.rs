//! What stands under, beside and over the boxes: ladder base, strips at walls and head, strips over joints.

use super::row::{Rows, counted};
use crate::boxes::facts::{FramesRow, Inside, Room, Strip, problem};
use crate::boxes::ladder::{Ladder, longest};
use crate::model::{Grain, HeadFollows, Job, Problem, Run, SidesFollow, WallSide};
use crate::units::{Length, Unit};

/// A blank narrower than this is not held against a fence: 1/2 in, common practice, no source.
const NARROWEST: Length = Length::in_64(32);

/// The base under a run of boxes, and what base that stays on the wall takes of its depth.
pub(super) fn ladder_of(
    (job, run, room): (&Job, &Run, &Room),
    widths: &[Length],
    (outside, thick): (Length, Length),
) -> Option<(Ladder, Length)> {
    if widths.is_empty() || !run.base_height.is_positive() {
        return None;
    }
    let item = run.material.as_deref().unwrap_or_default();
    let off = room.base.map_or(Length::ZERO, |n| n.deep);
    let between = outside - run.base_setback - off - thick * 2;
    let size = [between, run.base_height];
    let ladder = Ladder::new((job, item), (widths, room.base_ends), size, thick);
    Some((ladder, off))
}

/// Draws the base under a run.
pub(super) fn base(rows: &mut Rows<'_>, run: &Run, boxes: &[Inside], room: &Room) {
    let Some(first) = boxes.first() else { return };
    let widths: Vec<Length> = boxes.iter().map(|b| b.outside.width).collect();
    let sizes = (first.outside.depth, first.thick);
    let Some((base, off)) = ladder_of((rows.job, run, room), &widths, sizes) else {
        return;
    };
    if !base.between.is_positive() {
        rows.wrong.push(problem(
            "[[run]] base_setback",
            "no depth",
            "The setback leaves no depth for the base.".into(),
            "a setback smaller than the depth of the boxes",
            "make base_setback smaller.".into(),
        ));
        return;
    }
    ladder(rows, run.material.as_deref().unwrap_or_default(), &base);
    if let Some(p) = rows.rows.last_mut().filter(|_| off.is_positive()) {
        p.note = "shorter by what base that stays on the wall takes".into();
    }
}

/// Front and back and crosspieces of a base.
fn ladder(rows: &mut Rows<'_>, item: &str, base: &Ladder) {
    let all = base.front.iter().chain(&base.back).copied();
    let joined = base.front.len() + base.back.len() > 2;
    for (i, (length, n)) in counted(all).into_iter().enumerate() {
        let what = match i {
            0 => "base front and back".to_owned(),
            _ => format!("base front and back, piece {}", i + 1),
        };
        if let Some(p) = rows.panel(&what, n, [length, base.high], item)
            && joined
        {
            p.note = "joints over a crosspiece, not opposite".into();
        }
    }
    let size = [base.between, base.high];
    if let Some(p) = rows.panel("base crosspiece", base.crosspieces.len(), size, item) {
        p.grain = Grain::Any;
    }
}

/// The lengths a long strip is made of: one where a sheet is long enough, else equal ones, the last with the rest.
fn in_pieces(rows: &Rows<'_>, item: &str, long: Length) -> Vec<Length> {
    let Some(most) = longest(rows.job, item).filter(|l| *l < long) else {
        return vec![long];
    };
    let n = (long.units() + most.units() - 1) / most.units();
    let each = rows.unit().on_grid(long / n);
    let rest = long - each * (n - 1);
    let n = usize::try_from(n).unwrap_or(1);
    // The rest is longer by less than a step for each piece; a sheet cut to the last step is made one more piece.
    if rest > most {
        let each = rows.unit().on_grid(long / (n as i64 + 1));
        let mut all = vec![each; n];
        all.push(long - each * n as i64);
        return all;
    }
    let mut all = vec![each; n - 1];
    all.push(rest);
    all
}

/// Draws the strips at walls and head, and over the joints of boxes.
pub(super) fn strips(rows: &mut Rows<'_>, run: &Run, boxes: &[Inside], room: &Room) {
    if let Some(item) = &run.build.strips {
        rows.start("face", "S");
        // Of a row on a side wall the trim says what cannot be made, and why.
        if room.strips.is_empty() && run.wall == WallSide::Back {
            rows.wrong.push(problem(
                "[[run]] strips",
                item,
                "The gaps at walls and head are not known, so no strip can be drawn for them.".into(),
                "the readings of the opening",
                "take the readings that are missing, or take the line out and list the strips yourself.".into(),
            ));
        }
        match cannot_close(rows, room) {
            Some(wrong) => rows.wrong.push(wrong),
            None => blanks(rows, item, &room.strips),
        }
    }
    if let (Some(item), Some(first)) = (&run.build.cover, boxes.first()) {
        rows.start("face", "T");
        let size = [first.outside.height, first.thick * 2];
        // Where overlay fronts lie over a seam there is no room for a strip.
        if let Some(p) = rows.strip("cover strip", run.open_seams().len(), size, item) {
            p.note = "over the seam of two boxes".into();
        }
    }
}

/// What is said where boxes leave no gap that a strip could close.
fn cannot_close(rows: &Rows<'_>, room: &Room) -> Option<Problem> {
    // A narrow strip in a gap that is as wide as she asked for is hers to choose.
    let least = match room.too_large {
        Some(_) => NARROWEST,
        None => Length::in_64(1),
    };
    let narrow = |s: &&Strip| s.width < least || !s.length.is_positive();
    let strip = room.strips.iter().find(narrow)?;
    let wide = rows.job.project.tape.print_with_unit(strip.width);
    let [why, fix] = room.too_large.clone().unwrap_or_else(|| {
        let fix = "Make the boxes smaller; fit says what there is room for.".into();
        ["The boxes leave no gap for it.".into(), fix]
    });
    Some(problem(
        "[[run]] strips",
        &format!("a {} strip {wide} wide", strip.place),
        why,
        "boxes that leave gaps for their strips",
        fix,
    ))
}

/// The blanks of strips at walls and head.
fn blanks(rows: &mut Rows<'_>, item: &str, strips: &[Strip]) {
    let (sides, heads): (Vec<&Strip>, Vec<&Strip>) =
        strips.iter().partition(|s| !s.place.starts_with("head"));
    // A row on a side wall names itself.
    let of_row = heads.first().and_then(|s| s.place.strip_prefix("head"));
    let of_row = of_row.unwrap_or_default().to_owned();
    let side = match rows.job.trim.sides_follow {
        SidesFollow::Wall => ("side scribe blank", "scribe after the boxes are set"),
        SidesFollow::Plumb => (
            "side filler blank",
            "rip to the gap after the boxes are set",
        ),
    };
    let head = match rows.job.trim.head_follows {
        HeadFollows::Ceiling => ("head scribe blank", "scribe to the ceiling"),
        HeadFollows::Level => (
            "head filler blank",
            "rip to the gap after the boxes are set",
        ),
    };
    for ((what, note), strips, of_row) in [(side, sides, ""), (head, heads, of_row.as_str())] {
        // Both sides are cut alike, as wide as the wider wants.
        let wide = strips.iter().map(|s| s.width).max().unwrap_or_default();
        let long = strips.iter().map(|s| s.length).max().unwrap_or_default();
        let [long, wide] = [up(rows.unit(), long), up(rows.unit(), wide)];
        // Of a stick she names the length herself; a sheet that is too short gives the strip in pieces.
        let pieces = if rows.is_stick(item) {
            vec![long]
        } else {
            in_pieces(rows, item, long)
        };
        let joined = pieces.len() > 1;
        for (i, (length, n)) in counted(pieces).into_iter().enumerate() {
            let last = if i == 0 { "" } else { ", last piece" };
            let what = format!("{what}{of_row}{last}");
            if let Some(p) = rows.strip(&what, strips.len() * n, [length, wide], item) {
                p.note = if joined {
                    format!("{note}; the pieces of a strip are joined end to end")
                } else {
                    note.into()
                };
            }
        }
    }
}

/// Base and strips of bought frames, from the run's sheet.
pub(super) fn of_frames(rows: &mut Rows<'_>, item: &str, frames: &FramesRow, strips: &[Strip]) {
    if let Some(base) = &frames.base {
        rows.start("base", "P");
        ladder(rows, item, base);
    }
    rows.start("face", "S");
    // Frames that do not go in leave none; the fit says so.
    let cut = |s: &&Strip| s.width.is_positive() && s.length.is_positive();
    let strips: Vec<Strip> = strips.iter().filter(cut).cloned().collect();
    blanks(rows, item, &strips);
}

/// Up to the next 1/8 in or 2 mm: a blank need not be finer.
fn up(unit: Unit, length: Length) -> Length {
    let step = match unit {
        Unit::Inch => Length::in_64(8),
        Unit::Mm => Length::mm(2),
    };
    let over = length % step;
    if over.is_positive() {
        length + step - over
    } else {
        length
    }
}
