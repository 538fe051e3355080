//! Jumps: a reading that stands by inches off those beside it, where nothing exact overlaps it.
//!
//! Owns the loose overlap of neighbours: stations of floor and ceiling, heights of a wall, and the same place in the other
//! plane. A surface may slope evenly or go on after a step, so a reading is doubted only if it agrees with no neighbour, with
//! no straight line through two of them, and not with the other plane. What an exact overlap would show is left to
//! [`super::suspects`]. Method: the readings without which the rest hang together are named.

use super::depth;
use super::inch_out::{InchOut, inch_out};
use super::overlap::Overlap;
use super::reading::{self, ReadingAt as At};
use super::shape::{Face, Plane, Shape, Side, station_x};
use super::slip::{self, SlipKind};
use super::soffit;
use super::trace::scale;
use crate::model::{Opening, Reading, Station};
use crate::units::{Length, Tape, Unit};

/// What floors, ceilings and walls of old houses may differ by from one reading to the next, wherever it is taken, and once
/// more for each such run between the two. Common practice, no source: floors more than 1 in out in 4 ft are said to be bad.
const ROOM: Length = Length::INCH;
const RUN: i64 = 48;
/// Depths may differ by so much more: they are taken at any height, and the back wall may lean, too. Common practice, no source.
const DEEPER: Length = Length::INCH;
/// A slip has a name where it brings the reading this near to its neighbours.
const NAMED_WITHIN: Length = Length::in_64(32);

/// One doubted reading.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Jump {
    pub(crate) at: At,
    pub(crate) read: Length,
    /// About what the readings beside it make of it.
    pub(crate) about: Length,
    pub(crate) kind: Option<SlipKind>,
    /// Either this one slipped or another of the list, and nothing tells which.
    pub(crate) one_of_two: bool,
    /// Floor and ceiling jump by the same, one up and one down: the line itself.
    pub(crate) line: bool,
}

impl Jump {
    /// How far out, what to think of, and what to do where it is true.
    pub(crate) fn words(&self, tape: Tape) -> String {
        let by = self.read - self.about;
        let way = if by.is_positive() { "over" } else { "under" };
        let (amount, about) = (tape.print(by.abs()), tape.print(self.about));
        let mut text = if self.one_of_two {
            format!(
                "This one or one beside it is about {amount} out: those beside it make it about {about}."
            )
        } else {
            format!("About {amount} {way}: the readings beside it make it about {about}.")
        };
        if self.line {
            text.push_str(" Floor and ceiling jump together here: was it read off another line?");
        } else if let Some(kind) = self.kind {
            text.push(' ');
            text.push_str(kind.asks());
        }
        text.push_str(" If it is a true step or bend, read it again and name it in read_twice under [opening].");
        text
    }
}

/// A reading among its neighbours.
pub(super) struct Point {
    pub(super) at: At,
    pub(super) along: Length,
    pub(super) value: Length,
    /// What a soffit over this station hides of the ceiling.
    pub(super) under: Length,
    pub(super) twin: Reading,
    /// Nothing is said of it: something exact overlaps it, or she read it twice.
    pub(super) vouched: bool,
}

/// Readings an inch off those beside them, in the order of the readings; `found` are doubted already.
pub(crate) fn inches_out(
    o: &Opening,
    shape: &Shape,
    overlaps: &[Overlap],
    found: &[Jump],
) -> Vec<InchOut> {
    let doubted = |at: At| found.iter().any(|j| j.at == at);
    let lines = lines(o, shape, overlaps);
    // A back wall bends by an inch more often than a tape slips by one.
    let asked = lines
        .iter()
        .filter(|line| line.iter().all(|p| !matches!(p.at, At::Depth(_))));
    let each = asked.flat_map(|line| inch_out(line, &doubted));
    let mut all: Vec<InchOut> = each.collect();
    all.sort_by_key(|a| a.at);
    all
}

/// Every doubted reading, in the order of the readings.
pub(crate) fn jumps(o: &Opening, shape: &Shape, overlaps: &[Overlap], unit: Unit) -> Vec<Jump> {
    let mut found: Vec<Jump> = lines(o, shape, overlaps)
        .iter()
        .flat_map(|line| doubted(line, unit))
        .collect();
    found.sort_by_key(|j| j.at);
    let off = |j: &Jump| j.read - j.about;
    let of_line = |a: &Jump, b: &Jump| {
        let (At::Down(f, i), At::Up(g, k)) = (a.at.min(b.at), a.at.max(b.at)) else {
            return false;
        };
        let place =
            |list: &[Station], i: usize| (list.get(i)).map(|s| (s.from_left, s.name.clone()));
        let (down, up) = (&o.level_line.down_to_floor, &o.level_line.up_to_ceiling);
        f == g && place(down, i) == place(up, k) && (off(a) + off(b)).abs() <= ROOM
    };
    let lines: Vec<bool> = (found.iter())
        .map(|a| found.iter().any(|b| of_line(a, b)))
        .collect();
    for (jump, line) in found.iter_mut().zip(lines) {
        jump.line = line;
    }
    found
}

