//! How a row of boxes sits against its wall: where each stands, the gaps around it, the shims under it.
//!
//! Owns places and gaps. The row is centred at the tightest place, in what runs round the corner leave, unless her run says where
//! it starts; the base is levelled from the highest floor, so one dimension below the level line replaces the shim table. It does
//! not judge whether the row fits.
//! Layout from the high point of the floor: boxes are levelled up from it (S45, S46).

use super::corner;
use super::shape::{Face, Plane, Shape, Side};
use super::stays::{Span, end_walls, keeps_off, stands_off};
use super::survey::{BoxSize, Survey, width_over};
use crate::model::{BoxWidth, Job, PrefabUnit, Run, WallSide};
use crate::units::Length;

/// One box or frame as it will stand.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Standing {
    /// Its name: the box's, or the frame's code.
    pub name: String,
    /// Its left side: from the left plumb line, or on a side wall from the left end of that wall.
    pub x: Length,
    /// Outside width.
    pub width: Length,
    /// Outside height.
    pub height: Length,
    /// Outside depth.
    pub depth: Length,
}

/// A row as it will stand.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Row {
    /// Left to right.
    pub boxes: Vec<Standing>,
    /// Top of the base, below the level line.
    pub base_below_line: Length,
    /// Height of the base at the highest floor.
    pub base_height: Length,
}

impl Row {
    /// Total width of the boxes.
    pub fn width(&self) -> Length {
        self.boxes.iter().map(|b| b.width).sum()
    }
    /// Height of the tallest.
    pub fn height(&self) -> Length {
        self.boxes
            .iter()
            .map(|b| b.height)
            .max()
            .unwrap_or_default()
    }
    /// Depth of the deepest.
    pub fn depth(&self) -> Length {
        self.boxes.iter().map(|b| b.depth).max().unwrap_or_default()
    }
    /// `x` of the left and the right end.
    pub fn ends(&self) -> Option<(Length, Length)> {
        let (first, last) = (self.boxes.first()?, self.boxes.last()?);
        Some((first.x, last.x + last.width))
    }
    /// From its base to the top of its tallest box, over the highest floor.
    pub fn span(&self) -> Span {
        Span {
            bottom: self.base_height,
            top: Some(self.base_height + self.height()),
        }
    }
    /// From its left and its right end, facing it, to the walls there at their tightest; `None` = not read.
    pub(crate) fn gaps_at_ends(&self, survey: &Survey, wall: WallSide) -> [Option<Length>; 2] {
        let gaps = || {
            let (start, end) = self.ends()?;
            if wall != WallSide::Back {
                return Some([start, survey.largest_box.depth? - end]);
            }
            let shape = &survey.shape;
            let bottom = -shape.least_down()?;
            let gap = |side| shape.least_gap(side, bottom, self.top());
            Some([
                start + gap(Side::Left)?,
                shape.apart()? + gap(Side::Right)? - end,
            ])
        };
        gaps().map_or([None; 2], |[left, right]| [Some(left), Some(right)])
    }
    /// Top of the tallest box as `y` from the level line.
    pub fn top(&self) -> Length {
        self.height() - self.base_below_line
    }
}

/// Lays out a run: boxes by width and share, or these frames.
pub fn row(job: &Job, survey: &Survey, run: &Run, frames: &[&PrefabUnit]) -> Option<Row> {
    let shape = &survey.shape;
    let room = room_along(survey, run);
    let taken = taken(job, survey, run);
    let kept = kept(job, survey, run);
    let down = shape.least_down()?;
    let base = job.base_under(run, frames);
    let height = run
        .box_height
        .or_else(|| Some(room.height? - base - Length::inches(2)));
    let depth = run.box_depth.or_else(|| Some(room.depth? - Length::INCH));
    let mut boxes: Vec<Standing> = Vec::new();
    if run.has_boxes() {
        let (height, depth) = (height?.at_least_zero(), depth?.at_least_zero());
        let free = room.width.map(|w| w - taken[0] - taken[1]);
        for (name, width) in widths(job, free, run)? {
            boxes.push(Standing {
                name,
                x: Length::ZERO,
                width,
                height,
                depth,
            });
        }
    } else {
        for f in frames {
            boxes.push(Standing {
                name: f.unit.clone(),
                x: Length::ZERO,
                width: f.width?,
                height: f.height?,
                depth: f.depth.or(depth)?,
            });
        }
    }
    let mut row = Row {
        boxes,
        base_below_line: down - base,
        base_height: base,
    };
    let bottom = -down;
    let mut x = if run.wall == WallSide::Back {
        let left = -shape.least_gap(Side::Left, bottom, row.top())? + kept[0];
        let free = width_over(shape, bottom, row.top())? - kept[0] - kept[1] - row.width();
        match run.from_left {
            Some(from) => shape.x_from_left(from),
            None => left + free / 2,
        }
    } else {
        let free = room.width? - taken[0] - taken[1] - row.width();
        run.from_left.unwrap_or(taken[0] + free / 2)
    };
    for b in &mut row.boxes {
        b.x = x;
        x += b.width;
    }
    Some(row)
}

