//! The verdict on a route: what will not work, and the smallest changes that would mend it.
//!
//! Owns the reasons: width, height and depth of the row, the door's sweep, the corner, standing up and the way in. Cautions are
//! left to [`super::fit`].

use super::corner::Walls;
use super::fit::RouteFit;
use super::shape::{Face, Side};
use super::sit::{self, Row};
use super::stand::{self, StandUp};
use super::stays::{keeps_off, stands_off};
use super::stays_said::{or_above, or_notch};
use super::survey::{Survey, width_over};
use crate::model::{Doorway, Job, Opening, PrefabUnit, Run, StandsOn, StockKind, Swing, WallSide};
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
            let who = format!("The boxes on the {} wall", wall_word(run.wall));
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
                    wall_word(run.wall)
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

/// With a capital letter at its start where it is a sentence of ours; names stay as she wrote them.
fn upper(who: &str) -> String {
    who.strip_prefix("the ")
        .map_or_else(|| who.to_owned(), |rest| format!("The {rest}"))
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

/// The least change of one size with which a box that does not go through passes.
fn to_pass(
    v: &Verdict,
    opening: &Opening,
    run: &Run,
    (p, things): (&stand::Passage, &[(String, [Length; 3])]),
) -> Option<String> {
    let way = opening.way_in.iter().find(|w| w.what == p.through)?;
    let size = things.iter().find(|t| t.0 == p.what)?.1;
    let words = ["lower", "narrower", "shallower"];
    let each = words.iter().enumerate().filter_map(|(n, how)| {
        let goes = |by: Length| {
            let mut less = size;
            less[n] -= by;
            stand::passage("", less, way).is_some_and(|p| p.goes)
        };
        Some((stand::least(size[n] / 2, goes)?, *how))
    });
    let (by, how) = each.min()?;
    Some(if run.has_boxes() {
        format!(
            "Make {} {} {how}: then it goes through the {}.",
            p.what,
            v.up(by),
            p.through
        )
    } else {
        format!(
            "{}: such a one goes through the {}.",
            capital(&resize(run, &v.up(by), how)),
            p.through
        )
    })
}

/// With a small letter at its start.
fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| {
        c.to_lowercase().collect::<String>() + letters.as_str()
    })
}

