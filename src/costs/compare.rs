//! Routes side by side: each carried to the same finish line, the cheapest held against the others, and what to say of it.
//!
//! Owns the order of things and what counts as missing; sums are `route`'s, what-ifs `flips`', words `verdict`'s.

use super::dates::TaskTime;
use super::demand::DerivedNeed;
use super::flips::Pair;
use super::rack::rack_worth;
use super::route::{RouteSum, likely};
use super::shopping::Group;
use super::verdict::{Held, none};
use crate::model::compare::Comparison;
use crate::model::{Job, Plan};
use crate::units::Cents;

/// A route and what other rooms know of it.
#[derive(Clone, Debug)]
pub struct RouteInput<'a> {
    /// Its name.
    pub route: &'a str,
    /// Its plan.
    pub plan: &'a Plan,
    /// Amounts that rules give (paint from areas, screws from joints).
    pub needs: Vec<DerivedNeed>,
    /// Its tasks in order; empty = not known. Her `[labour.hours]` wins over their sum.
    pub tasks: Vec<TaskTime>,
    /// True if it gives what she wants; `None` = not known.
    pub met: Option<bool>,
}

/// Holds routes against each other by their plans and her files alone.
pub fn compare(job: &Job, plans: &[(&str, &Plan)]) -> Comparison {
    let inputs: Vec<RouteInput> = plans
        .iter()
        .map(|&(route, plan)| RouteInput {
            route,
            plan,
            needs: Vec::new(),
            tasks: Vec::new(),
            met: None,
        })
        .collect();
    compare_with(job, &inputs)
}

/// The same with what other rooms know of each route.
///
/// The cheapest by money and time is held against every other; what is told is of the one that leaves most doubt, the
/// next in price where several leave as much.
pub fn compare_with(job: &Job, inputs: &[RouteInput]) -> Comparison {
    let sums: Vec<RouteSum> = inputs.iter().map(|i| RouteSum::of(job, i)).collect();
    let rate = job.labour.rate;
    let mut missing: Vec<String> = Vec::new();
    if rate.is_none() && !sums.is_empty() {
        missing.push(
            "project.toml, [labour] rate: what an hour of yours is worth is not given (0 is a fair answer)"
                .into(),
        );
    }
    for what in sums.iter().flat_map(|s| &s.missing) {
        if !missing.contains(what) {
            missing.push(what.clone());
        }
    }
    let used = |group: Group| {
        let mut lines = sums.iter().flat_map(|s| &s.bought.list.lines);
        lines.any(|l| l.group == group.word())
    };
    let routes: Vec<_> = sums.iter().map(|s| s.shown(rate, &used)).collect();

    // By total where known, else as she named them.
    let mut order: Vec<usize> = (0..sums.len()).collect();
    order.sort_by_key(|&i| routes[i].total_cents.map_or((1, 0), |c| (0, c.0)));
    let pairs: Vec<Pair> = order
        .iter()
        .skip(1)
        .map(|&i| Pair {
            lead: &sums[order[0]],
            other: &sums[i],
            rate,
        })
        .collect();
    let mut told: Option<Held> = None;
    for held in pairs.iter().filter_map(|p| Held::of(*p)) {
        if told.as_ref().is_none_or(|t| held.doubt() > t.doubt()) {
            told = Some(held);
        }
    }
    let pair = told.as_ref().map(|h| h.pair).or(pairs.first().copied());
    let short = sums.iter().find(|s| s.met == Some(false));
    let verdict = match (&sums[..], &told, short) {
        ([], ..) => none("there is no route to cost"),
        ([one], ..) => none(&format!(
            "{} is the only route, with nothing to hold it against",
            one.name
        )),
        (_, _, Some(s)) => none(&format!("{} does not give what is wanted", s.name)),
        (_, Some(held), _) if missing.is_empty() => held.verdict(),
        _ => none(&match missing.as_slice() {
            [] => "the sums cannot be made".into(),
            [one] => one.clone(),
            [first, rest @ ..] => format!("{first}, and {} more missing", rest.len()),
        }),
    };
    Comparison {
        flips: pair.map_or_else(Vec::new, |p| p.flips()),
        moves: told.map_or_else(Vec::new, |h| {
            h.swings.into_iter().map(|s| s.shown).collect()
        }),
        says: says(job, inputs, pair.as_ref()),
        routes,
        verdict,
        missing,
    }
}

/// What else is worth saying: money against hours, cash alone, and leftovers, which are worth nothing in the totals.
fn says(job: &Job, inputs: &[RouteInput], pair: Option<&Pair>) -> Vec<String> {
    let mut all = Vec::new();
    if let Some(p) = pair {
        if let (Some(cash), Some(hours)) = (p.cash_ahead(), p.more_hours()) {
            let money = match cash {
                0 => "as much in cash".into(),
                c if c > 0 => format!("{} less in cash", Cents(c).print()),
                c => format!("{} more in cash", Cents(c.saturating_neg()).print()),
            };
            let hours = match hours {
                h if h > 0.0 => format!("{h:.1} h more"),
                h if h < 0.0 => format!("{:.1} h fewer", -h),
                _ => "as many hours".into(),
            };
            all.push(format!(
                "{} costs {money} than {} and takes {hours}.",
                p.lead.name, p.other.name
            ));
        }
        all.extend(p.cash_alone());
        if p.lead.money(&likely).is_none() || p.other.money(&likely).is_none() {
            all.push("Without every price and the tax no total is made.".into());
        }
    }
    for input in inputs {
        for worth in rack_worth(job, input.plan) {
            let cents = worth.cents.map_or_else(String::new, |c| {
                format!(", worth about {} if you use them", c.print())
            });
            all.push(format!(
                "{}: left for the rack of {}: {}, {:.1} {}{cents} (in no total).",
                input.route, worth.item, worth.pieces, worth.amount, worth.unit
            ));
        }
    }
    all
}
