//! A plan is known; what if something were otherwise? One size, the sheet, the kerf, or one sheet fewer.
//!
//! Nothing is searched that need not be. The known layouts take the new sizes; where they hold everything, and the bound
//! (the known one where nothing has become easier, else the quick ones, else the known weights priced anew) shows that
//! nothing costs less, that is the answer, proved, in a few milliseconds. Else the search goes on from there. An answer is
//! as honest as one of [`super::solve`]: proved by a certificate for the task as it is now, or found and no more.

use super::bounds::{self, Bound};
use super::build::multistart;
use super::course::Course;
use super::effort::Steps;
use super::instance::Instance;
use super::known;
use super::problem::Problem;
use super::schedule::{self, Start};
use super::{Progress, answer};
use crate::model::SheetPlan;
use crate::model::certificate::Certificate;
use crate::model::task::{SheetAnswer, SheetTask, SolveOptions};
use crate::solve::budget::Budget;
use crate::units::{Cents, Length};

/// Work steps for weights priced anew. Default 40,000,000 (some tens of milliseconds), range 0..=1,000,000,000.
const REPRICE: u64 = 40_000_000;

/// A task and its answer.
#[derive(Clone, Copy, Debug)]
pub struct Known<'a> {
    /// What was asked.
    pub task: &'a SheetTask,
    /// What [`super::solve`] or [`again`] said.
    pub answer: &'a SheetAnswer,
}

/// The answer for a task that differs from a known one.
#[derive(Clone, PartialEq, Debug)]
pub struct Again {
    /// As of [`super::solve`]; second aims are not worked on where `kept`.
    pub answer: SheetAnswer,
    /// The known layouts hold all pieces at their new sizes, and nothing costs less.
    pub kept: bool,
}

/// Whether a number of sheets will do.
#[derive(Clone, PartialEq, Debug)]
pub enum OnSheets {
    /// Yes, cut like this.
    Yes(Vec<SheetPlan>),
    /// No plan does, shown by the certificate.
    No {
        /// So many sheets are bought at least; where the stock cannot hold all pieces, one more than asked.
        at_least: u32,
        /// What shows it.
        certificate: Certificate,
    },
    /// A piece fits no sheet at all.
    TooLarge,
    /// No plan was found, and nothing shows that there is none.
    NotFound {
        /// Work steps spent.
        searched: u64,
    },
}

/// The task with pieces of one kind (by index) of another size.
#[must_use]
pub fn with_piece_size(task: &SheetTask, piece: usize, size: [Length; 2]) -> SheetTask {
    let mut task = task.clone();
    task.pieces[piece].size = size;
    task
}

/// The task with another size of one kind of sheet (by index).
#[must_use]
pub fn with_sheet_size(task: &SheetTask, kind: usize, size: [Length; 2]) -> SheetTask {
    let mut task = task.clone();
    task.kinds[kind].size = size;
    task
}

/// The task with another blade. Clean edges, which include a kerf of their own, stay as they are.
#[must_use]
pub fn with_kerf(task: &SheetTask, kerf: Length) -> SheetTask {
    SheetTask {
        kerf,
        ..task.clone()
    }
}

/// Plans `task` beginning from what is known of another. The nearer the two, the sooner it is done; whatever they have in
/// common is matched by marks and stock rows.
pub fn again(
    known: Known,
    task: &SheetTask,
    options: &SolveOptions,
    progress: &mut dyn FnMut(Progress),
) -> Again {
    let mut kept = false;
    let start = |instance: &Instance, problem: &Problem| {
        let start = start(known, task, (instance, problem), None, REPRICE);
        kept = start.1 && start.0.best.price.money <= start.0.bound.cost;
        Some(start.0)
    };
    let answer = schedule::solve_from(task, options, start, progress);
    Again { answer, kept }
}

/// Whether the known task can do with one bought sheet fewer, of whatever size; prices do not count here. A plan that leaves
/// pieces out is asked nothing: no plan was found.
pub fn one_sheet_fewer(known: Known, steps: u64, threads: usize) -> OnSheets {
    let bought = bought(known);
    if !known.answer.unplaced.is_empty() {
        return OnSheets::NotFound { searched: 0 };
    }
    if known.answer.at_least >= bought {
        return OnSheets::No {
            at_least: known.answer.at_least,
            certificate: known.answer.certificate.clone(),
        };
    }
    on_sheets(known, known.task, bought - 1, steps, threads)
}

