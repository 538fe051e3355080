//! The hanging rails of a route's boxes, one by one: cut from a stick, from an old rod, or bought; and which want a support in the middle.

use super::rooms::rooms;
use crate::boxes::{Inside, boxes_sag, old_rods, outsides, rail_length};
use crate::finish::{RailNeed, Rails};
use crate::model::{Job, StockRow};
use crate::units::Length;

/// Every rail of the route. A box that cannot be drawn yet counts with its bays and no length.
pub(super) fn rails(job: &Job, route: &str) -> Rails {
    let rooms = rooms(job);
    let mut lengths: Vec<Length> = Vec::new();
    let mut all: Vec<RailNeed> = Vec::new();
    let with_rooms = job.runs.iter().zip(&rooms);
    for (run, room) in with_rooms.filter(|(r, _)| r.route == route && r.has_boxes()) {
        let row = job.rail_row(run);
        let sizes = outsides(job, run, room).unwrap_or_default();
        let sag = boxes_sag(job, run, &sizes);
        for (i, plan) in run.boxes.iter().enumerate().filter(|(_, b)| b.rail) {
            let name = format!("{} rail", plan.name);
            let supported = sag.iter().any(|s| s.shelf == name && s.middle_support);
            let inside = sizes
                .get(i)
                .and_then(|o| Inside::of(job, run, plan, *o).ok());
            let bays = inside.map_or_else(
                || vec![Length::ZERO; plan.inside.partitions as usize + 1],
                |inside| inside.bays,
            );
            let widest = bays.iter().copied().max().unwrap_or_default();
            for _ in &bays {
                lengths.push(rail_length(widest));
                all.push(RailNeed {
                    bought: run.build.rail.is_none(),
                    old: None,
                    own_sockets: row.is_some_and(StockRow::brings_sockets),
                    supported,
                });
            }
        }
    }
    let wanted: Vec<Length> = lengths
        .iter()
        .zip(&all)
        .map(|(l, r)| if r.bought { *l } else { Length::ZERO })
        .collect();
    for (rail, old) in all.iter_mut().zip(old_rods(job, &wanted)) {
        rail.old = old.map(|o| o.what.clone());
    }
    Rails { all }
}