/// Standing up, and the way in, of the boxes, frames, sheets and cartons of one run.
pub(crate) fn judge_way(
    out: &mut RouteFit,
    v: &mut Verdict,
    (job, opening, survey): (&Job, &Opening, &Survey),
    (run, row, frames): (&Run, &Row, &[&PrefabUnit]),
) {
    let stands = stand::stand_up(opening, survey, row);
    let cannot = stand::cannot_be_stood(&stands);
    out.can_be_stood &= cannot.is_empty();
    if !cannot.is_empty() {
        let short = |ways: &Vec<&StandUp>| {
            ways.iter()
                .map(|s| s.short_by)
                .filter(|s| s.is_positive())
                .min()
        };
        let most = cannot.iter().filter_map(short).max().unwrap_or_default();
        let by = v.up(most);
        let all: Vec<&StandUp> = cannot.iter().flatten().copied().collect();
        let no_floor = all.iter().all(|s| s.goes || s.no_floor);
        // Of boxes that differ those that cannot be stood up are named.
        let who = if stands.iter().all(|s| s.what == stands[0].what) {
            "the tallest box".to_owned()
        } else {
            let names: Vec<&str> = cannot.iter().map(|k| k[0].what.as_str()).collect();
            names.join(", ")
        };
        v.no(
            if no_floor {
                format!("There is nowhere floor enough to lay {who} down and stand it up.")
            } else {
                format!("{} can nowhere be stood up: {by} short.", upper(&who))
            },
            if run.has_boxes() {
                format!("Make the boxes {by} lower, or build them in two, one on the other.")
            } else {
                format!("{}.", capital(&resize(run, &by, "lower")))
            },
        );
    } else if stands.iter().any(|s| s.place == stand::ON_BASE && !s.goes) {
        out.cautions.push(
            "Stand each box up off the base, then lift it on: it cannot be tilted up on the base. Two people."
                .into(),
        );
    }
    if run.has_boxes() || frames.iter().any(|f| f.carton.is_none()) {
        let things: Vec<_> = row
            .boxes
            .iter()
            .map(|b| (format!("box {}", b.name), [b.height, b.width, b.depth]))
            .collect();
        for p in stand::way_in(opening, &things)
            .into_iter()
            .filter(|p| !p.goes)
        {
            v.no(
                format!(
                    "{} does not go through the {}: {}.",
                    p.what, p.through, p.how
                ),
                together(run, "inside"),
            );
            if let Some(mend) = to_pass(v, opening, run, (&p, &things)) {
                v.mend(mend);
            }
        }
        out.way_in.extend(stand::way_in(opening, &things));
    }
    let mut things: Vec<(String, [Length; 3])> = frames
        .iter()
        .filter_map(|f| Some((format!("carton of {}", f.unit), f.carton?.size)))
        .collect();
    if run.has_boxes() {
        things.extend(job.stock.iter().filter_map(|s| {
            let ours = [&run.material, &run.back]
                .iter()
                .any(|m| m.as_deref() == Some(&*s.item));
            if !ours || s.kind != StockKind::Sheet {
                return None;
            }
            Some((
                format!("sheet {}", s.item),
                [s.length?, s.width?, s.thickness()?],
            ))
        }));
    }
    for p in stand::way_in(opening, &things) {
        if !p.goes {
            v.no(
                format!(
                    "{} does not go through the {}: {}.",
                    p.what, p.through, p.how
                ),
                if run.has_boxes() {
                    "Have the sheets cut smaller at the store."
                } else {
                    "Unpack the carton outside."
                }
                .into(),
            );
        }
        if !out.way_in.contains(&p) {
            out.way_in.push(p);
        }
    }
    // 27 in and 3.2 cu ft: 16 CFR 1261 and ASTM F2057-23, S69 and S70, for storage that stands loose.
    if frames.iter().any(|f| in_scope(f)) {
        out.cautions.push(
            "A bought frame tips over until it is screwed to studs: fix each one before the next is set, and before it is loaded."
                .into(),
        );
    }
    if frames.iter().any(|f| f.stands_on == StandsOn::OwnFeet) {
        let most = sit::shims(&survey.shape, Face::Front)
            .into_iter()
            .max()
            .unwrap_or_default();
        for f in frames
            .iter()
            .filter(|f| f.foot_adjust.is_some_and(|a| a < most))
        {
            out.cautions.push(format!(
                "The feet of {} do not screw out far enough for this floor: shim under them.",
                f.unit
            ));
        }
    }
    for mut s in stands {
        if run.wall != WallSide::Back {
            s.what = format!("{}, {} wall", s.what, wall_word(run.wall));
        }
        if !out.stand_up.contains(&s) {
            out.stand_up.push(s);
        }
    }
}

/// True for a frame that the tip-over rules for loose clothing storage cover: 27 in and 3.2 cu ft, an inside that does not pull
/// out counted half.
fn in_scope(f: &PrefabUnit) -> bool {
    let inside = [
        f.inside_width.or(f.width),
        f.inside_height.or(f.height),
        f.inside_depth.or(f.depth),
    ];
    let [Some(w), Some(h), Some(d)] = inside else {
        return f.height.is_some_and(|h| h >= Length::inches(27));
    };
    f.height.unwrap_or(h) >= Length::inches(27) && half_cubic_feet(w, h, d) >= 3.2
}

/// Half the inside, in cubic feet.
fn half_cubic_feet(w: Length, h: Length, d: Length) -> f64 {
    0.5 * w.as_inches() * h.as_inches() * d.as_inches() / 1728.0
}

/// The wall by its word.
pub(crate) fn wall_word(wall: WallSide) -> &'static str {
    match wall {
        WallSide::Back => "back",
        WallSide::Left => "left",
        WallSide::Right => "right",
    }
}

#[cfg(test)]
mod tests {
    use super::half_cubic_feet;
    use crate::units::Length;

    /// Trade note 7e: 0.5 x 39 x 79 x 23 / 1728 = 20.5 cu ft.
    #[test]
    fn half_the_inside_of_a_tall_frame() {
        let half = half_cubic_feet(Length::inches(39), Length::inches(79), Length::inches(23));
        assert!((half - 20.5).abs() < 0.05);
    }
}
