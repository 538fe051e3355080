//! The verdict on a route: what will not work, and the smallest changes that would mend it.
//!
//! Owns the reasons: width, height and depth of the row, the door's sweep, the corner. Standing up and the way in are
//! [`super::judge_way`]'s, cautions are left to [`super::fit`].

use super::corner::Walls;
use super::shape::Side;
use super::sit::{self, Row};
use super::stays::{keeps_off, stands_off};
use super::stays_said::{or_above, or_notch};
use super::survey::{Survey, width_over};
use crate::model::{Doorway, Job, Opening, Run, Swing, WallSide};
use crate::units::{Length, Tape};

/// Reasons and mends as they are found.
pub(crate) struct Verdict {
    pub(crate) reasons: Vec<String>,
    pub(crate) mends: Vec<String>,
    tape: Tape,
}

impl Verdict {
    pub(crate) fn new(tape: Tape) -> Self {
        Self {
            reasons: Vec::new(),
            mends: Vec::new(),
            tape,
        }
    }
    /// For sizes in words.
    pub(crate) fn tape(&self) -> Tape {
        self.tape
    }
    pub(crate) fn no(&mut self, reason: String, mend: String) {
        if !self.reasons.contains(&reason) {
            self.reasons.push(reason);
        }
        self.mend(mend);
    }
    pub(crate) fn mend(&mut self, mend: String) {
        if !self.mends.contains(&mend) {
            self.mends.push(mend);
        }
    }
    /// A size to be taken off goes up to the next half mark, so that it always suffices.
    pub(crate) fn up(&self, by: Length) -> String {
        self.tape.print_up(by)
    }
    pub(crate) fn size(&self, l: Length) -> String {
        self.tape.print(l)
    }
}

/// Width, height, depth of the row against the opening.
/// `keeps`: what its ends keep off for base or crown that stays.
pub(crate) fn judge_row(
    v: &mut Verdict,
    survey: &Survey,
    (run, row): (&Run, &Row),
    keeps: [Length; 2],
) {
    let shape = &survey.shape;
    let bottom = -shape.least_down().unwrap_or_default();
    if let (Some(width), Some((left, right))) = (width_over(shape, bottom, row.top()), row.ends()) {
        let over = row.width() + run.side_gap_least * 2 - width;
        let wall = |side| shape.least_gap(side, bottom, row.top()).unwrap_or_default();
        let apart = shape.apart().unwrap_or_default();
        let gaps = [left + wall(Side::Left), apart + wall(Side::Right) - right];
        let short = |n: usize| run.side_gap_least.max(keeps[n]) - gaps[n];
        let near = short(0).max(short(1));
        let stays = row.width() + keeps[0] + keeps[1] - width;
        if over.is_positive() {
            let by = v.up(over);
            v.no(
                format!("The boxes are {by} too wide for their least side gaps."),
                format!("{} in all.", capital(&resize(run, &by, "narrower"))),
            );
        } else if stays.is_positive() {
            let by = v.up(stays);
            let ends = [WallSide::Left, WallSide::Right];
            let above = or_above(survey, (run, row), &ends, v.tape());
            v.no(
                format!("Base or crown that stays leaves the boxes {by} too wide."),
                format!("Take it off where the boxes stand{above}, or {} in all: a notch does not help at the ends.", resize(run, &by, "narrower")),
            );
        } else if near.is_positive() {
            let by = v.up(near);
            v.no(
                format!("The row stands {by} too near one wall."),
                format!(
                    "Move the row {by} away from it, or leave `from_left` out: then it is centred."
                ),
            );
        }
    }
    judge_head(v, survey, run, row, "The boxes");
    let off = stands_off(survey, run, row.span());
    if let Some(over) = survey
        .largest_box
        .depth
        .map(|d| row.depth() + off - d)
        .filter(|o| o.is_positive())
    {
        let by = v.up(over);
        // Notched round what stays they could stand at the wall.
        let notched = if off.is_positive() && over <= off {
            format!(
                ". Base or crown that stays takes {} of it: take that off, {}",
                v.up(off),
                or_notch(run)
            )
        } else {
            String::new()
        };
        v.no(
            format!("The boxes are {by} deeper than the opening."),
            format!(
                "{}, or let them stand out that much{notched}.",
                capital(&resize(run, &by, "shallower"))
            ),
        );
    }
}

/// The head gap of a row on any wall.
fn judge_head(v: &mut Verdict, survey: &Survey, run: &Run, row: &Row, who: &str) {
    // Soffits lie in the largest box's height already; beside one the row may be taller.
    let head = survey
        .largest_box
        .height
        .map(|h| h - row.base_height - row.height());
    if let Some(head) = head.filter(|h| *h < run.head_gap_least) {
        let by = v.up(run.head_gap_least - head);
        v.no(
            format!("{who} are {by} too tall for their least head gap."),
            format!(
                "{}, or the base by as much.",
                capital(&resize(run, &by, "lower"))
            ),
        );
    }
}

