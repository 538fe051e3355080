//! What a route needs beside its plan, and what the comparison is told of it: amounts by rule, trim, deliveries, hours by task,
//! wants and room.
//!
//! Owns the joining: trips, deliveries and strips are counted once here, and hours, money and pages all read them.

use super::finishing::{Rules, rules};
use super::fitting::fit_job;
use super::labour::{Counted, task_counts};
use super::ordering::date_orders;
use super::space::space_use;
use super::trimming::TrimPlan;
use super::work::{Schedule, schedule, work};
use crate::car::{Delivery, WayHome, way_home};
use crate::costs::{DerivedNeed, RouteFacts, TaskCounts, shopping_list_with, task_hours};
use crate::finish::BASE_SHEETS;
use crate::model::compare::{BuyList, TaskHours};
use crate::model::{Job, NeedUnit, Plan};

/// The amounts that rules, its trim and the car give for a route, for its shopping list.
pub fn derived_needs(job: &Job, route: &str, plan: &Plan, trim: &TrimPlan) -> Vec<DerivedNeed> {
    fetched(job, route, plan, needs(job, &rules(job, route, trim), trim)).0
}

/// A route's needs, list, hours and days, each reckoned once.
pub(super) struct Reckoned {
    needs: Vec<DerivedNeed>,
    by_task: Vec<TaskHours>,
    pub(super) list: BuyList,
    pub(super) schedule: Option<Schedule>,
}

/// The list with the days on which its goods are ordered, and the work as it waits for them.
pub(super) fn reckon(job: &Job, route: &str, plan: &Plan, trim: &TrimPlan) -> Reckoned {
    let rules = rules(job, route, trim);
    let (needs, way) = fetched(job, route, plan, needs(job, &rules, trim));
    let by_task = task_hours(
        job,
        &counts(job, (route, plan), &rules, (trim, way.as_ref())),
    );
    let mut list = shopping_list_with(job, route, plan, &needs);
    let mut schedule = schedule(job, route, (&by_task, &work(job, &rules)));
    date_orders(job, &rules, &mut list, schedule.as_mut());
    Reckoned {
        needs,
        by_task,
        list,
        schedule,
    }
}

/// What to buy for a route, and when to order what is not in the store.
pub fn buy_list(job: &Job, route: &str, plan: &Plan, trim: &TrimPlan) -> BuyList {
    reckon(job, route, plan, trim).list
}

/// What the comparison is told of every route: wants met or short and room where the opening is known, hours by task, and the
/// amounts by rule.
pub fn route_facts(job: &Job, plans: &[(&str, &Plan)], trims: &[TrimPlan]) -> Vec<RouteFacts> {
    let fitted = fit_job(job, job.project.tape);
    let facts = |&(route, plan): &(&str, &Plan)| {
        let trim = trims.iter().find(|t| t.route == route)?;
        let found = reckon(job, route, plan, trim);
        let fit = fitted.as_ref().and_then(|f| f.route(route));
        let known = fit.filter(|r| !r.sits.not_known);
        Some(RouteFacts {
            route: route.into(),
            met: known
                .filter(|r| !r.sits.wants.is_empty())
                .map(|r| r.sits.wants.iter().all(|w| w.met)),
            fits: known.map(|r| r.sits.fits),
            why_not: known.and_then(|r| r.sits.why_not.clone()),
            not_placed: fit.is_some_and(|r| r.sits.not_known),
            shelf: known.map(|r| r.sits.shelf_length),
            hanging: known.map(|r| r.sits.hanging_length),
            space: fitted
                .as_ref()
                .and_then(|f| space_use(job, &f.survey, route)),
            by_task: found.by_task,
            tasks: found.schedule.map(|s| s.times).unwrap_or_default(),
            needs: found.needs,
        })
    };
    plans.iter().filter_map(facts).collect()
}

/// How often each task of a route is done.
fn counts(
    job: &Job,
    (route, plan): (&str, &Plan),
    rules: &Rules,
    (trim, way): (&TrimPlan, Option<&WayHome>),
) -> TaskCounts {
    let ruled = rules.goods.iter().filter(|g| g.shown.what == BASE_SHEETS);
    let more_sheets: i64 = ruled
        .filter_map(|g| match g.amount {
            Some(NeedUnit::Count(thousandths)) => Some(thousandths / 1_000),
            _ => None,
        })
        .sum();
    let counted = Counted {
        areas: &rules.areas,
        finish: super::work::counts(&work(job, rules)),
        more_sheets,
        strips: trim.scribes.len(),
        strip_feet: trim.closing_feet(job),
        trips: way.map_or(1, WayHome::trips),
    };
    task_counts(job, route, plan, &counted)
}

/// By rule and by trim.
pub(super) fn needs(job: &Job, rules: &Rules, trim: &TrimPlan) -> Vec<DerivedNeed> {
    let paint = rules.coats.iter().map(|(coat, amount)| DerivedNeed {
        item: coat.item.clone(),
        amount: *amount,
        what: coat.what.clone(),
        quantity: coat.gallons,
        why: format!(
            "{}: {} coat(s) on {:.1} sq ft",
            coat.what, coat.coats, coat.sq_ft
        ),
        planned: false,
    });
    let goods = rules.goods.iter().map(|g| DerivedNeed {
        item: g.shown.item.clone(),
        amount: g.amount,
        what: g.shown.what.clone(),
        quantity: g.quantity,
        why: format!("{}, {}: {}", g.shown.what, g.shown.amount, g.shown.rule),
        planned: false,
    });
    paint.chain(goods).chain(trim.needs(job)).collect()
}

/// The needs with the deliveries of what the car does not take, and the way home they were found on.
fn fetched(
    job: &Job,
    route: &str,
    plan: &Plan,
    mut needs: Vec<DerivedNeed>,
) -> (Vec<DerivedNeed>, Option<WayHome>) {
    let list = shopping_list_with(job, route, plan, &needs);
    let way = way_home(job, plan, Some(&list));
    let found = way
        .as_ref()
        .map_or_else(Vec::new, |way| way.deliveries(job));
    needs.extend(found.into_iter().map(delivery));
    (needs, way)
}

fn delivery(found: Delivery) -> DerivedNeed {
    DerivedNeed {
        amount: found.item.as_ref().map(|_| NeedUnit::Count(1_000)),
        why: found.sentence(),
        item: found.item,
        what: format!("delivery {}", found.store),
        quantity: 1.0,
        planned: true,
    }
}