/// How many sheets an answer buys.
pub fn bought(known: Known) -> u32 {
    let each = known.task.kinds.iter().map(|k| {
        let of = |s: &&SheetPlan| s.item == k.item && s.rack == k.rack;
        let used = known.answer.sheets.iter().filter(of).map(|s| s.count);
        used.sum::<u32>().saturating_sub(k.have)
    });
    each.sum()
}

/// Whether `task` can do with buying no more than `sheets`, of whatever sizes and prices, within about `steps` work steps
/// where there is anything to search. Begins from what is known of another task.
pub fn on_sheets(
    known: Known,
    task: &SheetTask,
    sheets: u32,
    steps: u64,
    threads: usize,
) -> OnSheets {
    let task = &counted(task);
    let mut instance = Instance::new(task);
    if !schedule::set_aside(&mut instance).is_empty() {
        return OnSheets::TooLarge;
    }
    if instance.types.is_empty() {
        return OnSheets::Yes(Vec::new());
    }
    let problem = Problem::new(task, &instance);
    let aim = i64::from(sheets);
    let reprice = steps.min(REPRICE);
    let (begin, _) = start(known, task, (&instance, &problem), Some(aim), reprice);
    let mut course = Course::new(&problem, &instance, threads.max(1), begin.best, begin.bound);
    course.searched = begin.spent;
    course.aim = Some(aim);
    if !course.is_settled() {
        let part = Steps::about(steps);
        let mut budget = Budget::new(part.multistart);
        let found = multistart(&problem, &mut budget, course.enough());
        course.searched += budget.spent();
        course.take(found);
        if !course.is_settled() {
            schedule::each_size_alone(&mut course, &part);
            schedule::improve(&mut course, &part, &mut |_| {});
        }
    }
    if course.best.is_whole() && course.best.price.money <= aim {
        let (plans, _) = answer::plans(task, &instance, &problem, &course.best, None);
        return OnSheets::Yes(plans);
    }
    let certificate = bounds::certificate(task, &instance, &course.bound);
    if course.is_beyond_aim() && certificate != Certificate::None {
        let at_least = course.bound.sheets.max(sheets.saturating_add(1));
        return OnSheets::No {
            at_least,
            certificate,
        };
    }
    OnSheets::NotFound {
        searched: course.searched,
    }
}

/// True if every piece by itself fits some sheet.
pub fn each_fits(task: &SheetTask) -> bool {
    schedule::set_aside(&mut Instance::new(task)).is_empty()
}

/// The task with every sheet at the same price, so that the least cost is the fewest sheets.
fn counted(task: &SheetTask) -> SheetTask {
    let mut task = task.clone();
    for k in task.kinds.iter_mut().filter(|k| k.rack.is_none()) {
        k.cost = Some(Cents(1));
    }
    task
}

/// The known layouts for a task, and the best bound that takes no search; true if they hold all its pieces as they lie. Each
/// bound is worked out only where those before it neither show the layouts to be least nor settle the aim.
fn start(
    known: Known,
    task: &SheetTask,
    (instance, problem): (&Instance, &Problem),
    aim: Option<i64>,
    reprice: u64,
) -> (Start, bool) {
    let mut budget = Budget::new(u64::MAX);
    let sheets = (&known.answer.sheets[..], known.task.kerf);
    let (best, whole) = known::packing((task, instance, problem), sheets, &mut budget);
    let proof = &known.answer.certificate;
    let settled = |b: &Bound| {
        let enough = b.cost.max(aim.unwrap_or(i64::MIN));
        let beyond = aim.is_some_and(|aim| b.cost > aim);
        b.impossible || beyond || best.is_whole() && best.price.money <= enough
    };
    let mut bound = Bound::none();
    for nth in 0..4 {
        if settled(&bound) {
            break;
        }
        let next = match nth {
            0 => bounds::by_area(task, instance),
            1 => bounds::carried((known.task, proof), task, instance),
            2 => Some(bounds::quick(instance)),
            _ => {
                let mut left = reprice;
                let next = bounds::repriced(proof, task, instance, &mut left);
                budget.spend(reprice - left);
                next
            }
        };
        bound = bound.or(next.unwrap_or(Bound::none()));
    }
    let start = Start {
        best,
        bound,
        spent: budget.spent(),
    };
    (start, whole)
}