/// What runs of the same route that go through into its corners, and base or crown that stays, take from the left and the right
/// end of a run.
pub(crate) fn taken(job: &Job, survey: &Survey, run: &Run) -> [Length; 2] {
    let ends = at_ends(job, survey, run);
    ends.map(|[keeps, corner]| keeps + corner)
}

/// What the ends of a row keep off their walls where it stands between these alone: its least side gap, or base or crown that stays
/// where that is more. In a corner what [`taken`] says.
pub fn kept(job: &Job, survey: &Survey, run: &Run) -> [Length; 2] {
    let ends = at_ends(job, survey, run);
    let between_walls = run.wall == WallSide::Back && ends.iter().all(|e| e[1] == Length::ZERO);
    ends.map(|[keeps, corner]| {
        if between_walls {
            keeps.max(run.side_gap_least)
        } else {
            keeps + corner
        }
    })
}

/// How far the ends of a run keep off their walls for base or crown that stays there; where a run goes through into the corner, how
/// far that one stands off.
pub(crate) fn keeps(job: &Job, survey: &Survey, run: &Run) -> [Length; 2] {
    at_ends(job, survey, run).map(|[keeps, _]| keeps)
}

/// For each end of a run: what it keeps off for trim that stays, and what a run in its corner takes.
fn at_ends(job: &Job, survey: &Survey, run: &Run) -> [[Length; 2]; 2] {
    let span = span_of(job, survey, run);
    let off = |wall: Option<WallSide>| wall.map_or(Length::ZERO, |w| keeps_off(survey, w, span));
    let mut taken = end_walls(run.wall).map(|wall| [off(wall), Length::ZERO]);
    let ours = job.runs.iter().filter(|r| r.route == run.route);
    let depths: Vec<(&Run, Length)> = ours
        .filter_map(|r| Some((r, deep(job, survey, r)?)))
        .collect();
    let (Some(width), Some(depth)) = (survey.largest_box.width, survey.largest_box.depth) else {
        return taken;
    };
    let of = |wall| {
        let same = depths.iter().filter(|(r, _)| r.wall == wall);
        let each = same.map(|(r, deep)| [stands_off(survey, r, span_of(job, survey, r)), *deep]);
        each.max_by_key(|[off, deep]| *off + *deep)
            .unwrap_or_default()
    };
    for c in corner::walls(&depths, width, depth).corners {
        let left = c.corner == "left";
        let side = if left {
            WallSide::Left
        } else {
            WallSide::Right
        };
        if run.wall == WallSide::Back && !c.back_goes_through {
            taken[usize::from(!left)] = of(side);
        } else if run.wall == side && c.back_goes_through {
            // Facing it, the left wall ends in the corner at the right, and the right wall at the left.
            taken[usize::from(left)] = of(WallSide::Back);
        }
    }
    taken
}

/// How high a run stands over the highest floor, before its boxes are placed.
fn span_of(job: &Job, survey: &Survey, run: &Run) -> Span {
    let frames = job.listed_frames(run);
    let base = job.base_under(run, &frames);
    let top = if run.has_boxes() {
        let fills = || survey.largest_box.height.map(|h| h - Length::inches(2));
        run.box_height.map(|h| h + base).or_else(fills)
    } else {
        let tallest = frames.iter().filter_map(|f| f.height).max();
        tallest.map(|h| h + base)
    };
    Span { bottom: base, top }
}

/// The room along a run's own wall, before anything is taken from its ends; how deep a run on a side wall may be only she can say.
fn room_along(survey: &Survey, run: &Run) -> BoxSize {
    let whole = survey.largest_box;
    match run.wall {
        WallSide::Back => whole,
        WallSide::Left | WallSide::Right => BoxSize {
            width: whole.depth,
            depth: None,
            ..whole
        },
    }
}

