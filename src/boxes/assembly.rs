//! What a page for putting one box together shows: order, marks, heights, both diagonals, holes, rail, doors.

use super::boards::{Back, Board, back_of, boards};
use super::doors::{DoorFront, door_fronts};
use super::draw::{DoorPlace, door_gap, doors_of, drawn, packer_wide, rail_length};
use super::drawers::{Drawers, drawers_of};
use super::facts::{DADO, Inside, Joint, Outside, RABBET_DEEP, Room, outsides, rabbet_wide};
use super::hinges::{InWay, before_doors, clear_of, hinges_at};
use super::pins::{PinHoles, pin_holes};
use super::rails::rails_of;
use super::sag::needs_middle_support;
use super::shelves::{ShelfAt, rail_from, shelves_at};
use super::steps::{later, steps};
use crate::model::{BoxPlan, Job, Part, Problem, Run};
use crate::units::Length;
use serde::Serialize;

/// A part of the box.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Piece {
    /// Its mark.
    pub mark: String,
    /// Plain name.
    pub what: String,
    /// How many.
    pub how_many: u32,
}

/// The rail of a bay.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub struct RailCut {
    /// How many.
    pub how_many: usize,
    /// To cut.
    pub length: Length,
    /// Sockets, two for each.
    pub sockets: usize,
    /// Wants a support in the middle.
    pub middle_support: bool,
    /// Its middle, down from the underside of the shelf or top over it.
    pub under: Length,
    /// That underside, from the bottom edge of the box.
    pub hangs_from: Length,
}

/// Doors of one size.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Door {
    /// Side by side, in all bays of this width.
    pub columns: usize,
    /// One over the other.
    pub rows: usize,
    /// Width and height of each.
    pub size: [Length; 2],
    /// For each.
    pub hinges: u32,
    /// Their middles, up from the door's lower edge, lowest first.
    pub hinges_at: Vec<Length>,
    /// True where one stands elsewhere than it would, clear of slides and shelves.
    #[serde(skip)]
    pub hinges_moved: bool,
    /// Those that find no clear place, and what each would meet.
    #[serde(skip)]
    pub hinges_meet: Vec<(Length, &'static str)>,
    /// Beside and between.
    pub gap: Length,
}

/// What is cut into the sides before the box goes together; zero = nothing.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub struct Cuts {
    /// Rabbet for the back: into the thickness of a side, and from its back edge.
    pub rabbet: [Length; 2],
    /// Dado for top, bottom, partitions and fixed shelves: width (the board as measured) and depth.
    pub dado: [Length; 2],
}

impl Cuts {
    fn of(inside: &Inside) -> Self {
        let none = [Length::ZERO; 2];
        let rabbet = match (inside.back, inside.joint) {
            (None, _) | (_, Joint::Butt) => none,
            (Some(back), _) => [rabbet_wide(inside.thick), back.max(RABBET_DEEP)],
        };
        let dado = match inside.joint {
            Joint::Dado => [inside.thick, DADO],
            Joint::Rabbet | Joint::Butt => none,
        };
        Self { rabbet, dado }
    }
}

/// One box.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Assembly {
    /// Its name.
    #[serde(rename = "box")]
    pub in_box: String,
    /// The route it belongs to.
    pub route: String,
    /// Width, height, depth.
    pub outside: [Length; 3],
    /// Its parts in the order they go in.
    pub pieces: Vec<Piece>,
    /// What both diagonals of the front should read.
    pub diagonal: Length,
    /// Clear width of each bay.
    pub bays: Vec<Length>,
    /// Shelves, lowest first; in every bay alike.
    pub shelves: Vec<ShelfAt>,
    /// Rows of holes.
    pub pins: Option<PinHoles>,
    /// The rail.
    pub rail: Option<RailCut>,
    /// Old rods that its rails are cut from.
    pub old_rods: Vec<String>,
    /// The doors, by size.
    pub doors: Vec<Door>,
    /// Where each door stands, for the drawings.
    #[serde(skip)]
    pub door_fronts: Vec<DoorFront>,
    /// The drawers.
    pub drawers: Option<Drawers>,
    /// Where boards meet.
    pub joint: Cuts,
    /// What to do at the bench, in order.
    pub steps: Vec<String>,
    /// What goes in once the box stands and the last coat is hard.
    pub later: Vec<String>,
    /// What stands against its back.
    #[serde(skip)]
    pub boards: Vec<Board>,
    /// Its back.
    #[serde(skip)]
    pub back: Option<Back>,
}

/// From the middle of a rail to the shelf over it (S58 and S61: 2 to 3 in).
const UNDER: Length = Length::in_64(160);

/// What both diagonals of a square box so wide and high read, to the nearest unit.
pub fn diagonal(width: Length, height: Length) -> Length {
    let square = |l: Length| i128::from(l.units()) * i128::from(l.units());
    let sum = square(width) + square(height);
    let down = sum.isqrt();
    // Nearest: up where sum > (down + 1/2)^2.
    let up = i128::from(sum - down * down > down);
    Length::from_units(i64::try_from(down + up).unwrap_or(i64::MAX))
}

