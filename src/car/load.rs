//! Loads the car: which piece in which space, in what order, and how many trips.
//!
//! Pieces lie in piles, the largest at the bottom; a space holds several piles side by side, all lying the same way. Each
//! trip takes the largest pieces that still go, by a plain rule: it is not proved that no fewer trips would do.

use super::fit::POSES;
use crate::model::{Car, Job, Plan, SawAt, SheetPlan};
use crate::model::{stacked_thickness as thickness, weigh};
use crate::units::Length;

/// Trips planned at most; what is then left is named.
const MOST_TRIPS: usize = 20;

/// Something to be taken home: a piece of sheet, a carton, a stick.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StorePiece {
    /// `3a` for a piece of sheet 3, or a name.
    pub name: String,
    /// Stock row or unit.
    pub item: String,
    /// Index into `Plan::sheets`.
    pub sheet: Option<usize>,
    /// Its two larger sides at most, the store's saw being as far off as it may.
    pub size: [Length; 2],
    /// The third.
    pub thick: Length,
    /// Weight; `None` where nothing is known of it.
    pub grams: Option<i64>,
}

/// How a space's piles lie.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Pose {
    /// Flat.
    Flat,
    /// Standing on a long edge, side by side across the space.
    OnEdge,
    /// Standing across the space, one before the other.
    Across,
}

/// Pieces on top of each other.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Pile {
    /// Index into the car's spaces.
    pub space: usize,
    /// How it lies.
    pub pose: Pose,
    /// Its corner and its two sides, in the two directions of the space that it lies along.
    pub at: [Length; 2],
    /// See `at`.
    pub size: [Length; 2],
    /// Thickness of all of it.
    pub thick: Length,
    /// Indices into the pieces, in the order they are loaded.
    pub pieces: Vec<usize>,
}

/// One trip.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Trip {
    /// What lies where.
    pub piles: Vec<Pile>,
    /// Weight of it, what is known.
    pub grams: i64,
}

/// All trips, and what goes in no space.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Load {
    /// In order.
    pub trips: Vec<Trip>,
    /// Indices of pieces that the car does not take.
    pub stays: Vec<usize>,
}

/// What is bought of the plan's sheets, piece by piece as it leaves the store: sheets in hand are at home already, the
/// ones without store cuts first.
pub fn pieces(job: &Job, plan: &Plan) -> Vec<StorePiece> {
    let mut at_home: Vec<u32> = vec![0; plan.sheets.len()];
    let mut items: Vec<&str> = Vec::new();
    for sheet in plan.sheets.iter().filter(|s| s.rack.is_none()) {
        if !items.contains(&sheet.item.as_str()) {
            items.push(&sheet.item);
        }
    }
    for item in items {
        let mut have = job.stock_row(item).map_or(0, |r| match r.have {
            crate::model::NeedUnit::Count(n) => u32::try_from(n.max(0) / 1000).unwrap_or(u32::MAX),
            _ => 0,
        });
        for asked in [false, true] {
            let ours = |s: &SheetPlan| s.rack.is_none() && s.item == item && cut_there(s) == asked;
            for (i, sheet) in plan.sheets.iter().enumerate().filter(|(_, s)| ours(s)) {
                at_home[i] = have.min(sheet.count);
                have -= at_home[i];
            }
        }
    }
    let true_to = job.saw.store.as_ref().map_or(Length::ZERO, |s| s.true_to);
    let mut all = Vec::new();
    let mut number = 0;
    for (i, sheet) in plan.sheets.iter().enumerate() {
        let first = number + 1;
        number += sheet.count;
        if sheet.rack.is_some() {
            continue;
        }
        let row = job.stock_row(&sheet.item);
        let sizes: Vec<[Length; 2]> = sawn(sheet, plan.kerf, true_to)
            .pieces
            .iter()
            .map(|p| p.most)
            .collect();
        for n in first + at_home[i]..first + sheet.count {
            for (letter, size) in sizes.iter().enumerate() {
                all.push(StorePiece {
                    name: if sizes.len() == 1 {
                        n.to_string()
                    } else {
                        format!("{n}{}", letters(letter))
                    },
                    item: sheet.item.clone(),
                    sheet: Some(i),
                    size: *size,
                    thick: thickness(row),
                    grams: Some(weigh(row, *size).grams),
                });
            }
        }
    }
    all
}

