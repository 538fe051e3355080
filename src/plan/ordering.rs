//! The day on which goods that are not in the store are ordered: the day the first task that needs them begins, less their days on the
//! way. Owns which task needs what, by the kind and the words of a row; a task waits for its own goods and no others.

use super::finishing::Rules;
use super::work::Schedule;
use crate::costs::{TaskTime, days_of};
use crate::model::compare::{BuyLine, BuyList, OrderBy};
use crate::model::{Hours, Job, PrefabKind, StockKind, StockRow};
use jiff::civil::Date;

/// Goods on the way: their line, the task that needs them, their days.
type OnTheWay = (usize, usize, u32);

/// Puts the dates on the lines, and the waiting into the work.
pub(super) fn date_orders(
    job: &Job,
    rules: &Rules,
    list: &mut BuyList,
    schedule: Option<&mut Schedule>,
) {
    let Some(date) = job.project.date else {
        if let Some(schedule) = schedule {
            for (_, stage, lead) in on_the_way(job, rules, list, schedule) {
                wait(&mut schedule.times, stage, lead);
            }
        }
        return;
    };
    let unknown = OrderBy {
        date: date.to_string(),
        task: String::new(),
        begins: None,
        past: false,
    };
    for line in list.lines.iter_mut().filter(|l| l.lead_days > 0) {
        line.order_by = Some(unknown.clone());
    }
    let Some(schedule) = schedule else { return };
    let all = on_the_way(job, rules, list, schedule);
    for &(_, stage, lead) in &all {
        wait(&mut schedule.times, stage, lead);
    }
    let Some(weekend) = job.labour.hours_a_weekend else {
        return;
    };
    for &(line, stage, lead) in &all {
        let found = order(date, weekend, schedule, &all, (stage, lead));
        if found.is_some() {
            list.lines[line].order_by = found;
        }
    }
}

fn wait(times: &mut [TaskTime], stage: usize, lead: u32) {
    if let Some(time) = times.get_mut(stage) {
        time.lead_days = time.lead_days.max(lead);
    }
}

fn on_the_way(job: &Job, rules: &Rules, list: &BuyList, schedule: &Schedule) -> Vec<OnTheWay> {
    let bought = |l: &&(usize, &BuyLine)| l.1.lead_days > 0 && !l.1.packs.is_empty();
    let lines: Vec<(usize, &BuyLine)> = list.lines.iter().enumerate().collect();
    lines
        .iter()
        .filter(bought)
        .map(|(i, l)| {
            (
                *i,
                first_task(job, rules, (&list.route, l), schedule),
                l.lead_days,
            )
        })
        .collect()
}

/// Counted back from the day its task begins. Where that day is so late only because the work waits for these goods (or for others as
/// long on the way), from the day it could begin with them there: a date before the job's own.
fn order(
    start: Date,
    weekend: Hours,
    schedule: &Schedule,
    all: &[OnTheWay],
    (stage, lead): (usize, u32),
) -> Option<OrderBy> {
    let begins = days_of(start, weekend, &schedule.times)?[stage][0];
    let mut times = schedule.times.clone();
    let quicker = all.iter().filter(|(_, s, l)| *s == stage && *l < lead);
    times[stage].lead_days = quicker.map(|a| a.2).max().unwrap_or(0);
    let could = days_of(start, weekend, &times)?[stage][0];
    let back = |day: Date| {
        day.checked_sub(jiff::Span::new().days(i64::from(lead)))
            .ok()
    };
    let early = back(could)?;
    let past = early < start;
    Some(OrderBy {
        date: if past { early } else { back(begins)? }.to_string(),
        task: schedule.stages[stage].what.clone(),
        begins: Some(begins.to_string()),
        past,
    })
}

