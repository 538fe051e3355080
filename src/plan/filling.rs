//! The ways to fill a number of equal frames with their loose parts, for the search of the best mix.

use crate::model::mix::{Amounts, MixOption};
use crate::model::{Job, PrefabKind, PrefabUnit};
use crate::opening::{Holds, clear_height, closing_width, door_width, frames_hold};
use crate::units::{Cents, Length};

/// How much of it is wanted, as far as loose parts of that kind give it. Shelves behind doors and drawers are closed space, too.
fn wanted_of(kind: PrefabKind, [shelf, hanging, drawers, closed]: Amounts) -> i64 {
    match kind {
        PrefabKind::Shelf => shelf + closed,
        PrefabKind::Rail => hanging,
        PrefabKind::Drawer => drawers + closed,
        PrefabKind::Door => closed,
        _ => 0,
    }
}

/// Loose parts that are wanted and cannot be chosen: their price is missing.
pub(super) fn without_price(job: &Job, frame: &PrefabUnit, wanted: Amounts) -> Vec<String> {
    let own = |u: &&PrefabUnit| {
        u.fits.as_deref() == Some(&frame.unit) && u.price.is_none() && wanted_of(u.kind, wanted) > 0
    };
    let units = job.prefab.iter().filter(own);
    units
        .map(|u| format!("{}: its price is missing.", u.unit))
        .collect()
}

pub(super) fn held(h: Holds) -> Amounts {
    [
        h.shelf.units(),
        h.hanging.units(),
        i64::from(h.drawers),
        h.closed.units(),
    ]
}

/// One way to take a number of rails, or of doors.
#[derive(Clone, Default)]
struct Ways {
    length: Length,
    cents: Cents,
    by_code: Vec<(String, u32)>,
}

/// For none, one, and so on up to `most`, every way to take so many of these that no other way beats by length and money. Adding
/// one more keeps that order, so the ways of one fewer suffice.
fn ways(parts: &[(&str, Cents, Length)], most: u32) -> Vec<Vec<Ways>> {
    let mut all = vec![vec![Ways::default()]];
    for _ in 0..most {
        let before = all.last().map_or(&[][..], Vec::as_slice);
        let mut next: Vec<Ways> = Vec::new();
        for (way, (code, price, length)) in before
            .iter()
            .flat_map(|w| parts.iter().map(move |p| (w, p)))
        {
            let mut with = way.clone();
            with.length += *length;
            with.cents += *price;
            match with.by_code.iter_mut().find(|c| c.0 == *code) {
                Some(c) => c.1 += 1,
                None => with.by_code.push(((*code).to_owned(), 1)),
            }
            if !next
                .iter()
                .any(|o| o.length >= with.length && o.cents <= with.cents)
            {
                next.retain(|o| o.length > with.length || o.cents < with.cents);
                next.push(with);
            }
        }
        all.push(next);
    }
    all
}

/// For none of `n` frames closed, one, and so on, the cheapest doors that close so many: enough of them, and wide enough together.
/// Only the number of closed frames counts, so the cheapest of each is enough. Ends before a number that no doors close.
fn closed_by(frame: &PrefabUnit, n: u32, doors: &[&PrefabUnit]) -> Vec<Ways> {
    let wide = frame.width.unwrap_or_default();
    let mut all: Vec<(&str, Cents, Length)> = Vec::new();
    for u in doors {
        let wide = door_width(frame, u);
        if let Some(price) = u.price.filter(|_| wide.is_positive()) {
            all.push((&u.unit, price.likely, wide));
        }
    }
    let doors = all;
    let mut list = vec![Ways::default()];
    let Some(narrow) = doors.iter().map(|d| d.2).min() else {
        return list;
    };
    // As many as it takes of the narrowest.
    let most = (wide.units() * i64::from(n) / narrow.units() + 1).max(i64::from(n));
    let all = ways(
        &doors,
        u32::try_from(most).unwrap_or(u32::MAX).min(MOST_DOORS),
    );
    for closed in 1..=n {
        let enough = all.iter().skip(closed as usize).flatten();
        let closes = |w: &&Ways| w.length >= closing_width(frame, closed);
        match enough.filter(closes).min_by_key(|w| w.cents) {
            Some(way) => list.push(way.clone()),
            None => break,
        }
    }
    list
}

/// More doors than that are not looked for in one kind of frame.
const MOST_DOORS: u32 = 1_000;

