//! One route carried to the finish line: its lines by group, tax, money, hours, date.
//!
//! Owns the sum of a route under any set of prices and hours, so that every what-if is the same sum made again and no
//! shortcut; must not compare. Tax is rounded once for the route, half up, on its taxed lines.

use super::dates::{TaskTime, done_on};
use super::demand::DerivedNeed;
use super::hours::sum_of;
use super::shopping::{Bought, Entry, Group, TAX_MISSING, buy, tool_share};
use crate::model::compare::{CostLine, RouteCost, TaskHours};
use crate::model::{Hours, Job, Plan, SpaceUse};
use crate::units::{Cents, Length, PerCent, PriceRange};

/// What other rooms know of a route; everything may be left out.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct RouteFacts {
    /// The route.
    pub route: String,
    /// True if it gives what she wants, false if it falls short.
    pub met: Option<bool>,
    /// True if it goes in, false if it does not.
    pub fits: Option<bool>,
    /// Why it does not go in.
    pub why_not: Option<String>,
    /// True where readings or sizes are missing without which it cannot be placed.
    pub not_placed: bool,
    /// Shelf length it gives.
    pub shelf: Option<Length>,
    /// Hanging length it gives.
    pub hanging: Option<Length>,
    /// Where the opening goes.
    pub space: Option<SpaceUse>,
    /// Derived hours by task; `[labour.hours]` overrides their sum.
    pub by_task: Vec<TaskHours>,
    /// Its tasks in order; without them the whole route waits for the slowest goods.
    pub tasks: Vec<TaskTime>,
    /// Amounts that rules give; `[[need]]` rows override them.
    pub needs: Vec<DerivedNeed>,
}

/// A price that a what-if puts in the place of a row's own, in cents.
pub(crate) type PriceOf<'a> = dyn Fn(&Entry, PriceRange) -> i64 + 'a;

/// A route with all that its sums are made of.
pub(crate) struct Priced {
    pub(crate) name: String,
    /// True where she builds boxes: her hours are then an uncertain input.
    pub(crate) built: bool,
    pub(crate) bought: Bought,
    pub(crate) tax: Option<PerCent>,
    /// 1 = tools in full, n = shared over n jobs, 0 = not counted.
    pub(crate) tool_share: i64,
    pub(crate) hours: Option<Hours>,
    pub(crate) by_task: Vec<TaskHours>,
    pub(crate) met: Option<bool>,
    pub(crate) fits: Option<bool>,
    pub(crate) why_not: Option<String>,
    pub(crate) not_placed: bool,
    pub(crate) shelf: Option<Length>,
    pub(crate) hanging: Option<Length>,
    pub(crate) space: Option<SpaceUse>,
    pub(crate) done: Option<String>,
    pub(crate) missing: Vec<String>,
}

impl Priced {
    pub(crate) fn new(job: &Job, route: &str, plan: &Plan, facts: &RouteFacts) -> Self {
        let bought = buy(job, route, plan, &facts.needs);
        let given = job.labour.hours.iter().find(|(r, _)| r == route);
        let hours = given.map(|(_, h)| *h).or(sum_of(&facts.by_task));
        let mut missing = bought.list.missing.clone();
        if hours.is_none() {
            missing.push(format!(
                "project.toml, [labour.hours] {route}: not given, and not worked out"
            ));
        }
        missing.dedup();
        Self {
            name: route.into(),
            built: job.runs.iter().any(|r| r.route == route && r.has_boxes()),
            done: done(job, &bought, hours, &facts.tasks),
            bought,
            tax: job.project.sales_tax,
            tool_share: tool_share(job),
            hours,
            by_task: facts.by_task.clone(),
            met: facts.met,
            fits: facts.fits,
            why_not: facts.why_not.clone(),
            not_placed: facts.not_placed,
            shelf: facts.shelf,
            hanging: facts.hanging,
            space: facts.space,
            missing,
        }
    }

    /// What an entry counts for at a price: whole packs, tools by their share.
    fn counted(&self, entry: &Entry, cents: i64) -> i64 {
        let full = cents.saturating_mul(entry.count);
        match (entry.group, self.tool_share) {
            (Group::Tools, 0) => 0,
            (Group::Tools, jobs) => (full + jobs / 2) / jobs,
            _ => full,
        }
    }

    /// Money out and the tax in it at these prices; `None` where a price or the tax is missing.
    pub(crate) fn money_and_tax(&self, price_of: &PriceOf) -> Option<(i64, i64)> {
        let (mut all, mut taxed) = (0_i64, 0_i64);
        for entry in &self.bought.entries {
            let cents = self.counted(entry, price_of(entry, entry.price?));
            all = all.saturating_add(cents);
            if entry.taxed {
                taxed = taxed.saturating_add(cents);
            }
        }
        let tax = self.tax?.of(Cents(taxed)).0;
        Some((all.saturating_add(tax), tax))
    }

    /// Money out at these prices.
    pub(crate) fn money(&self, price_of: &PriceOf) -> Option<i64> {
        Some(self.money_and_tax(price_of)?.0)
    }