fn cut_there(sheet: &SheetPlan) -> bool {
    sheet.cuts.iter().any(|c| c.saw == Some(SawAt::Store))
}

/// The letter of a piece: a, b ... z, aa, ab ...
pub fn letters(mut n: usize) -> String {
    let mut text = String::new();
    loop {
        text.insert(0, char::from(b'a' + (n % 26) as u8));
        if n < 26 {
            return text;
        }
        n = n / 26 - 1;
    }
}

/// A cut as the store is asked for it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct AskedCut {
    /// True where the blade runs across x.
    pub across: bool,
    /// The piece it divides, factory edges as they come.
    pub of: [Length; 4],
    /// Where the near side ends on the sheet.
    pub at: Length,
    /// What the fence or stop is set to, from a factory edge where the piece has one.
    pub set: Length,
    /// What is left beyond the blade.
    pub rest: Length,
}

/// A piece as it leaves the store.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Outline {
    /// As asked for.
    pub rect: [Length; 4],
    /// As large as it may turn out.
    pub most: [Length; 2],
}

/// What the store makes of a sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Sawn {
    /// Its cuts in order; none where it is taken home whole.
    pub cuts: Vec<AskedCut>,
    /// The pieces, in the order of their place.
    pub pieces: Vec<Outline>,
}

/// Follows the store's cuts on a sheet as it is bought.
pub fn sawn(sheet: &SheetPlan, kerf: Length, true_to: Length) -> Sawn {
    let [x0, x1, y0, y1] = sheet.clean_edge;
    let clean = [x0, y0, sheet.size[0] - x1, sheet.size[1] - y1];
    let zero = Length::ZERO;
    let whole = [zero, zero, sheet.size[0], sheet.size[1]];
    let mut free: Vec<([Length; 4], [Option<Length>; 4])> = vec![(clean, [None; 4])];
    // A factory edge as it comes, not as it is cleaned at home.
    let as_bought = |(rect, rough): &([Length; 4], [Option<Length>; 4])| {
        [0, 1, 2, 3].map(|s: usize| rough[s].map_or(whole[s], |_| rect[s]))
    };
    let mut cuts = Vec::new();
    let mut asked: Vec<&crate::model::Cut> = sheet.cuts.iter().collect();
    asked.retain(|c| c.saw == Some(SawAt::Store));
    asked.sort_by_key(|c| c.n);
    for cut in asked {
        let Some(i) = free.iter().position(|f| f.0 == cut.of) else {
            continue;
        };
        let (rect, rough) = free.swap_remove(i);
        let of = as_bought(&(rect, rough));
        let axis = usize::from(!cut.across);
        let blade = cut.kerf.unwrap_or(kerf);
        let (near, far) = (cut.at - of[axis], of[axis + 2] - cut.at - blade);
        let from_far = rough[axis].is_some() && rough[axis + 2].is_none();
        cuts.push(AskedCut {
            across: cut.across,
            of,
            at: cut.at,
            set: if from_far { far } else { near },
            rest: if from_far { near } else { far },
        });
        let off = |s: usize| rough[s].unwrap_or_default();
        let off = Some(true_to + off(axis).min(off(axis + 2)));
        let (mut near, mut far) = ((rect, rough), (rect, rough));
        near.0[axis + 2] = cut.at;
        near.1[axis + 2] = off;
        far.0[axis] = cut.at + blade;
        far.1[axis] = off;
        free.extend([near, far]);
    }
    free.sort_by_key(|f| (f.0[1], f.0[0]));
    let outline = |piece: &([Length; 4], [Option<Length>; 4])| {
        let rect = as_bought(piece);
        let off = |s: usize| piece.1[s].unwrap_or_default();
        Outline {
            rect,
            most: [0, 1].map(|a| rect[a + 2] - rect[a] + off(a) + off(a + 2)),
        }
    };
    Sawn {
        cuts,
        pieces: free.iter().map(outline).collect(),
    }
}

struct Plane {
    pose: usize,
    free: Vec<([Length; 2], [Length; 2])>,
}

