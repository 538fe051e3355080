//! What is done in which order, and with how many work steps: the policy of the whole search, in one place.

use super::Progress;
use super::bounds;
use super::build::{self, multistart};
use super::course::Course;
use super::instance::Instance;
use super::packing::Packing;
use super::problem::{Price, Problem};
use super::recreate::Search;
use super::second::Taste;
use super::{answer, groups, second, sizes};
use crate::model::Effort;
use crate::model::certificate::Certificate;
use crate::model::task::{SheetAnswer, SheetTask, SolveOptions, UnplacedPiece};
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use crate::units::Cents;

/// Jobs with more pieces are searched by groups of sheets. [default: 150] [range: 100 to 500]
const LARGE: usize = 150;
/// Copies of a size, on average, from which column generation comes before a long search. [default: 4] [range: 2 to 10]
const MANY_COPIES: usize = 4;

/// Work steps of each stage. A step takes about ten nanoseconds of one core in the search, one in the tables of the bound.
#[derive(Clone, Copy, Debug)]
struct Steps {
    /// Quick rules; the first pass is always finished.
    multistart: u64,
    /// Before the linear bound.
    first_search: u64,
    /// The linear bound and the plan made from it.
    linear: u64,
    /// The same where sizes repeat: there it decides.
    linear_copies: u64,
    /// What the plans made from it leave.
    rest: u64,
    /// After it.
    search: u64,
    /// By groups, for large jobs.
    groups: u64,
    /// Second aims, for each piece; at least as for ten pieces, at most as for three hundred.
    second_each: u64,
}

const QUICK: Steps = Steps {
    multistart: 10_000_000,
    first_search: 8_000_000,
    linear: 20_000_000,
    linear_copies: 50_000_000,
    rest: 10_000_000,
    search: 4_000_000,
    groups: 50_000_000,
    second_each: 50_000,
};
const NORMAL: Steps = Steps {
    multistart: 40_000_000,
    first_search: 30_000_000,
    linear: 300_000_000,
    linear_copies: 800_000_000,
    rest: 120_000_000,
    search: 60_000_000,
    groups: 240_000_000,
    second_each: 300_000,
};
const THOROUGH: Steps = Steps {
    multistart: 80_000_000,
    first_search: 100_000_000,
    linear: 600_000_000,
    linear_copies: 1_200_000_000,
    rest: 600_000_000,
    search: 1_500_000_000,
    groups: 4_000_000_000,
    second_each: 1_500_000,
};

/// Plans the sheets of one material.
pub(super) fn solve(
    task: &SheetTask,
    options: &SolveOptions,
    progress: &mut dyn FnMut(Progress),
) -> SheetAnswer {
    let mut instance = Instance::new(task);
    let unplaced = set_aside(&mut instance);
    let priced = task
        .kinds
        .iter()
        .all(|k| k.cost.is_some() || k.at_most == Some(0));
    if instance.types.is_empty() {
        return SheetAnswer {
            sheets: Vec::new(),
            unplaced,
            at_least: 0,
            cost_at_least: priced.then_some(Cents::ZERO),
            proved: true,
            certificate: Certificate::NothingToBuy,
            searched: 0,
        };
    }
    let problem = Problem::new(task, &instance);
    let steps = match options.effort {
        Effort::Quick => QUICK,
        Effort::Normal => NORMAL,
        Effort::Thorough => THOROUGH,
    };
    let bound = bounds::quick(&instance);
    let mut budget = Budget::new(steps.multistart);
    let enough = Price {
        money: bound.cost,
        in_hand: 0,
    };
    let best = multistart(&problem, &mut budget, enough);
    let workers = options.threads.max(1);
    let mut course = Course::new(&problem, &instance, workers, best, bound);
    course.searched += budget.spent();
    let mut tell = |course: &Course| {
        progress(Progress {
            sheets: bought(course.problem, &course.best),
            at_least: course.bound.sheets,
            unplaced: course.best.absent.len() as u32,
        });
    };
    tell(&course);
    each_size_alone(&mut course, &steps);
    improve(&mut course, &steps, &mut tell);
    if course.best.is_whole() {
        fewer_in_hand(&mut course, steps.first_search);
    } else {
        // Whatever still fits somewhere is placed, whatever the search thought of it.
        for bin in &mut course.best.bins {
            bin.refresh(&problem);
        }
        build::complete(&problem, &mut course.best, &mut budget);
    }
    second_aims(task, &mut course, &steps);
    tell(&course);
    finish(task, course, priced, unplaced)
}

/// With several sizes, plans each that could be cheaper by itself; the mix then starts from the best of them.
fn each_size_alone(course: &mut Course, steps: &Steps) {
    if course.problem.sheets.len() < 2 {
        return;
    }
    for kind in 0..course.problem.sheets.len() {
        let sheet = &course.problem.sheets[kind];
        if sheet.limit <= sheet.free {
            continue;
        }
        let Some(instance) = sizes::alone(course.instance, kind) else {
            continue;
        };
        let bound = bounds::quick(&instance);
        if course.best.is_whole() && bound.cost >= course.best.price.money {
            continue;
        }
        let problem = sizes::problem_alone(course.problem, kind);
        let mut budget = Budget::new(steps.multistart);
        let enough = Price {
            money: bound.cost,
            in_hand: 0,
        };
        let best = multistart(&problem, &mut budget, enough);
        let mut by_itself = Course::new(&problem, &instance, course.workers, best, bound);
        improve(&mut by_itself, steps, &mut |_| {});
        course.searched += budget.spent() + by_itself.searched;
        if by_itself.best.is_whole() {
            let found = sizes::among_all(course.problem, kind, by_itself.best);
            course.take(found);
        }
    }
}

