//! The survey: true sizes of the opening, how far out it is, which readings to take again.
//!
//! Owns the largest level and plumb box and the shape of the survey's result. The largest box counts every reading in full and
//! never a larger interpolated value, so it errs on the small side. It does not know what will stand in the opening.

use super::angle::corner_angle;
use super::jumps::{self, Jump};
use super::overlap::{self, Overlap};
use super::reading::{self, ReadingAt as At};
use super::shape::{Plane, Shape, Side};
use super::slip::SlipKind;
use super::stays::Staying;
use super::suspects::{self, Suspect};
use super::unmeasured::{unmeasured, unmeasured_ways};
use super::{depth, slip, soffit, stays};
use crate::model::Opening;
use crate::units::{Length, Tape, Unit};
use serde::Serialize;

/// Three sizes; `None` where a reading that it needs was not taken.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize)]
pub struct BoxSize {
    /// Left to right.
    pub width: Option<Length>,
    /// Up.
    pub height: Option<Length>,
    /// Front to back.
    pub depth: Option<Length>,
}

/// The inside angles of the four corners, in degrees.
#[derive(Clone, Copy, PartialEq, Debug, Default, Serialize)]
pub struct CornerDegrees {
    /// Floor, left.
    pub low_left: Option<f64>,
    /// Floor, right.
    pub low_right: Option<f64>,
    /// Ceiling, left.
    pub high_left: Option<f64>,
    /// Ceiling, right.
    pub high_right: Option<f64>,
}

impl CornerDegrees {
    /// `low left 89.6, high right 90.4`: the corners that are known; `None` where none is.
    pub fn in_words(&self) -> Option<String> {
        let corners = [
            ("low left", self.low_left),
            ("low right", self.low_right),
            ("high left", self.high_left),
            ("high right", self.high_right),
        ];
        let known: Vec<String> = corners
            .into_iter()
            .filter_map(|(name, a)| Some(format!("{name} {:.1}", a?)))
            .collect();
        (!known.is_empty()).then(|| known.join(", "))
    }
}

/// One overlap, as it is shown.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Check {
    /// Path of the tape reading that is checked.
    pub what: String,
    /// What was read.
    pub read: Length,
    /// What the other readings make of it.
    pub expected: Length,
    /// True where rounding alone can part them.
    pub agrees: bool,
}

/// One reading to take again.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct TakeAgain {
    /// Its path.
    pub reading: String,
    /// Why, in a sentence.
    pub why: String,
    /// The kind of slip, where one is recognised: `one inch`, `swapped digits` ...
    pub slip: Option<&'static str>,
}

/// A level and plumb box that is taller than the largest one, for being narrower or shallower.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct OtherBox {
    /// Where it stands, in words.
    pub what: String,
    /// Its left side, from the left plumb line (negative: left of it).
    pub from_left_plumb_line: Length,
    /// Its sizes.
    #[serde(flatten)]
    pub size: BoxSize,
}

/// Everything the survey says.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Survey {
    /// Largest level and plumb box over the whole width, depth and height.
    pub largest_box: BoxSize,
    /// What the least tape readings would have made of it.
    pub smallest_tape: BoxSize,
    /// Corner angles.
    pub corner_degrees: CornerDegrees,
    /// Highest to lowest floor.
    pub floor_out: Option<Length>,
    /// Highest to lowest ceiling.
    pub ceiling_out: Option<Length>,
    /// Every overlap.
    pub checks: Vec<Check>,
    /// What to take again, most likely slip first.
    pub take_again: Vec<TakeAgain>,
    /// Readings an inch off those beside them: worth a second look, though they may be true.
    pub second_look: Vec<TakeAgain>,
    /// Readings nothing overlaps.
    pub unchecked: Vec<String>,
    /// Readings not taken yet.
    pub provisional: Vec<String>,
    /// Boxes beside a soffit or under the high part of a sloped ceiling.
    pub other_boxes: Vec<OtherBox>,
    /// The largest box between old base and crown that stay, if any do.
    pub between_trim: Option<BoxSize>,
    /// Base and crown that stay.
    #[serde(skip)]
    pub(crate) stays: Vec<Staying>,
    /// Short sentences on what the readings cannot show.
    pub cautions: Vec<String>,
    /// The shape itself, for what is fitted and drawn.
    #[serde(skip)]
    pub shape: Shape,
    /// The explanations behind `take_again`.
    #[serde(skip)]
    pub suspects: Vec<Suspect>,
    /// Readings that stand by inches off those beside them.
    #[serde(skip)]
    pub(crate) jumps: Vec<Jump>,
}

