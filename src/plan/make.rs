//! Plans a whole route: asks the optimisers material by material, puts the cuts in working order, numbers the plan, and
//! shows it to the referee before anyone sees it.

use super::loading::ask_the_store;
use super::number::plan_number;
use super::stick_lengths::for_the_car;
use super::tasks::{Ask, MaterialTask, tasks};
use super::unplaced::{why_no_stick, why_unplaced};
use super::why::{why_sheets, why_sticks, without_proof};
use crate::car::way_home;
use crate::model::certificate::Certificate;
use crate::model::task::{SheetAnswer, SheetTask, SolveOptions, StickAnswer, StickTask};
use crate::model::{ItemResult, Job, Plan, SheetPlan, StickPlan, Unplaced};
use crate::referee::{self, Fault};
use crate::sheets::order::{OrderRules, cautions, order_work, unmatched};
use crate::solve::threads;
use crate::units::Cents;
use crate::{sheets, sticks};
use std::cmp::Reverse;
use std::sync::Mutex;

/// How far a long plan has come.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Progress {
    /// The material being planned.
    pub item: String,
    /// Pieces to buy in the best plan so far; `None` before the first.
    pub sheets: Option<u32>,
    /// What no plan can go below.
    pub at_least: u32,
}

/// A plan and what to say beside it.
#[derive(Clone, PartialEq, Debug)]
pub struct Outcome {
    /// The plan, passed by the referee.
    pub plan: Plan,
    /// What she should know before she cuts.
    pub cautions: Vec<String>,
    /// What can hurt at the saw, by the steps of the settings page. The book finds its own words on each page.
    pub at_the_saw: Vec<String>,
    /// Sticks that were taken shorter for the car; these stand among the cautions, too.
    pub on_sticks: Vec<String>,
}

/// Why there is no plan.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum PlanError {
    /// The referee refused it: our fault, nothing is written.
    #[error("the plan did not pass the check of our own referee: {}", .0.join("; "))]
    Refused(Vec<String>),
    /// The route is not one of the job's.
    #[error("there is no route {route:?}; the routes are {}", .known.join(", "))]
    UnknownRoute {
        /// As asked for.
        route: String,
        /// The routes there are.
        known: Vec<String>,
    },
}

/// How often sheets with a store cut that would miss give up theirs, before all of their material do.
const SHEETS_GIVEN_UP: usize = 3;

