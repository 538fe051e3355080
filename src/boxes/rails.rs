//! The hanging rails of a route's boxes, one for each bay, and the old rod each is cut from: what is bought, priced and said on a
//! box's page follows from this one list.

use super::draw::rail_length;
use super::facts::{Inside, Room, outsides};
use crate::model::{BoxPlan, Job, OldPiece, Run, StockRow};
use crate::units::Length;

/// The rail of one bay.
#[derive(Clone, Debug)]
pub struct BayRail<'a> {
    /// Its run.
    pub run: &'a Run,
    /// Its box.
    pub plan: &'a BoxPlan,
    /// Its length; nothing where the box cannot be drawn yet.
    pub length: Length,
    /// The old rod it is cut from.
    pub old: Option<&'a OldPiece>,
}

impl BayRail<'_> {
    /// True where it is bought whole, or cut from an old rod; else it is cut from a stick that is planned.
    pub const fn whole(&self) -> bool {
        self.run.build.rail.is_none()
    }
}

/// Every rail of the route, box by box, bay by bay. A box that cannot be drawn yet counts with its bays and no length.
pub fn rails_of<'a>(job: &'a Job, route: &str, rooms: &[Room]) -> Vec<BayRail<'a>> {
    let unknown = Room::default();
    let mut list = Vec::new();
    for (i, run) in job.runs.iter().enumerate() {
        if run.route != route || !run.has_boxes() {
            continue;
        }
        let room = rooms.get(i).unwrap_or(&unknown);
        let sizes = outsides(job, run, room).unwrap_or_default();
        for (n, plan) in run.boxes.iter().enumerate().filter(|(_, b)| b.rail) {
            let size = sizes.get(n);
            let inside = size.and_then(|o| Inside::of(job, run, plan, *o).ok());
            let widest = inside.and_then(|i| i.bays.into_iter().max());
            let length = widest.map_or(Length::ZERO, rail_length);
            let one = BayRail {
                run,
                plan,
                length,
                old: None,
            };
            list.extend(vec![one; plan.inside.partitions as usize + 1]);
        }
    }
    let wanted: Vec<Length> = list
        .iter()
        .map(|r| if r.whole() { r.length } else { Length::ZERO })
        .collect();
    for (rail, old) in list.iter_mut().zip(old_rods(job, &wanted)) {
        rail.old = old;
    }
    list
}

/// Which old rod each of these rails is cut from, the longest rail from the shortest rod that gives it; one of no length takes none.
fn old_rods<'a>(job: &'a Job, rails: &[Length]) -> Vec<Option<&'a OldPiece>> {
    let rod = |o: &&OldPiece| job.stock_row(&o.item).is_some_and(StockRow::is_rail);
    let old = job.opening.iter().flat_map(|o| &o.now.old_stock);
    let mut left: Vec<&OldPiece> = old.filter(rod).collect();
    left.sort_by_key(|o| o.length);
    let mut order: Vec<usize> = (0..rails.len()).collect();
    order.sort_by_key(|i| std::cmp::Reverse(rails[*i]));
    let mut found = vec![None; rails.len()];
    for i in order.into_iter().filter(|i| rails[*i].is_positive()) {
        if let Some(at) = left.iter().position(|o| o.length >= rails[i]) {
            found[i] = Some(left.remove(at));
        }
    }
    found
}