/// The most that two honest readings so far apart differ by.
fn room(apart: Length) -> Length {
    ROOM + apart.abs() / RUN
}

/// The readings of each surface and plane, in order.
fn lines(o: &Opening, shape: &Shape, overlaps: &[Overlap]) -> Vec<Vec<Point>> {
    let vouched = |at: At| {
        overlaps.iter().any(|v| v.would_show(at)) || o.read_twice.contains(&reading::path(o, at))
    };
    let point = |at: At, twin: At, along: Length, under: Length| {
        Some(Point {
            at,
            along,
            value: reading::get(o, at)? + under,
            under,
            twin: reading::get(o, twin).map(|t| t + under),
            vouched: vouched(at),
        })
    };
    let mut all = Vec::new();
    for (face, other) in [(Face::Front, Face::Back), (Face::Back, Face::Front)] {
        let level = &o.level_line;
        let ends = ends(shape);
        let x =
            |list: &[Station], i: usize| (list.get(i)).map(|s| station_x(s, i, list.len(), ends));
        let stations = |list: &[Station], make: &dyn Fn(Face, usize) -> At, ceiling: bool| {
            let each = (0..list.len()).filter_map(|i| {
                let along = x(list, i)?;
                let at = make(face, i);
                let under = if ceiling {
                    hidden(o, shape, at, along)
                } else {
                    Length::ZERO
                };
                point(at, make(other, i), along, under)
            });
            in_order(each.collect())
        };
        all.push(stations(&level.down_to_floor, &At::Down, false));
        all.push(stations(&level.up_to_ceiling, &At::Up, true));
        for side in [Side::Left, Side::Right] {
            let heights = o.plumb_lines.height.iter().enumerate();
            let each = heights.filter_map(|(i, h)| {
                let (at, twin) = (At::Gap(side, face, i), At::Gap(side, other, i));
                point(at, twin, *h, Length::ZERO)
            });
            all.push(in_order(each.collect()));
        }
    }
    all.extend(depths(o, shape, &vouched));
    all
}

/// Depths along the back wall, at each height by itself; the same place at another height is the twin.
fn depths(o: &Opening, shape: &Shape, vouched: &dyn Fn(At) -> bool) -> Vec<Vec<Point>> {
    let (left, right) = ends(shape);
    let list = &o.tape.depth;
    let along = |i: usize| depth::place(&list[i].0, right - left);
    let of_level = |level: Option<bool>| {
        let each = (0..list.len()).filter(|i| depth::level(&list[*i].0) == level);
        let each = each.filter_map(|i| {
            let (at, place) = (At::Depth(i), along(i)?);
            let mut others = (0..list.len()).filter(|k| *k != i && along(*k) == Some(place));
            Some(Point {
                at,
                along: place,
                value: list[i].1?,
                under: Length::ZERO,
                twin: others.find_map(|k| list[k].1),
                vouched: vouched(at),
            })
        });
        in_order(each.collect())
    };
    [None, Some(true), Some(false)].map(of_level).into()
}

fn in_order(mut line: Vec<Point>) -> Vec<Point> {
    line.sort_by_key(|p| p.along);
    line
}

/// `x` of the two walls at the floor; a width that is not known only spreads the stations.
fn ends(shape: &Shape) -> (Length, Length) {
    let wall = |p: &Plane, side| p.wall_x(side, p.left_zero);
    let left = wall(&shape.front, Side::Left).unwrap_or_default();
    let right = wall(&shape.front, Side::Right);
    (left, right.unwrap_or(left + Length::inches(72)))
}