/// Plans a route of a job. The same job and options give the same plan, whatever the number of threads.
pub fn make_plan(
    job: &Job,
    route: &str,
    options: &SolveOptions,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Result<Outcome, PlanError> {
    if !job.routes().contains(&route) {
        let known = job.routes().into_iter().map(String::from).collect();
        return Err(PlanError::UnknownRoute {
            route: route.into(),
            known,
        });
    }
    let (asked, mut said) = tasks(job, route);
    let mut at_the_saw = Vec::new();
    let mut plan = Plan::empty(route, job.saw.kerf);
    let mut solved = solve_all(asked, options, progress);
    let on_sticks = for_the_car(job, route, &mut solved, options);
    let as_planned = solved.clone();
    at_the_store(job, &mut solved, options, &[]);
    let empty = plan.clone();
    compose(job, &mut plan, &mut at_the_saw, solved.clone());
    let mut faults = referee::check_plan(job, route, &plan)
        .err()
        .unwrap_or_default();
    // In working order a cut may have to be measured from an edge that is sawn already, and is then less true than was reckoned.
    // Better no cut at the store than one that may miss: first the sheets where that is so give up theirs, then their materials,
    // then all.
    let mut missed: Vec<SheetPlan> = Vec::new();
    for _ in 0..SHEETS_GIVEN_UP {
        let more = missing(&solved, &faults);
        if more.is_empty() {
            break;
        }
        missed.extend(more);
        solved.clone_from(&as_planned);
        at_the_store(job, &mut solved, options, &missed);
        (plan, at_the_saw) = (empty.clone(), Vec::new());
        compose(job, &mut plan, &mut at_the_saw, solved.clone());
        faults = referee::check_plan(job, route, &plan)
            .err()
            .unwrap_or_default();
    }
    for whole in [false, true] {
        if !faults.iter().any(|f| matches!(f, Fault::StoreCut { .. })) {
            break;
        }
        for (now, before) in solved.iter_mut().zip(&as_planned) {
            if whole || misses(job, now, &plan, &faults) {
                now.clone_from(before);
            }
        }
        (plan, at_the_saw) = (empty.clone(), Vec::new());
        compose(job, &mut plan, &mut at_the_saw, solved.clone());
        faults = referee::check_plan(job, route, &plan)
            .err()
            .unwrap_or_default();
    }
    if withdraw(&mut plan, &faults) {
        plan.plan_number = plan_number(&plan);
        faults = referee::check_plan(job, route, &plan)
            .err()
            .unwrap_or_default();
    }
    if !faults.is_empty() {
        return Err(PlanError::Refused(
            faults.iter().map(ToString::to_string).collect(),
        ));
    }
    let way = way_home(job, &plan, None);
    let stays = way.iter().flat_map(|w| &w.stays).filter(|s| !s.delivered);
    said.extend(stays.map(|s| s.sentence(&job.project.tape)));
    said.extend(super::out_of_step::out_of_step(job));
    said.extend(on_sticks.iter().cloned());
    Ok(Outcome {
        plan,
        cautions: said,
        at_the_saw,
        on_sticks,
    })
}

/// Store cuts for what is bought, but for layouts that would be cut as `missed`.
fn at_the_store(
    job: &Job,
    solved: &mut [(MaterialTask, Answer)],
    options: &SolveOptions,
    missed: &[SheetPlan],
) {
    let mut on_sheets: Vec<(&SheetTask, &mut SheetAnswer)> = solved
        .iter_mut()
        .filter_map(|(asked, answer)| match (&asked.ask, answer) {
            (Ask::Sheets(task), Answer::Sheets(answer)) => Some((task, answer)),
            _ => None,
        })
        .collect();
    ask_the_store(job, &mut on_sheets, options, missed);
}

/// The layouts with a store cut that would miss, as they were answered.
fn missing(solved: &[(MaterialTask, Answer)], faults: &[Fault]) -> Vec<SheetPlan> {
    let sheets = solved.iter().flat_map(|(_, answer)| match answer {
        Answer::Sheets(answer) => answer.sheets.as_slice(),
        Answer::Sticks(_) => &[],
    });
    let at_fault = |i: &usize| {
        let is = |f: &Fault| matches!(f, Fault::StoreCut { sheet, .. } if sheet == i);
        faults.iter().any(is)
    };
    let all = sheets.enumerate().filter(|(i, _)| at_fault(i));
    all.map(|(_, s)| s.clone()).collect()
}

/// True where one of the store cuts that would miss is on a sheet of this material.
fn misses(job: &Job, one: &(MaterialTask, Answer), plan: &Plan, faults: &[Fault]) -> bool {
    let ours = |item: &str| {
        let rows = job.stock_row(item).zip(job.stock_row(&one.0.item));
        rows.is_some_and(|(a, b)| a.same_material(b))
    };
    faults.iter().any(|f| match f {
        Fault::StoreCut { sheet, .. } => plan.sheets.get(*sheet).is_some_and(|s| ours(&s.item)),
        _ => false,
    })
}

/// Puts the answers together and numbers the plan.
fn compose(
    job: &Job,
    plan: &mut Plan,
    at_the_saw: &mut Vec<String>,
    solved: Vec<(MaterialTask, Answer)>,
) {
    for (MaterialTask { item, ask }, answer) in solved {
        match (ask, answer) {
            (Ask::Sheets(task), Answer::Sheets(answer)) => {
                add_sheets(job, plan, at_the_saw, &item, &task, answer);
            }
            (Ask::Sticks(task), Answer::Sticks(answer)) => {
                add_sticks(job, plan, &item, &task, answer);
            }
            _ => unreachable!("each is answered in its own kind"),
        }
    }
    plan.plan_number = plan_number(plan);
}

#[derive(Clone)]
pub(super) enum Answer {
    Sheets(SheetAnswer),
    Sticks(StickAnswer),
}

/// Answers in the order asked. The materials do not know of each other, so they are worked on side by side, the one with
/// most pieces first.
fn solve_all(
    asked: Vec<MaterialTask>,
    options: &SolveOptions,
    progress: &mut (dyn FnMut(Progress) + Send),
) -> Vec<(MaterialTask, Answer)> {
    let told = Mutex::new(progress);
    // Sticks take milliseconds; the threads are for the sheets.
    let heavy = asked.iter().filter(|a| pieces(&a.ask) > 0).count();
    let each = SolveOptions {
        threads: (options.threads / heavy.max(1)).max(1),
        ..*options
    };
    let mut order: Vec<usize> = (0..asked.len()).collect();
    order.sort_by_key(|i| Reverse(pieces(&asked[*i].ask)));
    let answers = threads::map(options.threads, order.clone(), |i| match &asked[i].ask {
        Ask::Sheets(task) => Answer::Sheets(sheets::solve(task, &each, &mut |p| {
            let progress = Progress {
                item: asked[i].item.clone(),
                sheets: (p.unplaced == 0).then_some(p.sheets),
                at_least: p.at_least,
            };
            if let Ok(mut tell) = told.lock() {
                tell(progress);
            }
        })),
        Ask::Sticks(task) => Answer::Sticks(sticks::solve(task, &each)),
    });
    let mut answers: Vec<(usize, Answer)> = order.into_iter().zip(answers).collect();
    answers.sort_by_key(|(i, _)| *i);
    asked
        .into_iter()
        .zip(answers.into_iter().map(|(_, a)| a))
        .collect()
}

fn pieces(ask: &Ask) -> u64 {
    match ask {
        Ask::Sheets(task) => task.pieces.iter().map(|p| u64::from(p.count)).sum(),
        // A few milliseconds, whatever there is.
        Ask::Sticks(_) => 0,
    }
}

/// Takes back the claims whose certificates are too large for the referee to check: the layouts stand, the bound falls to
/// what the referee could show without a certificate. True if anything was taken back.
pub(super) fn withdraw(plan: &mut Plan, faults: &[Fault]) -> bool {
    let mut any = false;
    for fault in faults {
        let Fault::Uncheckable { item } = fault else {
            continue;
        };
        let Some(result) = plan.items.iter_mut().find(|r| r.item == *item) else {
            continue;
        };
        any = true;
        for bound in faults {
            let Fault::BoundTooHigh {
                item: of,
                claimed,
                shown,
            } = bound
            else {
                continue;
            };
            if of != item {
                continue;
            }
            if i64::from(result.at_least) == *claimed {
                result.at_least = u32::try_from(*shown).unwrap_or(0);
            } else if result.cost_at_least_cents == Some(Cents(*claimed)) {
                result.cost_at_least_cents = Some(Cents(*shown));
            }
        }
        result.proved = false;
        result.proof = Certificate::None;
        result.why = without_proof(result.sheets, result.at_least, result.searched);
    }
    any
}

pub(super) fn add_sheets(
    job: &Job,
    plan: &mut Plan,
    said: &mut Vec<String>,
    item: &str,
    task: &SheetTask,
    answer: SheetAnswer,
) {
    let tape = &job.project.tape;
    for u in &answer.unplaced {
        let piece = &task.pieces[u.piece];
        plan.unplaced.push(Unplaced {
            mark: piece.mark.clone(),
            count: u.count,
            why: why_unplaced(tape, task, item, u),
        });
    }
    let bought = bought(
        &answer
            .sheets
            .iter()
            .map(|s| (s.item.as_str(), s.rack.is_some(), s.count))
            .collect::<Vec<_>>(),
        |i| {
            task.kinds
                .iter()
                .find(|k| k.item == i && k.rack.is_none())
                .map(|k| (k.have, k.cost))
        },
    );
    let why = why_sheets(task, &answer, bought.pieces, tape);
    let sizes = task.kinds.iter().filter(|k| k.rack.is_none()).count();
    plan.items.push(ItemResult {
        item: item.into(),
        sheets: bought.pieces,
        at_least: answer.at_least,
        proved: answer.proved && answer.certificate != Certificate::None,
        why,
        cost_cents: bought.cost,
        cost_at_least_cents: answer.cost_at_least.filter(|_| sizes > 1),
        searched: answer.searched,
        proof: answer.certificate,
    });
    let mut laid: Vec<SheetPlan> = answer.sheets;
    let rules = OrderRules {
        item: item.into(),
        kerf: task.kerf,
        first_sheet: plan.sheets.len(),
        first_setting: u32::try_from(plan.settings.len() + 1).unwrap_or(u32::MAX),
        narrowest_safe_rip: job.saw.narrowest_safe_rip,
        longest_rip: job.saw.longest_rip,
        largest_alone: job.saw.largest_alone,
        matched: task
            .pieces
            .iter()
            .filter_map(|p| Some((p.mark.clone(), p.match_group?)))
            .collect(),
    };
    let settings = order_work(&mut laid, &rules);
    said.extend(
        cautions(&laid, &settings, &rules)
            .iter()
            .map(|c| c.sentence(tape)),
    );
    said.extend(
        unmatched(&laid, &settings, &rules)
            .iter()
            .map(|u| u.sentence(tape)),
    );
    plan.settings.extend(settings);
    plan.sheets.extend(laid);
}

fn add_sticks(job: &Job, plan: &mut Plan, item: &str, task: &StickTask, answer: StickAnswer) {
    let tape = &job.project.tape;
    for u in &answer.unplaced {
        let piece = &task.pieces[u.piece];
        plan.unplaced.push(Unplaced {
            mark: piece.mark.clone(),
            count: u.count,
            why: why_no_stick(tape, task, item, u),
        });
    }
    let bought = bought_sticks(task, &answer.sticks);
    let sizes = task.kinds.iter().filter(|k| k.rack.is_none()).count();
    plan.items.push(ItemResult {
        item: item.into(),
        sheets: bought.pieces,
        at_least: answer.at_least,
        proved: answer.proved && answer.certificate != Certificate::None,
        why: why_sticks(task, &answer, bought.pieces, tape),
        cost_cents: bought.cost,
        cost_at_least_cents: answer.cost_at_least.filter(|_| sizes > 1),
        searched: answer.searched,
        proof: answer.certificate,
    });
    plan.sticks.extend(answer.sticks);
}

/// Pieces bought and what they cost.
pub(super) struct Bought {
    pub(super) pieces: u32,
    pub(super) cost: Option<Cents>,
}

/// What is bought of each row: used less in hand; rack pieces cost nothing. `of` gives (in hand, price) of a row.
fn bought(used: &[(&str, bool, u32)], of: impl Fn(&str) -> Option<(u32, Option<Cents>)>) -> Bought {
    let mut rows: Vec<(&str, u32)> = Vec::new();
    for (item, rack, count) in used {
        if *rack {
            continue;
        }
        match rows.iter_mut().find(|(i, _)| i == item) {
            Some((_, n)) => *n += count,
            None => rows.push((item, *count)),
        }
    }
    let mut sum = Bought {
        pieces: 0,
        cost: Some(Cents::ZERO),
    };
    for (item, used) in rows {
        let (have, price) = of(item).unwrap_or((0, None));
        let buy = used.saturating_sub(have);
        sum.pieces += buy;
        if buy > 0 {
            sum.cost = sum.cost.zip(price).map(|(a, p)| a + p * i64::from(buy));
        }
    }
    sum
}

/// Sticks of one row may have several lengths (sold by the foot), so they are priced kind by kind.
pub(super) fn bought_sticks(task: &StickTask, used: &[StickPlan]) -> Bought {
    let mut sum = Bought {
        pieces: 0,
        cost: Some(Cents::ZERO),
    };
    for kind in task.kinds.iter().filter(|k| k.rack.is_none()) {
        let n: u32 = used
            .iter()
            .filter(|s| s.rack.is_none() && s.item == kind.item && s.length == kind.length)
            .map(|s| s.count)
            .sum();
        let buy = n.saturating_sub(kind.have);
        sum.pieces += buy;
        if buy > 0 {
            sum.cost = sum.cost.zip(kind.cost).map(|(a, p)| a + p * i64::from(buy));
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A claim nobody can check is not made; the layouts stay, and the bound falls to what was shown.
    #[test]
    fn a_certificate_too_large_to_check_is_withdrawn() {
        let result = ItemResult {
            item: "BIR-18".into(),
            sheets: 9,
            at_least: 9,
            proved: true,
            why: "shown".into(),
            cost_cents: Some(Cents(900)),
            cost_at_least_cents: Some(Cents(900)),
            searched: 5,
            proof: Certificate::NothingToBuy,
        };
        let other = ItemResult {
            item: "BIR-6".into(),
            ..result.clone()
        };
        let mut plan = Plan {
            format: String::new(),
            plan_number: String::new(),
            length_unit: String::new(),
            route: String::new(),
            kerf: crate::units::Length::ZERO,
            sheets: Vec::new(),
            sticks: Vec::new(),
            unplaced: Vec::new(),
            items: vec![result, other.clone()],
            settings: Vec::new(),
        };
        let item = || "BIR-18".to_string();
        let faults = [
            Fault::Uncheckable { item: item() },
            Fault::BoundTooHigh {
                item: item(),
                claimed: 9,
                shown: 8,
            },
            Fault::BoundTooHigh {
                item: item(),
                claimed: 900,
                shown: 800,
            },
        ];
        assert!(
            !withdraw(&mut plan, &faults[1..]),
            "a bound that is simply wrong stays a fault"
        );
        assert!(withdraw(&mut plan, &faults));
        let taken_back = &plan.items[0];
        assert_eq!((taken_back.proved, taken_back.at_least), (false, 8));
        assert_eq!(taken_back.cost_at_least_cents, Some(Cents(800)));
        assert_eq!(taken_back.proof, Certificate::None);
        assert_eq!(plan.items[1], other, "another material is left alone");
    }
}
