//! Scribe strips: how wide each must be at every reading, from its straight edge, and the blank it is cut from.
//!
//! Owns ordinates, blanks and their warnings. Side strips lap the box side (their straight edge is its inside face) or stop beside it; the head strip
//! stands on the tops. Blank = widest + 1/4 in and a strip no wider than 1 1/2 in beyond the box (S31 for the
//! 1 1/2; the 1/4 and the 1/2 in of variation are common practice, no source).

use super::head_strip::HeadLine;
use super::shape::{Face, Shape, Side};
use super::sit::{Row, side_gaps};
use super::strip_round::CutRound;
use super::trace::Trace;
use crate::model::{HeadFollows, SidesFollow, TrimRules};
use crate::units::Length;
use serde::Serialize;

/// Left on the blank for the compass.
pub(crate) const SPARE: Length = Length::in_64(16);
/// A strip whose gap varies more than this is better split between both sides.
const VARIES: Length = Length::in_64(32);
/// A gap narrower than this cannot be scribed by hand.
pub(super) const THINNEST: Length = Length::in_64(16);
/// Beyond this a scribe reads as a board, not a scribe.
const WIDEST: Length = Length::in_64(96);

/// Less than this is not to be read off a tape.
const SEEN: Length = Length::in_64(2);

/// Tilt of the scribed edge: within the 3 to 10 degrees of S44; the figure is common practice, no source.
const BACK_BEVEL: u32 = 5;

/// Width of a strip at one place.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub struct Ordinate {
    /// Up from the floor, or from the left end.
    pub at: Length,
    /// Width there, from the straight edge.
    pub width: Length,
}

/// One strip.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Scribe {
    /// left, right, head; `head, left row` over a row on the left wall.
    pub strip: String,
    /// Width and length of the blank.
    pub blank: [Length; 2],
    /// Width at each reading.
    pub ordinates: Vec<Ordinate>,
    /// Width at the strip's own ends and, at the sides, at the top of the base; straight between readings. At the top of base that
    /// stays on the wall there are two: beside it, and over it.
    pub ends: Vec<Ordinate>,
    /// Tilt of the scribed edge, in degrees, so that only its front touches the wall; 0 for a strip that is not scribed.
    pub back_bevel: u32,
    /// What its outer edge follows: wall or plumb at the sides, ceiling or level at the head.
    pub follows: String,
    /// Where its straight edge is.
    pub straight_edge: &'static str,
    /// The most that a plumb or level strip leaves open.
    pub leaves: Length,
    /// Where its lower end goes: to the floor, or behind the base; empty for the head strip.
    pub foot: String,
    /// How far its lower end stays above the lowest floor under it, where a moulding along the floor hides that.
    pub foot_up: Length,
    /// True where nothing covers its lower end: it is scribed to the floor, too.
    #[serde(skip)]
    pub foot_open: bool,
    /// What stays on the walls that it is cut round.
    pub cut_round: Vec<CutRound>,
    /// What is awkward about it, and what to move instead.
    pub warnings: Vec<String>,
}

impl Scribe {
    /// What heights are less along the strip, from its own lower end, where a tape shows it.
    pub fn along_less(&self) -> Option<Length> {
        let foot = self.ends.first().filter(|_| !self.is_head())?.at;
        (foot.abs() >= SEEN).then_some(foot)
    }
    /// True for one under the ceiling.
    pub fn is_head(&self) -> bool {
        self.strip.starts_with("head")
    }
    /// Its greatest width: at a reading, or at an end of its own.
    pub fn widest(&self) -> Option<Length> {
        let all = self.ordinates.iter().chain(&self.ends);
        all.map(|o| o.width).max()
    }
    /// What a step is, where two widths of [`Scribe::ends`] stand at one height: `over` the base that stays, or beside it.
    pub fn step(&self, end: usize) -> Option<&'static str> {
        let at = |n: usize| self.ends.get(n).map(|o| o.at);
        match end {
            n if at(n).is_some() && at(n) == at(n + 1) => Some("beside the base that stays"),
            n if n > 0 && at(n) == at(n - 1) => Some("over the base that stays"),
            _ => None,
        }
    }
    /// The strip as she wants it: plumb at the sides, or level at the head, it is ripped parallel to the narrowest place, and what
    /// is left open there is for a moulding to cover.
    pub fn following(mut self, rules: &TrimRules) -> Self {
        let head = self.is_head();
        let word = match (head, rules.sides_follow, rules.head_follows) {
            (false, SidesFollow::Plumb, _) => "plumb",
            (true, _, HeadFollows::Level) => "level",
            _ => return self,
        };
        // An open end of a head strip has no reading of its own.
        let ends = self.ends.iter().filter(|_| head);
        let widths = || self.ordinates.iter().chain(ends.clone()).map(|o| o.width);
        let (Some(least), Some(most)) = (widths().min(), widths().max()) else {
            return self;
        };
        for o in self.ordinates.iter_mut().chain(&mut self.ends) {
            o.width = least;
        }
        (self.follows, self.leaves) = (word.into(), most - least);
        self.back_bevel = 0;
        self.blank[0] = blank_width(self.ordinates.iter().chain(&self.ends));
        let thin = format!("The {} gap gets narrower", self.strip);
        self.warnings.retain(|w| w.starts_with(&thin));
        self
    }
}

/// A strip's blank: widest place and what is left for the compass.
pub fn blank_width<'a>(ordinates: impl IntoIterator<Item = &'a Ordinate>) -> Length {
    let widest = ordinates.into_iter().map(|o| o.width).max();
    let widest = widest.unwrap_or_default();
    widest + SPARE
}