/// How far a soffit over that station comes down, where the reading is of its underside and not of the ceiling beside it.
fn hidden(o: &Opening, shape: &Shape, at: At, x: Length) -> Length {
    let others: Vec<Length> = (0..o.level_line.up_to_ceiling.len())
        .flat_map(|i| [At::Up(Face::Front, i), At::Up(Face::Back, i)])
        .filter(|a| *a != at)
        .filter_map(|a| reading::get(o, a))
        .collect();
    let Some((read, most)) = reading::get(o, at).zip(others.into_iter().max()) else {
        return Length::ZERO;
    };
    let near = |l: Length| (l - most).abs();
    (o.soffits.iter())
        .filter(|s| {
            soffit::place(shape, s).is_some_and(|(from, to, _)| from - ROOM <= x && x <= to + ROOM)
        })
        .filter_map(|s| s.down)
        .filter(|down| near(read + *down) < near(read))
        .min_by_key(|down| near(read + *down))
        .unwrap_or_default()
}

/// What the readings beside the one make of it: straight between them, or as the only one.
fn about(line: &[&Point], i: usize) -> Reading {
    let here = line.get(i)?.along;
    let (before, after) = (i.checked_sub(1).and_then(|j| line.get(j)), line.get(i + 1));
    match (before, after) {
        (Some(a), Some(b)) => Some(through(a, b, here)),
        (Some(a), None) | (None, Some(a)) => Some(a.value),
        (None, None) => line[i].twin,
    }
}

/// Where the straight line through two readings is at a place.
pub(super) fn through(a: &Point, b: &Point, along: Length) -> Length {
    let run = b.along - a.along;
    if run == Length::ZERO {
        return a.value;
    }
    a.value + scale(b.value - a.value, along - a.along, run)
}

/// True where nothing beside it or behind it agrees with the reading.
fn stands_alone(line: &[&Point], i: usize) -> bool {
    let p = line[i];
    let get = |by: isize| i.checked_add_signed(by).and_then(|j| line.get(j)).copied();
    let beside = [get(-1), get(1)];
    if beside.iter().all(Option::is_none) && p.twin.is_none() {
        return false;
    }
    let more = match p.at {
        At::Depth(_) => DEEPER,
        _ => Length::ZERO,
    };
    let near = |value: Length, apart: Length| (p.value - value).abs() <= room(apart) + more;
    let next = beside
        .into_iter()
        .flatten()
        .any(|n| near(n.value, p.along - n.along));
    let behind = p.twin.is_some_and(|t| near(t, Length::ZERO));
    let straight = [(get(-1), get(1)), (get(-2), get(-1)), (get(1), get(2))]
        .into_iter()
        .filter_map(|(a, b)| a.zip(b))
        .any(|(a, b)| {
            let nearest = (p.along - a.along).abs().min((p.along - b.along).abs());
            near(through(a, b, p.along), nearest)
        });
    !(next || behind || straight)
}

fn alone(line: &[&Point]) -> Vec<usize> {
    (0..line.len())
        .filter(|i| !line[*i].vouched && stands_alone(line, *i))
        .collect()
}

/// The readings of one line without which the rest hang together.
fn doubted(line: &[Point], unit: Unit) -> Vec<Jump> {
    let mut left: Vec<&Point> = line.iter().collect();
    let mut found = Vec::new();
    loop {
        let odd = alone(&left);
        if odd.is_empty() {
            return found;
        }
        let without = |i: usize| {
            let rest: Vec<&Point> = (left.iter().enumerate())
                .filter(|(j, _)| *j != i)
                .map(|(_, p)| *p)
                .collect();
            alone(&rest).len()
        };
        let least = odd.iter().map(|i| without(*i)).min();
        let named: Vec<usize> = (odd.iter().copied())
            .filter(|i| Some(without(*i)) == least)
            .collect();
        found.extend(named.iter().filter_map(|i| {
            let one_of_two = named.len() > 1;
            Some(jump(left[*i], about(&left, *i)?, unit, one_of_two))
        }));
        left = (left.into_iter().enumerate())
            .filter(|(i, _)| !named.contains(i))
            .map(|(_, p)| p)
            .collect();
    }
}

fn jump(p: &Point, about: Length, unit: Unit, one_of_two: bool) -> Jump {
    let (read, about) = (p.value - p.under, about - p.under);
    let near = |truth: Length| (truth - about).abs();
    let kind = slip::known(read, None, unit)
        .into_iter()
        .filter(|(_, truth)| near(*truth) <= NAMED_WITHIN)
        // Half an inch nearer outweighs the likeliest kind over the least likely.
        .max_by(|a, b| {
            let score = |(kind, truth): &(SlipKind, Length)| {
                kind.weight() - 8.0 * near(*truth).as_inches().powi(2)
            };
            score(a).total_cmp(&score(b)).then_with(|| b.0.cmp(&a.0))
        })
        .map(|(kind, _)| kind);
    Jump {
        at: p.at,
        read,
        about,
        kind,
        one_of_two,
        line: false,
    }
}
