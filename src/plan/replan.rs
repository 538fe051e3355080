//! Plans the rest of a route from the middle: what is cut stays cut, what is left is planned on first. Like every plan it
//! leaves this room only past the referee.

use super::make::{Outcome, PlanError, Progress, add_sheets, withdraw};
use super::number::plan_number;
use super::tasks::{Ask, MaterialTask, tasks};
use crate::model::midway::{Done, Midway};
use crate::model::task::{SolveOptions, StickTask};
use crate::model::{Job, Plan};
use crate::{referee, sheets};

/// A plan for the rest.
#[derive(Clone, PartialEq, Debug)]
pub struct Rest {
    /// Made, left and opened.
    pub midway: Midway,
    /// The plan of what is still to be cut. A sheet whose `rack` is the mark of one of `midway.pieces` is that piece. Sticks
    /// stand as they were planned.
    pub outcome: Outcome,
}

/// Why there is none.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum RestError {
    /// What is said to be done does not follow from the plan.
    #[error(transparent)]
    Midway(#[from] sheets::MidwayError),
    /// As for a whole plan.
    #[error(transparent)]
    Plan(#[from] PlanError),
}

/// Plans what is still to be cut of a route after `done` of the plan `before`, at least cost: from the pieces that are left,
/// the rack and new sheets. With nothing spoiled it costs no more than carrying on, and carries on where nothing is gained.
pub fn plan_rest(
    job: &Job,
    route: &str,
    (before, done): (&Plan, &Done),
    options: &SolveOptions,
    progress: &mut dyn FnMut(Progress),
) -> Result<Rest, RestError> {
    if !job.routes().contains(&route) {
        let known = job.routes().into_iter().map(String::from).collect();
        let route = route.into();
        return Err(PlanError::UnknownRoute { route, known }.into());
    }
    let (asked, said) = tasks(job, route);
    let mut midway = Midway::default();
    let mut at_the_saw = Vec::new();
    let mut plan = Plan::empty(route, job.saw.kerf);
    for MaterialTask { item, ask } in asked {
        match ask {
            Ask::Sheets(task) => {
                let stand = sheets::midway(&task, &before.sheets, done)?;
                let replan = sheets::replan(&task, &stand, options, &mut |p| {
                    progress(Progress {
                        item: item.clone(),
                        sheets: (p.unplaced == 0).then_some(p.sheets),
                        at_least: p.at_least,
                    });
                });
                midway.made.extend(stand.midway.made);
                midway.pieces.extend(stand.midway.pieces);
                midway.opened.extend(stand.midway.opened);
                let (task, answer) = (&replan.task, replan.answer);
                add_sheets(job, &mut plan, &mut at_the_saw, &item, task, answer);
            }
            Ask::Sticks(task) => as_before(before, &item, &task, &mut plan),
        }
    }
    plan.plan_number = plan_number(&plan);
    let check = |plan: &Plan| {
        let checked = referee::check_rest(job, route, before, (done, &midway), plan);
        checked.err().unwrap_or_default()
    };
    let mut faults = check(&plan);
    if withdraw(&mut plan, &faults) {
        plan.plan_number = plan_number(&plan);
        faults = check(&plan);
    }
    if !faults.is_empty() {
        let faults = faults.iter().map(ToString::to_string).collect();
        return Err(PlanError::Refused(faults).into());
    }
    let outcome = Outcome {
        plan,
        cautions: said,
        at_the_saw,
        on_sticks: Vec::new(),
    };
    Ok(Rest { midway, outcome })
}

/// A moulding or board as it was planned.
fn as_before(before: &Plan, item: &str, task: &StickTask, plan: &mut Plan) {
    let ours = |code: &str| task.kinds.iter().any(|k| k.item == code);
    let marks = |mark: &str| task.pieces.iter().any(|p| p.mark == mark);
    plan.sticks
        .extend(before.sticks.iter().filter(|s| ours(&s.item)).cloned());
    plan.unplaced
        .extend(before.unplaced.iter().filter(|u| marks(&u.mark)).cloned());
    plan.items
        .extend(before.items.iter().filter(|i| i.item == item).cloned());
}