/// The two side strips and the head strip of a row; `lap` is how far side strips lap the box (the thickness of its side), `hidden`
/// how far up from the floor a moulding covers their feet. Where the floor lies so low under a strip that this does not reach the
/// highest floor, or nothing covers it, the strip goes down to the lowest floor under it.
pub fn scribes(shape: &Shape, row: &Row, lap: Length, hidden: Length) -> Vec<Scribe> {
    let mut list = Vec::new();
    let height = row.base_height + row.height();
    for (side, name) in [(Side::Left, "left"), (Side::Right, "right")] {
        let (trace, zero) = match side {
            Side::Left => (&shape.front.left, shape.front.left_zero),
            Side::Right => (&shape.front.right, shape.front.right_zero),
        };
        let gaps = side_gaps(shape, row, side, Face::Front);
        let at = trace.points().iter().map(|p| p.0);
        let fall = floor_falls(shape, row, side).unwrap_or_default();
        let foot_up = if fall < hidden { fall } else { Length::ZERO };
        let down = fall - foot_up;
        // Heights are up from the floor at this side's plumb line, the row from the highest floor.
        let high = -shape.least_down().unwrap_or_default() - zero;
        // What no tape shows is not written as a height.
        let high = if high.abs() < SEEN {
            Length::ZERO
        } else {
            high
        };
        let places = [high - down, high + row.base_height, high + height];
        let places = places.map(|p| if p.abs() < SEEN { Length::ZERO } else { p });
        let mut made = strip(name, at.zip(gaps).collect(), lap, &places, height + down);
        (made.foot_up, made.foot_open) = (foot_up, !hidden.is_positive() || down.is_positive());
        list.push(made);
    }
    if let Some(line) = HeadLine::over(shape, row) {
        list.push(head(line));
    }
    list.retain(|s| !s.ordinates.is_empty() || s.strip == "head");
    list
}

/// The head strip under a line of the ceiling.
pub(super) fn head(line: HeadLine) -> Scribe {
    let long = line.ends.last().map_or(Length::ZERO, |e| e.0);
    // Its own ends count where no reading lies over it.
    let all = line.read.iter().chain(&line.ends).copied().collect();
    let mut made = strip("head", all, Length::ZERO, &[], long);
    made.ordinates.truncate(line.read.len());
    let own = |(at, width)| Ordinate { at, width };
    made.ends = line.ends.into_iter().map(own).collect();
    made.blank[0] = blank_width(made.ordinates.iter().chain(&made.ends));
    made
}

/// How much lower than the highest floor of the opening the lowest floor under a side strip is: between the row and the wall.
fn floor_falls(shape: &Shape, row: &Row, side: Side) -> Option<Length> {
    let plane = &shape.front;
    let (left, right) = row.ends()?;
    let edge = if side == Side::Left { left } else { right };
    let wall = plane.corner(side, true)?.0;
    let between = |x: &Length| edge.min(wall) < *x && *x < edge.max(wall);
    let stations = plane.floor.points().iter().map(|p| p.0).filter(between);
    let lowest = stations
        .chain([edge, wall])
        .filter_map(|x| plane.floor.at(x))
        .max()?;
    Some((lowest - shape.least_down()?).at_least_zero())
}

/// `places`: its two ends, and the top of the base between them; `length`: of its blank.
fn strip(
    name: &str,
    gaps: Vec<(Length, Length)>,
    lap: Length,
    places: &[Length],
    length: Length,
) -> Scribe {
    let mut places = places.to_vec();
    places.dedup();
    let most = gaps.iter().map(|g| g.1).max().unwrap_or_default();
    let least = gaps.iter().map(|g| g.1).min().unwrap_or_default();
    let mut warnings = Vec::new();
    let side = name != "head";
    if least < THINNEST {
        warnings.push(format!(
            "The {name} gap gets narrower than 1/4 in: {}.",
            if side {
                "move the row away from that wall, or make a box narrower"
            } else {
                "lower the boxes or the base"
            }
        ));
    }
    if side && most - least > VARIES {
        warnings.push(format!(
            "The {name} gap varies by more than 1/2 in over its height: share it between both sides, or expect a strip that looks tapered."
        ));
    }
    if side && most > WIDEST {
        warnings.push(format!(
            "The {name} gap is wider than 1 1/2 in at its widest: it will read as a board, not a scribe."
        ));
    }
    let ordinates: Vec<Ordinate> = gaps
        .into_iter()
        .map(|(at, gap)| Ordinate {
            at,
            width: gap + lap,
        })
        .collect();
    let wall = Trace::new(ordinates.iter().map(|o| (o.at, o.width)).collect());
    // A wall stands plumb beyond its readings; a ceiling goes on as it slopes.
    let end = |at: &Length| {
        let width = if side {
            wall.plumb_at(*at)
        } else {
            wall.at(*at)
        };
        width.map(|width| Ordinate { at: *at, width })
    };
    Scribe {
        ends: places.iter().filter_map(end).collect(),
        back_bevel: BACK_BEVEL,
        follows: if side { "wall" } else { "ceiling" }.into(),
        straight_edge: match (side, lap.is_positive()) {
            (false, _) => "the box tops",
            (true, true) => "the inside face of the box side",
            (true, false) => "the outside face of the box side",
        },
        leaves: Length::ZERO,
        foot: String::new(),
        foot_up: Length::ZERO,
        foot_open: false,
        cut_round: Vec::new(),
        strip: name.to_owned(),
        blank: [blank_width(&ordinates), length],
        ordinates,
        warnings,
    }
}
