//! What the rules for goods count: screws, nails, pins, handles, joints, beads, faces, from the parts of a route and what stands around
//! them.

use super::faces::{face_rule, face_rule_among};
use super::surfaces::{Around, needed_sticks};
use crate::model::{Ground, Job, Part, PartSize, Surface};
use crate::units::Length;

/// A face narrower than this is sanded by hand: a disc rounds its edges.
const BY_DISC: Length = Length::inches(6);
/// A drawer front wider than this has two handles.
const ONE_HANDLE: Length = Length::inches(30);

/// What the rules count.
#[derive(Default)]
pub(super) struct Counted {
    pub(super) case_screws: i64,
    /// Through strips and mouldings.
    pub(super) strip_nails: i64,
    /// Through backs.
    pub(super) back_nails: i64,
    /// Doors and drawers to be opened.
    pub(super) pulls: i64,
    pub(super) wall_screws: i64,
    pub(super) pins: i64,
    pub(super) rails: i64,
    pub(super) sockets: i64,
    pub(super) supports: i64,
    pub(super) shims: i64,
    pub(super) holes: i64,
    pub(super) glued: f64,
    pub(super) bead_feet: f64,
    pub(super) broad: f64,
    pub(super) hand: f64,
    pub(super) drilled: bool,
    pub(super) base_and_strips: f64,
}

/// Counts them for a route.
pub(super) fn count(job: &Job, route: &str, areas: &[Surface], around: &Around) -> Counted {
    let mut c = Counted::default();
    for part in job.route_parts(route) {
        joints(job, part, &mut c);
        c.pulls += pulls(job, route, part);
    }
    for run in job.runs.iter().filter(|r| r.route == route) {
        let stand = run.boxes.len().max(job.listed_frames(run).len()) as i64;
        c.wall_screws += 8 * stand;
        c.case_screws += 4 * (run.boxes.len() as i64 - 1).max(0);
    }
    let rails = &around.rails;
    c.rails = rails.count(|r| r.bought && r.old.is_none());
    c.sockets = 2 * rails.count(|r| !r.own_sockets);
    c.supports = rails.count(|r| r.supported);
    for [long, high] in &around.bases {
        c.base_and_strips += 2.0 * square_feet(*long, *high);
        // Crosspieces stand as deep as a frame; two feet are taken.
        c.base_and_strips += square_feet(Length::inches(24) * around.crosspieces, *high);
    }
    c.shims += 4 * around.crosspieces;
    c.case_screws += 4 * around.crosspieces;
    for strip in &around.strips {
        c.base_and_strips += square_feet(strip.length, strip.width);
        c.bead_feet += 2.0 * strip.length.as_inches() / 12.0;
        c.strip_nails += nails(strip.length);
    }
    let (mut moulding, mut brads) = (0.0, 0);
    for (_, length) in needed_sticks(job, route) {
        moulding += length.as_inches();
        brads += nails(length);
    }
    for stick in &around.sticks {
        moulding += stick.length.as_inches() * f64::from(stick.count);
        brads += nails(stick.length) * i64::from(stick.count);
    }
    for part in job.route_parts(route) {
        // A rail cut from a stick hangs in its sockets.
        if let PartSize::Piece { length } = part.size
            && face_rule(part).what != "rails"
        {
            moulding += length.as_inches() * f64::from(part.how_many);
            brads += nails(length) * i64::from(part.how_many);
        }
    }
    c.strip_nails += brads;
    c.bead_feet += moulding / 12.0;
    c.holes = c.case_screws + c.wall_screws + brads;
    c.broad = areas
        .iter()
        .filter(|a| broad(job, a))
        .map(|a| a.face_sq_ft)
        .sum();
    let walls = areas
        .iter()
        .filter(|a| a.ground == Ground::Wall)
        .map(|a| a.sq_ft)
        .sum::<f64>();
    c.hand = areas.iter().map(|a| a.sq_ft).sum::<f64>() - walls - c.broad;
    c.drilled = c.pins > 0;
    c
}

/// True for bare faces that a disc may go on: every part of it is at least 6 in wide.
fn broad(job: &Job, area: &Surface) -> bool {
    let wide = |mark: &String| {
        job.parts
            .iter()
            .find(|p| p.mark == *mark)
            .is_some_and(|p| match p.size {
                PartSize::Panel { length, width } => length.min(width) >= BY_DISC,
                PartSize::Piece { .. } => false,
            })
    };
    area.ground == Ground::Raw && area.marks.iter().all(wide)
}

/// Screws, pins and glue of a part.
fn joints(job: &Job, part: &Part, c: &mut Counted) {
    let rule = face_rule(part);
    let n = i64::from(part.how_many);
    let PartSize::Panel { length, width } = part.size else {
        return;
    };
    let thick = job
        .stock_row(&part.item)
        .and_then(|r| r.thickness())
        .unwrap_or_default();
    let ends = |run: Length| 2.0 * n as f64 * square_feet(run, thick);
    match rule.what {
        "tops and bottoms" | "fixed shelves" | "partitions" => {
            c.case_screws += 2 * n * along(width);
            c.glued += ends(width);
        }
        "nailers" => {
            c.case_screws += 4 * n;
            c.glued += ends(width);
        }
        "crosspieces" => {
            c.case_screws += 4 * n;
            c.shims += 4 * n;
            c.glued += ends(width);
        }
        "loose shelves" => c.pins += 4 * n,
        "strips and fillers" => {
            c.bead_feet += 2.0 * (length.as_inches() / 12.0) * n as f64;
            c.strip_nails += n * nails(length);
        }
        "backs" => c.back_nails += n * round(length, width),
        _ => {}
    }
}

/// Nails of one moulding so long: a pair at one end and every 16 in from there.
pub(super) fn nails(length: Length) -> i64 {
    2 * (length.at_least_zero().units() / Length::inches(16).units() + 1)
}

/// Handles or knobs of a part.
fn pulls(job: &Job, route: &str, part: &Part) -> i64 {
    let PartSize::Panel { length, .. } = part.size else {
        return 0;
    };
    let rule = face_rule_among(job.route_parts(route), part);
    let n = i64::from(part.how_many);
    if rule.what != "doors and drawer fronts" {
        0
    } else if part.what.to_lowercase().contains("drawer") && length > ONE_HANDLE {
        2 * n
    } else {
        n
    }
}

/// Nails round a back: one every 6 in along its four edges, a corner counted once.
fn round(length: Length, width: Length) -> i64 {
    let edge = length.at_least_zero() + width.at_least_zero();
    let step = Length::inches(6).units();
    (2 * edge.units() + step - 1) / step
}

/// Screws along an end so deep.
fn along(deep: Length) -> i64 {
    let between = (deep - Length::inches(2)).at_least_zero().units();
    let step = Length::inches(8).units();
    let least = if deep >= Length::inches(12) { 3 } else { 2 };
    ((between + step - 1) / step + 1).max(least)
}

fn square_feet(a: Length, b: Length) -> f64 {
    a.as_inches() * b.as_inches() / 144.0
}
