//! A route filled, primed and painted: what the opening leaves around its boxes, the rules of the finish room, the cans as they
//! stand on the shopping list, and the steps.

use super::clearing::taken_away;
use super::needs::{needs, reckon};
use super::rails::rails;
use super::trimming::TrimPlan;
use super::work::{Schedule, counts, work};
use crate::boxes::crosspieces;
use crate::costs::{TaskTime, days_of, shopping_list_with, task_hours};
use crate::finish::{Around, Asked, coats, goods, lights, surfaces};
use crate::model::compare::BuyList;
use crate::model::{Coat, FinishPlan, Ground, Job, NeedUnit, Plan, Surface, WallSide, WorkStep};
use crate::opening::{row, survey_by};

/// From the last coat till things are put in: light things after three days; the tin may say longer. Common practice, no source.
const CURE_HOURS: u32 = 72;

/// What a route is painted and fixed with, before it is bought.
pub(super) struct Rules {
    pub(super) areas: Vec<Surface>,
    pub(super) coats: Vec<(Coat, Option<NeedUnit>)>,
    pub(super) goods: Vec<Asked>,
}

pub(super) fn rules(job: &Job, route: &str, trim: &TrimPlan) -> Rules {
    let around = around(job, route, trim);
    let areas = surfaces(job, route, &around);
    Rules {
        coats: coats(job, route, &areas),
        goods: goods(job, route, &areas, &around),
        areas,
    }
}

/// The route carried from bare boards to the day it is loaded.
pub fn finish_job(job: &Job, route: &str, trim: &TrimPlan) -> FinishPlan {
    let rules = rules(job, route, trim);
    let needs = needs(job, &rules, trim);
    let list = shopping_list_with(job, route, &no_plan(job, route), &needs);
    let work = work(job, &rules);
    let together = task_hours(job, &counts(&work));
    let mut plan = FinishPlan {
        route: route.into(),
        sq_ft: rules.areas.iter().map(|a| a.sq_ft).sum(),
        cautions: cautions(job, &rules),
        cans: list
            .lines
            .into_iter()
            .filter(|l| l.group == "paint")
            .collect(),
        unpriced: list.also,
        areas: rules.areas,
        coats: rules.coats.into_iter().map(|(c, _)| c).collect(),
        goods: rules.goods.into_iter().map(|g| g.shown).collect(),
        hours: together.iter().map(|t| t.hours).sum(),
        steps: work.iter().map(|w| w.step(job)).collect(),
        work: Vec::new(),
        load_from: None,
        with_route: false,
        cure_hours: CURE_HOURS,
        lights: lights(job, route),
    };
    let times: Vec<TaskTime> = work.iter().map(|w| w.time(job)).collect();
    let all: Vec<usize> = (0..times.len()).collect();
    on_days(
        job,
        &mut plan,
        &Schedule {
            times,
            stages: Vec::new(),
            painted: all,
        },
    );
    plan
}

/// The same with its steps on the days they fall on among the rest of the route's work: the last of them is no later than the day
/// the route is done.
pub fn finish_within(job: &Job, route: &str, plan: &Plan, trim: &TrimPlan) -> FinishPlan {
    let mut finish = finish_job(job, route, trim);
    let found = reckon(job, route, plan, trim);
    for can in &mut finish.cans {
        let line = found.list.lines.iter().find(|l| l.item == can.item);
        can.order_by = line.and_then(|l| l.order_by.clone());
    }
    if let Some(schedule) = found.schedule {
        on_days(job, &mut finish, &schedule);
        finish.work = whole_work(job, &schedule, &found.list);
        finish.with_route = true;
    }
    finish
}

fn on_days(job: &Job, plan: &mut FinishPlan, schedule: &Schedule) {
    let start = job.project.date.zip(job.labour.hours_a_weekend);
    let days = start.and_then(|(start, weekend)| days_of(start, weekend, &schedule.times));
    let Some(days) = days else { return };
    let painted = schedule.painted.iter().filter_map(|i| days.get(*i));
    for (step, day) in plan.steps.iter_mut().zip(painted) {
        (step.from, step.to) = (Some(day[0].to_string()), Some(day[1].to_string()));
        let loaded = day[1].checked_add(jiff::Span::new().hours(i64::from(CURE_HOURS) + 23));
        plan.load_from = loaded.ok().map(|d| d.to_string());
    }
}

