//! Shelves and rails that do not sag: how far each sinks under what stands on it, now and after years, by which limit that is
//! judged, what span would pass and what lip would mend it.
//!
//! Everything here is floating point and shown to ten-thousandths of an inch; only sums, products and quotients are used, so
//! the figures are alike on every machine. Spans stay lengths.

mod beam;
mod judge;
mod rail;
mod shelf;
mod stiffness;
#[cfg(test)]
mod tests;

pub use beam::{Beam, Held, board_moment, lipped_moment, round_moment};
pub use judge::{Rule, Sag, Verdict};
pub use rail::{RailStuff, needs_middle_support, rail_sag};
pub use shelf::{Shelf, shelf_sag};
pub use stiffness::{Stiffness, stiffness_of};

use crate::boxes::facts::Outside;
use crate::model::{Job, PrefabKind, PrefabUnit, Run, ShelfLoad};
use crate::units::Length;

/// Every kind of shelf and every rail of a run of boxes, box by box. `sizes` are the outside sizes of its boxes in order; a
/// box without one is left out, as is a run whose material has no thickness.
pub fn boxes_sag(job: &Job, run: &Run, sizes: &[Outside]) -> Vec<Sag> {
    let stock = run.material.as_deref().and_then(|m| job.stock_row(m));
    let Some((row, thick)) = stock.and_then(|r| Some((r, r.thickness()?))) else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for (plan, outside) in run.boxes.iter().zip(sizes) {
        let Ok(inside) = crate::boxes::facts::Inside::of(job, run, plan, *outside) else {
            continue;
        };
        let shelf = |name: &str, span: Length, deep: Length, held| Shelf {
            name: format!("{} {name}", plan.name),
            span,
            deep,
            thick,
            held,
            load: plan.inside.load.unwrap_or(run.build.load),
            stiff: stiffness_of(&row.what),
        };
        let bay = inside.bays.iter().copied().max().unwrap_or_default();
        if plan.fixed_shelves > 0 {
            list.push(shelf_sag(&shelf(
                "fixed shelf",
                bay,
                inside.fixed_deep,
                Held::Fastened,
            )));
        }
        if plan.loose_shelves > 0 {
            list.push(shelf_sag(&shelf(
                "loose shelf",
                bay,
                inside.loose_deep,
                Held::OnPins,
            )));
        }
        if plan.rail {
            list.push(rail_sag(
                &format!("{} rail", plan.name),
                bay,
                &job.rail_row(run)
                    .map_or_else(RailStuff::default, RailStuff::of),
            ));
        }
    }
    list
}

/// Shelves and rails of bought frames: one entry for each kind of frame that has shelves, in the order of the frames, and one for each
/// kind of rail in it.
pub fn frames_sag(job: &Job, run: &Run, frames: &[&PrefabUnit]) -> Vec<Sag> {
    let mut list: Vec<Sag> = Vec::new();
    for frame in frames {
        for rail in rails_in(job, run, frame) {
            list.extend(
                frame_rail(frame, rail).filter(|s| list.iter().all(|l| l.shelf != s.shelf)),
            );
        }
        let Some(span) = frame.inside_width else {
            continue;
        };
        let loose = job.prefab.iter().find(|u| {
            u.kind == PrefabKind::Shelf && u.fits.as_deref() == Some(frame.unit.as_str())
        });
        let Some(thick) = frame.shelf_thick.or(loose.and_then(|l| l.shelf_thick)) else {
            continue;
        };
        let core = match (frame.shelf_core.as_str(), loose) {
            ("", Some(l)) => l.shelf_core.as_str(),
            (core, _) => core,
        };
        let name = format!("{} shelf", frame.unit);
        if list.iter().any(|s| s.shelf == name) {
            continue;
        }
        let deep = loose
            .and_then(|l| l.depth)
            .or(frame.inside_depth)
            .or(frame.depth);
        list.push(shelf_sag(&Shelf {
            name,
            span,
            deep: deep.unwrap_or(Length::FOOT),
            thick,
            held: Held::OnPins,
            load: run.build.load,
            stiff: stiffness_of(if core.is_empty() {
                "particleboard"
            } else {
                core
            }),
        }));
    }
    list
}

/// Rails she buys for the run that may hang in that frame.
fn rails_in<'a>(job: &'a Job, run: &Run, frame: &PrefabUnit) -> Vec<&'a PrefabUnit> {
    let bought = |u: &&PrefabUnit| run.extras.iter().any(|(code, n)| *code == u.unit && *n > 0);
    let fits = |u: &&PrefabUnit| u.fits.as_ref().is_none_or(|f| *f == frame.unit);
    let rails = job.prefab.iter().filter(|u| u.kind == PrefabKind::Rail);
    rails.filter(bought).filter(fits).collect()
}

/// A rail in its frame: as long as its own row says, else as the frame is wide; `None` where neither is known.
fn frame_rail(frame: &PrefabUnit, rail: &PrefabUnit) -> Option<Sag> {
    let inside = frame.inside_width.map(|w| (w, "inside"));
    let by_frame = inside.or(frame.width.map(|w| (w, "outside")));
    let name = format!("{} in {}, rail", rail.unit, frame.unit);
    let stuff = RailStuff::of_unit(rail);
    let (span, taken) = match (rail.width, by_frame) {
        (Some(own), _) => (own, None),
        (None, Some((wide, which))) => (wide, Some(which)),
        (None, None) => return None,
    };
    let mut sag = rail_sag(&name, span, &stuff);
    if let Some(which) = taken {
        sag.words += &format!(
            " Its row gives no length, so the frame's {which} width is taken, {} in.",
            crate::units::Tape::default().print_exact(span)
        );
    }
    Some(sag)
}

impl ShelfLoad {
    /// In words, and in pounds on each inch of a shelf so deep.
    pub(crate) fn on(self, deep: f64) -> (&'static str, f64) {
        match self {
            // A well filled closet: design of this tool; AWS 2009 asks 40, KCMA 15 (S31, S30).
            Self::Usual => ("25 lb a square foot", 25.0 / 144.0 * deep),
            // By the foot of shelf: common practice, no source, except books, S33 (20 average) with a margin.
            Self::Clothes => ("folded clothes, 10 lb a foot", 10.0 / 12.0),
            Self::Shoes => ("shoes, 8 lb a foot", 8.0 / 12.0),
            Self::Linens => ("linens, 12 lb a foot", 1.0),
            Self::Books => ("books, 25 lb a foot", 25.0 / 12.0),
            Self::Files => ("files, 35 lb a foot", 35.0 / 12.0),
        }
    }
}