/// A door that swings into the opening needs the depth it sweeps in front of the boxes.
pub(crate) fn judge_door(
    v: &mut Verdict,
    opening: &Opening,
    survey: &Survey,
    (run, row): (&Run, &Row),
) {
    // One in a side wall is held against every row by what its leaf sweeps.
    let front = |d: &&Doorway| d.swing == Swing::In && d.wall == "front";
    let Some(door) = opening.doorway.as_ref().filter(front) else {
        return;
    };
    let (Some(sweep), Some(depth)) = (door.width, survey.largest_box.depth) else {
        return;
    };
    let over = row.depth() + sweep - depth;
    if over.is_positive() {
        let by = v.up(over);
        v.no(
            format!(
                "The door swings in and sweeps {}: it hits the boxes by {by}.",
                v.size(sweep)
            ),
            format!(
                "Hang the door to swing out or slide, or {}.",
                resize(run, &by, "shallower")
            ),
        );
    }
}

/// Side runs against the ceiling, the wall across, and what the corner leaves them.
pub(crate) fn judge_walls(
    v: &mut Verdict,
    job: &Job,
    survey: &Survey,
    runs: &[&Run],
    walls: &Walls,
) {
    for run in runs {
        let length = match run.wall {
            WallSide::Back => walls.back_length,
            WallSide::Left => walls.left_length,
            WallSide::Right => walls.right_length,
        };
        let frames = job.listed_frames(run);
        let Some(row) = sit::row(job, survey, run, &frames) else {
            continue;
        };
        if run.wall != WallSide::Back {
            let who = format!("The boxes on the {} wall", run.wall.word());
            judge_head(v, survey, run, &row, &who);
            judge_trim(v, (job, survey), (run, &row, length), &who);
            let across = survey.largest_box.width.map(|w| row.depth() - w);
            if let Some(over) = across.filter(|o| o.is_positive()) {
                let by = v.up(over);
                v.no(
                    format!("{who} are {by} deeper than the opening is wide."),
                    format!("{}.", capital(&resize(run, &by, "shallower"))),
                );
            }
        }
        let over = row.width() - length;
        // A back row that a side run shortens; a whole one has been held against what stays already.
        let shortened = run.wall == WallSide::Back && survey.largest_box.width > Some(length);
        let [left, right] = sit::keeps(job, survey, run);
        let trimmed = over + left + right;
        if shortened && trimmed.is_positive() && !over.is_positive() {
            let ends = [WallSide::Left, WallSide::Right];
            let above = or_above(survey, (run, &row), &ends, v.tape());
            stays_in_the_way(v, (run, trimmed), ("the boxes on the back wall", &above));
        }
        if over.is_positive() {
            let by = v.up(over);
            v.no(
                format!(
                    "The run on the {} wall is {by} longer than the corner leaves it.",
                    run.wall.word()
                ),
                format!("Shorten it by {by}, or let it go through into the corner."),
            );
        }
    }
}

/// Base or crown that stays on the walls around a side row: behind it, in its corner and on the wall across.
fn judge_trim(
    v: &mut Verdict,
    (job, survey): (&Job, &Survey),
    (run, row, length): (&Run, &Row, Length),
    who: &str,
) {
    let Some(width) = survey.largest_box.width else {
        return;
    };
    let across = match run.wall {
        WallSide::Left => WallSide::Right,
        _ => WallSide::Left,
    };
    let [left, right] = sit::keeps(job, survey, run);
    let deep = stands_off(survey, run, row.span()) + keeps_off(survey, across, row.span());
    let trims = [
        (left + right, row.width() - length),
        (deep, row.depth() - width),
    ];
    let short = trims.into_iter().filter(|(trim, _)| trim.is_positive());
    let over = short
        .map(|(trim, over)| trim + over)
        .max()
        .unwrap_or_default();
    if over.is_positive() && row.width() <= length {
        let walls = [WallSide::Back, run.wall, across];
        let above = or_above(survey, (run, row), &walls, v.tape());
        stays_in_the_way(v, (run, over), (&lower(who), &above));
    }
}

fn stays_in_the_way(v: &mut Verdict, (run, over): (&Run, Length), (who, above): (&str, &str)) {
    let by = v.up(over);
    v.no(
        format!("Base or crown that stays leaves {who} {by} too little room."),
        format!("Take it off where the boxes stand{above}, or {} there: a notch helps behind them, not at their ends.", resize(run, &by, "smaller")),
    );
}

/// A change of size as the route can make it: boxes are built, bought frames are chosen.
pub(crate) fn resize(run: &Run, by: &str, how: &str) -> String {
    if run.has_boxes() {
        format!("make the boxes {by} {how}")
    } else {
        format!("choose frames {by} {how}")
    }
}

/// What does not pass in one piece is put together where it is wanted.
pub(crate) fn together(run: &Run, place: &str) -> String {
    if run.has_boxes() {
        format!("Put the boxes together {place}, from parts that pass.")
    } else {
        format!("Put the frames together {place}, from the parts they come in.")
    }
}

/// With a capital letter at its start.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| {
        c.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// With a small letter at its start.
fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| {
        c.to_lowercase().collect::<String>() + letters.as_str()
    })
}