impl Survey {
    /// True where every overlap agrees and no reading jumps.
    pub fn hangs_together(&self) -> bool {
        self.checks.iter().all(|c| c.agrees) && self.jumps.is_empty()
    }
    /// True where the results rest on a reading not taken or on readings that disagree.
    pub fn is_provisional(&self) -> bool {
        !self.provisional.is_empty() || !self.hangs_together()
    }
}

/// Surveys an opening read with the usual inch tape.
pub fn survey(opening: &Opening) -> Survey {
    survey_by(opening, Tape::default())
}

/// Surveys an opening read with that tape: its mark sets how nearly overlapping readings must agree.
pub fn survey_by(opening: &Opening, tape: Tape) -> Survey {
    survey_shown(opening, tape, tape)
}

/// The same, its words in the sizes of another tape.
pub fn survey_shown(opening: &Opening, tape: Tape, shown: Tape) -> Survey {
    let shape = Shape::of(opening);
    let overlaps = overlap::overlaps(opening, tape.mark);
    let suspects = suspects::suspects(opening, &overlaps, tape);
    let jumps = jumps::jumps(opening, &shape, &overlaps, tape.unit);
    let depth = depth::least(opening, &shape);
    let largest_box = largest(opening, &shape, depth);
    let stays = stays::staying(opening);
    Survey {
        largest_box,
        smallest_tape: smallest_tape(opening, &shape),
        corner_degrees: corner_degrees(&shape.front),
        floor_out: spread(&shape, |p| &p.floor),
        ceiling_out: spread(&shape, |p| &p.ceiling),
        checks: overlaps.iter().map(|o| check(opening, o)).collect(),
        take_again: take_again(opening, &overlaps, &suspects, &jumps, shown),
        second_look: second_look(opening, &shape, (&overlaps, &jumps), tape.unit, shown),
        unchecked: unchecked(opening, &overlaps),
        provisional: reading::all(opening)
            .into_iter()
            .filter(|at| reading::get(opening, *at).is_none())
            .map(|at| reading::path(opening, at))
            .chain(unmeasured(opening))
            .chain(unmeasured_ways(opening))
            .collect(),
        other_boxes: soffit::other_boxes(opening, &shape, largest_box),
        between_trim: stays::between_trim(&stays, largest_box),
        stays,
        cautions: cautions(opening, &shape),
        shape,
        suspects,
        jumps,
    }
}

/// The box that fills the opening from the highest floor to the lowest ceiling, soffits included.
fn largest(opening: &Opening, shape: &Shape, depth: Option<Length>) -> BoxSize {
    let (Some(down), Some(up)) = (shape.least_down(), shape.least_up()) else {
        return BoxSize {
            depth,
            ..BoxSize::default()
        };
    };
    let up = soffit::lowest(opening, shape).map_or(up, |s| s.min(up));
    BoxSize {
        width: width_over(shape, -down, up).map(Length::at_least_zero),
        height: Some((down + up).at_least_zero()),
        depth,
    }
}

/// Largest plumb width for a box that stands from `bottom` to `top`, given as `y` from the level line.
pub fn width_over(shape: &Shape, bottom: Length, top: Length) -> Option<Length> {
    Some(
        shape.apart()?
            + shape.least_gap(Side::Left, bottom, top)?
            + shape.least_gap(Side::Right, bottom, top)?,
    )
}

/// The least of the plain tape readings; widths by the plumb lines where no tape width was taken.
fn smallest_tape(opening: &Opening, shape: &Shape) -> BoxSize {
    let tape = &opening.tape;
    let by_plumb = || {
        let h = &opening.plumb_lines.height;
        h.iter().filter_map(|h| shape.front.width_at(*h)).min()
    };
    let level = &opening.level_line;
    let sums = level.down_to_floor.iter().filter_map(|d| {
        let up = level
            .up_to_ceiling
            .iter()
            .find(|u| u.name == d.name && u.from_left == d.from_left)?;
        Some(d.front? + up.front?)
    });
    BoxSize {
        width: tape.width.iter().flatten().min().copied().or_else(by_plumb),
        height: tape.height.iter().filter_map(|h| h.1).chain(sums).min(),
        depth: tape.depth.iter().filter_map(|d| d.1).min(),
    }
}

