//! The ways to fill a number of equal frames with their loose parts, for the search of the best mix.

use crate::model::mix::MixOption;
use crate::model::{Job, PrefabKind, PrefabUnit};
use crate::opening::{Holds, clear_height, frames_hold};
use crate::units::{Cents, Length};

/// Loose parts that are wanted and cannot be chosen: their price is missing.
pub(super) fn without_price(job: &Job, frame: &PrefabUnit, wanted: [i64; 3]) -> Vec<String> {
    let kinds = [PrefabKind::Shelf, PrefabKind::Rail, PrefabKind::Drawer];
    let wanted = kinds.iter().zip(wanted).filter(|(_, w)| *w > 0);
    wanted
        .flat_map(|(kind, _)| {
            let own = move |u: &&PrefabUnit| {
                u.kind == *kind && u.fits.as_deref() == Some(&frame.unit) && u.price.is_none()
            };
            job.prefab.iter().filter(own)
        })
        .map(|u| format!("{}: its price is missing.", u.unit))
        .collect()
}

pub(super) fn held(h: Holds) -> [i64; 3] {
    [h.shelf.units(), h.hanging.units(), i64::from(h.drawers)]
}

/// One way to take a number of rails.
#[derive(Clone, Default)]
struct Rails {
    length: Length,
    cents: Cents,
    by_code: Vec<(String, u32)>,
}

/// For no rail, one rail, and so on up to `most`, every way to take so many of these that no other way beats by length and money.
/// Adding one rail more keeps that order, so the ways of one rail fewer suffice.
fn rail_ways(rails: &[(&str, Cents, Length)], most: u32) -> Vec<Vec<Rails>> {
    let mut all = vec![vec![Rails::default()]];
    for _ in 0..most {
        let before = all.last().map_or(&[][..], Vec::as_slice);
        let mut next: Vec<Rails> = Vec::new();
        for (way, (code, price, length)) in before
            .iter()
            .flat_map(|w| rails.iter().map(move |r| (w, r)))
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

/// Every way to fill `n` of a frame with its own loose parts, as far as they are wanted. Shelves of one frame count alike, and
/// so do its drawers: the cheapest of each is as good as any mix of them. Rails are mixed, for they differ in length. Parts that name no frame in `fits`, and
/// parts without a price, are not chosen. Where she lists extras, those stand and nothing is added.
pub(super) fn fillings(
    job: &Job,
    frame: &PrefabUnit,
    n: u32,
    (price, wanted, fixed): (Cents, [i64; 3], Option<&[(String, u32)]>),
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
    let up_to = |wanted: i64, most: u32, there: bool| if wanted > 0 && there { most } else { 0 };
    let (shelf, drawer) = (cheapest(PrefabKind::Shelf), cheapest(PrefabKind::Drawer));
    // A rail without a length of its own is as long as the frame is wide inside.
    let wide = frame.inside_width.unwrap_or_default();
    let rails: Vec<(&str, Cents, Length)> = fits(PrefabKind::Rail)
        .map(|(code, price, length)| (code, price, length.unwrap_or(wide)))
        .collect();
    let most_drawers = u32::try_from(wanted[2].min(100)).unwrap_or(0);
    let mut list: Vec<MixOption> = Vec::new();
    let ways = rail_ways(&rails, up_to(wanted[1], n, !rails.is_empty()));
    for rail in ways.iter().flatten() {
        for s in 0..=up_to(wanted[0], levels * n, shelf.is_some()) {
            for d in 0..=up_to(wanted[2], most_drawers, drawer.is_some()) {
                let mut cents = rail.cents;
                let mut extras = Vec::new();
                let mut add = |part: Option<(&str, Cents, Option<Length>)>, count: u32| {
                    if let (Some((code, price, _)), true) = (part, count > 0) {
                        cents += price * i64::from(count);
                        extras.push((code.to_owned(), count));
                    }
                };
                add(shelf, s);
                add(drawer, d);
                extras.extend(rail.by_code.iter().cloned());
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
