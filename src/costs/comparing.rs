//! All routes side by side: the table, the flips, the moves, the verdict and the sentences under it.
//!
//! Owns which two routes are held against each other (the cheapest and the next) and when there is no verdict.

use super::flips::flips;
use super::held::{Held, held, lacks_that_matter, use_said};
use super::hours::{sum_of, unknown_takes};
use super::pair::Pair;
use super::route::{Priced, RouteFacts, groups_of, hours_cost, once_each};
use super::verdict::{capital, verdict};
use crate::model::compare::{Comparison, Verdict, VerdictWord};
use crate::model::{Job, Plan};
use crate::units::Cents;

/// Carries every route through the same sums. Where `missing` is not empty a verdict would mislead.
pub fn compare(job: &Job, plans: &[(&str, &Plan)]) -> Comparison {
    compare_with(job, plans, &[])
}

/// The same with what other rooms know of the routes: wants met, derived hours, tasks and amounts.
pub fn compare_with(job: &Job, plans: &[(&str, &Plan)], facts: &[RouteFacts]) -> Comparison {
    let none = RouteFacts::default();
    let routes: Vec<Priced> = plans
        .iter()
        .map(|(route, plan)| {
            let facts = facts.iter().find(|f| f.route == *route).unwrap_or(&none);
            Priced::new(job, route, plan, facts)
        })
        .collect();
    let rate = job.labour.rate;
    let groups = groups_of(&routes);
    let mut missing = once_each(&routes);
    if rate.is_none() && routes.len() > 1 {
        missing.push("project.toml, [labour] rate: what is an hour of yours worth to you? 0 is a fair answer".into());
    }
    let mut result = Comparison {
        routes: routes.iter().map(|r| r.shown(&groups, rate)).collect(),
        flips: Vec::new(),
        moves: Vec::new(),
        verdict: Verdict {
            word: VerdictWord::None,
            sentence: String::new(),
        },
        says: Vec::new(),
        missing,
    };
    hours_said(job, &routes, &mut result.says);
    let priced = routes.iter().all(|r| r.bought.list.missing.is_empty());
    let timed = routes.iter().all(|r| r.hours.is_some());
    if let (Some(pair), true, true) = (cheapest_two(&routes, rate), priced, timed) {
        result.flips = flips(&pair, rate.is_some());
        if rate.is_some() {
            let ends = job.labour.rate_low.zip(job.labour.rate_high);
            result.moves = pair.moves(ends.map(|(low, high)| [low, high]));
        }
        says(&pair, routes.len(), rate.is_some(), &mut result.says);
        let lacks = lacks_that_matter(&pair);
        let not_placed = [pair.winner, pair.other].into_iter().find(|r| r.not_placed);
        let short: Vec<&str> = routes
            .iter()
            .filter(|r| r.met == Some(false))
            .map(|r| r.name.as_str())
            .collect();
        let outside = routes.iter().find(|r| r.fits == Some(false));
        result.verdict = if let Some(route) = outside {
            // The first reason; `fit` has them all.
            let why = route.why_not.as_deref().and_then(|w| w.split(". ").next());
            let why = why.map_or(String::new(), |w| format!(": {}", w.trim_end_matches('.')));
            no_verdict(&format!("{} does not go in{why}", route.name))
        } else if !short.is_empty() {
            no_verdict(&format!(
                "{} {} short of what you want",
                short.join(" and "),
                if short.len() == 1 { "falls" } else { "fall" }
            ))
        } else if rate.is_none() {
            no_verdict(&format!(
                "no rate is given for an hour of yours; {}",
                result.flips[0].says
            ))
        } else if let Some(route) = not_placed {
            no_verdict(&format!(
                "readings or sizes are missing to place {} in the opening",
                route.name
            ))
        } else if !lacks.is_empty() {
            let why = no_verdict(&format!("without a price: {}", lacks.join("; ")));
            result.missing.extend(lacks);
            why
        } else if let Held::FarLess(_) = held(&pair) {
            no_verdict(&format!(
                "{} is the cheaper, and gives under half of the use of {}",
                pair.winner.name, pair.other.name
            ))
        } else {
            verdict(&pair)
        };
        if let Some(used) = use_said(&pair) {
            let sentence = &mut result.verdict.sentence;
            sentence.push(' ');
            sentence.push_str(&used);
        }
    } else {
        result.verdict = match &routes[..] {
            [] => no_verdict("there is no route to price"),
            [one] => no_verdict(&format!(
                "{} is the only route, and there is nothing to hold it against",
                one.name
            )),
            _ => no_verdict(&format!("missing: {}", result.missing.join("; "))),
        };
    }
    result
}