fn spread(shape: &Shape, of: impl Fn(&Plane) -> &super::trace::Trace) -> Option<Length> {
    let most = shape.planes().filter_map(|p| of(p).most()).max()?;
    let least = shape.planes().filter_map(|p| of(p).least()).min()?;
    Some(most - least)
}

/// Between the wall through its last two readings and the chord of floor or ceiling over the whole width.
fn corner_degrees(front: &Plane) -> CornerDegrees {
    let angle = |side, low| corner_angle(front, side, low, None);
    CornerDegrees {
        low_left: angle(Side::Left, true),
        low_right: angle(Side::Right, true),
        high_left: angle(Side::Left, false),
        high_right: angle(Side::Right, false),
    }
}

fn check(opening: &Opening, o: &Overlap) -> Check {
    Check {
        what: reading::path(opening, o.read_at),
        read: o.read,
        expected: o.expected,
        agrees: o.agrees(),
    }
}

/// Readings in which a slip of one inch would show nowhere, and which she has not read twice.
fn unchecked(opening: &Opening, overlaps: &[Overlap]) -> Vec<String> {
    reading::all(opening)
        .into_iter()
        .filter(|at| reading::get(opening, *at).is_some())
        .filter(|at| !overlaps.iter().any(|o| o.would_show(*at)))
        .map(|at| reading::path(opening, at))
        .filter(|path| !opening.read_twice.contains(path))
        .collect()
}

fn take_again(
    opening: &Opening,
    overlaps: &[Overlap],
    suspects: &[Suspect],
    jumps: &[Jump],
    tape: Tape,
) -> Vec<TakeAgain> {
    let mut list: Vec<TakeAgain> = Vec::new();
    let mut add = |at: At, why: String, kind: Option<SlipKind>| {
        let reading = reading::path(opening, at);
        if list.iter().all(|t| t.reading != reading) {
            let slip = kind.map(SlipKind::name);
            list.push(TakeAgain { reading, why, slip });
        }
    };
    for (n, suspect) in suspects.iter().enumerate() {
        for (at, truth) in &suspect.readings {
            let read = reading::get(opening, *at).unwrap_or_default();
            let words = slip::words(suspect.kind, read, *truth, tape);
            let several = suspect.kind.is_none() && suspect.readings.len() > 1;
            let why = match n {
                0 if several => {
                    format!("No single slip explains it; these together would. {words}")
                }
                0 => words,
                _ => format!("If what stands above is right. {words}"),
            };
            add(*at, why, suspect.kind);
        }
    }
    // Whatever still disagrees unexplained is at least named.
    if suspects.is_empty() {
        for o in overlaps.iter().filter(|o| !o.agrees()) {
            add(
                o.read_at,
                "It disagrees with the other readings, and no slip explains it.".into(),
                None,
            );
        }
    }
    for jump in jumps {
        add(jump.at, jump.words(tape), jump.kind);
    }
    list
}

/// An inch is what a tape started at its 1 inch mark is out by; in millimetres no such mark is used.
fn second_look(
    opening: &Opening,
    shape: &Shape,
    (overlaps, found): (&[Overlap], &[Jump]),
    unit: Unit,
    shown: Tape,
) -> Vec<TakeAgain> {
    if unit != Unit::Inch {
        return Vec::new();
    }
    let all = jumps::inches_out(opening, shape, overlaps, found).into_iter();
    all.map(|a| TakeAgain {
        reading: reading::path(opening, a.at),
        why: a.words(shown),
        slip: Some(SlipKind::OneInch.name()),
    })
    .collect()
}

fn cautions(opening: &Opening, shape: &Shape) -> Vec<String> {
    let mut list = vec![
        "Between readings a wall is taken as straight. Where a straightedge rocks, take a reading there too.".to_owned(),
    ];
    if shape.back.is_none() {
        list.push(
            "Only the front plane was read. A twisted wall shows only when the back is read too."
                .into(),
        );
    }
    if opening.back_wall.is_empty() {
        list.push("The back wall is taken as flat between the depth readings.".into());
    }
    if opening.existing_trim.iter().any(|t| t.stay) {
        list.push(
            "Base or crown that stays is not in the largest box; see the box between it.".into(),
        );
    }
    list
}