/// The whole route's work, with the goods that each task waits for.
fn whole_work(job: &Job, schedule: &Schedule, list: &BuyList) -> Vec<WorkStep> {
    let start = job.project.date.zip(job.labour.hours_a_weekend);
    let days = start.and_then(|(start, weekend)| days_of(start, weekend, &schedule.times));
    let stages = schedule.stages.iter().zip(&schedule.times).enumerate();
    stages
        .filter(|(_, (_, time))| time.hours.0 > 0)
        .map(|(i, (stage, time))| {
            let day = |n: usize| Some(days.as_ref()?.get(i)?[n].to_string());
            let goods = list.lines.iter().filter_map(|l| {
                let order = l.order_by.as_ref().filter(|o| o.task == stage.what)?;
                Some(format!("{} by {}", l.item, order.date))
            });
            WorkStep {
                what: stage.what.clone(),
                hours: time.hours.0 as f64 / 100.0,
                dry_hours: time.dry_hours,
                from: day(0),
                to: day(1),
                order: goods.collect(),
            }
        })
        .collect()
}

/// Nothing cut: what is bought for the finish does not depend on the sheets.
fn no_plan(job: &Job, route: &str) -> Plan {
    Plan::empty(route, job.saw.kerf)
}

/// What stands around the boxes of a route and is in none of its parts.
fn around(job: &Job, route: &str, trim: &TrimPlan) -> Around {
    let mut around = Around {
        open_ends: job.opening.is_none(),
        sticks: trim.painted(job),
        strips: trim.strips_of_sheet(job),
        rails: rails(job, route),
        ..Around::default()
    };
    let Some(opening) = &job.opening else {
        return around;
    };
    let survey = survey_by(opening, job.project.tape);
    let most = survey.largest_box;
    if let (Some(w), Some(h), Some(d)) = (most.width, most.height, most.depth) {
        around.walls = vec![[w, h], [d, h], [d, h], [w, d]];
    }
    let base = job.route_parts(route).any(|p| p.in_box == "base");
    for run in job
        .runs
        .iter()
        .filter(|r| r.route == route && !r.has_boxes() && r.wall == WallSide::Back)
    {
        let frames = job.listed_frames(run);
        let Some(row) = row(job, &survey, run, &frames).filter(|r| !r.boxes.is_empty()) else {
            continue;
        };
        let thick = run
            .material
            .as_deref()
            .and_then(|m| job.stock_row(m)?.thickness())
            .unwrap_or_default();
        if !base && row.base_height.is_positive() {
            around.bases.push([row.width(), row.base_height]);
            around.crosspieces += crosspieces(row.width(), thick) as i64;
        }
    }
    around
}

fn cautions(job: &Job, rules: &Rules) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let has = |what: &str| {
        rules
            .coats
            .iter()
            .find(|(c, _)| c.what == what)
            .map(|(c, _)| c)
    };
    if let Some(coat) = has("bonding primer") {
        all.push("Factory gloss: scuff it dull and wipe it before the primer, or paint peels. Pin holes not used: cap them, filler falls out.".into());
        let row = coat.item.as_deref().and_then(|i| job.stock_row(i));
        if let Some(row) = row.filter(|r| !r.what.to_lowercase().contains("bond")) {
            all.push(format!(
                "{} ({}) is not named as a bonding primer: ask whether it holds on factory gloss.",
                row.item, row.what
            ));
        }
    }
    if has("oil").is_some() {
        all.push("Rags with oil can catch fire by themselves: spread them flat outside to dry, or put them under water.".into());
    }
    if !rules.coats.is_empty() {
        all.push("Dust mask for sanding, open windows for painting; what the tin says goes before any figure here.".into());
    }
    if job.finish.lights > 0 {
        all.push("Stick-on lights: keep stored things clear of them, as far as the maker and the local code say; wired lights are for a licensed electrician.".into());
    }
    let off = taken_away(job);
    if !off.is_empty() {
        all.push(format!(
            "To take away: {}. Ask locally where it goes.",
            off.join(", ")
        ));
    }
    let cartons = job
        .runs
        .iter()
        .filter(|r| !r.has_boxes())
        .flat_map(|r| job.listed_frames(r))
        .filter(|f| f.carton.is_some())
        .count();
    if cartons > 0 && rules.areas.iter().any(|a| a.ground == Ground::Factory) {
        all.push(format!("{cartons} large cartons to flatten and take away."));
    }
    all
}
