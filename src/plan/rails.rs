//! The hanging rails of a route's boxes as goods: cut from a stick, from an old rod, or bought; and which want a support in the middle.

use super::rooms::rooms;
use crate::boxes::{Sag, boxes_sag, outsides, rails_of};
use crate::finish::{RailNeed, Rails};
use crate::model::{Job, StockRow};

/// Every rail of the route.
pub(super) fn rails(job: &Job, route: &str) -> Rails {
    let rooms = rooms(job);
    let with_rooms = job.runs.iter().zip(&rooms);
    let ours = with_rooms.filter(|(r, _)| r.route == route && r.has_boxes());
    let each = ours
        .flat_map(|(run, room)| boxes_sag(job, run, &outsides(job, run, room).unwrap_or_default()));
    let sag: Vec<Sag> = each.collect();
    let need = |r: &crate::boxes::BayRail<'_>| {
        let name = format!("{} rail", r.plan.name);
        RailNeed {
            bought: r.whole(),
            old: r.old.map(|o| o.what.clone()),
            own_sockets: job.rail_row(r.run).is_some_and(StockRow::brings_sockets),
            supported: sag.iter().any(|s| s.shelf == name && s.middle_support),
        }
    };
    Rails {
        all: rails_of(job, route, &rooms).iter().map(need).collect(),
    }
}