/// What is free for a run between whatever its corners take: the sizes its boxes share and fill.
pub fn free_along(job: &Job, survey: &Survey, run: &Run) -> BoxSize {
    let (room, [left, right]) = (room_along(survey, run), taken(job, survey, run));
    BoxSize {
        width: room.width.map(|w| w - left - right),
        ..room
    }
}

/// How deep a run is, before its boxes are placed.
fn deep(job: &Job, survey: &Survey, run: &Run) -> Option<Length> {
    let fills = || match run.wall {
        WallSide::Back => survey.largest_box.depth.map(|d| d - Length::INCH),
        _ => None,
    };
    let given = || run.box_depth.or_else(fills);
    if run.has_boxes() {
        return given();
    }
    let frames = job.listed_frames(run);
    frames.iter().filter_map(|f| f.depth.or_else(given)).max()
}

/// Widths by box; shares split what the least side gaps leave, down to her tape's mark.
fn widths(job: &Job, room: Option<Length>, run: &Run) -> Option<Vec<(String, Length)>> {
    let given: Length = run
        .boxes
        .iter()
        .map(|b| match b.width {
            BoxWidth::Width(w) => w,
            BoxWidth::Share(_) => Length::ZERO,
        })
        .sum();
    let shares: i64 = run
        .boxes
        .iter()
        .map(|b| match b.width {
            BoxWidth::Share(n) => i64::from(n),
            BoxWidth::Width(_) => 0,
        })
        .sum();
    let left_over = if shares > 0 {
        (room? - run.side_gap_least * 2 - given).at_least_zero()
    } else {
        Length::ZERO
    };
    let mark = job.mark();
    let to_mark = |l: Length| {
        if mark.is_positive() { l - l % mark } else { l }
    };
    Some(
        run.boxes
            .iter()
            .map(|b| {
                let w = match b.width {
                    BoxWidth::Width(w) => w,
                    BoxWidth::Share(n) => to_mark(left_over * i64::from(n) / shares.max(1)),
                };
                (b.name.clone(), w)
            })
            .collect(),
    )
}

/// Gap of a side at each height she read, in one plane.
pub fn side_gaps(shape: &Shape, row: &Row, side: Side, face: Face) -> Vec<Length> {
    let (Some(plane), Some((left, right))) = (plane_of(shape, face), row.ends()) else {
        return Vec::new();
    };
    let Some(apart) = plane.apart else {
        return Vec::new();
    };
    let (trace, inset) = match side {
        Side::Left => (&plane.left, left),
        Side::Right => (&plane.right, apart - right),
    };
    trace.points().iter().map(|(_, g)| *g + inset).collect()
}

/// Gap above the tallest box at each ceiling station, soffits apart.
pub fn head_gaps(shape: &Shape, row: &Row, face: Face) -> Vec<Length> {
    plane_of(shape, face).map_or_else(Vec::new, |p| {
        let points = p.ceiling.points().iter();
        points.map(|(_, up)| *up - row.top()).collect()
    })
}

/// Shim under the base at each floor station: nothing at the highest floor.
pub fn shims(shape: &Shape, face: Face) -> Vec<Length> {
    let least = shape.least_down().unwrap_or_default();
    plane_of(shape, face).map_or_else(Vec::new, |p| {
        p.floor.points().iter().map(|(_, d)| *d - least).collect()
    })
}

/// Shim under the left and right side of one box, the floor straight between stations.
pub fn box_shims(shape: &Shape, b: &Standing, face: Face) -> Option<[Length; 2]> {
    Some([
        shim_at(shape, b.x, face)?,
        shim_at(shape, b.x + b.width, face)?,
    ])
}

/// Shim under the level base at a place from the left plumb line.
pub fn shim_at(shape: &Shape, x: Length, face: Face) -> Option<Length> {
    let (plane, least) = (plane_of(shape, face)?, shape.least_down()?);
    plane.floor.at(x).map(|d| (d - least).at_least_zero())
}

pub(crate) fn plane_of(shape: &Shape, face: Face) -> Option<&Plane> {
    match face {
        Face::Front => Some(&shape.front),
        Face::Back => shape.back.as_ref(),
    }
}