    /// How many are bought of a code; tools by their share.
    pub(crate) fn count_of(&self, key: &str) -> i64 {
        let entries = self.bought.entries.iter();
        entries.filter(|e| e.code == key).map(|e| e.count).sum()
    }

    /// The lines of the groups named, zero where it buys nothing of one.
    fn lines(&self, groups: &[Group]) -> Vec<CostLine> {
        groups
            .iter()
            .map(|group| {
                let entries = || self.bought.entries.iter().filter(|e| e.group == *group);
                let sum = |pick: fn(PriceRange) -> Cents| {
                    entries()
                        .map(|e| Some(self.counted(e, pick(e.price?).0)))
                        .try_fold(0_i64, |s, c| Some(s.saturating_add(c?)))
                        .map(Cents)
                };
                CostLine {
                    what: heading(*group, self.tool_share),
                    cents: sum(|p| p.likely),
                    low: sum(|p| p.low),
                    high: sum(|p| p.high),
                }
            })
            .collect()
    }

    /// The route as it is shown.
    pub(crate) fn shown(&self, groups: &[Group], rate: Option<Cents>) -> RouteCost {
        let complete = self.bought.list.missing.is_empty();
        let at = |price_of: &PriceOf| self.money_and_tax(price_of).filter(|_| complete);
        let likely = at(&|_, p| p.likely.0);
        let hours_cents = rate.and_then(|r| Some(hours_cost(self.hours?, r)));
        RouteCost {
            route: self.name.clone(),
            lines: self.lines(groups),
            tax_cents: likely.map(|(_, t)| Cents(t)),
            money_cents: likely.map(|(m, _)| Cents(m)),
            money_low_cents: at(&|_, p| p.low.0).map(|(m, _)| Cents(m)),
            money_high_cents: at(&|_, p| p.high.0).map(|(m, _)| Cents(m)),
            hours: self.hours.map(|h| h.0 as f64 / 100.0),
            tasks: self.by_task.clone(),
            hours_cents,
            total_cents: hours_cents.and_then(|h| Some(Cents(likely?.0.saturating_add(h.0)))),
            done: self.done.clone(),
            met: self.met,
            fits: self.fits,
            shelf: self.shelf,
            hanging: self.hanging,
            space: self.space,
            also: self.bought.list.also.clone(),
        }
    }
}

/// Hours at a rate, rounded half up to the cent.
pub(crate) fn hours_cost(hours: Hours, rate: Cents) -> Cents {
    let raw = i128::from(hours.0) * i128::from(rate.0);
    Cents(i64::try_from((raw + 50).div_euclid(100)).unwrap_or(i64::MAX))
}

/// The groups that any of the routes buys from, in their order.
pub(crate) fn groups_of(routes: &[Priced]) -> Vec<Group> {
    let mut groups: Vec<Group> = routes
        .iter()
        .flat_map(|r| r.bought.entries.iter().map(|e| e.group))
        .collect();
    groups.sort_unstable();
    groups.dedup();
    groups
}

fn heading(group: Group, tool_share: i64) -> String {
    match (group, tool_share) {
        (Group::Sheets, _) => "Sheets, whole".into(),
        (Group::Frames, _) => "Frames".into(),
        (Group::FrameExtras, _) => "Loose parts for the frames".into(),
        (Group::BandingAndMouldings, _) => "Banding and mouldings".into(),
        (Group::Hardware, _) => "Hardware".into(),
        (Group::Consumables, _) => "Glue, filler, caulk and the like".into(),
        (Group::Paint, _) => "Primer and paint".into(),
        (Group::Tools, 0) => "Tools bought for this job, not counted".into(),
        (Group::Tools, 1) => "Tools bought for this job".into(),
        (Group::Tools, jobs) => format!("Tools bought, shared by {jobs} jobs"),
        (Group::StoreCuts, _) => "Cuts at the store".into(),
        (Group::Services, _) => "Delivery and other services".into(),
    }
}

fn done(job: &Job, bought: &Bought, hours: Option<Hours>, tasks: &[TaskTime]) -> Option<String> {
    let (start, weekend) = (job.project.date?, job.labour.hours_a_weekend?);
    let lines = bought.list.lines.iter().filter(|l| !l.packs.is_empty());
    let whole = TaskTime {
        hours: hours?,
        lead_days: lines.map(|l| l.lead_days).max().unwrap_or(0),
        dry_hours: 0,
    };
    let tasks = if tasks.is_empty() {
        &[whole][..]
    } else {
        tasks
    };
    Some(done_on(start, weekend, tasks)?.to_string())
}

/// True if tax is not what is missing (used to say so once, not once a route).
pub(crate) fn once_each(routes: &[Priced]) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for text in routes.iter().flat_map(|r| &r.missing) {
        if !all.contains(text) {
            all.push(text.clone());
        }
    }
    // The tax first: without it there is no sum at all.
    all.sort_by_key(|t| t != TAX_MISSING);
    all
}