/// Every box of every run of a route, or everything that cannot be built. `parts` is the cut list whose marks are shown.
pub fn assemblies(
    job: &Job,
    route: &str,
    rooms: &[Room],
    parts: &[Part],
) -> Result<Vec<Assembly>, Vec<Problem>> {
    drawn(job, rooms)?;
    let unknown = Room::default();
    let mut list = Vec::new();
    for (i, run) in job.runs.iter().enumerate() {
        if run.route != route || !run.has_boxes() {
            continue;
        }
        let room = rooms.get(i).unwrap_or(&unknown);
        let sizes = outsides(job, run, room)?;
        for (plan, outside) in run.boxes.iter().zip(sizes) {
            let inside = Inside::of(job, run, plan, outside)?;
            let own = |p: &&Part| {
                p.in_box == plan.name && p.route.as_deref().unwrap_or(job.parts_route()) == route
            };
            let own: Vec<&Part> = parts.iter().filter(own).collect();
            let mut one = assembly(job, run, plan, &inside, &own);
            one.steps = steps((job, room), run, plan, &inside, &one);
            one.later = later(job, plan, &one);
            list.push(one);
        }
    }
    from_old_rods(job, route, rooms, &mut list);
    Ok(list)
}

/// Boards across the box whose ends take the place of a hinge's plate.
fn across(shelves: &[ShelfAt], inside: &Inside) -> Vec<InWay> {
    let (thick, high) = (inside.thick, inside.outside.height);
    let board = |what, under: Length| InWay {
        what,
        y: [under, under + thick],
    };
    let mut all = vec![board("bottom", Length::ZERO), board("top", high - thick)];
    all.extend(shelves.iter().map(|s| {
        let what = if s.fixed {
            "fixed shelf"
        } else {
            "loose shelf"
        };
        board(what, s.top - thick)
    }));
    all
}

/// Says which rails are cut from old rods.
fn from_old_rods(job: &Job, route: &str, rooms: &[Room], list: &mut [Assembly]) {
    for rail in rails_of(job, route, rooms) {
        let (Some(old), length) = (rail.old, rail.length) else {
            continue;
        };
        let Some(b) = list.iter_mut().find(|b| b.in_box == rail.plan.name) else {
            continue;
        };
        b.old_rods.push(old.what.clone());
        b.steps.push(format!(
            "Cut a rail of {} from what is used again: {}.",
            job.project.tape.print_with_unit(length),
            old.what
        ));
    }
}

fn assembly(job: &Job, run: &Run, plan: &BoxPlan, inside: &Inside, own: &[&Part]) -> Assembly {
    let Outside {
        width,
        height,
        depth,
    } = inside.outside;
    let bay = inside.bays.iter().copied().max().unwrap_or_default();
    let pins = pin_holes(run, plan, inside);
    let gap = door_gap(job, run);
    let fronts = door_fronts(job, run, plan, inside);
    // What is wrong with them was said when the parts were drawn.
    let drawers = drawers_of(job, run, plan, inside).ok().flatten();
    let shelves = shelves_at(run, plan, inside);
    let across = across(&shelves, inside);
    let door = |d: DoorPlace| {
        let usual = hinges_at(d.size[1], d.hinges, job.mark());
        let lows = fronts.iter().filter(|f| f.size == d.size).map(|f| f.at[1]);
        let slides = (drawers.as_ref(), packer_wide(job.project.tape.unit));
        let before = before_doors(slides, &across, lows);
        let set = clear_of(&usual, d.size[1], &before, job.mark());
        Door {
            columns: d.columns,
            rows: d.rows,
            size: d.size,
            hinges: d.hinges,
            hinges_moved: set.at != usual,
            hinges_at: set.at,
            hinges_meet: set.meets,
            gap,
        }
    };
    let doors = doors_of(job, run, plan, inside).into_iter().map(door);
    let doors: Vec<Door> = doors.collect();
    let rail = plan.rail.then(|| RailCut {
        how_many: inside.bays.len(),
        length: rail_length(bay),
        sockets: inside.bays.len() * 2,
        middle_support: needs_middle_support(bay),
        under: UNDER,
        hangs_from: rail_from(plan, inside, &shelves),
    });
    Assembly {
        in_box: plan.name.clone(),
        route: run.route.clone(),
        outside: [width, height, depth],
        pieces: own
            .iter()
            .map(|p| Piece {
                mark: p.mark.clone(),
                what: p.what.clone(),
                how_many: p.how_many,
            })
            .collect(),
        diagonal: diagonal(width, height),
        bays: inside.bays.clone(),
        shelves,
        pins,
        rail,
        doors,
        door_fronts: fronts,
        drawers,
        joint: Cuts::of(inside),
        old_rods: Vec::new(),
        steps: Vec::new(),
        later: Vec::new(),
        boards: boards(run, plan, inside),
        back: back_of(run, inside, own),
    }
}