/// The stages, in order, until nothing cheaper is possible.
fn improve(course: &mut Course, steps: &Steps, tell: &mut impl FnMut(&Course)) {
    let pieces: usize = course.problem.counts.iter().map(|n| *n as usize).sum();
    let copies = pieces / course.problem.items.len().max(1);
    let linear = if copies >= MANY_COPIES {
        steps.linear_copies
    } else {
        steps.linear
    };
    if pieces <= LARGE {
        course.search(steps.first_search, None, 1);
        tell(course);
        if !course.is_least() {
            course.linear(linear, steps.rest);
            tell(course);
        }
        course.search(steps.search, None, 2);
        return;
    }
    if !course.is_least() {
        course.linear(linear, steps.rest);
        tell(course);
    }
    if !course.is_least() {
        by_groups(course, steps.groups, 3);
        tell(course);
    }
    if !course.best.is_whole() {
        course.search(steps.search, None, 5);
    }
}

fn by_groups(course: &mut Course, steps: u64, seed: u64) {
    if !course.best.is_whole() {
        return;
    }
    let mut budget = Budget::new(steps);
    let (enough, workers) = (course.enough(), course.workers);
    let problem = course.problem;
    groups::improve(
        problem,
        &mut course.best,
        enough,
        seed,
        workers,
        &mut budget,
    );
    course.searched += budget.spent();
}

/// At the same money, takes less from the rack and from sheets in hand.
fn fewer_in_hand(course: &mut Course, steps: u64) {
    if course.best.price.in_hand == 0 {
        return;
    }
    let mut budget = Budget::new(steps);
    let mut search = Search::new(
        &course.quick,
        &course.best,
        course.best.price,
        Rng::new(&[6]),
    );
    while search.run(&mut budget) {
        let mut found = search.now().clone();
        found.tidy();
        let price = found.price;
        course.best = found;
        if price.in_hand == 0 {
            break;
        }
        search.lower(price);
    }
    course.searched += budget.spent();
}

fn second_aims(task: &SheetTask, course: &mut Course, steps: &Steps) {
    let pieces: u64 = course.problem.counts.iter().map(|n| u64::from(*n)).sum();
    let mut budget = Budget::new(steps.second_each * pieces.clamp(10, 300));
    let unit = course.instance.unit.units();
    let taste = Taste {
        narrow: i32::try_from((task.narrowest_safe_rip + task.kerf).units() / unit.max(1))
            .unwrap_or(i32::MAX / 4)
            .min(i32::MAX / 4),
        keep: task.keep,
        unit,
        kerf: task.kerf.units(),
    };
    let rng = Rng::new(&[7]);
    second::improve(&course.quick, &taste, &mut course.best, rng, &mut budget);
    course.searched += budget.spent();
}

fn finish(
    task: &SheetTask,
    course: Course,
    priced: bool,
    mut unplaced: Vec<UnplacedPiece>,
) -> SheetAnswer {
    let Course {
        problem,
        instance,
        best,
        bound,
        searched,
        ..
    } = course;
    let (sheets, short) = answer::plans(task, instance, problem, &best);
    unplaced.extend(short);
    if !best.is_whole() {
        // The bounds speak of all pieces; of a part of them nothing is claimed.
        return SheetAnswer {
            sheets,
            unplaced,
            at_least: 0,
            cost_at_least: priced.then_some(Cents::ZERO),
            proved: false,
            certificate: Certificate::None,
            searched,
        };
    }
    let certificate = bounds::certificate(task, instance, &bound);
    let one_size = problem.sheets.iter().filter(|s| s.limit > s.free).count() <= 1;
    let least =
        best.price.money <= bound.cost || (one_size && bought(problem, &best) <= bound.sheets);
    SheetAnswer {
        sheets,
        unplaced,
        at_least: bound.sheets,
        cost_at_least: priced.then_some(Cents(bound.cost)),
        proved: least && certificate != Certificate::None,
        certificate,
        searched,
    }
}

/// Takes the types that fit no kind out of the instance and names their pieces.
fn set_aside(instance: &mut Instance) -> Vec<UnplacedPiece> {
    let kinds = &instance.kinds;
    let (fits, not): (Vec<_>, Vec<_>) =
        std::mem::take(&mut instance.types)
            .into_iter()
            .partition(|t| {
                t.ways.iter().any(|way| {
                    kinds
                        .iter()
                        .any(|k| k.free.max(k.buy) > 0 && way.0 <= k.w && way.1 <= k.h)
                })
            });
    instance.types = fits;
    let mut unplaced: Vec<UnplacedPiece> = not
        .iter()
        .flat_map(|t| &t.of)
        .map(|m| UnplacedPiece {
            piece: m.piece,
            count: m.count,
            fits_nothing: true,
        })
        .collect();
    unplaced.sort_by_key(|u| u.piece);
    unplaced
}

/// Sheets that are bought.
fn bought(problem: &Problem, packing: &Packing) -> u32 {
    problem
        .sheets
        .iter()
        .zip(&packing.used)
        .map(|(s, n)| n.saturating_sub(s.free))
        .sum()
}