/// Every way to fill `n` of a frame with its own loose parts, as far as they are wanted. Shelves of one frame count alike, and
/// so do its drawers: the cheapest of each is as good as any mix of them. Rails are mixed, for they differ in length, and so are
/// doors, for they differ in width. Parts that name no frame in `fits`, and parts without a price, are not chosen. Where she lists
/// extras, those stand and nothing is added.
pub(super) fn fillings(
    job: &Job,
    frame: &PrefabUnit,
    n: u32,
    (price, wanted, fixed): (Cents, Amounts, Option<&[(String, u32)]>),
) -> Vec<MixOption> {
    let frames = vec![frame; n as usize];
    let one = |extras: Vec<(String, u32)>, parts: Cents| MixOption {
        gives: held(frames_hold(job, &frames, &extras)),
        cents: price * i64::from(n) + parts,
        extras,
    };
    if let Some(extras) = fixed {
        // What any frame may hold is counted once for a row, not here for each kind of frame.
        let names_one = |code: &str| {
            let unit = job.prefab.iter().find(|u| u.unit == code);
            unit.is_some_and(|u| u.fits.is_some())
        };
        let own = extras.iter().filter(|(code, _)| names_one(code));
        return vec![MixOption {
            extras: Vec::new(),
            ..one(own.cloned().collect(), Cents::ZERO)
        }];
    }
    let fits = |kind: PrefabKind| {
        let own = move |u: &&PrefabUnit| u.kind == kind && u.fits.as_deref() == Some(&frame.unit);
        let priced = job.prefab.iter().filter(own);
        priced.filter_map(|u| Some((u.unit.as_str(), u.price?.likely, u.hanging_each)))
    };
    let cheapest = |kind: PrefabKind| fits(kind).min_by_key(|u| u.1);
    let inside = clear_height(frame);
    let levels = u32::try_from(inside.units() / Length::inches(8).units()).unwrap_or(0);
    let up_to = |kind: PrefabKind, most: u32, there: bool| {
        if wanted_of(kind, wanted) > 0 && there {
            most
        } else {
            0
        }
    };
    let (shelf, drawer) = (cheapest(PrefabKind::Shelf), cheapest(PrefabKind::Drawer));
    // A rail without a length of its own is as long as the frame is wide inside.
    let wide = frame.inside_width.unwrap_or_default();
    let rails: Vec<(&str, Cents, Length)> = fits(PrefabKind::Rail)
        .map(|(code, price, length)| (code, price, length.unwrap_or(wide)))
        .collect();
    let doors: Vec<&PrefabUnit> = (job.prefab.iter())
        .filter(|u| u.kind == PrefabKind::Door && u.fits.as_deref() == Some(&frame.unit))
        .filter(|_| wanted[3] > 0)
        .collect();
    // Each drawer closes as much as the frame is wide inside.
    let closing = (wanted[3] + wide.units() - 1).checked_div(wide.units());
    let most_drawers = wanted[2].max(closing.unwrap_or(0)).min(100);
    let most_drawers = u32::try_from(most_drawers).unwrap_or(0);
    let most = [
        up_to(PrefabKind::Shelf, levels * n, shelf.is_some()),
        up_to(PrefabKind::Drawer, most_drawers, drawer.is_some()),
    ];
    let rails = ways(&rails, up_to(PrefabKind::Rail, n, !rails.is_empty()));
    let closed = closed_by(frame, n, &doors);
    let mut list: Vec<MixOption> = Vec::new();
    for (rail, door) in rails
        .iter()
        .flatten()
        .flat_map(|r| closed.iter().map(move |d| (r, d)))
    {
        for s in 0..=most[0] {
            for d in 0..=most[1] {
                let mut cents = rail.cents + door.cents;
                let mut extras = Vec::new();
                let mut add = |part: Option<(&str, Cents, Option<Length>)>, count: u32| {
                    if let (Some((code, price, _)), true) = (part, count > 0) {
                        cents += price * i64::from(count);
                        extras.push((code.to_owned(), count));
                    }
                };
                add(shelf, s);
                add(drawer, d);
                extras.extend(rail.by_code.iter().chain(&door.by_code).cloned());
                let option = one(extras, cents);
                let beaten = |o: &MixOption| {
                    o.cents <= option.cents
                        && o.gives.iter().zip(option.gives).all(|(x, y)| *x >= y)
                };
                if !list.iter().any(beaten) {
                    list.push(option);
                }
            }
        }
    }
    list
}