/// Loads the car, trip by trip.
pub fn load(car: &Car, all: &[StorePiece]) -> Load {
    let area = |p: &StorePiece| i128::from(p.size[0].units()) * i128::from(p.size[1].units());
    let mut left: Vec<usize> = (0..all.len()).collect();
    left.sort_by_key(|i| (std::cmp::Reverse(area(&all[*i])), *i));
    let mut done = Load::default();
    while !left.is_empty() && done.trips.len() < MOST_TRIPS {
        let (trip, rest) = one_trip(car, all, &left);
        if trip.piles.is_empty() {
            break;
        }
        done.trips.push(trip);
        // A piece that no empty car takes stays for good.
        left = rest;
    }
    left.sort_unstable();
    done.stays = left;
    done
}

fn one_trip(car: &Car, all: &[StorePiece], left: &[usize]) -> (Trip, Vec<usize>) {
    let mut trip = Trip::default();
    let mut planes: Vec<Option<Plane>> = car.spaces.iter().map(|_| None).collect();
    let mut rest = Vec::new();
    for i in left {
        let piece = &all[*i];
        let grams = piece.grams.unwrap_or(0);
        let carried = car.carries_grams.is_none_or(|c| trip.grams + grams <= c);
        if carried && put(car, &mut trip, &mut planes, piece, *i) {
            trip.grams += grams;
        } else {
            rest.push(*i);
        }
    }
    trip.piles.sort_by_key(|p| (p.space, p.at));
    (trip, rest)
}

/// Puts a piece on a pile, else beside the piles, else in an empty space.
fn put(
    car: &Car,
    trip: &mut Trip,
    planes: &mut [Option<Plane>],
    piece: &StorePiece,
    index: usize,
) -> bool {
    let [a, b] = piece.size;
    for (s, space) in car.spaces.iter().enumerate() {
        let poses = planes[s].as_ref().map_or(0..3, |p| p.pose..p.pose + 1);
        for pose in poses {
            let [u, v, w] = POSES[pose];
            let room = car.room(space);
            let deep = room[w];
            let on = trip.piles.iter_mut().find(|p| {
                let lies = |x: Length, y: Length| x <= p.size[0] && y <= p.size[1];
                p.space == s && p.thick + piece.thick <= deep && (lies(a, b) || lies(b, a))
            });
            if let Some(pile) = on {
                pile.thick += piece.thick;
                pile.pieces.push(index);
                return true;
            }
            if piece.thick > deep {
                continue;
            }
            let fresh = Plane {
                pose,
                free: vec![([Length::ZERO; 2], [room[u], room[v]])],
            };
            let plane = planes[s].as_ref().unwrap_or(&fresh);
            let spot = (plane.free.iter().enumerate())
                .flat_map(|(n, f)| [[a, b], [b, a]].map(|size| (n, *f, size)))
                .filter(|(_, f, size)| size[0] <= f.1[0] && size[1] <= f.1[1])
                .min_by_key(|(n, f, size)| ((f.1[0] - size[0]).min(f.1[1] - size[1]), *n));
            let Some((n, (at, room), size)) = spot else {
                continue;
            };
            let plane = planes[s].get_or_insert(fresh);
            plane.free.swap_remove(n);
            plane.free.extend(beside(at, room, size));
            trip.piles.push(Pile {
                space: s,
                pose: [Pose::Flat, Pose::OnEdge, Pose::Across][pose],
                at,
                size,
                thick: piece.thick,
                pieces: vec![index],
            });
            return true;
        }
    }
    false
}

/// What a room leaves beside a pile in its corner: the larger rest whole.
fn beside(
    at: [Length; 2],
    room: [Length; 2],
    size: [Length; 2],
) -> Vec<([Length; 2], [Length; 2])> {
    let spare = [room[0] - size[0], room[1] - size[1]];
    let (along, across) = if spare[0] >= spare[1] {
        ([spare[0], room[1]], [size[0], spare[1]])
    } else {
        ([spare[0], size[1]], [room[0], spare[1]])
    };
    [
        ([at[0] + size[0], at[1]], along),
        ([at[0], at[1] + size[1]], across),
    ]
    .into_iter()
    .filter(|(_, s)| s[0].is_positive() && s[1].is_positive())
    .collect()
}