/// The first task with hours that needs a line's goods; where none is known to, the first of all.
fn first_task(
    job: &Job,
    rules: &Rules,
    (route, line): (&str, &BuyLine),
    schedule: &Schedule,
) -> usize {
    let unit = job.prefab.iter().find(|u| u.unit == line.item);
    let row = line.packs.iter().find_map(|p| job.stock_row(&p.item));
    let keys: Vec<&str> = match (row.or_else(|| job.stock_row(&line.item)), unit) {
        (Some(row), _) => keys_of(job, rules, route, row),
        (None, Some(unit)) if unit.kind == PrefabKind::Frame => vec!["frames"],
        (None, Some(_)) => vec!["fittings", "frames"],
        (None, None) => Vec::new(),
    };
    let mut stages = schedule.stages.iter().zip(&schedule.times);
    let needs = |s: &[String]| s.iter().any(|k| keys.contains(&k.as_str()));
    stages
        .position(|(s, t)| t.hours.0 > 0 && needs(&s.keys))
        .unwrap_or(0)
}

/// Tasks that may need a row, by their keys in the table of hours, and coats by their names.
fn keys_of(job: &Job, rules: &Rules, route: &str, row: &StockRow) -> Vec<&'static str> {
    let what = row.what.to_lowercase();
    let has = |words: &[&str]| words.iter().any(|w| what.contains(w));
    let same = |item: &str| {
        let other = job.stock_row(item);
        other.is_some_and(|o| o.item == row.item || o.same_material(row))
    };
    match row.kind {
        StockKind::Sheet => vec!["sheets", "parts"],
        StockKind::Banding => vec!["banding"],
        StockKind::Moulding | StockKind::Board => {
            let of_box = |name: &str| {
                let mut runs = job.runs.iter().filter(|r| r.route == route);
                name == "base" || runs.any(|r| r.boxes.iter().any(|b| b.name == name))
            };
            let mut parts = job.route_parts(route);
            if parts.any(|p| same(&p.item) && of_box(&p.in_box)) {
                vec!["parts", "boxes", "base"]
            } else if row.kind == StockKind::Board || has(&["scribe"]) {
                vec!["scribes", "trim"]
            } else {
                vec!["trim"]
            }
        }
        StockKind::Paint => {
            let coat = rules
                .coats
                .iter()
                .filter(|(c, _)| c.item.as_deref().is_some_and(same));
            let named: Vec<&str> = coat.map(|(c, _)| c.what.as_str()).collect();
            let all = [
                "wall paint",
                "primer",
                "bonding primer",
                "paint",
                "oil",
                "clear finish",
            ];
            let known: Vec<&str> = all.into_iter().filter(|k| named.contains(k)).collect();
            match known.is_empty() {
                false => known,
                true if has(&["prim", "undercoat"]) => vec!["primer", "bonding primer"],
                true => vec!["paint", "oil", "clear finish"],
            }
        }
        StockKind::Tool if has(&["pin", "drilling guide"]) => vec!["pin_holes"],
        StockKind::Tool => vec!["sheets", "parts"],
        StockKind::Service => vec!["fetching"],
        StockKind::Hardware | StockKind::Consumable => {
            let words: [(&[&str], &[&'static str]); 9] = [
                (
                    &["handle", "knob", "pull"],
                    &["doors_hung", "drawers_in", "fittings"],
                ),
                (&["hinge"], &["doors"]),
                (&["slide"], &["drawers"]),
                (&["shim"], &["base", "setting"]),
                (&["light", "lamp"], &["lights"]),
                (&["caulk", "filler", "putty", "spackle"], &["holes"]),
                (&["disc", "pad", "sponge", "sandpaper"], &["filling"]),
                (&["rail", "rod", "shelf pin"], &["boxes", "fittings"]),
                (&["nail", "brad"], &["base", "setting", "scribes", "trim"]),
            ];
            let found = words.iter().find(|w| has(w.0) && !has(&["screw"]));
            let making: &[&str] = &["boxes", "frames", "base", "setting"];
            found.map_or(making, |w| w.1).to_vec()
        }
    }
}
