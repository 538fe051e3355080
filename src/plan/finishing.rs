//! A route filled, primed and painted: what the opening leaves around its boxes, the rules of the finish room, the cans as they
//! stand on the shopping list, and the steps.

use super::needs::needs;
use super::trimming::TrimPlan;
use crate::boxes::crosspieces;
use crate::costs::{TaskTime, days_of, shopping_list_with};
use crate::finish::{Around, Asked, coats, goods, lights, surfaces};
use crate::model::{
    Coat, FinishPlan, FinishStep, Ground, Hours, Job, NeedUnit, PaintedAt, Plan, Surface, WallSide,
};
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
    let mut steps = steps(job, &rules);
    let times: Vec<TaskTime> = steps
        .iter()
        .map(|s| TaskTime {
            hours: Hours((s.hours * 100.0).round() as i64),
            lead_days: 0,
            dry_hours: s.dry_hours,
        })
        .collect();
    let days = job
        .project
        .date
        .zip(job.labour.hours_a_weekend)
        .and_then(|(start, weekend)| days_of(start, weekend, &times));
    let mut load_from = None;
    for (step, day) in steps.iter_mut().zip(days.iter().flatten()) {
        (step.from, step.to) = (Some(day[0].to_string()), Some(day[1].to_string()));
        let loaded = day[1].checked_add(jiff::Span::new().hours(i64::from(CURE_HOURS) + 23));
        load_from = loaded.ok().map(|d| d.to_string());
    }
    FinishPlan {
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
        steps,
        load_from,
        cure_hours: CURE_HOURS,
        lights: lights(job, route),
    }
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

/// Steps in order. Hours: 120 sq ft an hour and coat with half an hour to set out and clean each time (published 80 to 120 for
/// shelves, common practice, no source); filling and sanding 0.9 h a hundred square feet.
fn steps(job: &Job, rules: &Rules) -> Vec<FinishStep> {
    let finish = &job.finish;
    let area = |pick: &dyn Fn(&Surface) -> bool| -> f64 {
        rules
            .areas
            .iter()
            .filter(|a| pick(a))
            .map(|a| a.sq_ft)
            .sum()
    };
    let wall = |a: &Surface| a.ground == Ground::Wall;
    let all = area(&|a| !wall(a));
    let flat = area(&|a| a.ground == Ground::Raw && a.at != PaintedAt::InPlace);
    let standing = area(&|a| !wall(a)) - flat;
    let factory = area(&|a| a.ground == Ground::Factory);
    let prime_later =
        area(&|a| a.at == PaintedAt::InPlace && matches!(a.ground, Ground::Raw | Ground::Factory))
            + area(&|a| a.at != PaintedAt::InPlace && a.ground == Ground::Factory);
    let painted = finish.look == "painted";
    let mut steps = Vec::new();
    let mut step = |what: &str, at, hours: f64, dry_hours| {
        if hours > 0.0 {
            steps.push(FinishStep {
                what: what.into(),
                at,
                hours: (hours * 100.0).round() / 100.0,
                dry_hours,
                from: None,
                to: None,
            });
        }
    };
    let coat = |sq_ft: f64| {
        if sq_ft > 0.0 {
            sq_ft / 120.0 + 0.5
        } else {
            0.0
        }
    };
    let fill = |sq_ft: f64| sq_ft * 0.009;
    let (bench, place) = (PaintedAt::Bench, PaintedAt::InPlace);
    let walls = area(&wall);
    for n in 1..=finish.top_coats {
        step(
            &format!("walls and ceiling before anything is set, coat {n}"),
            place,
            coat(walls),
            finish.hours_between_coats,
        );
    }
    step(
        "sand the boards flat; keep glue faces bare",
        bench,
        fill(flat),
        0,
    );
    if painted {
        for n in 1..=finish.primer_coats {
            step(
                &format!("prime boards, shelves and doors flat, coat {n}"),
                bench,
                coat(flat),
                finish.hours_between_coats,
            );
        }
    }
    step(
        "fill holes, sand, caulk, once everything is fixed and trimmed",
        place,
        fill(standing) + if all > 0.0 { 1.0 } else { 0.0 },
        0,
    );
    if painted {
        let words = if factory > 0.0 {
            "scuff factory gloss dull, wipe, bonding primer on it; prime bare strips"
        } else {
            "prime bare strips and filled holes"
        };
        step(
            words,
            place,
            if finish.primer_coats > 0 || factory > 0.0 {
                coat(prime_later)
            } else {
                0.0
            },
            finish.hours_between_coats,
        );
    }
    for n in 1..=finish.top_coats {
        let sand = if n > 1 && finish.sand_between {
            "sand lightly, then "
        } else {
            ""
        };
        step(
            &format!(
                "{sand}coat {n}: boxes and trim in place; loose shelves, doors and rails apart, clips off"
            ),
            place,
            coat(all),
            finish.hours_between_coats,
        );
    }
    steps
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
    if let Some(now) = job
        .opening
        .as_ref()
        .map(|o| &o.now)
        .filter(|n| !n.comes_off.is_empty())
    {
        all.push(format!(
            "To take away: {}. Ask locally where it goes.",
            now.comes_off.join(", ")
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