/// Where her hours of a route stand in for those of the table, and tasks of hers that the table does not know.
fn hours_said(job: &Job, routes: &[Priced], out: &mut Vec<String>) {
    for route in routes {
        let table = sum_of(&route.by_task);
        if let (Some(table), Some(used)) = (table, route.hours)
            && table != used
        {
            out.push(format!(
                "{}: your {} hours, instead of {} by the table.",
                route.name,
                used.0 as f64 / 100.0,
                table.0 as f64 / 100.0
            ));
        }
    }
    let unknown = unknown_takes(job);
    if !unknown.is_empty() {
        out.push(format!(
            "[labour.takes] names what the table does not: {}.",
            unknown.join(", ")
        ));
    }
}

fn no_verdict(why: &str) -> Verdict {
    Verdict {
        word: VerdictWord::None,
        sentence: format!("No verdict: {why}."),
    }
}

/// The cheapest route and the next, in money and time at her rate (in money where she gave none).
fn cheapest_two(routes: &[Priced], rate: Option<Cents>) -> Option<Pair<'_>> {
    let rate = rate.unwrap_or(Cents::ZERO);
    let mut order: Vec<(i64, usize)> = routes
        .iter()
        .enumerate()
        .filter_map(|(i, r)| {
            let money = r.money(&|_, p| p.likely.0)?;
            Some((money + hours_cost(r.hours?, rate).0, i))
        })
        .collect();
    order.sort_unstable();
    let [(_, winner), (_, other), ..] = order[..] else {
        return None;
    };
    Some(Pair {
        winner: &routes[winner],
        other: &routes[other],
        rate,
    })
}

/// Hundredths of an hour as hours, without noughts at the end.
fn in_hours(hundredths: i64) -> String {
    let (whole, rest) = (hundredths / 100, hundredths % 100);
    match (rest, rest % 10) {
        (0, _) => whole.to_string(),
        (_, 0) => format!("{whole}.{}", rest / 10),
        _ => format!("{whole}.{rest:02}"),
    }
}

fn says(pair: &Pair, routes: usize, rated: bool, out: &mut Vec<String>) {
    let (a, b) = (pair.winner, pair.other);
    if routes > 2 {
        out.push(format!(
            "Of {routes} routes the cheapest, {}, is held against the next, {}.",
            a.name, b.name
        ));
    }
    let money = |r: &Priced| r.money(&|_, p| p.likely.0).unwrap_or(0);
    let (less, more) = if money(a) <= money(b) { (a, b) } else { (b, a) };
    let gap = Cents(money(more) - money(less)).print();
    let hours = |r: &Priced| r.hours.map_or(0, |h| h.0);
    let extra = hours(less) - hours(more);
    let time = match extra {
        e if e > 0 => format!("takes {} more hours", in_hours(e)),
        e if e < 0 => format!("takes {} fewer hours", in_hours(-e)),
        _ => "takes as many hours".into(),
    };
    out.push(format!(
        "{} costs {gap} less in money than {} and {time}.",
        capital(&less.name),
        more.name
    ));
    if let (Some(x), Some(y)) = (&a.done, &b.done)
        && x != y
    {
        // ISO dates compare as they read.
        let (first, last) = if x < y { (a, b) } else { (b, a) };
        out.push(format!(
            "{} is done on {}, {} on {}.",
            capital(&first.name),
            first.done.as_deref().unwrap_or_default(),
            last.name,
            last.done.as_deref().unwrap_or_default()
        ));
    }
    if rated && let Some(worst) = pair.ahead_at_worst() {
        out.push(if worst > 0 {
            format!(
                "With every price at its worst for it, and the hours of the route you build too, {} is still {} ahead.",
                a.name,
                Cents(worst).print()
            )
        } else {
            format!(
                "With every price at its worst for it, and the hours of the route you build too, {} falls {} behind.",
                a.name,
                Cents(-worst).print()
            )
        });
    }
}
