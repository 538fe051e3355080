//! What a route's trim comes to on its shopping list and in its paint: the sticks as they are planned, and the pieces.
//!
//! Owns which pieces count: her `[[need]]` rows of a material, in any stick length, take the place of what is worked out.

use super::trimming::TrimPlan;
use crate::costs::DerivedNeed;
use crate::finish::Stick;
use crate::model::{Job, NeedUnit, StickPlan};

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
                why: self.why(job, item, &sticks),
                planned: true,
            }
        });
        let without = self.unplaced.iter().map(|u| DerivedNeed {
            item: None,
            amount: None,
            why: format!(
                "{} of trim piece {}, which found no stick: {}",
                u.count, u.mark, u.why
            ),
            planned: true,
        });
        sticks.chain(without).collect()
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
