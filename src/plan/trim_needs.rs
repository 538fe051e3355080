//! What a route's trim comes to on its shopping list and in its paint: the sticks as they are planned, and the pieces.
//!
//! Owns which pieces count: her `[[need]]` rows of a material, in any stick length, take the place of what is worked out.

use super::trimming::TrimPlan;
use crate::costs::DerivedNeed;
use crate::finish::{Stick, Strip};
use crate::model::{Job, NeedUnit, StickPlan, WallSide};
use crate::opening::Scribe;
use crate::trim::closing_name;

impl TrimPlan {
    /// The sticks for the shopping list: whole ones, counted by a plan, so that nothing is added for waste.
    pub fn needs(&self, job: &Job) -> Vec<DerivedNeed> {
        let mut items: Vec<&str> = Vec::new();
        let bought = || self.sticks.iter().filter(|s| s.rack.is_none());
        for s in bought() {
            if !items.contains(&s.item.as_str()) {
                items.push(&s.item);
            }
        }
        let of = |item: &str| -> Vec<&StickPlan> { bought().filter(|s| s.item == item).collect() };
        let sticks = items.into_iter().map(|item| {
            let sticks = of(item);
            let count: u32 = sticks.iter().map(|s| s.count).sum();
            let row = job.stock_row(item);
            let amount = match sticks.first() {
                Some(s) if row.is_some_and(|r| r.by_the_foot()) => {
                    NeedUnit::Run(s.length * i64::from(count))
                }
                _ => NeedUnit::Count(i64::from(count) * 1_000),
            };
            DerivedNeed {
                item: Some(item.into()),
                amount: Some(amount),
                what: item.into(),
                quantity: f64::from(count),
                why: self.why(job, item, &sticks),
                planned: true,
            }
        });
        let without = self.unplaced.iter().map(|u| DerivedNeed {
            item: None,
            amount: None,
            what: format!("trim {}", u.mark),
            quantity: f64::from(u.count),
            why: format!(
                "{} of trim piece {}, which found no stick: {}",
                u.count, u.mark, u.why
            ),
            planned: true,
        });
        let open = self.unclosed.iter().map(|c| DerivedNeed {
            item: None,
            amount: None,
            what: format!("{} strip", c.name),
            quantity: c.length.as_inches(),
            why: format!(
                "{} strip, {} wide and {} long: no part, sheet or board gives it",
                c.name,
                job.project.tape.print(c.width),
                job.project.tape.print(c.length)
            ),
            planned: true,
        });
        sticks.chain(without).chain(open).collect()
    }

    /// The strips around frames that are cut from the run's sheet, and those of boxes that nothing gives yet.
    pub(super) fn strips_of_sheet(&self, job: &Job) -> Vec<Strip> {
        let drawn = job.route_parts(&self.route).any(|p| p.in_box == "face");
        let mut runs = job.runs.iter().filter(|r| r.route == self.route);
        let frames = runs.any(|r| !r.has_boxes() && r.wall == WallSide::Back);
        let of_sheet = |s: &&Scribe| frames && !drawn && !self.closed_by_board(&s.strip);
        let strips = self.scribes.iter().filter(of_sheet).map(|s| Strip {
            place: s.strip.clone(),
            width: s.blank[0],
            length: s.blank[1],
        });
        let open = self.unclosed.iter().map(|c| Strip {
            place: c.name.clone(),
            width: c.width,
            length: c.length,
        });
        strips.chain(open).collect()
    }

    fn closed_by_board(&self, strip: &str) -> bool {
        let name = closing_name(strip);
        self.pieces.iter().any(|p| p.what == name)
    }

    /// Length of the boards that are scribed as strips, as far as they are painted with the mouldings.
    pub(super) fn closing_feet(&self, job: &Job) -> f64 {
        let painted = self.painted(job);
        let strips = self.scribes.iter().map(|s| closing_name(&s.strip));
        let pieces = strips.filter_map(|name| self.pieces.iter().find(|p| p.what == name));
        pieces
            .filter(|p| painted.iter().any(|s| s.mark == p.mark))
            .map(|p| p.long_point.as_inches() * f64::from(p.how_many) / 12.0)
            .sum()
    }

    /// `worked out by trim: T1 scribe mould, left; T2 scribe mould, head; proved that no cheaper sticks do`.
    fn why(&self, job: &Job, item: &str, sticks: &[&StickPlan]) -> String {
        let cut = |mark: &str| {
            sticks
                .iter()
                .any(|s| s.pieces.iter().any(|p| p.mark == mark))
        };
        let pieces = self.pieces.iter().filter(|p| cut(&p.mark));
        let names: Vec<String> = pieces.map(|p| format!("{} {}", p.mark, p.what)).collect();
        let row = job.stock_row(item);
        let same = |other: &str| {
            let other = job.stock_row(other);
            row.zip(other).is_some_and(|(a, b)| a.same_material(b))
        };
        let proved = self
            .items
            .iter()
            .any(|i| i.proved && (i.item == item || same(&i.item)));
        let words = if proved {
            "proved that no cheaper sticks do"
        } else {
            "the cheapest sticks found, not proved the cheapest"
        };
        format!("worked out by trim: {}; {words}", names.join("; "))
    }

    /// The pieces that no `[[need]]` row stands for: painted, nailed and caulked as they are cut.
    pub(super) fn painted(&self, job: &Job) -> Vec<Stick> {
        let hers = |item: &str| {
            let row = job.stock_row(item);
            let mut needs = job.needs.iter().filter(|n| n.route == self.route);
            needs.any(|n| {
                let other = job.stock_row(&n.item);
                row.zip(other)
                    .is_some_and(|(a, b)| a.item == b.item || a.same_material(b))
            })
        };
        let own = self.pieces.iter().filter(|p| !p.hidden && !hers(&p.item));
        own.map(|p| Stick {
            mark: p.mark.clone(),
            item: p.item.clone(),
            length: p.long_point,
            count: p.how_many,
        })
        .collect()
    }
}
